"""A recipe as people keep it in a loose text: a title, lines of ingredients, what is done, in any order of trust.

Nothing is guessed and nothing is lost: what is neither title, ingredient, portions nor step is a note as it stands.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

from cookbook.errors import ERROR, FileError, Place, Problem
from cookbook.files import MAX_BYTES
from cookbook.kitchen.importing.foreign import Foreign

_HEADS = {
    "ingredients": ("ingredient", "you need", "you will need", "you'll need", "what you need", "zutat"),
    "steps": ("method", "direction", "instruction", "step", "preparation", "procedure", "how to", "what to do",
              "cooking", "zubereitung", "anleitung"),
    "notes": ("note", "tip", "hint", "story", "source", "notiz", "hinweis", "tipp"),
}
"""What a heading that opens each part begins with."""
_PORTIONS = re.compile(
    r"\b(?:serves|feeds|serving|servings|yield|yields|portions?|personen|portionen|people|für)\b", re.IGNORECASE
)
_NUMBERED = re.compile(r"^(?:step\s*)?\d{1,2}\s*[.):]\s+|^step\s*\d{1,2}\s*[-–:]?\s*", re.IGNORECASE)
_BULLET = re.compile(r"^\s*(?:[-*•·▪◦–—]\s+|\[[ xX]?\]\s*)")
_SHORTENED = re.compile(r"\b(?:lbs?|oz|tbs?p?|tsp|c|t|pt|qt|k?g|m?l)\.$", re.IGNORECASE)
_GROUP = re.compile(r"(?:for|für) (?P<what>(?:the |das |die |den )?\w[\w -]{1,30}):", re.IGNORECASE)
"""A heading over some of the ingredients: `For the rub:`."""
_KIND = re.compile(r"(?:(?P<what>marinade|paste|rub|dry rub|wet rub|brine|sauce|glaze|filling|stuffing|mop|crust):)",
                   re.IGNORECASE)
"""The same in one word: `Rub:`."""
_RULE = re.compile(r"^[\W_]{3,}$")
_LONG_WORDS = 14
"""A line of more words is prose, whatever it begins with."""

Line = tuple[str, int]


def text_of(path: Path) -> str:
    """The file's text: UTF-8, UTF-16 with its mark, else Windows-1252. Raises FileError where it is no text."""
    place = Place(str(path), 1, 1)
    try:
        with path.open("rb") as file:
            data = file.read(MAX_BYTES + 1)
    except OSError as fault:
        raise _fault("unreadable", f"this file cannot be read: {fault.strerror}", place) from None
    if len(data) > MAX_BYTES:
        raise _fault("too-big", "this file is larger than 1 MiB", place)
    wide = data.startswith((b"\xff\xfe", b"\xfe\xff"))
    for encoding in ("utf-16",) if wide else ("utf-8-sig", "windows-1252"):
        try:
            text = data.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text
    raise _fault("not-text", "this file is no plain text", place)


def _fault(code: str, message: str, place: Place) -> FileError:
    mend = "save the recipe as plain text: a title, the ingredients one a line, the steps"
    return FileError([Problem(ERROR, code, message, place, mend)])


def read(text: str, shown: str, untitled: str, is_ingredient: Callable[[str], bool]) -> Foreign:
    """The recipe in a loose text that came from `shown`, called `untitled` where it names itself nothing."""
    found = _Reader(is_ingredient)
    lines = text.splitlines()
    run_on = not any(is_ingredient(words) for raw in lines if not _prose(words := _plain(raw)))
    for number, raw in enumerate(lines, 1):
        for words in _run_on(raw, is_ingredient) if run_on else (raw,):
            found.line(words, number)
    found.paragraph_ends()
    if not found.title and not found.ingredients and not found.steps:
        raise _fault("no-recipe", "there is no recipe in this text", Place(shown, 1, 1))
    title = found.title or untitled
    return Foreign(
        title, tuple(found.ingredients), tuple(found.steps), found.serves, None, None, None, title.casefold(), (),
        tuple(found.notes),
    )


def several(text: str, is_ingredient: Callable[[str], bool]) -> list[str]:
    """The texts of the recipes in one text: another one begins at a title in capitals or marked as a heading, with
    ingredients below it, where the one before has ingredients. Each keeps the numbers of its lines by empty ones."""
    lines = text.splitlines()
    begins = [0]
    for place in range(1, len(lines)):
        least = 1 if _RULE.match("".join(lines[place + 1 : place + 2]).strip()) else 2
        if _titles(lines, place) and all(
            sum(is_ingredient(_plain(raw)) for raw in part) >= least
            for part in (lines[begins[-1] : place], [raw for raw in lines[place + 1 :] if raw.strip()][:5])
        ):
            begins.append(place)
    ends = [*begins[1:], len(lines)]
    return ["\n" * begin + "\n".join(lines[begin:end]) for begin, end in zip(begins, ends, strict=True)]


def _titles(lines: list[str], place: int) -> bool:
    """Whether the line may be a recipe's title in the middle of a text."""
    raw, words = lines[place], " ".join(_shown(lines[place]).split())
    marked = re.match(r"\s*#{1,2}\s", raw) is not None
    alone = not lines[place - 1].strip() or _RULE.match(lines[place - 1].strip()) is not None
    plain = bool(re.search(r"[^\W\d]{3}", words)) and not words.endswith(":")
    return (marked or words.isupper()) and alone and plain and _head(words, marked) is None


def _run_on(raw: str, is_ingredient: Callable[[str], bool]) -> list[str]:
    """`Rub: 2 tbsp mustard, 1 tbsp salt. Mix.` as lines: a title, ingredients, what is done."""
    title, colon, rest = raw.partition(":")
    listed, stop, then = (rest if colon else raw).partition(". ")
    parts = [part.strip().removesuffix(".") for part in re.split(r"[,;]\s", listed)]
    if sum(map(is_ingredient, parts)) < 3:
        return [raw]
    return [*([title] if colon else []), *parts, *(["", then] if stop else [])]


class _Reader:
    """Goes line by line through a text, and knows in which part it is: '' as long as no heading said so."""

    def __init__(self, is_ingredient: Callable[[str], bool]) -> None:
        self.is_ingredient = is_ingredient
        self.part = ""
        self.title = ""
        self.ingredients: list[Line] = []
        self.steps: list[str] = []
        self.notes: list[str] = []
        self.serves: int | None = None
        self.open: list[str] = []
        self.group = ""
        self.beside = False

    def line(self, raw: str, number: int) -> None:
        """Take one line of the file."""
        heading = raw.lstrip().startswith("#")
        words = " ".join(_shown(raw).split())
        if not words or _RULE.match(words):
            self.paragraph_ends()
            return
        part = _head(words, heading)
        listing = part is None and self.part not in ("steps", "notes")
        group = _GROUP.fullmatch(words) or _KIND.fullmatch(words) if listing else None
        if group is not None and (self.title or heading):
            self.paragraph_ends()
            self.group = f", for {group['what'].casefold()}" if group.re is _KIND else f", for {group['what']}"
        elif part is not None:
            self.paragraph_ends()
            self.part = part
            self.serves = self.serves or _portions(words)
        elif not self.title and not self.part and not self.ingredients and (heading or not self._amount(words)):
            self.title = words.strip("*_: ").capitalize() if words.isupper() else words.strip("*_: ")
        elif self.serves is None and (portions := _portions(words)) is not None:
            self.serves = portions
            self.notes.append(words)
        else:
            self._told(raw, words, number)

    def _told(self, raw: str, words: str, number: int) -> None:
        """A line of ingredients, steps or notes, by the part it stands in and by what it looks like."""
        plain = _BULLET.sub("", words)
        if self.part == "notes":
            self.notes.append(plain)
        elif self._lists(plain, words):
            self.ingredients.append((plain + self.group, number))
            self.beside = True
        elif self.part or self.ingredients:
            self._step(raw, words)
        else:
            self.notes.append(plain)

    def _lists(self, plain: str, words: str) -> bool:
        """Whether a line belongs to the ingredients: under their heading all but a sentence behind them."""
        if self.part == "ingredients" and not (self.ingredients and _prose(plain) and not _BULLET.match(words)):
            return True
        if not self.part and self.beside and len(plain.split()) < 7 and not _prose(plain):
            return True
        return self.part != "steps" and self._amount(plain) and not _NUMBERED.match(words)

    def _amount(self, words: str) -> bool:
        return not _prose(words) and self.is_ingredient(_BULLET.sub("", words))

    def _step(self, raw: str, words: str) -> None:
        """A line of a step: a number, a bullet or a full stop before it begins another one."""
        begins = _NUMBERED.match(words) or _BULLET.match(raw)
        if begins or (self.open and self.open[-1].endswith((".", "!", ":"))):
            self.paragraph_ends()
        self.part = self.part or "steps"
        self.open.append(_NUMBERED.sub("", _BULLET.sub("", words)))

    def paragraph_ends(self) -> None:
        """What was begun of a step is one."""
        self.beside = False
        if self.open:
            self.steps.append(" ".join(self.open))
        self.open = []


def _shown(raw: str) -> str:
    """A line without what cannot be printed and without the marks of headings and bold; of two columns the first ends
    in a colon, unless it begins with the number."""
    plain = "".join(sign if sign.isprintable() or sign == "\t" else " " for sign in raw)
    return re.sub(r"^([^\d\t]+?)[ \t]*\t\s*(?=\S)", r"\1: ", re.sub(r"\*\*|__|^\s*#+\s*", "", plain).strip())


def _plain(raw: str) -> str:
    """A line as an ingredient is read from it."""
    return " ".join(_BULLET.sub("", _shown(raw)).split())


def _head(words: str, marked: bool) -> str | None:
    """The part that a heading opens, None where the line is no heading."""
    if len(words.split()) > 6 or not (marked or words.endswith(":") or words.isupper() or len(words.split()) < 3):
        return None
    plain = words.casefold().strip("*_:. ")
    return next((part for part, begins in _HEADS.items() if plain.startswith(begins)), None)


def _prose(words: str) -> bool:
    """Whether a line is a sentence rather than a line of ingredients."""
    count = len(words.split())
    return count > _LONG_WORDS or (words.endswith((".", "!")) and not _SHORTENED.search(words))


def _portions(words: str) -> int | None:
    """How many it is for; of a range the lower number."""
    if len(words.split()) > 6 or not _PORTIONS.search(words):
        return None
    number = re.search(r"\d+", words)
    return int(number.group()) if number and 0 < int(number.group()) < 1000 else None
