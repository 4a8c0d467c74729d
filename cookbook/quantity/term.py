"""One term of an amount: how many, how full, of what unit, packed how, and what stands in brackets beside it."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from cookbook.quantity import unit as units
from cookbook.quantity.howmany import ONE, number_range
from cookbook.quantity.package import (
    Beside,
    Content,
    as_content,
    base_of,
    beside_of,
    content,
    lone_package,
    package_at,
    package_unit,
)
from cookbook.quantity.scanner import ARTICLES, Scanner, writable
from cookbook.quantity.unit import COUNT, MASS, PACKAGES, PERCENT, Unit
from cookbook.quantity.unitword import read_unit, unit_at
from cookbook.quantity.words import ABOUT, DEGREES, MEAT, PACKED, SIZE_WORDS, STATES

BARE = Unit("", COUNT, None, "")
_ONES = (*ARTICLES, "one")
_BEFORE_UNIT = SIZE_WORDS.keys() | PACKED | DEGREES.keys() | {"extra", "firmly", "lightly", "loosely", "whole"}
_BEHIND_UNIT = ("heaped", "heaping", "rounded", "scant", "level")
_HOW = ("firmly", "lightly", "loosely")


class Term(NamedTuple):
    """`low` to `high` of `unit`, what one package of it holds, and the same amount said again."""

    low: Fraction
    high: Fraction
    unit: Unit
    words: tuple[str, ...] = ()
    each: Content | None = None
    beside: Beside | None = None


def term(scan: Scanner, measures: str) -> Term:
    """The term that stands here, passed. Raises AmountError."""
    begun = scan.at
    words = _degree(scan) if scan.word in DEGREES or scan.word in _ONES else ()
    start = scan.at
    low, high, vague = (ONE, ONE, ()) if start > begun and unit_at(scan, start) else number_range(scan)
    words += vague
    if scan.word in ("%", "percent", "per"):
        if words:
            raise scan.fault(f"a percentage is not '{words[0]}'", "write it like `1.1 % of meat`", first=start)
        return _percent(scan, low, high, start)
    each = content(scan, measures) if scan.word in ("(", "x") or scan.number_at(scan.at) else None
    if each is None and not words and (scan.word == "-" or units.length_cm(scan.word)):
        low, high, each = lone_package(scan, low, high, measures, start)
    while scan.word in _BEFORE_UNIT and (scan.word != "whole" or unit_at(scan, scan.at + 1)):
        words += _before_unit(scan)
    if each is None and scan.word == "(":
        each = content(scan, measures)
    if scan.word == "of" and scan.words[scan.at + 1] in ARTICLES and unit_at(scan, scan.at + 2):
        scan.at += 2
    place = scan.at
    found = read_unit(scan, measures)
    if found is None:
        found = BARE
    elif found.size is not None and each is None and not words and package_at(scan, scan.at) and low == high:
        each = Content(low * found.size, base_of(found), low, found.name)
        low, high, found = ONE, ONE, package_unit(scan, measures)
    if each is not None:
        _check_package(scan, each, found, place)
    made = Term(low, high, found, words, each)
    if scan.word:
        made = _behind(scan, measures, made)
    if made.each is not None and any(word in DEGREES for word in made.words):
        raise scan.fault("a package is neither heaped nor scant", "write it like `1 (400 g) can`", first=place)
    return made


def _check_package(scan: Scanner, each: Content, found: Unit, place: int) -> None:
    """What is cut to a length is a piece, what holds something is a package."""
    fits = units.is_count(found.name) if each.base == "cm" else found.name in PACKAGES
    if not fits and found is not BARE:
        raise scan.fault("after what one package holds comes the package", "write it like `1 (400 g) can`",
                         first=place)


def _behind(scan: Scanner, measures: str, found: Term) -> Term:
    """What may stand behind a unit: `of`, how it is packed, and the same amount said again."""
    if found.unit is not BARE:
        scan.took("of")
    if scan.word == "per" or (scan.word == "/" and unit_at(scan, scan.at + 1)):
        return _share(scan, measures, found)
    packs = _pack(scan)
    each, beside = found.each, None
    comma = 1 if scan.word == "," else 0
    if scan.words[scan.at + comma] in _BEHIND_UNIT and found.unit is not BARE:
        word = DEGREES[scan.words[scan.at + comma]]
        packs += (word,) if word else ()
        scan.at += comma + 1
    again = scan.word in ("/", "=") or scan.word in ABOUT or (scan.word == "," and scan.words[scan.at + 1] in ABOUT)
    if scan.word == "(" or (again and found.unit is not BARE):
        beside = beside_of(scan, measures)
        if beside is not None and found.unit.name in PACKAGES and each is None:
            each, beside = as_content(scan, found, beside)
        packs += _pack(scan)
    return Term(found.low, found.high, found.unit, found.words + packs, each, beside)


def _degree(scan: Scanner) -> tuple[str, ...]:
    """`heaping`, `scant` before the number, or `a generous` before one; passed."""
    skip = 1 if scan.word in _ONES else 0
    word = scan.words[scan.at + skip]
    if word not in DEGREES or (skip and not scan.number_at(scan.at + 2)):
        return ()
    scan.at += skip + 1
    return (DEGREES[word],) if DEGREES[word] else ()


def _before_unit(scan: Scanner) -> tuple[str, ...]:
    """A size, a degree or a pack word between number and unit; passed."""
    word = scan.word
    if word in DEGREES:
        scan.at += 1
        return (DEGREES[word],) if DEGREES[word] else ()
    if word in ("extra",):
        joined = scan.took("extra", "-", "large") or scan.took("extra", "large")
        if not joined:
            raise scan.fault("'extra' what?", "write `extra-large`")
        return ("extra-large",)
    if word in SIZE_WORDS:
        scan.at += 1
        _ = scan.took("-", "sized") or (scan.joined(scan.at) and scan.took("."))
        return (SIZE_WORDS[word],)
    if word == "whole":
        scan.at += 1
        return ()
    found = _pack_word(scan)
    if not found:
        raise scan.fault(f"'{word}' how?", f"write `{word} packed`")
    return found


def _pack_word(scan: Scanner) -> tuple[str, ...]:
    word = scan.word
    if word in _HOW and scan.words[scan.at + 1] == "packed":
        scan.at += 2
        return (f"{word} packed",)
    if word in PACKED or word in STATES:
        scan.at += 1
        return (word,)
    return ()


def _pack(scan: Scanner) -> tuple[str, ...]:
    """`packed`, `(packed)`, `, packed`, `chopped` behind a unit; passed."""
    words: tuple[str, ...] = ()
    while scan.word:
        start = scan.at
        bracket = scan.took("(")
        comma = not bracket and scan.took(",")
        found = _pack_word(scan) if not comma or scan.word in PACKED or scan.word in _HOW else ()
        if not found or (bracket and not scan.took(")")):
            scan.at = start
            break
        words += found
    return words


def _share(scan: Scanner, measures: str, found: Term) -> Term:
    """`15 g per kg`, `15 g/kg of meat` behind a weight: a share of the meat; passed."""
    start = scan.at
    scan.at += 1
    whole = read_unit(scan, measures)
    if whole is None or whole.kind != MASS:
        scan.at = start
        return found
    if found.unit.kind != MASS or found.words or found.each or found.unit.size is None or whole.size is None:
        raise scan.fault("only a weight can be a share of the meat's", "weigh it once; write it like `15 g per kg`",
                         first=0, last=scan.at - 1)
    scan.took("of", "the") or scan.took("of")
    name = next((name for phrase, name in MEAT.items() if scan.took(*phrase)), "percent of meat")
    low, high = (100 * value * found.unit.size / whole.size for value in (found.low, found.high))
    if high > 100 or not (writable(low) and writable(high)):
        raise scan.fault("such a share of the meat can't be written down", "write it like `1.1 % of meat`", first=0,
                         last=scan.at - 1)
    return Term(low, high, Unit(name, PERCENT, None, name))


def _percent(scan: Scanner, low: Fraction, high: Fraction, start: int) -> Term:
    if not (scan.took("%") or scan.took("percent") or scan.took("per", "cent")):
        raise scan.fault("a percentage is meant", "write it like `1.1 % of meat`")
    scan.took("of", "the") or scan.took("of")
    for phrase, name in MEAT.items():
        if scan.took(*phrase):
            if high > 100:
                raise scan.fault("more than all of the meat", "write it like `1.1 % of meat`", first=start)
            return Term(low, high, Unit(name, PERCENT, None, name))
    raise scan.fault("a percentage of what?", "write it like `1.1 % of meat`", first=max(start, scan.at - 1))
