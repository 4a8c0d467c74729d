"""The day: from who is coming to how much meat, when to light the fire, what to buy and who gets which slice.

Holds eaters, portions, buying, timeline, slices, shopping, cost, calendar and their charts; it prints nothing.
Floor 5 beside compare, which it doesn't know: publish, the command line and the page may import it.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cookbook.plan.buying import Buy, buy
    from cookbook.plan.eater import Eater, eaters
    from cookbook.plan.icalendar_file import calendar, write
    from cookbook.plan.meal import Meal, plan_meal
    from cookbook.plan.part import Asked
    from cookbook.plan.portioning import Portion, Share, needed, portion, raw_for, share
    from cookbook.plan.record import answer
    from cookbook.plan.shopping import as_text
    from cookbook.plan.step import Step

__all__ = [
    "Asked",
    "Buy",
    "Eater",
    "Meal",
    "Portion",
    "Share",
    "Step",
    "answer",
    "as_text",
    "buy",
    "calendar",
    "eaters",
    "needed",
    "plan_meal",
    "portion",
    "raw_for",
    "share",
    "write",
]

_HOME = {
    "Asked": "part", "Buy": "buying", "buy": "buying", "Eater": "eater", "eaters": "eater", "Meal": "meal",
    "plan_meal": "meal", "Portion": "portioning", "Share": "portioning", "needed": "portioning",
    "portion": "portioning", "raw_for": "portioning", "share": "portioning", "Step": "step",
    "answer": "record", "as_text": "shopping", "calendar": "icalendar_file", "write": "icalendar_file",
}  # fmt: skip


def __getattr__(name: str) -> object:
    """Public names are fetched at first use: nobody pays for the heat room who only reads who is coming."""
    home = _HOME.get(name)
    if home is None:
        raise AttributeError(f"module 'cookbook.plan' has no attribute '{name}'")
    return getattr(import_module(f"cookbook.plan.{home}"), name)


def __dir__() -> list[str]:
    return sorted(__all__)
