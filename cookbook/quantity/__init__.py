"""Amounts as cooks write them: exact numbers, units, temperatures, times, what things weigh, spoons that exist.

In it: the reader and writer of amounts, the closed unit table, ingredient weights, spoon sets, conversions, totals.
May be imported by every room but the tables; knows no recipe and no file.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from cookbook.quantity.amount import Amount
from cookbook.quantity.interval import Interval
from cookbook.quantity.span import Duration, Length, read_length_cm, read_mass_g
from cookbook.quantity.temperature import Temperature, TemperatureDifference
from cookbook.quantity.unit import UNITS

if TYPE_CHECKING:
    from cookbook.quantity.allergen import Allergen, Allergens, allergens
    from cookbook.quantity.bridge import registry
    from cookbook.quantity.converting import Converted, convert, grams_source
    from cookbook.quantity.drawer import Scoop, drawer_of
    from cookbook.quantity.labelling import doubts, label
    from cookbook.quantity.measuring import Measured
    from cookbook.quantity.own import OwnWeight, Weighing, own_weight, own_weights, weighing
    from cookbook.quantity.salt import is_cure, is_salt, refuse_cure_by, salt_grams, salt_in
    from cookbook.quantity.total import Totals, Uncounted, totals
    from cookbook.quantity.weight import IngredientWeight, lookup

__all__ = [
    "UNITS",
    "Allergen",
    "Allergens",
    "Amount",
    "Converted",
    "Duration",
    "IngredientWeight",
    "Interval",
    "Length",
    "Measured",
    "OwnWeight",
    "Scoop",
    "Temperature",
    "TemperatureDifference",
    "Totals",
    "Uncounted",
    "Weighing",
    "allergens",
    "convert",
    "doubts",
    "drawer_of",
    "grams_source",
    "is_cure",
    "is_salt",
    "label",
    "lookup",
    "own_weight",
    "own_weights",
    "read_length_cm",
    "read_mass_g",
    "refuse_cure_by",
    "registry",
    "salt_grams",
    "salt_in",
    "totals",
    "weighing",
]

_LATE = {
    "converting": ("Converted", "convert", "grams_source"), "drawer": ("Scoop", "drawer_of"),
    "measuring": ("Measured",), "bridge": ("registry",),
    "own": ("OwnWeight", "Weighing", "own_weight", "own_weights", "weighing"),
    "allergen": ("Allergen", "Allergens", "allergens"), "labelling": ("doubts", "label"),
    "total": ("Totals", "Uncounted", "totals"),
    "salt": ("is_cure", "is_salt", "refuse_cure_by", "salt_grams", "salt_in"),
    "weight": ("IngredientWeight", "lookup"),
}
_ROOM_OF = {name: room for room, names in _LATE.items() for name in names}


def __getattr__(name: str) -> Any:
    """Load what needs the ingredient table, or pint, only when it is asked for."""
    if name in _ROOM_OF:
        from importlib import import_module

        return getattr(import_module(f"cookbook.quantity.{_ROOM_OF[name]}"), name)
    raise AttributeError(name)
