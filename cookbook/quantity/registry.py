"""The pint registry, for programmers: built on demand from our own exact table, never fed a user's text."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any

from cookbook.quantity.unit import MASS, all_units

if TYPE_CHECKING:
    from cookbook.quantity.amount import Amount

NAMES = {"tbsp": "tablespoon", "tsp": "teaspoon", "fl oz": "fluid_ounce", "lb": "pound", "oz": "ounce", "g": "gram",
         "kg": "kilogram", "mg": "milligram", "ml": "milliliter", "cl": "centiliter", "dl": "deciliter", "l": "liter",
         "gill": "us_gill"}


@cache
def registry() -> Any:
    """A pint registry with exact fractions whose kitchen units are ours."""
    import pint

    made = pint.UnitRegistry(non_int_type=Fraction)
    for name, unit in all_units().items():
        if name == "gill":
            made.define(f"us_gill = {unit.size} * {'gram' if unit.kind == MASS else 'milliliter'}")
    return made


def to_pint(amount: Amount) -> Any:
    """The middle of an amount as a pint quantity; a count is dimensionless, a measure of another system is in ml."""
    quantities = registry()
    if amount.low is None or amount.high is None:
        raise ValueError(f"'{amount}' has no number")
    value = (amount.low + amount.high) / 2
    if amount.unit in NAMES or amount.unit in ("cup", "pint", "quart", "gallon"):
        if amount.measures == "us" or not amount.depends_on_measures:
            return quantities.Quantity(value, NAMES.get(amount.unit, amount.unit))
    if amount.base is not None:
        low, high, base = amount.base
        return quantities.Quantity((low + high) / 2, "gram" if base == "g" else "milliliter")
    return quantities.Quantity(value / (100 if amount.kind == "percent" else 1), "dimensionless")
