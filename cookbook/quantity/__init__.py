"""Amounts as cooks write them: exact numbers, units, temperatures, times, what things weigh, spoons that exist.

In it: the reader and writer of amounts, the closed unit table, ingredient weights, spoon sets, conversions.
May be imported by every room but the tables; knows no recipe and no file.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from cookbook.quantity.amount import Amount
from cookbook.quantity.interval import Interval
from cookbook.quantity.span import Duration, Length, read_length_cm, read_mass_g
from cookbook.quantity.temperature import Temperature, TemperatureDifference

if TYPE_CHECKING:
    from cookbook.quantity.converting import Converted, convert
    from cookbook.quantity.registry import registry
    from cookbook.quantity.weight import IngredientWeight, OwnWeight, lookup, salt_in

__all__ = [
    "Amount",
    "Converted",
    "Duration",
    "IngredientWeight",
    "Interval",
    "Length",
    "OwnWeight",
    "Temperature",
    "TemperatureDifference",
    "convert",
    "lookup",
    "read_length_cm",
    "read_mass_g",
    "registry",
    "salt_in",
]

_LATE = {"Converted": "converting", "convert": "converting", "registry": "registry", "IngredientWeight": "weight",
         "OwnWeight": "weight", "lookup": "weight", "salt_in": "weight"}


def __getattr__(name: str) -> Any:
    """Load what needs the ingredient table, or pint, only when it is asked for."""
    if name in _LATE:
        from importlib import import_module

        return getattr(import_module(f"cookbook.quantity.{_LATE[name]}"), name)
    raise AttributeError(name)
