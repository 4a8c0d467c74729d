"""A recipe from elsewhere made one of ours; what can't be read is kept in its notes and told line by line."""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import NamedTuple

from cookbook.errors import CookbookError, RequestError
from cookbook.files import Value, create, lock, parse, plain_yaml
from cookbook.journal.model import slug
from cookbook.kitchen.foreign import Foreign
from cookbook.kitchen.foreign import read as read_foreign
from cookbook.kitchen.indexing import words_in
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.sizing import settled
from cookbook.meat import Cut
from cookbook.meat.naming import synonyms
from cookbook.quantity import Amount, lookup
from cookbook.recipe import read as read_recipe

_LONGEST = 8
"""No amount has more words than this."""

_COATS = ("paste", "rub", "brine")
_KINDS = {"paste": ("paste", "marinade"), "rub": ("rub",), "brine": ("brine",), "sauce": ("sauce", "gravy", "glaze")}


class Unread(NamedTuple):
    """Something of the file that is not in the recipe as amount, item or step, with its line and why."""

    line: int | None
    text: str
    why: str


class Ingredient(NamedTuple):
    """One line of ingredients: what it is, how much, and what is done to it."""

    item: str
    amount: str
    prep: str | None


class Imported(NamedTuple):
    """The new recipe's name and kind, its text, and what could not be read."""

    name: str
    kind: str
    data: bytes
    unread: tuple[Unread, ...]


def made_of(
    kitchen: Kitchen,
    path: Path,
    name: str | None = None,
    kind: str | None = None,
    piece: Mapping[str, str] | None = None,
) -> Imported:
    """The recipe that the JSON-LD file at `path` becomes; nothing is written.

    `kind` and `piece` (its `cut` and what is known of it) win over what the file says. A paste, rub or brine without
    a piece is taken as a sauce, which says so. Raises FileError, RequestError.
    """
    foreign = read_foreign(path)
    unread: list[Unread] = []
    lines: dict[str, Ingredient] = {}
    meat = dict(piece or {})
    for text, line in foreign.ingredients:
        found = ingredient(text, kitchen.settings["measures"])
        if found is None:
            unread.append(Unread(line, text, "no amount could be read at its beginning or end"))
        elif "cut" not in meat and (cut := _cut(kitchen, found)) is not None:
            meat = {"cut": cut, "weight": found.amount} if _weighs(found.amount) else {"cut": cut}
        else:
            item = found.item
            while item.casefold() in lines:
                item += ", again"
            lines[item.casefold()] = found._replace(item=item)
    unread += [Unread(line, key, "the file's field has no place in a recipe of ours") for key, line in foreign.left]
    chosen, why = _kind(foreign, kind, meat)
    if why:
        unread.append(Unread(None, chosen, why))
    if chosen != "cook" and not lines:
        raise RequestError(f"no ingredient of {path} could be read", mend="write the recipe by hand")
    known = {word: value for word, value in meat.items() if word != "cut"}
    meat = meat | dict(settled({"": known}, meat.get("cut"), kitchen.cuts)[""])
    called = name or slug(foreign.title)
    data = plain_yaml(_tree(foreign, chosen, meat, list(lines.values()), unread)).encode()
    again, problems = read_recipe(
        parse(data, f"recipes/{called}.yaml"), called, kitchen.settings["measures"], kitchen.cuts
    )
    if again is None:
        raise RequestError(
            f"the recipe would not read: {problems[0].message}; nothing was written", mend=problems[0].mend
        )
    return Imported(called, chosen, data, tuple(unread))


def write(kitchen: Kitchen, imported: Imported) -> Path:
    """Write the new recipe. Raises RequestError where one of that name is there."""
    if kitchen.has_recipe(imported.name):
        raise RequestError(f"there is a recipe {imported.name} already", mend="name the new one with --name")
    path = kitchen.root / "recipes" / f"{imported.name}.yaml"
    with lock(kitchen.root):
        create(path, imported.data, name=kitchen.shown(path))
    return path


def ingredient(text: str, measures: str) -> Ingredient | None:
    """`1/2 cup olive oil, warmed` as its parts; None where no amount stands at the beginning or the end."""
    asides = re.findall(r"\(([^()]*)\)", text)
    words = " ".join(re.sub(r"\([^()]*\)", " ", text).replace(" ,", ",").split())
    parts = words.split(" ")
    for count in range(min(len(parts) - 1, _LONGEST), 0, -1):
        amount = _amount(" ".join(parts[:count]), measures) if parts[count - 1] != "of" else None
        if amount is not None:
            item, prep = _item(" ".join(parts[count:]).removeprefix("of "))
            preps = [part.strip() for part in (prep, *asides) if part.strip()]
            return Ingredient(item, amount, "; ".join(preps) or None) if item else None
    for free in ("to taste", "as needed"):
        item = words.removesuffix(free).strip(" ,.;:")
        if words.endswith(free) and item:
            return Ingredient(item, free, "; ".join(asides) or None)
    return None


def _item(words: str) -> tuple[str, str]:
    """What it is and what is done to it; words behind a comma belong to the item where they make it another one."""
    item, _, prep = (part.strip(" .;:") for part in words.partition(","))
    first, _, rest = (part.strip() for part in prep.partition(","))
    whole = lookup(f"{item}, {first}") if first else None
    return (f"{item}, {first}", rest) if whole is not None and whole != lookup(item) else (item, prep)


def _amount(words: str, measures: str) -> str | None:
    glued = re.sub(r"^(\d+(?:[.,]\d+)?)(g|kg|ml|l|oz|lb)$", r"\1 \2", words)
    try:
        found = Amount.parse(glued, measures)
    except CookbookError:
        return None
    told = found.kind != "count" or found.unit or any(sign.isnumeric() for sign in words)
    return str(found) if told else None


def _weighs(amount: str) -> bool:
    return Amount.parse(amount).kind == "mass"


def _cut(kitchen: Kitchen, line: Ingredient) -> str | None:
    """The cut that a line of ingredients means, if it is the meat."""
    own = {word for cut in kitchen.cuts for word in words_in(cut.name)}
    if not set(words_in(line.item)) & (_meat_words() | own):
        return None
    for words in (f"{line.item}, {(line.prep or '').partition(';')[0]}", line.item):
        try:
            return Cut.named(words, kitchen.cuts).name
        except CookbookError:
            continue
    return None


@cache
def _meat_words() -> frozenset[str]:
    """Every word in the name of a cut: a line without one of them is no meat."""
    return frozenset(word for cut in Cut.names() for name in (cut, *synonyms(cut)) for word in words_in(name))


def _kind(foreign: Foreign, said: str | None, meat: Mapping[str, str]) -> tuple[str, str | None]:
    """The kind of the new recipe, and why it is another one than it seemed."""
    words = re.findall(r"\w+", foreign.about)
    told = said or next((kind for kind, names in _KINDS.items() if any(name in words for name in names)), None)
    told = told or ("cook" if "cut" in meat else "sauce")
    if told == "cook" and "cut" not in meat:
        raise RequestError("a cook needs to know which cut it is for", mend="say it with --cut")
    if told in _COATS and not ("cut" in meat and len(meat) > 1):
        return "sauce", f"a {told} is made for a piece: give it `made_for:` and write `kind: {told}`"
    return told, None


def _tree(
    foreign: Foreign, kind: str, meat: Mapping[str, str], lines: list[Ingredient], unread: list[Unread]
) -> dict[str, Value]:
    tree: dict[str, Value] = {"kind": kind, "title": foreign.title}
    if kind == "cook":
        tree["cut"] = meat["cut"]
    if "cut" in meat and len(meat) > 1 and kind != "sauce":
        tree["made_for"] = dict(meat)
    if foreign.serves is not None:
        tree["serves"] = str(foreign.serves)
    tree["ingredients"] = [
        {key: value for key, value in (("item", one.item), ("amount", one.amount), ("prep", one.prep)) if value}
        for one in lines
    ]
    tree["steps"] = list(foreign.steps)
    notes = [f"by {foreign.author}"] if foreign.author else []
    notes += [f"its terms: {foreign.licence}"] if foreign.licence else []
    notes += [f"not read: {one.text}" for one in unread if one.line is not None and one.why.startswith("no amount")]
    notes += [one.why for one in unread if one.why.startswith("a ")]
    tree["notes"] = notes
    if foreign.address is not None:
        tree["links"] = [{"what": "where it comes from", "address": foreign.address}]
    return {key: value for key, value in tree.items() if value}
