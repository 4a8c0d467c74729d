"""How a cook would measure an amount: level spoons and cups that a drawer holds, a balance, or by counting."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, NamedTuple

from cookbook.quantity import rounding
from cookbook.quantity.drawer import DRAWERS, SALT_TOLERANCE, TOLERANCE, Scoop, Scooped, nearest, scoops, written
from cookbook.quantity.interval import Interval
from cookbook.quantity.number import ascii_number, decimal, digits
from cookbook.quantity.salt import is_cure, is_salt
from cookbook.quantity.unit import CUP_ML, MASS, POUND_G, VAGUE_TSP, unit
from cookbook.quantity.words import PACKED

if TYPE_CHECKING:
    from cookbook.quantity.amount import Amount
    from cookbook.quantity.own import OwnWeight

PINCH_ML = (CUP_ML / 48 / 24, CUP_ML / 48 / 8)
"""What a pinch may be, ml."""
CURE_NOTE = "curing salt is weighed, never spooned"
MOST_IN_CUPS = 4 * CUP_ML
_SMALL_METRIC = ("ml", "cl", "dl", "l")


class Measured(NamedTuple):
    """An amount as it is measured.

    `text` as the recipe counts it, rounded; `scoops` in spoons ('' where none fit); `grams`; `error` of the scoops as
    a share of the exact amount, more than asked for is positive; `note` says what was rounded or left out.
    """

    text: str
    scoops: str
    grams: Interval | None
    error: float
    note: str = ""


class _Spoons(NamedTuple):
    text: str = ""
    error: float = 0.0
    note: str = ""


def measured(amount: Amount, units: str = "both", item: str = "", weights: Mapping[str, OwnWeight] | None = None,
             drawer: Sequence[Scoop] | None = None) -> Measured:
    """`amount` of `item` as a cook measures it, grams beside where the weight is known.

    `units`: `us` restates weights in pounds and ounces and ml in spoons, `metric` restates spoons in g (or ml for
    liquids), `both` keeps the recipe's own. `drawer`: the kitchen's own measures, and what they can't measure is
    weighed; else the basic set of the system.
    """
    grams = amount.grams(item, weights)
    if amount.low is None or amount.kind == "percent":
        return Measured(str(amount), "", grams, 0.0)
    rounded = amount.rounded()
    spoons = _in_spoons(amount, item, weights, drawer or DRAWERS[amount.measures]) if units != "metric" else _Spoons()
    if spoons.text and (how := PACKED & set(amount.words)):
        spoons = spoons._replace(text=f"{spoons.text} {' '.join(how)}")
    if amount.kind == "count":
        note = "" if amount.unit in VAGUE_TSP else _rounding(amount, rounded)
        return Measured(str(rounded), spoons.text, grams, spoons.error, spoons.note or note)
    if amount.kind == MASS:
        text = _mass(amount, units) or (spoons.text if units == "us" and amount.unit == "g" and "+" not in spoons.text
                                        else "")
        return Measured(text or str(rounded), spoons.text, grams, spoons.error, spoons.note)
    if is_cure(item):
        return Measured(str(rounded), "", grams, 0.0, CURE_NOTE)
    if units == "metric":
        return Measured(_metric(amount, item, weights) or str(rounded), "", grams, 0.0)
    if amount.unit in _SMALL_METRIC and units == "both":
        text = str(rounded)
    elif drawer is not None:
        text = spoons.text or _metric(amount, item, weights) or str(rounded)
    else:
        text = str(rounded) if amount.low != amount.high and "+" in spoons.text else spoons.text or str(rounded)
    return Measured(text, spoons.text, grams, spoons.error, spoons.note)


def _rounding(amount: Amount, rounded: Amount) -> str:
    """`rounded from 1.7 heads` where a count was moved by more than a fiftieth."""
    assert amount.low is not None
    assert amount.high is not None
    assert rounded.low is not None
    assert rounded.high is not None
    exact = (amount.low + amount.high) / 2
    if abs((rounded.low + rounded.high) / 2 - exact) <= exact / 50:
        return ""
    return f"rounded from {amount.scaled(Fraction(digits(float(exact), 3)) / exact).ascii()}"


def _metric(amount: Amount, item: str, weights: Mapping[str, OwnWeight] | None) -> str:
    """A volume in g, or in ml for a liquid and where the weight is not known; '' where it is in ml already."""
    from cookbook.quantity.weight import lookup

    row = lookup(item, weights) if item else None
    if row is not None and row.form != "liquid":
        grams = amount.grams(item, weights)
        if grams is not None:
            return metric_ends(grams, amount, "g")
    ml = amount.ml()
    return metric_ends(ml, amount, "ml") if ml is not None and amount.unit not in _SMALL_METRIC else ""


def metric_ends(value: Interval, amount: Amount, base: str) -> str:
    """`90 g`, or `25-34 g` where the recipe writes a range; the doubt of a weight stays out of it. Above 1 kg in
    kg."""
    assert amount.low is not None
    assert amount.high is not None
    middle = (amount.low + amount.high) / 2
    ends = [value.mid * float(end / middle) if middle else 0.0 for end in (amount.low, amount.high)]
    if min(ends) >= 1000:
        low, high = (digits(end / 1000, 3) for end in ends)
        base = {"g": "kg", "ml": "l"}[base]
    else:
        low, high = (metric_text(end, ends[1]) for end in ends)
    return f"{low} {base}" if low == high else f"{low}-{high} {base}"


def metric_text(value: float, largest: float | None = None) -> str:
    """g or ml as a balance shows them, without the unit; as coarse as `largest` is shown."""
    exact = Fraction(value).limit_denominator(10**6)
    return decimal(rounding.balance(exact, exact if largest is None else Fraction(largest)))


def _mass(amount: Amount, units: str) -> str:
    """A weight in the other system where `units` asks for it; '' where it stands in the right one already."""
    assert amount.base is not None
    low, high, _ = amount.base
    if units == "us" and amount.unit in ("g", "kg", "mg"):
        return ounces_text(amount)
    if units == "metric" and amount.unit in ("lb", "oz"):
        return metric_ends(Interval(float(low), float(low + high) / 2, float(high)), amount, "g")
    return ""


def ounces(grams: Fraction) -> str:
    """`1 lb 4 oz`, `2 1/8 oz`: to an eighth of an ounce, to a whole one above five pounds."""
    total = _whole_ounces(grams)
    pounds = total.numerator // (16 * total.denominator)
    rest = total - 16 * pounds
    parts = [f"{pounds} lb"] * bool(pounds) + [f"{ascii_number(rest)} oz"] * bool(rest or not pounds)
    return " ".join(parts)


def ounces_text(amount: Amount) -> str:
    """A weight in pounds and ounces, a range in ounces; '' under a quarter of an ounce, too little for such a
    scale."""
    assert amount.base is not None
    low, high, _ = amount.base
    if low < POUND_G / 64:
        return ""
    return ounces(low) if low == high else f"{_in_ounces(low)}-{_in_ounces(high)} oz"


def _whole_ounces(grams: Fraction) -> Fraction:
    parts = 8 if grams < POUND_G else 2 if grams < 5 * POUND_G else 1
    return Fraction(max(1, round(grams / POUND_G * 16 * parts)), parts)


def _in_ounces(grams: Fraction) -> str:
    return ascii_number(_whole_ounces(grams))


def _in_spoons(amount: Amount, item: str, weights: Mapping[str, OwnWeight] | None,
               drawer: Sequence[Scoop]) -> _Spoons:
    """Level spoons for an amount, both ends of a range; nothing where none fit or where spoons are not to be
    trusted."""
    volume = amount.ml()
    if amount.kind == "count" and (volume is None or volume.high < float(PINCH_ML[1])):
        return _Spoons()
    if is_cure(item):
        return _Spoons(note=CURE_NOTE)
    middle = volume.mid if volume is not None else _ml_of_grams(amount, item, weights)
    if middle is None or middle <= 0:
        return _Spoons()
    assert amount.low is not None
    assert amount.high is not None
    tolerance = SALT_TOLERANCE if is_salt(item) else TOLERANCE
    exact, span = Fraction(middle).limit_denominator(10**6), (amount.low + amount.high) / 2
    ends = [exact * end / span for end in sorted({amount.low, amount.high})]
    if ends[-1] > MOST_IN_CUPS:
        found = [_large(end, amount.measures, tolerance) if _pours(item, weights) else _Spoons() for end in ends]
    else:
        found = [_one(end, drawer, tolerance, hard=is_salt(item)) for end in ends]
    if not all(one.text for one in found):
        return next(one for one in found if not one.text)
    worst = max(found, key=lambda one: abs(one.error))
    return _Spoons(" to ".join(dict.fromkeys(one.text for one in found)), worst.error, worst.note)


def _pours(item: str, weights: Mapping[str, OwnWeight] | None) -> bool:
    """Whether it can be measured in a jug, as far as is known."""
    from cookbook.quantity.weight import lookup

    row = lookup(item, weights) if item else None
    return row is None or row.form == "liquid"


def _one(ml: Fraction, drawer: Sequence[Scoop], tolerance: Fraction, *, hard: bool) -> _Spoons:
    if ml <= 0:
        return _Spoons()
    found = scoops(ml, drawer, tolerance)
    if found is not None:
        return _said(found, ml, drawer)
    if hard:
        return _Spoons(note="no level spoons come close enough for salt: weigh it")
    close = nearest(ml, drawer)
    if close is not None:
        done = _said(close, ml, drawer)
        return done._replace(note=f"spoons are {abs(done.error):.0%} {'over' if done.error > 0 else 'under'}")
    return _Spoons("1 pinch", 0.0, "a pinch is no exact measure") if PINCH_ML[0] <= ml <= PINCH_ML[1] else _Spoons()


def _said(found: Scooped, ml: Fraction, drawer: Sequence[Scoop]) -> _Spoons:
    return _Spoons(written(found.counts, drawer), float(found.error_ml / ml))


def _large(ml: Fraction, system: str, tolerance: Fraction) -> _Spoons:
    """Above four cups: quarters of a quart, or nothing where the system has none or they don't come close enough."""
    quart = unit("quart", system)
    if quart is None or quart.size is None or ml <= 0:
        return _Spoons()
    quarters = round(ml / quart.size * 4)
    error = quarters * quart.size / 4 / ml - 1
    if abs(error) > tolerance:
        return _Spoons()
    return _Spoons(f"{ascii_number(Fraction(quarters, 4))} quart{'s' if quarters > 4 else ''}", float(error))


def _ml_of_grams(amount: Amount, item: str, weights: Mapping[str, OwnWeight] | None) -> float | None:
    from cookbook.quantity.weight import lookup

    if amount.kind != MASS or not item:
        return None
    grams, row = amount.grams(item, weights), lookup(item, weights)
    return grams.mid / row.g_per_ml if grams is not None and row is not None and row.g_per_ml else None


