"""What an amount comes to in g or ml, with an interval where a word is vague.

Degrees: a heaping or scant cup is a level one give or take two tablespoons (early cookery texts); a heaping spoon is
1.25 to 2 level ones; `about` is a tenth either way and `generous` up to an eighth more (judgement).
"""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING

from cookbook.quantity.interval import Interval
from cookbook.quantity.unit import CUP_ML, MASS, VAGUE_TSP, VOLUME

if TYPE_CHECKING:
    from cookbook.quantity.reader import Read

_Spread = tuple[Fraction, Fraction, Fraction]
_EIGHTH = Fraction(1, 8)
ABOUT: _Spread = (Fraction(9, 10), Fraction(1), Fraction(11, 10))
DEGREE: dict[str, _Spread] = {
    "heaping": (Fraction(1), 1 + _EIGHTH, 1 + 2 * _EIGHTH), "rounded": (Fraction(1), 1 + _EIGHTH, 1 + 2 * _EIGHTH),
    "scant": (1 - 2 * _EIGHTH, 1 - _EIGHTH, Fraction(1)), "generous": (Fraction(1), 1 + _EIGHTH / 2, 1 + _EIGHTH),
}
HEAPED_SPOON: _Spread = (Fraction(5, 4), Fraction(13, 8), Fraction(2))
ROUNDED_SPOON: _Spread = (Fraction(1), Fraction(11, 8), Fraction(7, 4))


def _factor(found: Read) -> _Spread:
    """Least, usual and most that the words make of one measure."""
    low = mid = high = Fraction(1)
    for word in found.words:
        one = ABOUT if word == "about" else DEGREE.get(word)
        if one is None:
            continue
        if found.unit is not None and found.unit.name.endswith(("sp", "spoon")):
            one = {"heaping": HEAPED_SPOON, "rounded": ROUNDED_SPOON}.get(word, one)
        low, mid, high = low * one[0], mid * one[1], high * one[2]
    return low, mid, high


def _of(found: Read, size: _Spread) -> Interval:
    assert found.low is not None
    assert found.high is not None
    low, mid, high = _factor(found)
    middle = (found.low + found.high) / 2
    return Interval(float(found.low * size[0] * low), float(middle * size[1] * mid),
                    float(found.high * size[2] * high))


def in_base(found: Read, base: str) -> Interval | None:
    """The amount in `base`, g or ml, as far as its own words say; None where they don't."""
    if found.low is None or found.high is None or found.unit is None:
        return None
    if found.kind == (MASS if base == "g" else VOLUME) and found.unit.size is not None:
        return _of(found, (found.unit.size,) * 3)
    if found.beside is not None and found.beside.base == base:
        low, high, about = found.beside.low, found.beside.high, found.beside.about
        return Interval(float(low * (ABOUT[0] if about else 1)), float(low + high) / 2,
                        float(high * (ABOUT[2] if about else 1)))
    if found.each is not None and found.each.base == base:
        return _of(found, (found.each.size,) * 3)
    if base == "ml" and found.unit.name in VAGUE_TSP:
        low, mid, high = (part * CUP_ML / 48 for part in VAGUE_TSP[found.unit.name])
        return _of(found, (low, mid, high))
    return None


def cut_length_cm(found: Read) -> Interval | None:
    """The whole length of pieces that are cut by length, as in `2 (2.54 cm) pieces`."""
    if found.each is None or found.each.base != "cm" or found.low is None:
        return None
    return _of(found, (found.each.size,) * 3)
