"""A recipe from elsewhere made one of ours; what can't be read is kept in its notes and told line by line.

From a schema.org Recipe (`foreign.py`), or from a loose text as people keep it (`loose.py`).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path
from typing import NamedTuple

from cookbook.errors import CookbookError, RequestError
from cookbook.files import Value, create, lock, parse, plain_yaml
from cookbook.journal.model import slug
from cookbook.kitchen.importing.foreign import Foreign
from cookbook.kitchen.importing.foreign import read as read_foreign
from cookbook.kitchen.importing.meatwords import cut_of, parted, spoken_of, weight_of
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.sizing import settled
from cookbook.quantity import Amount, lookup
from cookbook.recipe import read as read_recipe

_FEW_WORDS, _FEW_LINES = 4, 3
"""Where nobody wrote an amount, lines of no more words are ingredients, if there are so many of them."""
_UNTIL_YOU_SAY = "where nobody wrote how much it is `as needed` until you say"
_LONGEST = 8
"""No amount has more words than this."""

_COATS = ("paste", "rub", "brine")
_STRUCTURED = (".json", ".jsonld")
_OF_A_FRUIT = re.compile(r"(?:the )?(juice|zest|rind) of (?:.* )?([a-z]+?)s?", re.IGNORECASE)
_TURNED = re.compile(r"(?P<item>[^\d()]{2,60}?)\s*(?:[,:=–—-]|[. ]{3,}|\s)\s*(?P<amount>(?:about )?[\d½⅓⅔¼¾⅛].*)")
_LISTED = re.compile(r"(?P<item>[^\d():]{2,60}?)(?:\s*[. ]{3,}\s*|:\s+)(?P<amount>\S.*)")
"""The item first, its amount in a column of its own: a bare count, or one in words, is an amount there too."""
_FOR_WHAT = re.compile(r"for (?:a|an|one|two|\d)\b", re.IGNORECASE)
_BY_WEIGHT = re.compile(
    r"^([\d.,]+) ?% (.+?),? by weight\b(?: of (?:the |your |raw )*"
    r"(?:meat|bird|roast|joint|piece|beef|pork|veal|lamb|venison|chicken|turkey|duck|goose)\b)?(?! of\b)",
    re.IGNORECASE,
)  # fmt: skip
"""Of water or anything but meat it is another share."""
_GARLIC = re.compile(r"^(\d+(?:[-–]\d+)?) cl\.?(?= garlic)", re.IGNORECASE)
"""Who writes of garlic by the centilitre means cloves."""
_EACH = re.compile(r"(?P<amount>.+?)\s+(?:of )?each(?: of)?:?\s+(?P<items>.+)", re.IGNORECASE)
_ELSEWHERE = {
    "EL": "metric tbsp", "Esslöffel": "metric tbsp", "TL": "metric tsp", "Teelöffel": "metric tsp",
    "Tasse": "metric cup", "Tassen": "metric cup", "Prise": "pinch", "Prisen": "pinches", "Zehe": "clove",
    "Zehen": "cloves", "Bund": "bunch", "Zweig": "sprig", "Zweige": "sprigs", "Stück": "", "Handvoll": "handful",
    "Liter": "l", "Gramm": "g", "Kilo": "kg", "ea": "", "ea.": "",
}
"""German measures as ours; a spoon is the metric one (common practice, memory)."""
_KINDS = {"paste": ("paste", "marinade"), "rub": ("rub",), "brine": ("brine",), "sauce": ("sauce", "gravy", "glaze")}


class Unread(NamedTuple):
    """Something of the file that is not in the recipe as amount, item or step, with its line and why; or what is so
    `as_yet`: the kind in `text`, or nothing there, and why."""

    line: int | None
    text: str
    why: str
    as_yet: bool = False

    @property
    def words(self) -> str:
        """As people read it, without the line."""
        if self.as_yet:
            return f"a {self.text} as yet: {self.why}" if self.text else self.why
        return f"{self.text} ({self.why})"


class Ingredient(NamedTuple):
    """One line of ingredients: what it is, how much, and what is done to it."""

    item: str
    amount: str
    prep: str | None


class Imported(NamedTuple):
    """The new recipe's name, title and kind, its text, what could not be read, and the items that no table knows."""

    name: str
    title: str
    kind: str
    data: bytes
    unread: tuple[Unread, ...]
    unknown: tuple[str, ...] = ()


def made_of(
    kitchen: Kitchen,
    path: Path,
    name: str | None = None,
    kind: str | None = None,
    piece: Mapping[str, str] | None = None,
) -> Imported:
    """The one recipe that the file at `path` becomes, as `all_made_of`; RequestError where it holds several."""
    found = all_made_of(kitchen, path, name, kind, piece)
    if len(found) > 1:
        names = ", ".join(one.name for one in found)
        raise RequestError(f"there are {len(found)} recipes in {path}: {names}", mend="give each a file of its own")
    return found[0]


def all_made_of(
    kitchen: Kitchen,
    path: Path,
    name: str | None = None,
    kind: str | None = None,
    piece: Mapping[str, str] | None = None,
) -> list[Imported]:
    """The recipes that the file at `path` becomes, JSON-LD or a loose text of one or several; nothing is written.

    `kind` and `piece` (its `cut` and what is known of it) win over what the file says. A paste, rub or brine without
    a piece is taken as a sauce, which says so. Raises FileError, RequestError.
    """
    found = _foreign(path, kitchen.settings["measures"])
    if name is not None and len(found) > 1:
        titles = ", ".join(foreign.title for foreign in found)
        raise RequestError(f"there are {len(found)} recipes in {path}: {titles}", mend="leave --name out")
    return [_made(kitchen, foreign, str(path), name, kind, piece) for foreign in found]


def made_of_words(
    kitchen: Kitchen, words: str, kind: str | None = None, piece: Mapping[str, str] | None = None
) -> list[Imported]:
    """The recipes that a loose text becomes, as `all_made_of` takes them from a file; nothing is written."""
    found = _loose(words, "this text", "Untitled", kitchen.settings["measures"])
    return [_made(kitchen, foreign, "this text", None, kind, piece) for foreign in found]


def _made(
    kitchen: Kitchen,
    foreign: Foreign,
    shown: str,
    name: str | None,
    kind: str | None,
    piece: Mapping[str, str] | None,
) -> Imported:
    """The recipe that was read from `shown` as one of ours."""
    measures = kitchen.settings["measures"]
    meat = dict(piece or {})
    lines, unread = _lines(kitchen, foreign, meat)
    if not lines:
        short = _without_amounts(foreign, measures)
        lines = list({one.item: one for one in short.values()}.values())
        foreign = foreign._replace(notes=tuple(note for note in foreign.notes if note not in short))
        unread = [one for one in unread if one.text not in short]
        if any(one.amount == "as needed" for one in lines):
            unread.append(Unread(None, "", _UNTIL_YOU_SAY, as_yet=True))
    unread += [Unread(line, key, "the file's field has no place in a recipe of ours") for key, line in foreign.left]
    if len(meat) < 2:
        told = [*(text for text, _ in foreign.ingredients), *foreign.steps, *foreign.notes]
        meat = spoken_of(kitchen, foreign.title, told) | meat
    chosen, why = _kind(foreign, kind, meat)
    if why:
        unread.append(Unread(None, chosen, why, as_yet=True))
    if chosen != "cook" and not lines:
        mend = "a line begins or ends with an amount, like `2 tbsp paprika`; or write the recipe by hand"
        raise RequestError(f"no ingredient of {shown} could be read", mend=mend)
    known = {word: value for word, value in meat.items() if word != "cut"}
    meat = meat | dict(settled({"": known}, meat.get("cut"), kitchen.cuts)[""])
    called = name or slug(foreign.title)
    data = plain_yaml(_tree(foreign, chosen, meat, lines, unread)).encode()
    again, problems = read_recipe(parse(data, f"recipes/{called}.yaml"), called, measures, kitchen.cuts)
    if again is None:
        raise RequestError(
            f"the recipe would not read: {problems[0].message}; nothing was written", mend=problems[0].mend
        )
    return Imported(called, foreign.title, chosen, data, tuple(unread), _unknown(kitchen, lines))


def _foreign(path: Path, measures: str) -> list[Foreign]:
    """The recipes' words, by what the file is: structured data by its name or first sign, else a loose text."""
    if path.suffix.casefold() in _STRUCTURED:
        return [read_foreign(path)]
    from cookbook.kitchen.importing import loose

    text = loose.text_of(path)
    if re.match(r"\s*(?:\{|\[\s*\{|<)", text):
        return [read_foreign(path)]
    return _loose(text, str(path), path.stem.replace("_", " ").replace("-", " ").capitalize(), measures)


def _loose(text: str, shown: str, untitled: str, measures: str) -> list[Foreign]:
    from cookbook.kitchen.importing import loose

    def is_ingredient(words: str) -> bool:
        return bool(ingredients(words, measures))

    parts = loose.several(text, is_ingredient)
    return [loose.read(part, shown, untitled, is_ingredient) for part in parts]


def _lines(kitchen: Kitchen, foreign: Foreign, meat: dict[str, str]) -> tuple[list[Ingredient], list[Unread]]:
    """The lines of ingredients, and those that could not be read; the first that is a cut goes into `meat`."""
    lines: dict[str, Ingredient] = {}
    unread: list[Unread] = []
    for text, line in foreign.ingredients:
        if _FOR_WHAT.match(text):
            unread.append(Unread(line, text, "it says what it is for, not what goes in"))
            continue
        several = ingredients(text, kitchen.settings["measures"])
        if not several:
            unread.append(Unread(line, text, "no amount could be read at its beginning or end"))
        for found in several:
            item, beside = parted(found.item, found.prep)
            if len(meat) < 2 and (cut := cut_of(kitchen, item, beside, meat.get("cut"))) is not None:
                weight, doubt = weight_of(item, found.amount, beside)
                meat |= {"cut": cut, **({"weight": weight} if weight else {})}
                unread += [Unread(line, text, doubt)] if doubt else []
                continue
            item = found.item
            while item.casefold() in lines:
                item += ", again"
            lines[item.casefold()] = found._replace(item=item)
    return list(lines.values()), unread


def _without_amounts(foreign: Foreign, measures: str) -> dict[str, Ingredient]:
    """Of a text in which nobody wrote an amount: its short lines are what goes in, as needed, if there are a few; a
    number at the end of one is how many."""
    told = [text for text, _ in foreign.ingredients] or list(foreign.notes)
    short = [text for text in told if len(text.split()) <= _FEW_WORDS and not text.endswith((".", "!", ":"))]
    found = {}
    for text in short if len(short) >= _FEW_LINES else ():
        before, _, last = text.rpartition(" ")
        many = _turned(before, last, measures, counted=True) if before and last[:1].isdigit() else None
        item, prep = _item(text)
        if item:
            found[text] = many or Ingredient(item, "as needed", prep or None)
    return found


def _unknown(kitchen: Kitchen, lines: list[Ingredient]) -> tuple[str, ...]:
    """Items that no table knows: without a weight of a spoon, and without their allergens."""
    return tuple(one.item for one in lines if lookup(one.item) is None and one.item.casefold() not in kitchen.weights)


def write(kitchen: Kitchen, imported: Imported) -> Path:
    """Write the new recipe. Raises RequestError where one of that name is there."""
    if kitchen.has_recipe(imported.name):
        raise RequestError(f"there is a recipe {imported.name} already", mend="name the new one with --name")
    path = kitchen.root / "recipes" / f"{imported.name}.yaml"
    with lock(kitchen.root):
        create(path, imported.data, name=kitchen.shown(path))
    return path


def ingredients(text: str, measures: str) -> list[Ingredient]:
    """The ingredients of one line: none where no amount can be read; of `1 tsp each salt and pepper` two.

    German measures are read as ours, the amount may stand behind (`Garlic: 4 cloves`, `olive oil 1/2 cup`), and
    `juice of 2 lemons` is lemon juice.
    """
    text = _GARLIC.sub(r"\1 cloves", _BY_WEIGHT.sub(r"\1 % of meat \2", text))
    text = re.sub(r",? or to taste$", ", or to taste", text)
    words = " ".join(_ELSEWHERE.get(word, _ELSEWHERE.get(word.rstrip("."), word)) for word in text.split(" "))
    if (each := _EACH.fullmatch(words)) is not None and _amount(each["amount"], measures):
        items = re.split(r",\s*(?:and\s+)?|\s+and\s+|\s*&\s*", each["items"])
        return [found for item in items if (found := ingredient(f"{each['amount']} {item}", measures)) is not None]
    found = ingredient(words, measures)
    if found is None and (fruit := _OF_A_FRUIT.fullmatch(words.strip())) is not None:
        amount = _amount(words.strip(), measures)
        found = Ingredient(f"{fruit[2]} {fruit[1].casefold()}", amount, None) if amount else None
    if found is None and (listed := _LISTED.fullmatch(text.strip())) is not None:
        found = _turned(listed["item"].strip(), listed["amount"], measures, counted=True)
    if found is None and (turned := _TURNED.fullmatch(words.strip())) is not None:
        found = _turned(turned["item"].strip(), turned["amount"], measures)
    return [found] if found is not None else []


def _turned(item: str, tail: str, measures: str, counted: bool = False) -> Ingredient | None:
    """An amount with a unit behind its item, `counted` without one, and what is done to it behind that."""
    amount, _, prep = tail.partition(",")
    words = amount.split()
    for count in range(len(words), 0, -1):
        said = " ".join(words[:count])
        if (found := _amount(said, measures)) is not None and (counted or Amount.parse(found, measures).unit):
            preps = [part for part in (_bare(" ".join(words[count:])), prep.strip()) if part]
            return Ingredient(item, found, "; ".join(preps) or None)
    return None


def _bare(aside: str) -> str:
    return aside[1:-1] if re.fullmatch(r"\([^()]*\)", aside) else aside


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


def _kind(foreign: Foreign, said: str | None, meat: Mapping[str, str]) -> tuple[str, str | None]:
    """The kind of the new recipe, and why it is another one than it seemed."""
    words = re.findall(r"\w+", foreign.about)
    told = said or next((kind for kind, names in _KINDS.items() if any(name in words for name in names)), None)
    if told is None and "cut" not in meat:
        return "sauce", "no cut of meat was found in it; `--cut` and `--weight` tell it"
    told = told or "cook"
    if told == "cook" and "cut" not in meat:
        raise RequestError("a cook needs to know which cut it is for", mend="say it with --cut")
    if told in _COATS and not ("cut" in meat and len(meat) > 1):
        of = f" of {meat['cut']}; say its weight with `--weight`, or" if "cut" in meat else ":"
        return "sauce", f"a {told} is made for a piece{of} give it `made_for:` and write `kind: {told}`"
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
    notes += foreign.notes
    tree["notes"] = notes
    if foreign.address is not None:
        tree["links"] = [{"what": "where it comes from", "address": foreign.address}]
    return {key: value for key, value in tree.items() if value}
