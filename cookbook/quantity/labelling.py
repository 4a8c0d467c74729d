"""Amounts for people: US, metric or both, `1 1/2 cups (90 g)`; and what is doubtful about an amount, in sentences."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from cookbook.quantity.interval import Interval
from cookbook.quantity.measuring import measured, metric_ends, ounces_text
from cookbook.quantity.number import VULGAR, digits
from cookbook.quantity.salt import trusted
from cookbook.quantity.unit import MASS, VESSELS
from cookbook.quantity.weight import lookup

if TYPE_CHECKING:
    from cookbook.quantity.amount import Amount
    from cookbook.quantity.drawer import Scoop
    from cookbook.quantity.own import OwnWeight

DOUBTFUL = 0.15
"""A weight whose interval is as wide as this either way is given as `about`."""
_FRACTION = re.compile(r"(?:(\d+) )?\b(\d)/(\d)\b")
_SPAN = re.compile(r"(?<=[\d½⅓⅔¼¾⅛⅜⅝⅞])-(?=\d|[½⅓⅔¼¾⅛⅜⅝⅞])")
_THOUSANDS = re.compile(r"\d,\d{3}\b")
_DECIMALS = re.compile(r"\d\.\d{3}\b")
_BY_TEXT = {f"{value.numerator}/{value.denominator}": sign for sign, value in VULGAR.items()}


def label(amount: Amount, item: str = "", units: str = "both", weights: Mapping[str, OwnWeight] | None = None,
          drawer: Sequence[Scoop] | None = None, *, typographic: bool = False) -> str:
    """`amount` of `item` for a person: in `us` measures, in `metric` ones, or in `both`, the recipe's own first."""
    found = measured(amount, units, item, weights, drawer)
    text = found.text
    if units == "both":
        other = _other(amount, found.grams)
        text = f"{text} ({other})" if other else text
    return typeset(text) if typographic else text


def _other(amount: Amount, grams: Interval | None) -> str:
    """The weight beside a spoon or a count, ounces beside grams; '' where there is nothing to add."""
    if amount.low is None or grams is None or amount.kind == "percent" or amount.beside is not None:
        return ""
    if amount.kind == MASS:
        return metric_ends(grams, amount, "g") if amount.unit in ("lb", "oz") else ounces_text(amount)
    wide = max(grams.high - grams.mid, grams.mid - grams.low) > 0.999 * DOUBTFUL * grams.mid
    about = "about " if wide and amount.low == amount.high else ""
    return about + metric_ends(grams, amount, "g")


def typeset(text: str) -> str:
    """Printed fractions and dashes, a blank that does not break behind a number."""
    def sign(found: re.Match[str]) -> str:
        part = _BY_TEXT.get(f"{found[2]}/{found[3]}")
        return found[0] if part is None else f"{found[1] or ''}{part}"

    return _SPAN.sub("–", _FRACTION.sub(sign, text))


def doubts(amount: Amount, item: str, weights: Mapping[str, OwnWeight] | None = None) -> tuple[str, ...]:
    """What a cook should know about an amount as it is written, in sentences; empty where it is clear."""
    row = lookup(item, weights) if item else None
    found = []
    if amount.unit == "oz" and amount.beside is None and row is not None and row.form == "liquid":
        found.append(f"'{amount}' of {item} is a weight; for a volume write `fl oz`")
    if amount.base is not None and amount.base[0] >= 1000 and _THOUSANDS.search(amount.text):
        found.append(f"'{amount.text}' was read as {amount.ascii()}: a comma and three digits are thousands")
    if amount.unit in ("g", "ml") and _DECIMALS.search(amount.text):
        found.append(f"'{amount.text}' was read as {amount.ascii()}: digits behind a point are decimals")
    if amount.unit in VESSELS and amount.beside is None:
        found.append(f"nobody agrees how much a {amount.unit} holds: write it in cups or ml")
    if not trusted(amount, item, weights):
        found.append(f"spoons of {item} differ by half from maker to maker: weigh a level tablespoon of yours once")
    if {"heaping", "rounded"}.intersection(amount.words) and amount.unit in ("tbsp", "tsp", "dessertspoon"):
        found.append(f"'{amount}': a heaped spoon holds 1.25 to 2 level ones; a weight would be clear")
    grams = amount.grams(item, weights) if amount.kind == "count" and item else None
    if grams is not None and grams.high > 2 * grams.low > 0 and amount.low == amount.high and amount.ml() is None:
        found.append(f"'{amount}' of {item} may weigh {digits(grams.low, 2)} to {digits(grams.high, 2)} g")
    return tuple(found)
