"""The numbers that this kitchen's own cooks have taught, each with how many cooks it rests on."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from math import floor, log10
from statistics import fmean
from typing import NamedTuple

from cookbook.journal import Entry
from cookbook.journal.outcome import outcomes
from cookbook.kitchen.descent import cut_of
from cookbook.kitchen.kitchen import Kitchen
from cookbook.meat.coverage import Learned, learned
from cookbook.quantity.number import digits

Minutes = Callable[[Entry], float | None]
"""What a forecast expected a cook to take, in minutes; None where nothing can be said."""


class Lesson(NamedTuple):
    """One learned number. `spread` is the standard deviation between cooks, None of a single one."""

    what: str
    mean: float
    spread: float | None
    unit: str
    cooks: int

    def sentence(self) -> str:
        """`coat 186 mg/cm², give or take 4 (5 cooks)`; the doubt is never finer than the number that is shown."""
        shown = 10.0 ** (floor(log10(abs(self.mean))) - 2) if self.mean else 0.0
        doubt = f", give or take {digits(max(self.spread, shown), 2)}" if self.spread is not None else ""
        cooks = "1 cook" if self.cooks == 1 else f"{self.cooks} cooks"
        return f"{self.what} {digits(self.mean, 3)} {self.unit}{doubt} ({cooks})"


def lessons(kitchen: Kitchen, entries: Sequence[Entry], minutes: Minutes | None = None) -> list[Lesson]:
    """Coverage and what stays in the bowl by recipe, yield by cut, and each cooker's factor on the forecast.

    Remembered cooks teach nothing. Shown whether the kitchen lets them be used or not.
    """
    counted = [entry for entry in entries if not entry.memory]
    found: list[Lesson] = []
    for recipe in dict.fromkeys(recipe for entry in counted for recipe in {**entry.sheet, **entry.as_made}):
        own = kitchen.habits(recipe)
        found += _lesson(f"{recipe}: coat", own.coverage, 1000, "mg/cm²")
        found += _lesson(f"{recipe}: left in the bowl", own.spare, 100, "%")
    yields: dict[str, list[float]] = {}
    for entry in counted:
        lost = next((one.value for one in outcomes(entry) if one.name == "cook loss"), None)
        if lost is not None:
            yields.setdefault(cut_of(kitchen, entry) or "all cuts", []).append(100 - lost)
    for cut, own_yield in yields.items():
        found += _lesson(f"{cut}: yield", learned(own_yield), 1, "% of the raw weight")
    return found + list(_cookers(kitchen, counted, minutes)) if minutes is not None else found


def _lesson(what: str, own: Learned | None, times: float, unit: str) -> list[Lesson]:
    if own is None:
        return []
    return [Lesson(what, times * own.mean, None if own.spread is None else times * own.spread, unit, own.cooks)]


def _cookers(kitchen: Kitchen, entries: Sequence[Entry], minutes: Minutes) -> Iterator[Lesson]:
    factors: dict[str, list[float]] = {}
    for entry in entries:
        took = [one.value for one in outcomes(entry) if one.name == "time to pull"]
        said, cooker = minutes(entry), entry.fields.get("cooker") or _planned(kitchen, entry)
        if took and said and cooker:
            factors.setdefault(cooker, []).append(fmean(took) / said)
    for cooker, own in factors.items():
        yield from _lesson(f"{cooker}: takes", learned(own), 1, "times the forecast's time")


def _planned(kitchen: Kitchen, entry: Entry) -> str | None:
    """The cooker that the recipe of a cook asks for."""
    from cookbook.kitchen.care import cooked_recipe

    recipe = cooked_recipe(kitchen, entry)
    return recipe.pit.cooker if recipe is not None and recipe.pit is not None else None
