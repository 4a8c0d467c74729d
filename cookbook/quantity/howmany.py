"""How many: a number, two numbers that rise, or a word for a number that nobody counted."""

from __future__ import annotations

from fractions import Fraction

from cookbook.errors import AmountError
from cookbook.quantity import unit as units
from cookbook.quantity.scanner import Scanner, number
from cookbook.quantity.unitword import unit_at
from cookbook.quantity.words import VAGUE

ONE = Fraction(1)
_BARE_ONES = frozenset((*units.VAGUE_TSP, "handful", "splash", "drizzle", "knob"))
"""What may stand without a number: `pinch` is one."""


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
        if unit_at(scan, start) in _BARE_ONES:
            return ONE, ONE, ()
        raise _no_number(scan)
    high = second(scan, low, start)
    return low, low if high is None else high, ()


def second(scan: Scanner, low: Fraction, start: int) -> Fraction | None:
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


def _no_number(scan: Scanner) -> AmountError:
    word = scan.rest().split(" ")[0]
    name = unit_at(scan, scan.at)
    if name is not None:
        return scan.fault(f"how many '{word}'?", f"write it like `1 {name}`")
    if scan.word == "-":
        return scan.fault(f"'{scan.rest()}' is less than nothing", "amounts are not negative", last=scan.at)
    what = f"'{word}' is no number" if word else "a number is missing here"
    return scan.fault(what, "write it like `2`, `1 1/2` or `3-4`")
