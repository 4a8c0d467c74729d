"""One line of a card's ingredients: the same amount in every measure that a reader may have at hand."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cookbook.publish import wording
from cookbook.publish.content import Item
from cookbook.quantity import Amount

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.quantity import Interval
    from cookbook.recipe import Ingredient

DOUBTFUL = 0.1
"""A weight known no better than this share either way is printed with `about`."""


def written_item(kitchen: Kitchen, line: Ingredient, part: float = 1.0) -> Item:
    """An ingredient as it is written, or `part` of that."""
    amount, back = line.amount.scaled(part), line.hold_back.scaled(part) if line.hold_back is not None else None
    return line_item(kitchen, line, amount, amount.grams(line.item, kitchen.weights), back)


def line_item(kitchen: Kitchen, line: Ingredient, amount: Amount, grams: Interval | None,
              back: Amount | None) -> Item:
    """An ingredient as scaled to `amount`, `grams` and the part held `back`."""
    asides = []
    if line.alternatives:
        asides.append(f"or {wording.listed([wording.spoken(one) for one in line.alternatives], 'or')}")
    if line.until:
        asides.append(f"until {wording.spoken(line.until)}")
    if back is not None:
        kept = back.measured("both", line.item, kitchen.weights, kitchen.drawer).text
        asides.append(f"keep back {wording.typographic(kept)} of it, to add by taste")
    item = line.item if line.recipe is None else kitchen.recipe(line.recipe).title
    return Item(amounts(kitchen, amount, line.item, grams), wording.spoken(item), wording.spoken(line.prep or ""),
                tuple(asides), grams.mid if grams else None)


def amounts(kitchen: Kitchen, amount: Amount, item: str, grams: Interval | None) -> tuple[str, ...]:
    """The amount as it is written, in US measure (spoons, else ounces) and in metric (grams, else millilitres).

    In a kitchen of US or metric units that one comes first.
    """
    drawer = kitchen.drawer
    found = amount.measured("both", item, kitchen.weights, drawer)
    us = found.scoops or amount.measured("us", item, kitchen.weights, drawer).text
    metric = _weight(grams, amount) if grams is not None and grams.mid > 0 and amount.unit not in ("g", "kg") else ""
    metric = metric or amount.measured("metric", item, kitchen.weights).text
    first = {"us": us, "metric": metric}.get(kitchen.settings.get("units", "both"), "")
    said = dict.fromkeys(wording.typographic(one) for one in (first, found.text, us, metric) if one)
    if "a pinch" in said:
        said.pop("1\u00a0pinch", None)
    return tuple(one for one in said if not any(f"({one})" in other for other in said))


def _weight(grams: Interval, amount: Amount) -> str:
    """Grams with `about` where they are known no better; both ends of what is written as a range."""
    if amount.low != amount.high and amount.low is not None and amount.high is not None:
        share = float(amount.low / amount.high)
        least = 2 * grams.mid * share / (1 + share)
        return f"{in_grams(least).partition(' ')[0]}–{in_grams(2 * grams.mid - least)}"
    doubt = max(grams.high - grams.mid, grams.mid - grams.low)
    return f"{'about ' if doubt > DOUBTFUL * grams.mid else ''}{in_grams(grams.mid)}"


def in_grams(grams: float) -> str:
    """A weight as a kitchen balance shows it."""
    return Amount.parse(f"{grams:.4f} g").rounded().ascii()
