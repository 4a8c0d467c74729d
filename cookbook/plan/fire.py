"""The fire: minutes from cold to steady, fuel and wood for the whole day, learned or from common practice."""

from __future__ import annotations

from math import hypot
from typing import NamedTuple

from cookbook.errors import UnknownName
from cookbook.kitchen import Kitchen
from cookbook.kitchen.learning.fires import fire
from cookbook.meat.coverage import Learned
from cookbook.quantity import Interval
from cookbook.quantity.interval import NORMAL_80
from cookbook.table import rows

LEAST_COOKS = 3
"""So many cooks on a cooker before its own numbers stand for the table's (judgement)."""
_PRACTICE = "common practice, from memory"


class Fire(NamedTuple):
    """A cooker's fire: minutes to steady, kg until then and kg an hour after; None where nothing is burnt."""

    to_steady_min: Interval
    fuel: str | None
    start_kg: Interval | None
    hour_kg: Interval | None
    wood_kg: Interval | None
    rests_on: tuple[str, ...]


class Fuel(NamedTuple):
    """What one cooker burns in the day, kg."""

    cooker: str
    what: str
    kg: Interval
    rests_on: str

    def json(self) -> dict[str, object]:
        """As `plan --json` lists it."""
        return {**self._asdict(), "kg": self.kg.json()}


def fire_of(kitchen: Kitchen, kind: str, name: str | None = None) -> Fire:
    """The fire of a cooker of `kind`, learned from the entries under its `name`. Raises UnknownName."""
    table = {row["kind"]: row for row in rows("plan_fires")}
    if kind not in table:
        raise UnknownName("cooker", kind, list(table))
    row = table[kind]
    own = fire(kitchen, name or kind)
    steady, said = _learned(own.to_steady_min, _interval(row, "min"))
    rate, told = _learned(own.kg_an_hour, _interval(row, "hour"))
    assert steady is not None
    return Fire(steady, row["fuel"] or None, _interval(row, "start"), rate, _interval(row, "wood"), (said, told))


def fuel_for(cooker: str, own: Fire, hours: Interval, wood: str | None = None, fuel: str | None = None) -> list[Fuel]:
    """Fuel and wood of a cooker that is steady for so many hours, after it was brought there."""
    found = []
    if own.start_kg is not None and own.hour_kg is not None:
        kg = _burnt(own.start_kg, own.hour_kg, hours)
        found.append(Fuel(cooker, fuel or own.fuel or "fuel", kg, f"burnt an hour: {own.rests_on[1]}"))
    if own.wood_kg is not None and wood:
        found.append(Fuel(cooker, f"{wood} wood, in chunks", own.wood_kg, f"wood for smoke: {_PRACTICE}"))
    return found


def _burnt(start: Interval, rate: Interval, hours: Interval) -> Interval:
    """Start and rate times hours; the three doubts have nothing to do with each other, so their squares add up."""
    mid = start.mid + rate.mid * hours.mid
    below = hypot(start.mid - start.low, rate.mid * (hours.mid - hours.low), hours.mid * (rate.mid - rate.low))
    above = hypot(start.high - start.mid, rate.mid * (hours.high - hours.mid), hours.mid * (rate.high - rate.mid))
    return Interval(max(mid - below, start.low), mid, mid + above)


def _interval(row: dict[str, str], what: str) -> Interval | None:
    if not row[f"{what}_mid"]:
        return None
    return Interval(*(float(row[f"{what}_{end}"]) for end in ("low", "mid", "high")))


def _learned(own: Learned | None, usual: Interval | None) -> tuple[Interval | None, str]:
    if own is None or own.spread is None or own.cooks < LEAST_COOKS or usual is None:
        return usual, _PRACTICE
    reach = NORMAL_80 * max(own.spread, 0.08 * own.mean) * (1 + 1 / own.cooks) ** 0.5
    found = Interval(max(own.mean - reach, own.mean / 3), own.mean, own.mean + reach)
    return found, f"{own.cooks} cooks of this kitchen"
