"""The reader of amounts: one pass over the text, every word accounted for, faults pointing at their place.

    amount = free | part of fruit | [about] sum [modifier]         `to taste`, `juice of 2 lemons`, `about 60 g`
    sum    = term { ("+" | "plus" | "and" | "minus" | "less") term }    or side by side, `1 lb 4 oz`; `1 cup to 2
    tbsp` term   = [degree] range [package] [size] [degree] [packed] [unit] ["of"] [packed] ["(" the same again ")"]
"""

from __future__ import annotations

from fractions import Fraction
from typing import NamedTuple

from cookbook.errors import AmountError
from cookbook.quantity import unit as units
from cookbook.quantity.howmany import number_range
from cookbook.quantity.number import LONGEST
from cookbook.quantity.package import Beside, Content, beside_of
from cookbook.quantity.scanner import ARTICLES, Scanner, writable
from cookbook.quantity.term import BARE, Term, term
from cookbook.quantity.unit import COUNT, FREE, MASS, PERCENT, Unit
from cookbook.quantity.words import ABOUT, DEGREES, FOLLOW_ONS, FREE_WORDS, PARTS, ROUNDABOUT, SIZE_WORDS, UNCOUNTED

_FREE_FIRST = {phrase[0] for phrase in FREE_WORDS}
_PART_FIRST = {phrase[0] for phrase in PARTS} | {"the", "grated", "finely"}
_ROUNDABOUT_FIRST = {phrase[0] for phrase in ROUNDABOUT}
_PLUS = ("+", "plus", "and")
_MINUS = ("minus", "less")
_JOINING = frozenset((*_PLUS, *_MINUS, ","))


class Read(NamedTuple):
    """What a text says: numbers in `unit`, the words that change its meaning, the content of one package in g, ml or
    cm, and the same amount said again."""

    kind: str
    low: Fraction | None
    high: Fraction | None
    unit: Unit | None
    words: tuple[str, ...]
    each: Content | None = None
    beside: Beside | None = None


def read(text: str, measures: str) -> Read:
    """What `text` means under a measure system. Raises AmountError."""
    scan = Scanner(text)
    word = scan.word
    if not word:
        raise scan.fault("no amount is written here", "write one, for example `2 tbsp`, or `to taste`")
    if word in _FREE_FIRST and (free := _free(scan)):
        _end(scan)
        return Read(FREE, None, None, None, (free,))
    if word in _PART_FIRST and (part := _part_of(scan, measures)) is not None:
        part = part._replace(words=part.words + _modifiers(scan))
        _end(scan)
        return part
    words: tuple[str, ...] = ()
    roundabout: tuple[str, ...] | None = None
    if word in ABOUT:
        scan.at += 1
        scan.took(".")
        words = ("about",)
    elif word in _ROUNDABOUT_FIRST:
        roundabout = next((phrase for phrase in ROUNDABOUT if scan.took(*phrase)), None)
        words = (ROUNDABOUT[roundabout],) if roundabout else ()
    total = term(scan, measures)
    if roundabout and total.unit.kind == PERCENT:
        raise scan.fault(f"a percentage is not '{' '.join(roundabout)}'", "write it like `1.1 % of meat`", first=0,
                         last=len(roundabout) - 1)
    if scan.word in ("-", "to", "or"):
        total = _two_units(scan, total, measures) or total
    else:
        while scan.word and (more := _joined(scan, total, measures)) is not None:
            total = more
    words += total.words
    if scan.word:
        words += _modifiers(scan)
        _end(scan)
    if len(words) > 1:
        words = tuple(dict.fromkeys(words))
    return Read(total.unit.kind, total.low, total.high, total.unit, words, total.each, total.beside)


def _free(scan: Scanner) -> str:
    """`to taste`, passed; '' where it does not stand here."""
    return next((word for phrase, word in FREE_WORDS.items() if scan.took(*phrase)), "")


def _modifiers(scan: Scanner) -> tuple[str, ...]:
    """`or to taste`, `, plus more for serving`, `or so` behind an amount; passed."""
    words: tuple[str, ...] = ()
    while scan.word:
        start = scan.at
        scan.took(",")
        if scan.took("or", "so"):
            words += ("about",)
            continue
        _ = scan.took("or") or scan.took("and") or scan.took("plus")
        more = scan.took("more") or scan.took("extra")
        found = _free(scan) or ("as needed" if more and scan.done else "")
        if not found:
            scan.at = start
            break
        words += (found,)
    return words


def _end(scan: Scanner) -> None:
    """Nothing may be left."""
    if scan.done:
        return
    rest = scan.rest()
    word = rest.split()[0].rstrip(",;") or rest[:1]
    if scan.word == "," and rest[1:].strip():
        raise scan.fault(f"'{rest}' is no part of an amount", "what is done to it goes under `prep:`",
                         last=len(scan.starts) - 2)
    if scan.word == "of":
        raise scan.fault("'of' what?", "a part of a package is written like `1/2 (28 oz) can`")
    said, mend = _left_over(scan, word)
    raise AmountError(said, text=scan.raw, offset=scan.starts[scan.at], length=len(word), mend=mend)


def _left_over(scan: Scanner, word: str) -> tuple[str, str]:
    """What to say of a word that no amount has here, and the likely mend."""
    if scan.word in ("or", "to") and scan.number_at(scan.at + 1):
        return f"'{scan.rest()}' is another amount", "write one of them; a range is written like `1-2`"
    if scan.word in ("plus", "and", "minus", "less", "or", "to"):
        return f"'{word}' what?", "write the other amount behind it, like `1 cup plus 2 tbsp`"
    if scan.words[scan.at - 1] == "#" and scan.number_at(scan.at):
        return "a can's number doesn't say what is in it", "write what its label says, like `1 (28 oz) can`"
    if word.casefold().rstrip(".") in ("gr", "grs"):
        return f"'{word}' may be a gram or a grain", "write `g`"
    if word.casefold() in ("spoon", "spoons", "spoonful", "spoonfuls"):
        return "which spoon?", "write `tbsp` or `tsp`"
    if word[0] in "0123456789" or units.named(word) not in (None, *units.FRUIT):
        return f"'{word}' stands one too many here", "two amounts are joined by a word, like `1 cup plus 2 tbsp`"
    if scan.word == "each":
        return "'each' of what?", "give each ingredient a line of its own"
    if scan.word == "per":
        return "'per' what?", "a share of the meat is written like `15 g per kg`, or `1.5 % of meat`"
    near = units.nearest(word) if word.isalpha() and units.named(word) is None else []
    if near and _is_food(scan.rest()):
        near = []
    thing = f"'{scan.rest()}'" if word[0].isalpha() else "the thing itself"
    return f"'{word}' is no unit and no word of an amount", (
        "did you mean " + " or ".join(f"'{one}'" for one in near[:2]) + "?" if near else
        f"an amount is a number and a unit; {thing} goes under `item:`, or what is done to it under `prep:`")


def _is_food(words: str) -> bool:
    """Whether words that were left over name an ingredient."""
    from cookbook.quantity.weight import lookup

    return lookup(words) is not None


def _part_of(scan: Scanner, measures: str) -> Read | None:
    """`juice of 2 lemons`, `the grated rind of half an orange`: a count of fruit with the part that is meant."""
    start = scan.at
    scan.took("the")
    scan.took("finely")
    scan.took("grated")
    for phrase, part in PARTS.items():
        if scan.took(*phrase):
            return _of_fruit(scan, part, measures)
    scan.at = start
    return None


def _of_fruit(scan: Scanner, part: str, measures: str) -> Read:
    if not (scan.took("of") or scan.took("from")):
        raise scan.fault(f"after '{part}' comes 'of' and a number of fruit", f"write it like `{part} of 2 lemons`")
    low, high, vague = number_range(scan)
    if scan.word == "of" and scan.words[scan.at + 1] in ARTICLES:
        scan.at += 2
    size = (SIZE_WORDS[scan.word],) if scan.word in SIZE_WORDS else ()
    scan.at += len(size)
    fruit = units.named(scan.letters(scan.at)) if scan.word else None
    if fruit not in units.FRUIT:
        raise scan.fault(f"'{scan.rest()}' is no fruit that is known here", f"known are {', '.join(units.FRUIT)}")
    scan.at += 1
    beside = beside_of(scan, measures) if scan.word == "(" else None
    return Read(COUNT, low, high, units.unit(fruit), (f"{part} of", *size, *vague), None, beside)


def _joined(scan: Scanner, before: Term, measures: str) -> Term | None:
    """The sum with a second term: after a sign or word, or directly where it can only belong, as in `1 lb 4 oz`."""
    word, start = scan.word, scan.at
    if before.unit.kind == PERCENT:
        return None
    if word not in _JOINING and not scan.number_at(start):
        return None
    if word in _PLUS or word in _MINUS:
        if not (scan.number_at(start + 1) or scan.words[start + 1] in DEGREES or word == "+"):
            return None
        scan.at += 1
        found = term(scan, measures)
        half = word == "and" and before.unit is not BARE and found.high < 1
        if half and found == Term(found.low, found.high, BARE):
            found = found._replace(unit=before.unit)
        plain = before.unit is BARE and not (before.words or before.each or before.beside)
        if word == "+" and plain and found.unit.kind != PERCENT:
            if found.unit is BARE and not (found.words or found.each or found.beside):
                low, high = before.low + found.low, before.high + found.high
                _writable(scan, low, high, start)
                return before._replace(low=low, high=high)
            before = before._replace(unit=found.unit)
        return _sum(scan, before, found, start, -1 if word in _MINUS else 1, measures)
    follow = FOLLOW_ONS.get(before.unit.name)
    if word == ",":
        scan.at += 1
    if follow and scan.number_at(scan.at):
        found = term(scan, measures)
        if found.unit.name in follow:
            return _sum(scan, before, found, start, 1, measures)
    scan.at = start
    return None


def _two_units(scan: Scanner, before: Term, measures: str) -> Term | None:
    """A range with a unit at both ends, `60 g to 80 g`, `1 tsp-1 tbsp`; passed."""
    start = scan.at
    if before.low != before.high or before.unit is BARE or not scan.number_at(start + 1) or _inexact(before):
        return None
    scan.at += 1
    found = term(scan, measures)
    if found == Term(found.low, found.high, BARE):
        found = found._replace(unit=before.unit)
    factor = _factor(before, found, measures)
    if factor is None or found.low != found.high or _inexact(found):
        raise scan.fault("the two ends of this range can't be compared", "write both in the same unit", first=start)
    if found.low * factor <= before.low:
        raise scan.fault("this range does not rise", "write the smaller amount first", first=start, last=scan.at - 1)
    return before._replace(high=found.low * factor, words=before.words + _new(before, found))


def _factor(one: Term, two: Term, measures: str) -> Fraction | None:
    """How many of the first unit one of the second is; None where they measure different things, or in systems that
    share no whole numbers, as cups and ml."""
    if one.each or two.each or one.beside or two.beside or one.unit.kind != two.unit.kind:
        return None
    if one.unit.size is not None and two.unit.size is not None:
        found = units.ratio(two.unit.name, one.unit.name, measures)
        return found if max(found.denominator, found.numerator) < LONGEST else None
    return Fraction(1) if one.unit == two.unit and one.unit is not BARE else None


def _inexact(one: Term) -> bool:
    """Whether a word stands for its number or says how full it is."""
    return any(word in DEGREES or word in UNCOUNTED for word in one.words)


def _new(one: Term, two: Term) -> tuple[str, ...]:
    return tuple(word for word in two.words if word not in one.words)


def _writable(scan: Scanner, low: Fraction, high: Fraction, start: int) -> None:
    """A sum of parts so odd that no number of a file says it exactly is refused."""
    if not (writable(low) and writable(high)):
        raise scan.fault("such parts can't be added up", "write the sum as one number", first=start, last=scan.at - 1)


def _sum(scan: Scanner, one: Term, two: Term, start: int, sign: int, measures: str) -> Term:
    whole = None if one.beside else two.beside
    two = two._replace(beside=None) if whole else two
    factor = _factor(one, two, measures)
    if factor is None:
        raise scan.fault(f"{one.unit.plural or 'pieces'} and {two.unit.plural or 'pieces'} can't be added up",
                         "write two ingredients, or both in one system", first=start, last=scan.at - 1)
    if _inexact(one) or _inexact(two):
        raise scan.fault("a heaping or uncounted measure can't be added up", "write two ingredients",
                         first=start, last=scan.at - 1)
    less = two.low * factor
    more = less if two.low is two.high else two.high * factor
    if sign < 0:
        less, more = -more, -less
    low = one.low + less
    high = low if one.low is one.high and two.low is two.high else one.high + more
    _writable(scan, low, high, start)
    if low.numerator <= 0:
        raise scan.fault("more is taken away than there is", "write what is left of it", first=start,
                         last=scan.at - 1)
    if whole is not None:
        _same_again(scan, low, high, one.unit, whole, start)
    return Term(low, high, one.unit, one.words + _new(one, two) if two.words else one.words, None, whole)


def _same_again(scan: Scanner, low: Fraction, high: Fraction, unit: Unit, whole: Beside, start: int) -> None:
    """A bracket behind a sum is of the whole sum: refused where it is of the last part alone."""
    if unit.size is None or whole.base != ("g" if unit.kind == MASS else "ml"):
        return
    times = (whole.low + whole.high) / ((low + high) * unit.size)
    if not Fraction(4, 5) <= times <= Fraction(5, 4):
        raise scan.fault("the bracket does not say the whole sum again", "write what all of it comes to", first=start,
                         last=scan.at - 1)
