"""Volume to mass and back, unit to unit, temperature scales: one answer with its range, its doubt and its source."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from cookbook.errors import RequestError, UnknownName
from cookbook.quantity import unit as units
from cookbook.quantity.amount import Amount
from cookbook.quantity.interval import Interval
from cookbook.quantity.temperature import Temperature
from cookbook.quantity.unit import MASS, VOLUME, Unit
from cookbook.quantity.weight import lookup, require


class Converted(NamedTuple):
    """`low` and `high` are the written range at the row's own weight, `interval` has the weight's doubt in it too."""

    value: float
    low: float
    high: float
    interval: dict[str, float]
    unit: str
    source: str


def convert(amount: str | Amount, item: str | None = None, *, to: str, weights: Mapping[str, Any] | None = None,
            measures: str = "us") -> Converted:
    """`amount` (of `item`, to go between volume and mass) in the unit `to`: g, oz, ml, tbsp, metric cup, C, F.

    Raises AmountError for the amount, UnknownName for the unit or an ingredient whose weight is not known,
    RequestError where the two measure different things.
    """
    if to.strip().removeprefix("°").upper() in ("C", "F") and isinstance(amount, str) and _is_temperature(amount):
        return _temperature(amount, to.strip().removeprefix("°").upper())
    found = amount if isinstance(amount, Amount) else Amount.parse(amount, measures)
    wanted = _unit(to, measures)
    if wanted.size is None:
        raise RequestError(f"'{to}' is a count; amounts convert to a weight or a volume")
    if found.kind == wanted.kind:
        exact = found.grams() if wanted.kind == MASS else found.ml()
        assert exact is not None
        return _answer(exact, exact, wanted, "exact definitions of the units")
    if item is None:
        raise RequestError(f"'{found}' to {wanted.name}: of what?", mend="name the ingredient behind the amount")
    return _by_weight(found, item, wanted, weights)


def _is_temperature(text: str) -> bool:
    try:
        Temperature.parse(text)
    except RequestError:
        return False
    return True


def _temperature(text: str, scale: str) -> Converted:
    found = Temperature.parse(text)
    ends = [end if scale == "C" else end * 9 / 5 + 32 for end in (found.low_c, found.high_c)]
    return Converted(sum(ends) / 2, ends[0], ends[1], {"low": ends[0], "high": ends[1]}, f"°{scale}", "definition of the scales")


def _unit(to: str, measures: str) -> Unit:
    words = to.strip()
    name = units.named(words) or words
    found = units.unit(name, measures)
    if found is None:
        if units.is_measure(name):
            raise RequestError(f"the measure system '{measures}' has no {name}", mend=f"name the system: `US {name}`")
        raise UnknownName("unit", to, units.nearest(words))
    return found


def _by_weight(amount: Amount, item: str, wanted: Unit, weights: Mapping[str, Any] | None) -> Converted:
    own = (weights or {}).get(" ".join(item.split()).casefold())
    row = lookup(item)
    grams = amount.grams(item, weights)
    if grams is None:
        if own is None:
            require(item)
        raise RequestError(f"what {amount} of {item} weighs is not known", mend="weigh it once, or write it in grams")
    said = f"{item}: own weighing" if own else row.said() if row else ""
    doubt = own.doubt if own else row.doubt if row else 0.0
    plain = _without_doubt(grams, doubt) if amount.kind != MASS else grams
    if wanted.kind == MASS:
        return _answer(plain, grams, wanted, said)
    density = own.g_per_ml if own and own.g_per_ml else row.g_per_ml if row else None
    if density is None:
        raise RequestError(f"what a spoonful of {item} weighs is not known", mend="weigh a level spoonful once")
    volume = plain.scaled(1 / density)
    doubted = Interval(volume.low / (1 + doubt), volume.mid, volume.high / (1 - doubt))
    return _answer(volume, doubted, wanted, said)


def _without_doubt(grams: Interval, doubt: float) -> Interval:
    return Interval(grams.low / (1 - doubt), grams.mid, grams.high / (1 + doubt)) if doubt < 1 else grams


def _answer(plain: Interval, doubted: Interval, wanted: Unit, said: str) -> Converted:
    assert wanted.size is not None
    size = float(wanted.size)
    return Converted(plain.mid / size, plain.low / size, plain.high / size,
                     {"low": doubted.low / size, "high": doubted.high / size}, wanted.name, said)
