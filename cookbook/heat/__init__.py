"""The roast in the fire: when it is done, how far it carries, which slice becomes what.

Holds meat's thermal properties, the cut-cell solver, surface and evaporation, forecast, fitting, zones, advice.
Floor 2: kitchen, plan, publish, cli and page may import it; it imports meat, picture, quantity, table and errors.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cookbook.heat.advice import (
        Measurement,
        PullPair,
        Sensitivity,
        Slicing,
        most_useful,
        pull_advice,
        sensitivity,
        slicing,
    )
    from cookbook.heat.chance import within
    from cookbook.heat.check import conduction
    from cookbook.heat.learn import Lesson, learned_priors, lesson
    from cookbook.heat.outlook import Forecast, Point, Range, forecast
    from cookbook.heat.reading import Reading
    from cookbook.heat.setting import Cooker, Event, Rest, Sear, Temper, Wrap
    from cookbook.heat.zone import Band, Slice, Zone, band_of, bands

__all__ = [
    "Band",
    "Cooker",
    "Event",
    "Forecast",
    "Lesson",
    "Measurement",
    "Point",
    "PullPair",
    "Range",
    "Reading",
    "Rest",
    "Sear",
    "Sensitivity",
    "Slice",
    "Slicing",
    "Temper",
    "Wrap",
    "Zone",
    "band_of",
    "bands",
    "conduction",
    "forecast",
    "learned_priors",
    "lesson",
    "most_useful",
    "pull_advice",
    "sensitivity",
    "slicing",
    "within",
]

_HOME = {
    "Measurement": "advice",
    "PullPair": "advice",
    "Sensitivity": "advice",
    "Slicing": "advice",
    "most_useful": "advice",
    "pull_advice": "advice",
    "sensitivity": "advice",
    "slicing": "advice",
    "within": "chance",
    "conduction": "check",
    "Lesson": "learn",
    "learned_priors": "learn",
    "lesson": "learn",
    "Forecast": "outlook",
    "Point": "outlook",
    "Range": "outlook",
    "forecast": "outlook",
    "Reading": "reading",
    "Cooker": "setting",
    "Event": "setting",
    "Rest": "setting",
    "Sear": "setting",
    "Temper": "setting",
    "Wrap": "setting",
    "Band": "zone",
    "Slice": "zone",
    "Zone": "zone",
    "band_of": "zone",
    "bands": "zone",
}


def __getattr__(name: str) -> object:
    """Public names are fetched at first use: nobody pays for numpy who asks for no forecast."""
    home = _HOME.get(name)
    if home is None:
        raise AttributeError(f"module 'cookbook.heat' has no attribute '{name}'")
    return getattr(import_module(f"cookbook.heat.{home}"), name)


def __dir__() -> list[str]:
    return sorted(__all__)
