"""The roast in the fire: when it is done, how far it carries, which slice becomes what.

Holds meat's thermal properties, the cut-cell solver, surface and evaporation, forecast, fitting, zones, advice.
Floor 2: kitchen, plan, publish, cli and page may import it; it imports meat, picture, quantity, table and errors.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cookbook.heat.check import conduction

__all__ = ["Cooker", "Event", "Rest", "Sear", "Temper", "Wrap", "conduction", "forecast"]

_HOME = {
    "conduction": "check",
}


def __getattr__(name: str) -> object:
    """Public names are fetched at first use: nobody pays for numpy who asks for no forecast."""
    home = _HOME.get(name)
    if home is None:
        raise AttributeError(f"module 'cookbook.heat' has no attribute '{name}'")
    return getattr(import_module(f"cookbook.heat.{home}"), name)


def __dir__() -> list[str]:
    return sorted(__all__)
