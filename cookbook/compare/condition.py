"""The conditions of a cook: what `--by` groups by, what `--where` asks for, what may have changed too."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from datetime import date
from typing import TYPE_CHECKING, Any

from cookbook.errors import CookbookError, RequestError, UnknownName
from cookbook.journal import Entry
from cookbook.journal.outcome import pit_c
from cookbook.kitchen import Kitchen
from cookbook.kitchen.care import cooked_recipe
from cookbook.kitchen.descent import cut_name

if TYPE_CHECKING:
    from cookbook.recipe import Recipe

PIT_STEP = 10
"""Pit temperatures are grouped by so many °C."""
Reader = Callable[[Kitchen, Entry], str | None]


def _own(field: str) -> Reader:
    def read(kitchen: Kitchen, entry: Entry) -> str | None:
        said = entry.fields.get(field)
        if said is None:
            recipe = recipe_then(kitchen, entry)
            said = getattr(recipe.pit, field, None) if recipe is not None and recipe.pit is not None else None
        return ", ".join(said) if isinstance(said, list | tuple) else said

    return read


def _piece(field: str) -> Reader:
    def read(kitchen: Kitchen, entry: Entry) -> str | None:
        said = {str(found) for piece in entry.pieces if (found := piece.fields.get(field))}
        if not said and field == "cut":
            return cut_of(kitchen, entry)
        return ", ".join(sorted(said)) or None

    return read


def _pit(kitchen: Kitchen, entry: Entry) -> str | None:
    found = pit_of(kitchen, entry)
    return f"{PIT_STEP * round(found / PIT_STEP):g} °C" if found is not None else None


def _plan(part: Callable[[Recipe], Any]) -> Reader:
    def read(kitchen: Kitchen, entry: Entry) -> str | None:
        recipe = recipe_then(kitchen, entry)
        said = part(recipe) if recipe is not None else None
        return str(said) if said is not None else None

    return read


FIELDS: Mapping[str, Reader] = {
    **{field: _own(field) for field in ("cooker", "fuel", "wood", "gauge", "place", "weather", "helpers")},
    **{field: _piece(field) for field in ("cut", "grade", "supplier", "aged", "thawed")},
    "pit": _pit,
    "pull": _plan(lambda recipe: recipe.pull_at),
    "rest": _plan(lambda recipe: recipe.rest.time if recipe.rest else None),
    "cover": _plan(lambda recipe: recipe.rest.cover if recipe.rest else None),
    "wrap": _plan(lambda recipe: recipe.pit.wrap if recipe.pit else None),
    "recipe": lambda _kitchen, entry: entry.recipe or entry.title,
    "year": lambda _kitchen, entry: str(entry.date.year),
    "month": lambda _kitchen, entry: f"{entry.date:%Y-%m}",
}
"""Every condition by the word it is asked for with."""
CHANCE_COMPANIONS = ("cooker", "fuel", "wood", "cut", "grade", "supplier", "aged", "thawed", "pit", "rest", "cover")
"""Conditions that may have changed along with what is compared."""


def condition(kitchen: Kitchen, entry: Entry, field: str) -> str | None:
    """What one condition was in one cook, None where nobody said. Raises UnknownName for another field."""
    if field not in FIELDS:
        from difflib import get_close_matches

        near = get_close_matches(field, FIELDS, 2, 0.5)
        raise UnknownName("condition", field, near, mend=None if near else "it can be " + ", ".join(FIELDS))
    return FIELDS[field](kitchen, entry)


def recipe_then(kitchen: Kitchen, entry: Entry) -> Recipe | None:
    """The recipe as it was when the cook began; as it stands where that is not kept; None where neither reads."""
    try:
        return cooked_recipe(kitchen, entry)
    except CookbookError:
        return None


def cut_of(kitchen: Kitchen, entry: Entry) -> str | None:
    """The cut by its own name: as the entry says it, or its recipe."""
    recipe = recipe_then(kitchen, entry)
    said = next((piece.cut for piece in entry.pieces if piece.cut), None) or (recipe.meat if recipe else None)
    return cut_name(said, kitchen.cuts)


def pit_of(kitchen: Kitchen, entry: Entry) -> float | None:
    """The pit in °C: the mean of what was read while the meat was on, else as the recipe wanted it."""
    found = pit_c(entry, kitchen.readings(entry))
    recipe = recipe_then(kitchen, entry)
    if found is None and recipe is not None and recipe.pit is not None and recipe.pit.temperature is not None:
        return recipe.pit.temperature.c
    return found


def wanted(where: Sequence[str]) -> list[tuple[str, str]]:
    """`cooker=drum` and the like, taken apart. Raises RequestError, UnknownName."""
    found = []
    for words in where:
        field, sign, value = (part.strip() for part in words.partition("="))
        if not sign or not value:
            raise RequestError(f"'{words}' asks for nothing", mend="write it like --where cooker=drum")
        if field not in FIELDS:
            raise UnknownName("condition", field, mend="it can be " + ", ".join(FIELDS))
        found.append((field, value.casefold()))
    return found


def chosen(
    kitchen: Kitchen, entries: Sequence[Entry], where: Sequence[str] = (), since: date | None = None
) -> list[Entry]:
    """The cooks that meet every condition, on `since` or later; remembered ones never.

    Raises RequestError where a condition leaves none of them, with what it was.
    """
    left = [entry for entry in entries if not entry.memory and (since is None or entry.date >= since)]
    for field, value in wanted(where):
        said = [condition(kitchen, entry, field) for entry in left]
        kept = [entry for entry, was in zip(left, said, strict=True) if _meets(was, value)]
        if left and not kept:
            known = ", ".join(sorted({was for was in said if was is not None}))
            raise RequestError(f"nothing was cooked here with {field} {value}",
                               mend=f"{field} was {known}" if known else f"no cook says its {field}", code="no-cooks")
        left = kept
    return left


def _meets(said: str | None, value: str) -> bool:
    return said is not None and (said.casefold() == value or said.casefold().removesuffix(" °c") == value)
