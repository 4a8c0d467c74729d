"""Amounts rounded to what can be measured: a balance's display, the measures of a drawer, half a lemon.

Steps are common practice; the doubt of a rounded amount is half its step.
"""

from __future__ import annotations

from fractions import Fraction
from math import ceil

from cookbook.quantity.unit import COUNT, FRUIT, PERCENT, WHOLE_COUNTS, Unit, unit

CLOSE = Fraction(2, 25)
"""A measure that is further off than this is restated in the next smaller one."""
_SMALLER = {"cup": "tbsp", "tbsp": "tsp"}
CUP_PARTS = tuple(Fraction(*part) for part in ((0, 1), (1, 4), (1, 3), (1, 2), (2, 3), (3, 4), (1, 1)))


def balance(grams: Fraction, largest: Fraction | None = None) -> Fraction:
    """g (or ml) as a kitchen balance shows it: tenths under 5, halves under 20, whole ones above.

    `largest` is the upper end of a range, which decides for both.
    """
    size = grams if largest is None else largest
    step = Fraction(1) if size >= 20 else Fraction(1, 2) if size >= 5 else Fraction(1, 10)
    return round(grams / step) * step


def count(value: Fraction, word: str, part: str = "") -> Fraction:
    """Pieces: halves under ten, fruit that is pressed or grated up to the next half, sprigs and pinches whole."""
    if part and word in FRUIT:
        return Fraction(ceil(value * 2), 2)
    step = Fraction(1) if value >= 10 or word in WHOLE_COUNTS else Fraction(1, 2)
    return round(value / step) * step


def in_unit(value: Fraction, found: Unit, part: str = "") -> Fraction:
    """`value` of a unit rounded to what can be measured; never down to nothing."""
    step = _step(value, found)
    if found.kind == COUNT:
        done = count(value, found.name, part)
        step = Fraction(1) if found.name in WHOLE_COUNTS else Fraction(1, 2)
    elif found.name in ("g", "ml"):
        done = balance(value)
        step = Fraction(1, 10)
    elif found.name.endswith("cup"):
        whole = value.numerator // value.denominator
        done = min((whole + one for one in CUP_PARTS), key=lambda one: abs(one - value))
    else:
        done = round(value / step) * step
    return done if done > 0 or value <= 0 else step


def _step(value: Fraction, found: Unit) -> Fraction:
    if found.kind == PERCENT:
        return Fraction(1, 20)
    if found.name in ("kg", "l", "lb"):
        return Fraction(1, 100)
    if found.name.endswith("tsp"):
        return Fraction(1, 4) if value >= Fraction(1, 2) else Fraction(1, 8)
    if found.name.endswith("tbsp"):
        return Fraction(1, 2)
    return Fraction(1, 4) if found.name.endswith("cup") or value >= 4 else Fraction(1, 8)


def measure(low: Fraction, high: Fraction, found: Unit, measures: str) -> tuple[Fraction, Fraction, Unit]:
    """A spoon or cup amount in the largest measure that comes close enough, from its own unit downwards."""
    one, two = in_unit(low, found), in_unit(high, found)
    smaller = unit(_SMALLER[found.name], measures) if found.name in _SMALLER else None
    if smaller is None or smaller.size is None or found.size is None or (_close(one, low) and _close(two, high)):
        return one, two, found
    factor = found.size / smaller.size
    return measure(low * factor, high * factor, smaller, measures)


def _close(rounded: Fraction, exact: Fraction) -> bool:
    return abs(rounded - exact) <= CLOSE * exact
