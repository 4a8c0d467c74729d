"""How many: a number, two numbers that rise, or a word for a number that nobody counted."""

from __future__ import annotations

from fractions import Fraction

from cookbook.errors import AmountError
from cookbook.quantity import unit as units
from cookbook.quantity.scanner import Scanner, number
from cookbook.quantity.unitword import unit_at
from cookbook.quantity.words import SIZE_WORDS, VAGUE

ONE = Fraction(1)
_BARE_ONES = frozenset((*units.VAGUE_TSP, "handful", "splash", "drizzle", "knob", "squeeze", "glug", "bunch"))
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
    if scan.word in ("from", "between"):
        return *_between(scan, start), ()
    low = number(scan)
    if low is None:
        if unit_at(scan, start + (scan.word in SIZE_WORDS)) in _BARE_ONES:
            return ONE, ONE, ()
        raise _no_number(scan)
    high = second(scan, low, start)
    return low, low if high is None else high, ()


def _between(scan: Scanner, start: int) -> tuple[Fraction, Fraction]:
    """`from 1 to 2`, `between 1 and 2`; passed."""
    joint = "to" if scan.word == "from" else "and"
    scan.at += 1
    low = number(scan)
    if low is None:
        raise _no_number(scan)
    high = second(scan, low, start, (joint,))
    if high is None:
        raise scan.fault(f"'{scan.words[start]}' {low} {joint} what?", f"write it like `{low}-{low + 1}`",
                         first=start)
    return low, high


def second(scan: Scanner, low: Fraction, start: int,
           joints: tuple[str, ...] = ("-", "to", "or")) -> Fraction | None:
    """The upper number of a range, passed; None where no range stands here."""
    if scan.word not in joints or not scan.number_at(scan.at + 1):
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
    if name is not None and word[0] != "#":
        return scan.fault(f"how many '{word}'?", f"write it like `1 {name}`")
    if (word[:1] == "#" or scan.word in ("no", "number")) and any(map(scan.number_at, (scan.at + 1, scan.at + 2))):
        return scan.fault("a can's number doesn't say what is in it",
                          "write what its label says, like `1 (28 oz) can`", last=scan.at + 1)
    if scan.word == "-":
        return scan.fault(f"'{scan.rest()}' is less than nothing", "amounts are not negative", last=scan.at)
    what = f"'{word}' is no number" if word else "a number is missing here"
    return scan.fault(what, "write it like `2`, `1 1/2` or `3-4`")
