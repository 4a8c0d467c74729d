"""Volume to mass and back, unit to unit, temperature scales: one answer with its range, its doubt and its source."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from cookbook.errors import RequestError, UnknownName
from cookbook.quantity import unit as units
from cookbook.quantity.amount import Amount
from cookbook.quantity.interval import Interval
from cookbook.quantity.own import OwnWeight
from cookbook.quantity.temperature import Temperature
from cookbook.quantity.unit import FRUIT, MASS, VAGUE_TSP, Unit
from cookbook.quantity.weight import counted, lookup, unknown
from cookbook.quantity.words import PACKED, STATES
from cookbook.table import source


class Converted(NamedTuple):
    """`low` and `high` are the written range at the row's own weight, `interval` has the weight's doubt in it too."""

    value: float
    low: float
    high: float
    interval: dict[str, float]
    unit: str
    source: str


def convert(amount: str | Amount, item: str | None = None, *, to: str, weights: Mapping[str, OwnWeight] | None = None,
            measures: str = "us") -> Converted:
    """`amount` (of `item`, to go between volume and mass) in the unit `to`: g, oz, ml, tbsp, metric cup, C, F.

    Raises AmountError for the amount, UnknownName for the unit or an ingredient whose weight is not known,
    RequestError where the two measure different things.

    >>> convert("6 cloves", "garlic", to="g").value
    18.0
    """
    scale = to.strip().removeprefix("°").upper()
    if scale in ("C", "F") and isinstance(amount, str) and _is_temperature(amount):
        return _temperature(amount, scale)
    if to.strip().startswith("°") or (scale in ("C", "F") and isinstance(amount, str) and _is_bare(amount)):
        raise RequestError(f"'{amount}' is no temperature", mend="write it with its scale, like `121 C` or `250 F`")
    found = amount if isinstance(amount, Amount) else Amount.parse(amount, measures)
    wanted = _unit(to, measures)
    if wanted.size is None:
        raise RequestError(f"'{to}' is a count; amounts convert to a weight or a volume",
                           mend="for example g, oz, ml or tbsp")
    if found.kind == wanted.kind:
        exact = found.grams() if wanted.kind == MASS else found.ml()
        assert exact is not None
        return _answer(exact, exact, wanted, "exact definitions of the units")
    own_words = found.grams() if wanted.kind == MASS else found.ml()
    if own_words is not None:
        return _answer(own_words, own_words, wanted, "as the amount itself says" if found.unit not in VAGUE_TSP
                       else source("trade-spoons").title)
    if found.unit in FRUIT and any(word in ("juice of", "zest of") for word in found.words):
        item = f"{found.unit} {found.words[0].removesuffix(' of')}"
    if not item:
        raise RequestError(f"'{found}' to {wanted.name}: of what?", mend="name the ingredient behind the amount")
    return _by_weight(found, item, wanted, weights)


def _is_temperature(text: str) -> bool:
    try:
        Temperature.parse(text)
    except RequestError:
        return False
    return True


def _is_bare(text: str) -> bool:
    """Whether a number, or two, stands without any unit."""
    return not any(letter.isalpha() for letter in text)


def _temperature(text: str, scale: str) -> Converted:
    found = Temperature.parse(text)
    ends = [end if scale == "C" else end * 9 / 5 + 32 for end in (found.low_c, found.high_c)]
    return Converted(sum(ends) / 2, ends[0], ends[1], {"low": ends[0], "high": ends[1]}, f"°{scale}",
                     "definition of the scales")


def _unit(to: str, measures: str) -> Unit:
    words = to.strip()
    name = units.named(words) or words
    found = units.unit(name, measures)
    if found is None:
        if units.is_measure(name):
            ways = " or ".join(f"`{one}`" for one in units.systems_with(name)[:2])
            raise RequestError(f"the measure system '{measures}' has no {name}", mend=f"name the system: {ways}")
        near = units.nearest(words)
        raise UnknownName("unit", to, near, mend=None if near else "for example g, oz, ml, tbsp or metric cup")
    return found


def _by_weight(amount: Amount, item: str, wanted: Unit, weights: Mapping[str, OwnWeight] | None) -> Converted:
    grams = amount.grams(item, weights)
    if wanted.kind == MASS:
        if grams is None:
            raise _not_known(amount, item, weights)
        said = grams_source(amount, item, weights)
        return _answer(_at_the_middle(amount, grams), grams, wanted, said)
    row = lookup(item, weights)
    if grams is None or row is None or row.g_per_ml is None or row.low is None or row.high is None:
        raise _not_known(amount, item, weights)
    plain = _at_the_middle(amount, grams)
    doubted = Interval(grams.low / row.high, grams.mid / row.g_per_ml, grams.high / row.low)
    return _answer(plain.scaled(1 / row.g_per_ml), doubted, wanted, row.said())


def grams_source(amount: Amount, item: str, weights: Mapping[str, OwnWeight] | None = None) -> str:
    """Where the weight of so much of `item` comes from, in a line."""
    if amount.grams() is not None:
        return "exact definitions of the units" if amount.kind == MASS else "as the amount itself says"
    part = next((word for word in amount.words if word.endswith(" of")), None)
    if part is not None:
        known = source("usda-sr28").title
        zest = "" if part == "juice of" else ", zest 1 to 3 tsp (kitchen charts)"
        return f"{part} one {amount.unit}: {known}{zest}"
    if amount.kind == "count" and amount.ml() is None:
        found = counted(amount, item, weights)
        return found[0].said(found[1]) if found is not None else ""
    row = lookup(item, weights, pack=next((word for word in amount.words if word in PACKED or word in STATES), ""))
    return row.said() if row is not None else ""


def _not_known(amount: Amount, item: str, weights: Mapping[str, OwnWeight] | None) -> RequestError:
    """Why a weight is not to be had, and the mend."""
    row = lookup(item, weights)
    if row is None:
        return unknown(item)
    if amount.kind in ("free", "percent"):
        return RequestError(f"'{amount}' has no weight of its own", mend="give a number and a unit, like `2 tbsp`")
    if amount.kind == "count":
        known = ", ".join(sorted(row.counts)) or "no pieces"
        what = amount.unit or "piece"
        return RequestError(f"what one {what} of {item} weighs is not known; known: {known}",
                            mend=f"weigh ten once, or write {item} in grams")
    return RequestError(f"what a spoonful of {item} weighs is not known",
                        mend=f"weigh a level tablespoon of {item} once, or write it in grams")


def _at_the_middle(amount: Amount, grams: Interval) -> Interval:
    """The written range at the row's own weight, without the weight's doubt."""
    if amount.low is None or amount.high is None or not amount.low + amount.high:
        return grams
    volume = amount.ml()
    if amount.kind == MASS or (volume is not None and amount.beside is None):
        exact = volume or grams
        return grams if amount.kind == MASS else exact.scaled(grams.mid / exact.mid)
    middle = (amount.low + amount.high) / 2
    return Interval(*(grams.mid * float(end / middle) for end in (amount.low, middle, amount.high)))


def _answer(plain: Interval, doubted: Interval, wanted: Unit, said: str) -> Converted:
    assert wanted.size is not None
    size = float(wanted.size)
    return Converted(plain.mid / size, plain.low / size, plain.high / size,
                     {"low": doubted.low / size, "high": doubted.high / size}, wanted.name, said)
