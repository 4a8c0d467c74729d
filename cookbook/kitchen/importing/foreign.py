"""A recipe as schema.org's JSON-LD has it (schema.org/Recipe, release 30.1), read into plain words."""

from __future__ import annotations

import html
import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

from cookbook.errors import ERROR, FileError, Place, Problem
from cookbook.files import MAX_BYTES

_READ = {
    *("@context", "@type", "@id", "name", "url", "mainEntityOfPage", "author", "license", "inLanguage"),
    *("recipeIngredient", "ingredients", "recipeInstructions", "recipeYield", "recipeCategory", "keywords"),
}


class Foreign(NamedTuple):
    """A recipe's words as the file has them, and the fields that stay behind, each with its line in the file."""

    title: str
    ingredients: tuple[tuple[str, int | None], ...]
    steps: tuple[str, ...]
    serves: int | None
    address: str | None
    author: str | None
    licence: str | None
    about: str
    left: tuple[tuple[str, int | None], ...]
    notes: tuple[str, ...] = ()


def read(path: Path) -> Foreign:
    """The first recipe in the file. Raises FileError where it can't be read or holds none."""
    shown = str(path)
    try:
        with path.open("rb") as file:
            data = file.read(MAX_BYTES + 1)
        if len(data) > MAX_BYTES:
            raise _fault("too-big", "this file is larger than 1 MiB", Place(shown, 1, 1))
        text = data.decode("utf-8-sig")
        found = json.loads(text)
    except OSError as fault:
        raise _fault("unreadable", f"this file cannot be read: {fault.strerror}", Place(shown, 1, 1)) from None
    except UnicodeDecodeError:
        raise _fault("not-utf8", "this file is not UTF-8 text", Place(shown, 1, 1)) from None
    except json.JSONDecodeError as fault:
        place = Place(shown, fault.lineno, fault.colno, 1, text.split("\n")[fault.lineno - 1].rstrip())
        raise _fault("not-json", f"this is no JSON: {fault.msg}", place) from None
    except ValueError:
        raise _fault("not-json", "a number in this file has thousands of digits", Place(shown, 1, 1)) from None
    except RecursionError:
        raise _fault("too-deep", "this file is nested too deeply to be a recipe", Place(shown, 1, 1)) from None
    recipe = next(_recipes(found, 0), None)
    if recipe is None:
        raise _fault("no-recipe", 'there is no object with "@type": "Recipe" in this file', Place(shown, 1, 1))
    return _foreign(recipe, text)


def _fault(code: str, message: str, place: Place) -> FileError:
    mend = "save the recipe's JSON-LD, the part between the script tags, as a file of its own"
    return FileError([Problem(ERROR, code, message, place, mend)])


def _recipes(found: Any, depth: int) -> Iterator[dict[str, Any]]:
    """Every object of type Recipe: alone, in a list, in an `@graph`, or inside another object."""
    if depth > 40:
        return
    if isinstance(found, dict):
        types = [str(one).rpartition("/")[2].rpartition(":")[2] for one in _list(found.get("@type"))]
        if "Recipe" in types:
            yield found
        else:
            for value in found.values():
                yield from _recipes(value, depth + 1)
    elif isinstance(found, list):
        for value in found:
            yield from _recipes(value, depth + 1)


def _foreign(recipe: dict[str, Any], text: str) -> Foreign:
    lines = [
        (_words(raw), _line(text, raw)) for raw in _list(recipe.get("recipeIngredient") or recipe.get("ingredients"))
    ]
    kinds = " ".join(_words(one) for key in ("recipeCategory", "keywords") for one in _list(recipe.get(key)))
    addresses = [_words(recipe.get(key)) for key in ("url", "mainEntityOfPage", "@id")]
    return Foreign(
        _words(recipe.get("name")) or "untitled",
        tuple((words, line) for words, line in lines if words),
        tuple(_steps(recipe.get("recipeInstructions"), 0)),
        _serves(recipe.get("recipeYield")),
        next((one for one in addresses if one.startswith(("http://", "https://"))), None),
        _words(recipe.get("author")) or None,
        _words(recipe.get("license")) or None,
        f"{_words(recipe.get('name'))} {kinds}".casefold(),
        tuple((key, _line(text, key)) for key, value in recipe.items() if key not in _READ and value),
    )


def _list(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [] if value is None else [value]


def _words(value: Any) -> str:
    """A value as plain words: without tags and entities, in one line."""
    if isinstance(value, dict):
        value = value.get("name") or value.get("text") or value.get("@value") or value.get("@id") or ""
    if isinstance(value, list):
        return ", ".join(filter(None, map(_words, value)))
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        return ""
    plain = html.unescape(re.sub(r"<[^<>]*>", " ", html.unescape(str(value))))
    return " ".join("".join(sign if sign.isprintable() else " " for sign in plain).split())


def _steps(value: Any, depth: int) -> Iterator[str]:
    """Every step in order, out of texts, lists, steps and sections; a section's name stands before its first step."""
    if depth > 40:
        return
    if isinstance(value, str):
        for line in re.split(r"[\r\n]+|</p>|</li>|<br ?/?>", value):
            if _words(line):
                yield _words(line)
    elif isinstance(value, list):
        for one in value:
            yield from _steps(one, depth + 1)
    elif isinstance(value, dict):
        inner = value.get("itemListElement") or value.get("item")
        if value.get("text"):
            yield from _steps(value["text"], depth + 1)
        elif inner:
            name = _words(value.get("name"))
            for step in _steps(inner, depth + 1):
                yield f"{name}: {step}" if name else step
                name = ""
        elif _words(value):
            yield _words(value)


def _serves(value: Any) -> int | None:
    for one in _list(value):
        number = re.search(r"\d+", _words(one))
        if number and 0 < int(number.group()) < 1000:
            return int(number.group())
    return None


def _line(text: str, value: Any) -> int | None:
    """The line of the file that a value stands in, None where it is written otherwise than read."""
    for plain in (False, True):
        place = text.find(json.dumps(value, ensure_ascii=plain)) if isinstance(value, str) else -1
        if place >= 0:
            return text.count("\n", 0, place) + 1
    return None
