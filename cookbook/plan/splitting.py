"""One big roast against two smaller ones: surface, time, zones and price."""

from __future__ import annotations

from typing import NamedTuple

from cookbook.heat import Zone, within
from cookbook.kitchen import Kitchen
from cookbook.kitchen.forecasting.outlook import told_by
from cookbook.plan.buying import Buy, kilograms, two_of
from cookbook.plan.cost import price_near
from cookbook.plan.dish import Dish
from cookbook.plan.portioning import portion

MEMBERS = 60


class Choice(NamedTuple):
    """One way to buy the meat: its minutes on the heat in the middle and at the plan's chance, its price by the own
    price of a piece about as heavy, and of that the part of a usual portion."""

    pieces: int
    each_g: float
    ribs: int | None
    coated_cm2: float
    minutes: float | None
    latest_minutes: float | None
    zones: tuple[Zone, ...]
    price: float | None
    a_portion: float | None
    currency: str
    rests_on: str

    def words(self) -> str:
        """`2 of 2.7 kg`."""
        size = f"{self.ribs} ribs, {kilograms(self.each_g)}" if self.ribs else kilograms(self.each_g)
        return f"{self.pieces} of {size}" if self.pieces > 1 else f"1 of {size}"

    def json(self) -> dict[str, object]:
        """As `plan --json` lists it."""
        return {**self._asdict(), "zones": [zone.json() for zone in self.zones]}


def choices(kitchen: Kitchen, dish: Dish, bought: Buy, chance: float, edible: float) -> list[Choice]:
    """The meat in one piece and in two, of which so large a share is `edible`; nothing where a half is no roast."""
    two = two_of(dish.piece.cut, bought)
    if two is None:
        return []
    half = dish.piece.cut.piece(None if two.ribs else two.each_g, ribs=two.ribs)
    other = dish._replace(piece=half, wanted=dish.wanted._replace(piece=half))
    other = other._replace(found=told_by(other.wanted, dish.known, MEMBERS))
    return [_choice(kitchen, dish, bought, chance, edible), _choice(kitchen, other, two, chance, edible)]


def _choice(kitchen: Kitchen, dish: Dish, bought: Buy, chance: float, edible: float) -> Choice:
    portions = bought.ask_g * edible / portion("usual").grams.mid
    minutes = dish.found.minutes_to_pull
    paid = price_near(kitchen, bought.cut, bought.each_g)
    a_gram = paid.a_gram(bought.cut) if paid is not None else None
    price = a_gram * bought.ask_g if a_gram is not None else None
    return Choice(
        bought.pieces,
        bought.each_g,
        bought.ribs,
        dish.piece.coated_cm2.mid * bought.pieces,
        minutes.p50,
        within(minutes, chance),
        tuple(dish.found.zones),
        None if price is None else round(price, 2),
        None if price is None else round(price / portions, 2),
        paid.currency if paid is not None else "",
        f"{paid.words} for {paid.amount} on {paid.date.isoformat()}" if paid is not None else "no own price",
    )
