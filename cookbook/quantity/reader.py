"""The reader of amounts: one pass over the text, every word accounted for, faults pointing at their place."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from cookbook.errors import AmountError
from cookbook.quantity import unit as units
from cookbook.quantity.number import VULGAR, Scanner, number
from cookbook.quantity.unit import COUNT, FREE, PERCENT, Unit

FREE_WORDS = ("to taste", "as needed", "to cover", "for serving", "for garnish")
ABOUT = ("about", "approximately", "approx", "around")
DEGREES = {"level": "level", "scant": "scant", "heaping": "heaping", "heaped": "heaping", "rounded": "rounded",
           "generous": "generous"}
PACKS = ("firmly packed", "lightly packed", "loosely packed", "packed", "unsifted", "sifted")
SIZES = ("extra-large", "extra large", "small", "medium", "large")
PARTS = ("juice and zest", "zest and juice", "juice", "zest", "peel")
MEAT = {"of meat": "percent of meat", "of the meat": "percent of meat", "of boneless meat": "percent of boneless meat",
        "of meat without bone": "percent of boneless meat"}
FOLLOW_ONS = {"lb": ("oz",), "kg": ("g",), "cup": ("tbsp", "tsp"), "tbsp": ("tsp",), "l": ("ml",), "pint": ("fl oz",)}


class Read(NamedTuple):
    """What a text says: numbers in `unit`, the words that change its meaning, the content of one package in g or ml."""

    kind: str
    low: Fraction | None
    high: Fraction | None
    unit: Unit | None
    words: tuple[str, ...]
    each: tuple[Fraction, str] | None = None


class _Term(NamedTuple):
    low: Fraction
    high: Fraction
    unit: Unit
    words: tuple[str, ...]
    each: tuple[Fraction, str] | None


BARE = Unit("", COUNT, None, "")


def read(text: str, measures: str) -> Read:
    """What `text` means under a measure system. Raises AmountError."""
    scan = Scanner(text)
    if scan.done:
        raise scan.fault("no amount is written here", mend="write one, for example `2 tbsp`, or `to taste`")
    for phrase in FREE_WORDS:
        if scan.took(phrase):
            _end(scan)
            return Read(FREE, None, None, None, (phrase,))
    found = _part_of(scan)
    if found is not None:
        _end(scan)
        return found
    words = ("about",) if _took_about(scan) else ()
    first = _term(scan, measures)
    if first.unit.kind == PERCENT:
        _end(scan)
        return Read(PERCENT, first.low, first.high, first.unit, words + first.words)
    total = first
    while (more := _joined(scan, total, measures)) is not None:
        total = _sum(scan, total, more)
    for phrase in FREE_WORDS[:2]:
        if scan.took(phrase):
            words = (*words, phrase)
    _end(scan)
    return Read(total.unit.kind, total.low, total.high, total.unit, words + total.words, total.each)


def _took_about(scan: Scanner) -> bool:
    if scan.peek() == "~":
        scan.take("~")
        return True
    word = scan.word()
    if word.casefold() in ABOUT:
        scan.take(word)
        return True
    return False


def _end(scan: Scanner) -> None:
    """Nothing may be left."""
    if scan.done:
        return
    if scan.peek() == "," and scan.text[scan.at + 1:].strip():
        raise scan.fault(f"'{scan.text[scan.at:].strip()}' is no part of an amount", len(scan.text) - scan.at,
                         "what is done to it goes under `prep:`")
    rest = scan.text[scan.at:].split(" ")[0]
    near = units.nearest(rest) if rest.isalpha() else []
    mend = "did you mean " + " or ".join(f"'{one}'" for one in near[:2]) + "?" if near else (
        "an amount is a number and a unit; the thing itself goes under `item:`, what is done to it under `prep:`")
    raise scan.fault(f"'{rest}' is no unit and no word of an amount", len(rest), mend)


def _part_of(scan: Scanner) -> Read | None:
    """`juice of 2 lemons`: a count of fruit with the part that is meant."""
    start = scan.at
    for part in PARTS:
        if scan.took(part):
            if not scan.took("of"):
                raise scan.fault(f"after '{part}' comes 'of' and a number of fruit", max(1, len(scan.word())),
                                 f"write it like `{part} of 2 lemons`")
            low, high = _range(scan)
            size = _one_of(scan, SIZES)
            word = scan.word()
            fruit = units.named(word) if word else None
            if fruit not in ("lemon", "lime", "orange"):
                raise scan.fault(f"'{word or scan.text[scan.at:]}' is no fruit that is known here", max(1, len(word)),
                                 "lemons, limes and oranges are")
            scan.take(word)
            found = units.unit(fruit)
            return Read(COUNT, low, high, found, (f"{part} of", *((size,) if size else ())))
    scan.at = start
    return None


def _range(scan: Scanner) -> tuple[Fraction, Fraction]:
    """A number, or two that rise."""
    start = scan.at
    low = number(scan)
    if low is None:
        word = scan.text[scan.at:].split(" ")[0]
        raise scan.fault(f"'{word}' is no number" if word else "a number is missing here", max(1, len(word)),
                         "write it like `2`, `1 1/2` or `3-4`")
    after = scan.at
    scan.blanks()
    dash = scan.peek() == "-" and _number_follows(scan, 1)
    word = scan.word().casefold()
    if dash:
        scan.take("-")
    elif word in ("to", "or") and _number_follows(scan, len(word)):
        scan.take(scan.word())
    else:
        scan.at = after
        scan.blanks()
        return low, low
    high = number(scan)
    if high is None:
        raise scan.fault("the second number of a range is missing here", mend="write it like `3-4`")
    if high <= low:
        raise AmountError(f"'{scan.text[start:scan.at].strip()}' is a falling range: {high} is not more than {low}",
                          text=scan.raw, offset=start, length=scan.at - start, mend="write the smaller number first")
    scan.blanks()
    return low, high


def _number_follows(scan: Scanner, skip: int) -> bool:
    rest = scan.text[scan.at + skip:].lstrip(" ")
    return bool(rest) and ((rest[0].isascii() and rest[0].isdigit()) or rest[0] in VULGAR or rest[0] == "."
                           or rest.split(" ")[0].casefold() in ("one", "two", "three", "four", "five", "six"))


def _one_of(scan: Scanner, phrases: tuple[str, ...]) -> str | None:
    return next((phrase.replace(" ", "-") if "extra" in phrase else phrase for phrase in phrases if scan.took(phrase)), None)


def _degree(scan: Scanner) -> tuple[str, ...]:
    word = scan.word()
    if word.casefold() in DEGREES and word:
        scan.take(word)
        found = DEGREES[word.casefold()]
        return () if found == "level" else (found,)
    return ()


def _term(scan: Scanner, measures: str) -> _Term:
    words = _degree(scan)
    start = scan.at
    low, high = _range(scan)
    if scan.peek() == "%":
        return _percent(scan, low, high, start)
    each = _each(scan, measures)
    size = _one_of(scan, SIZES)
    words += (size,) if size else ()
    words += _degree(scan)
    pack = _one_of(scan, PACKS)
    found = _unit(scan, measures)
    if scan.took("of"):
        pass
    pack = pack or _one_of(scan, PACKS)
    if pack is None and scan.peek() == "(":
        pack = _bracketed(scan)
    if each is not None and (found is None or found.name not in units.PACKAGES):
        raise scan.fault("after what one package holds comes the package", 1, "write it like `1 (400 g) can`")
    return _Term(low, high, found or BARE, words + ((pack,) if pack else ()), each)


def _percent(scan: Scanner, low: Fraction, high: Fraction, start: int) -> _Term:
    scan.take("%")
    for phrase, name in sorted(MEAT.items(), key=lambda one: -len(one[0])):
        if scan.took(phrase):
            if high > 100:
                raise scan.fault("more than all of the meat", scan.at - start, at=start)
            return _Term(low, high, Unit(name, PERCENT, None, name), (), None)
    raise scan.fault("a percentage of what?", 1, "write it like `1.1 % of meat`", at=scan.at)


def _bracketed(scan: Scanner) -> str | None:
    """`(packed)` behind a unit."""
    start = scan.at
    scan.take("(")
    pack = _one_of(scan, PACKS)
    if pack is not None and scan.peek() == ")":
        scan.take(")")
        return pack
    scan.at = start
    return None


def _each(scan: Scanner, measures: str) -> tuple[Fraction, str] | None:
    """`(400 g)` or `14-oz` before a package: what one of them holds."""
    start = scan.at
    bracket = scan.peek() == "("
    if bracket:
        scan.take("(")
    value = number(scan)
    if value is None:
        scan.at = start
        return None
    scan.blanks()
    if scan.peek() == "-":
        scan.take("-")
    found = _unit(scan, measures)
    if bracket and scan.peek() == ")":
        scan.take(")")
    elif bracket:
        raise scan.fault("the bracket is not closed", at=start, mend="write it like `1 (400 g) can`")
    if found is None or found.size is None:
        scan.at = start
        return None
    if not bracket and units.named(scan.word()) not in units.PACKAGES:
        scan.at = start
        return None
    return value * found.size, "g" if found.kind == units.MASS else "ml"


def _unit(scan: Scanner, measures: str) -> Unit | None:
    """The unit that stands here, passed; None where none does."""
    scan.blanks()
    for prefix in ("US label", "US", "metric", "Australian", "UK", "Japanese"):
        start = scan.at
        if scan.took(prefix.casefold()):
            word = _unit_word(scan)
            found = units.unit(f"{prefix} {word[0]}") if word else None
            if found is None:
                raise scan.fault(f"there is no {prefix} measure '{scan.word()}'", max(1, len(scan.word())), at=scan.at)
            scan.at = word[1] if word else start
            scan.blanks()
            return found
    word = _unit_word(scan)
    if word is None:
        return None
    found = units.unit(word[0], measures)
    if found is None:
        raise scan.fault(f"the measure system '{measures}' has no {word[0]}", word[1] - scan.at,
                         f"write it in ml or g, or name the system: `US {word[0]}`")
    scan.at = word[1]
    scan.blanks()
    return found


def _unit_word(scan: Scanner) -> tuple[str, int] | None:
    """The name of the unit that stands here and where it ends; `fl oz` is read before `oz`."""
    start = scan.at
    word = scan.word()
    if word.casefold() in ("fl", "fluid"):
        scan.take(word)
        second = scan.word()
        if second.casefold() in ("oz", "ozs", "ounce", "ounces"):
            scan.take(second)
            end = scan.at
            scan.at = start
            return "fl oz", end
        scan.at = start
    name = units.named(word) if word else None
    if name is None:
        return None
    end = start + len(word)
    if scan.text[end:end + 1] == ".":
        end += 1
    return name, end


def _joined(scan: Scanner, before: _Term, measures: str) -> _Term | None:
    """A second term: after `+`, `plus`, `and`, or directly where it can only belong, as in `1 lb 4 oz`."""
    start = scan.at
    scan.blanks()
    if scan.peek() == "+":
        scan.take("+")
        return _term(scan, measures)
    word = scan.word().casefold()
    if word in ("plus", "and") and _number_follows(scan, len(word)):
        scan.take(scan.word())
        return _term(scan, measures)
    if before.unit.name in FOLLOW_ONS and _number_follows(scan, 0):
        found = _term(scan, measures)
        if found.unit.name in FOLLOW_ONS[before.unit.name]:
            return found
    scan.at = start
    return None


def _sum(scan: Scanner, one: _Term, two: _Term) -> _Term:
    if one.unit.kind != two.unit.kind or one.unit.size is None or two.unit.size is None or one.each or two.each:
        raise scan.fault(f"{one.unit.name or 'pieces'} and {two.unit.name or 'pieces'} can't be added up", 1,
                         "write two ingredients", at=max(0, scan.at - 1))
    factor = two.unit.size / one.unit.size
    return _Term(one.low + two.low * factor, one.high + two.high * factor, one.unit, one.words + two.words, None)
