"""A cook journal and recipe-scaling library for large pieces of meat over live fire.

    >>> from cookbook import Cut, Kitchen
    >>> piece = Cut.named("pork loin, boneless").piece(mass_g=4400)
    >>> Kitchen.open("my-kitchen").recipe("fennel-sage-paste").scaled_to(piece)
    <Scaled fennel-sage-paste ... by surface>

Kitchen is a folder of recipes and cooks; Cut and Piece the meat; Amount, Temperature and Interval what is measured;
forecast says when it is done, card what gets published; CookbookError is the base of all that is raised on purpose.

The rooms, from the ground up: table, quantity, meat, files, picture, recipe, journal, heat, safety, kitchen, plan,
compare, publish, cli, page. An import only ever points down; DEVELOPERS.md draws the house. What most programs need
is here by name; everything else is in its room.
"""

from __future__ import annotations

TYPE_CHECKING = False
if TYPE_CHECKING:
    from cookbook.errors import CookbookError
    from cookbook.heat import forecast
    from cookbook.kitchen import Kitchen
    from cookbook.meat import Cut, Piece
    from cookbook.publish import card
    from cookbook.quantity import Amount, Interval, Temperature

__version__ = "0.2.0.dev0"

__all__ = ["Amount", "CookbookError", "Cut", "Interval", "Kitchen", "Piece", "Temperature", "card", "forecast"]

_HOME = {
    "Amount": "quantity",
    "CookbookError": "errors",
    "Cut": "meat",
    "Interval": "quantity",
    "Kitchen": "kitchen",
    "Piece": "meat",
    "Temperature": "quantity",
    "card": "publish",
    "forecast": "heat",
}


def __dir__() -> list[str]:
    """What is here by name, loaded or not: for completion, and for `help(cookbook)`."""
    return sorted({*globals(), *__all__})


def __getattr__(name: str) -> object:
    """Load a room only when something in it is asked for."""
    if name in _HOME:
        from importlib import import_module

        return getattr(import_module(f"cookbook.{_HOME[name]}"), name)
    raise AttributeError(f"module 'cookbook' has no attribute '{name}'")
