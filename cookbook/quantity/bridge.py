"""The pint registry, for programmers: its kitchen units are checked against our exact table; no user's text reaches
it."""

from __future__ import annotations

from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any

from cookbook.errors import RequestError

if TYPE_CHECKING:
    from cookbook.quantity.amount import Amount

NAMES = {"tbsp": "tablespoon", "tsp": "teaspoon", "fl oz": "fluid_ounce", "lb": "pound", "oz": "ounce", "g": "gram",
         "kg": "kilogram", "mg": "milligram", "ml": "milliliter", "cl": "centiliter", "dl": "deciliter", "l": "liter",
         "cup": "cup", "gill": "gill", "pint": "pint", "quart": "quart", "gallon": "gallon"}
"""Our units under pint's names; all US where the measure systems differ."""


@cache
def registry() -> Any:
    """A pint registry with exact fractions, in which a cup is the US cup."""
    import pint

    return pint.UnitRegistry(non_int_type=Fraction)


def to_pint(amount: Amount) -> Any:
    """The middle of an amount as a pint quantity with an exact fraction.

    A count is dimensionless, a percentage a share; a measure of another system than the US one is in ml. Raises
    RequestError for `to taste`.
    """
    if amount.low is None or amount.high is None:
        raise RequestError(f"'{amount}' has no number", mend="only amounts with a number become quantities")
    quantity = registry().Quantity
    value = (amount.low + amount.high) / 2
    if amount.unit in NAMES and (amount.measures == "us" or not amount.depends_on_measures):
        return quantity(value, NAMES[amount.unit])
    if amount.base is not None:
        low, high, _ = amount.base  # every weight has a name, so this is a volume
        return quantity((low + high) / 2, "milliliter")
    return quantity(value / (100 if amount.kind == "percent" else 1), "dimensionless")
