"""One term of an amount: how many, how full, of what unit, packed how, and what a package or a bracket says beside it."""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from cookbook.quantity import unit as units
from cookbook.quantity.scanner import ARTICLES, Scanner, number
from cookbook.quantity.unit import COUNT, MASS, PACKAGES, PERCENT, Unit
from cookbook.quantity.words import ABOUT, DEGREES, MEAT, PACKED, SIZES, STATES, VAGUE

BARE = Unit("", COUNT, None, "")
ONE = Fraction(1)
_PREFIX_WORDS = {prefix.casefold().split(" ")[0] for prefix in units.PREFIXES}
_BEFORE_UNIT = SIZES | PACKED | DEGREES.keys() | {"extra", "firmly", "lightly", "loosely"}
_HOW = ("firmly", "lightly", "loosely")


class Content(NamedTuple):
    """What one package holds: `size` in `base`, g, ml or cm; `written` of `unit` as the recipe says it."""

    size: Fraction
    base: str
    written: Fraction
    unit: str


class Beside(NamedTuple):
    """The same amount said again, as in `1 1/2 cups (90 g)`: `low` to `high` in `base`; one `unit` is `step` of it."""

    low: Fraction
    high: Fraction
    base: str
    step: Fraction
    unit: str
    about: bool = False


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
    words = _degree(scan) if scan.word in DEGREES or scan.word in ARTICLES else ()
    start = scan.at
    low, high, vague = (ONE, ONE, ()) if words and unit_at(scan, start) else number_range(scan)
    words += vague
    if scan.word in ("%", "percent", "per"):
        return _percent(scan, low, high, start)
    each = _content(scan, measures) if scan.word in ("(", "x") or scan.number_at(scan.at) else None
    if each is None and (scan.word == "-" or units.length_cm(scan.word)):
        low, high, each = _lone_package(scan, low, high, measures, start)
    while scan.word in _BEFORE_UNIT:
        words += _before_unit(scan)
    if scan.word == "of" and scan.words[scan.at + 1] in ARTICLES and unit_at(scan, scan.at + 2):
        scan.at += 2
    place = scan.at
    found = read_unit(scan, measures)
    if found is None:
        found = BARE
    elif found.size is not None and each is None and _package_at(scan, scan.at) and low == high:
        each = Content(low * found.size, _base(found), low, found.name)
        low, high, found = ONE, ONE, _package(scan, measures)
    if each is not None and found.name not in PACKAGES and found is not BARE and each.base != "cm":
        raise scan.fault("after what one package holds comes the package", "write it like `1 (400 g) can`", first=place)
    if scan.word:
        return _behind(scan, measures, Term(low, high, found, words, each))
    return Term(low, high, found, words, each)


def _behind(scan: Scanner, measures: str, found: Term) -> Term:
    """What may stand behind a unit: `of`, how it is packed, and the same amount said again."""
    if found.unit is not BARE:
        scan.took("of")
    packs = _pack(scan)
    each, beside = found.each, None
    if scan.word in ("(", "/"):
        beside = _beside(scan, measures)
        if beside is not None and found.unit.name in PACKAGES and each is None:
            each, beside = _as_content(scan, found, beside)
        packs += _pack(scan)
    return Term(found.low, found.high, found.unit, found.words + packs, each, beside)


def _degree(scan: Scanner) -> tuple[str, ...]:
    """`heaping`, `scant` before the number, or `a generous` before one; passed."""
    skip = 1 if scan.word in ARTICLES else 0
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
    if word in SIZES:
        scan.at += 1
        return (word,)
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


def number_range(scan: Scanner) -> tuple[Fraction, Fraction, tuple[str, ...]]:
    """A number, two that rise, or a word for a number that nobody counted; passed."""
    start = scan.at
    skip = 1 if scan.word == "a" else 0
    if scan.words[start + skip] in ("few", "couple", "several"):
        scan.at += skip
        for phrase, (word, least, most) in VAGUE.items():
            if scan.words[scan.at + len(phrase)] != "grains" and scan.took(*phrase):
                return Fraction(least), Fraction(most), (word,)
        scan.at = start
    low = number(scan)
    if low is None:
        if unit_at(scan, start) in units.VAGUE_TSP or unit_at(scan, start) in ("handful", "splash", "drizzle", "knob"):
            return ONE, ONE, ()
        raise _no_number(scan)
    high = _second(scan, low, start)
    return low, low if high is None else high, ()


def _second(scan: Scanner, low: Fraction, start: int) -> Fraction | None:
    """The upper number of a range, passed; None where no range stands here."""
    if scan.word not in ("-", "to", "or") or not scan.number_at(scan.at + 1):
        return None
    scan.at += 1
    high = number(scan)
    assert high is not None
    if high <= low:
        said = scan.raw[scan.starts[start]:scan.ends[scan.at - 1]]
        raise scan.fault(f"'{said}' is a falling range: {high} is not more than {low}",
                         "write the smaller number first; a mixed number has no blank around its hyphen, `1-1/2`",
                         first=start, last=scan.at - 1)
    return high


def _no_number(scan: Scanner) -> Exception:
    word = scan.rest().split(" ")[0]
    name = unit_at(scan, scan.at)
    if name is not None:
        return scan.fault(f"how many '{word}'?", f"write it like `1 {name}`")
    if scan.word == "-":
        return scan.fault(f"'{scan.rest()}' is less than nothing", "amounts are not negative", last=scan.at)
    what = f"'{word}' is no number" if word else "a number is missing here"
    return scan.fault(what, "write it like `2`, `1 1/2` or `3-4`")


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


def unit_at(scan: Scanner, at: int) -> str | None:
    """The name of the unit that a word stands for, whatever the measure system."""
    if scan.words[at] == "few" and scan.words[at + 1] == "grains":
        return "few grains"
    return units.named(scan.letters(at)) if scan.words[at] else None


def _package_at(scan: Scanner, at: int) -> bool:
    return bool(scan.words[at]) and unit_at(scan, at) in PACKAGES


def _package(scan: Scanner, measures: str) -> Unit:
    found = read_unit(scan, measures)
    assert found is not None
    return found


def _base(unit: Unit) -> str:
    return "g" if unit.kind == MASS else "ml"


def read_unit(scan: Scanner, measures: str) -> Unit | None:
    """The unit that stands here, passed; None where none does. Raises AmountError where the system has no such one."""
    word = scan.word
    if not word:
        return None
    if word in _PREFIX_WORDS:
        return _named_unit(scan)
    start = scan.at
    if word in ("fl", "fluid"):
        name = _fluid_ounce(scan)
    elif word == "few" and scan.took("few", "grains"):
        name = "few grains"
    else:
        name = units.named(scan.letters(start))
        if name is not None:
            scan.at += 1
    if name is None:
        return None
    if scan.word == "." and scan.joined(scan.at):
        scan.at += 1
    found = units.unit(name, measures)
    if found is None:
        says = " or ".join(f"`{one}`" for one in units.systems_with(name)[:2])
        raise scan.fault(f"the measure system '{measures}' has no {name}",
                         f"write it in ml or g, or name the system it comes from, for example {says}",
                         first=start, last=max(start, scan.at - 1))
    return found


def _fluid_ounce(scan: Scanner) -> str | None:
    """`fl oz`, read before `oz`; passed."""
    start = scan.at
    scan.at += 1
    scan.took(".")
    if scan.word in ("oz", "ozs", "ounce", "ounces"):
        scan.at += 1
        return "fl oz"
    scan.at = start
    return None


def _named_unit(scan: Scanner) -> Unit | None:
    """A unit with its measure system before it: `metric cup`, `US label tbsp`, `Australian tbsp`; passed."""
    start = scan.at
    scan.at += 1
    prefix = scan.text[scan.starts[start]:scan.ends[start]]
    if scan.word == "label":
        prefix, scan.at = "US label", scan.at + 1
    if scan.took("dry", "pint") or scan.took("dry", "pints"):
        return units.unit("US dry pint")
    name = _fluid_ounce(scan) if scan.word in ("fl", "fluid") else units.named(scan.letters(scan.at)) if scan.word else None
    found = units.unit(f"{prefix} {name}") if name else None
    if found is None:
        raise scan.fault(f"there is no {prefix} measure '{scan.rest().split(' ')[0]}'", first=start)
    if name != "fl oz":
        scan.at += 1
    if scan.word == "." and scan.joined(scan.at):
        scan.at += 1
    return found


def _quantity(scan: Scanner, measures: str) -> Beside | None:
    """`400 g`, `14-oz`, `1-inch`, `60-70 ml`; passed. None where something else stands here."""
    low = number(scan)
    if low is None:
        return None
    high = _second(scan, low, scan.at - 1) or low
    scan.took("-")
    length = units.length_cm(scan.word) if scan.word else None
    if length is not None:
        scan.at += 1
        if scan.word == "." and scan.joined(scan.at):
            scan.at += 1
        return Beside(low * length, high * length, "cm", length, "in" if length == units.INCH_CM else "cm")
    found = read_unit(scan, measures)
    if found is None or found.size is None:
        return None
    return Beside(low * found.size, high * found.size, _base(found), found.size, found.name)


def _held(said: Beside) -> Content:
    return Content(said.low, said.base, said.low / said.step, said.unit)


def _content(scan: Scanner, measures: str) -> Content | None:
    """What one package holds, before the package: `(400 g)`, `14-oz`, `x 400 g`, `1-inch`; passed, None if not there."""
    start = scan.at
    bracket, times = scan.took("("), scan.took("x")
    held = _quantity(scan, measures)
    if held is None or held.low != held.high:
        if times:
            raise scan.fault("what one package holds is missing here", "write it like `2 x 400 g cans`")
        scan.at = start
        return None
    if bracket:
        scan.took("each")
        if not scan.took(")"):
            raise scan.fault("the bracket is not closed", "write it like `1 (400 g) can`", first=start)
    behind = scan.at + (1 if scan.word in SIZES else 0)
    if not times and not _package_at(scan, behind) and not (held.base == "cm" and unit_at(scan, behind)):
        scan.at = start
        return None
    return _held(held)


def _lone_package(scan: Scanner, low: Fraction, high: Fraction, measures: str,
                  start: int) -> tuple[Fraction, Fraction, Content | None]:
    """`14-oz can`, `1-inch piece`: one of them."""
    place = scan.at
    scan.at = start
    each = _content(scan, measures) if low == high else None
    if each is None:
        scan.at = place
        return low, high, None
    return ONE, ONE, each


def _beside(scan: Scanner, measures: str) -> Beside | None:
    """The same amount said again, in brackets or behind a bar; passed, None where something else stands here."""
    start = scan.at
    bracket = scan.took("(")
    if not bracket:
        scan.took("/")
    about = scan.word in ABOUT
    scan.at += about
    held = _quantity(scan, measures)
    if held is None or held.base == "cm":
        scan.at = start
        return None
    if bracket and not (scan.word == "each" or scan.took(")")):
        raise scan.fault("the bracket is not closed", "write it like `1 1/2 cups (90 g)`", first=start)
    return held._replace(about=about)


def _as_content(scan: Scanner, found: Term, said: Beside) -> tuple[Content | None, Beside | None]:
    """Whether a bracket behind a package says what each holds or what all weigh."""
    each = scan.took("each")
    if each and not scan.took(")"):
        raise scan.fault("the bracket is not closed", "write it like `2 (400 g) cans`")
    if said.low != said.high:
        return None, said
    if each or found.low == found.high == 1:
        return _held(said), None
    raise scan.fault(f"is this each of the {found.unit.plural} or all of them together?",
                     f"write `2 (400 g) {found.unit.plural}` for each", last=scan.at - 1, first=scan.at - 1)
