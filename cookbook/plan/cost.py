"""What the meal costs by the cook's own prices, what it cost last time, and what the months have charged.

No price comes with the program: what nobody has entered is named as missing, never guessed.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import log
from statistics import fmean
from typing import NamedTuple

from cookbook.kitchen import Kitchen
from cookbook.kitchen.learning.paid import MealCost, Paid, last_meal, paid
from cookbook.plan.buying import Buy
from cookbook.plan.shopping import Line


class Item(NamedTuple):
    """One line's cost: of what is bought, and of what goes in; with the price that it rests on."""

    item: str
    bought: float
    used: float
    currency: str
    basis: str


class Month(NamedTuple):
    """What a kilogram of the cut cost on average in a month of any year, over so many prices."""

    month: int
    a_kg: float
    currency: str
    prices: int


class Cost(NamedTuple):
    """Totals by currency: of all that is bought, of what goes in (the batch), for a portion, for a rib."""

    bought: dict[str, float]
    batch: dict[str, float]
    portion: dict[str, float]
    rib: dict[str, float]
    items: tuple[Item, ...]
    missing: tuple[str, ...]
    last: MealCost | None
    months: tuple[Month, ...]

    def json(self) -> dict[str, object]:
        """As `plan --json` gives it."""
        last = self.last
        return {
            **self._asdict(),
            "items": [one._asdict() for one in self.items],
            "missing": list(self.missing),
            "last": None if last is None else {**last._asdict(), "date": last.date.isoformat()},
            "months": [one._asdict() for one in self.months],
        }


def cost(kitchen: Kitchen, recipe: str, bought: Sequence[Buy], lines: Sequence[Line], portions: int) -> Cost:
    """The meal's cost by the newest own price of each line; what has none is `missing`."""
    items, missing = [], []
    for line in lines:
        found = _item(kitchen, line)
        if found is not None:
            items.append(found)
        elif line.counter != "fire" or line.buy:
            missing.append(line.item)
    totals = _sums([(one.currency, one.bought) for one in items])
    batch = _sums([(one.currency, one.used) for one in items])
    ribs = sum((one.ribs or 0) * one.pieces for one in bought)
    cuts = {one.cut for one in bought}
    meat = _sums([(one.currency, one.used) for one in items if one.item in cuts])
    return Cost(
        totals,
        batch,
        {unit: round(value / portions, 2) for unit, value in batch.items()} if portions else {},
        {unit: round(value / ribs, 2) for unit, value in meat.items()} if ribs else {},
        tuple(items),
        tuple(dict.fromkeys(missing)),
        last_meal(kitchen, recipe),
        tuple(month for cut in dict.fromkeys(one.cut for one in bought) for month in months(kitchen, cut)),
    )


def _item(kitchen: Kitchen, line: Line) -> Item | None:
    for one in paid(kitchen, line.item):
        a_gram = one.a_gram(line.item)
        if a_gram is not None and line.grams is not None and line.buy_grams is not None:
            shop = f", {one.shop}" if one.shop else ""
            basis = f"{one.words} for {one.amount} on {one.date.isoformat()}{shop}"
            whole = line.buy_grams if line.counter == "butcher" else line.grams
            return Item(line.item, a_gram * line.buy_grams, a_gram * whole, one.currency, basis)
    return None


def _sums(parts: Sequence[tuple[str, float]]) -> dict[str, float]:
    found: dict[str, float] = {}
    for unit, value in parts:
        found[unit] = found.get(unit, 0.0) + value
    return {unit: round(value, 2) for unit, value in found.items()}


def months(kitchen: Kitchen, cut: str) -> list[Month]:
    """The own prices of a cut by month over all years, January first, each currency by itself."""
    found: dict[tuple[int, str], list[float]] = {}
    for one in paid(kitchen, cut):
        a_gram = one.a_gram(cut)
        if a_gram is not None:
            found.setdefault((one.date.month, one.currency), []).append(1000 * a_gram)
    return [
        Month(month, round(fmean(values), 2), unit, len(values)) for (month, unit), values in sorted(found.items())
    ]


def price_near(kitchen: Kitchen, cut: str, each_g: float) -> Paid | None:
    """The newest own price of a piece about as heavy: big roasts and small ones are often sold at other prices."""
    known = [(one, grams.mid) for one in paid(kitchen, cut) if (grams := one.amount.grams(cut)) is not None]
    if not known:
        return None
    return min(known, key=lambda pair: (abs(log(pair[1] / each_g)), -pair[0].date.toordinal()))[0]
