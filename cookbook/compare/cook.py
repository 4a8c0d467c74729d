"""One cook as a comparison sees it: its scores by taster, its measures, its size, what was expected of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from statistics import fmean
from typing import NamedTuple

from cookbook.compare.condition import condition, pit_of
from cookbook.compare.tasters import Scores
from cookbook.journal import Entry
from cookbook.journal.outcome import Outcome, outcomes
from cookbook.kitchen import Kitchen
from cookbook.kitchen.learning.applied import applied

ZONE_UNIT = "% of the meat"


class Expectation(NamedTuple):
    """What a forecast for this very piece, at this pit, says: minutes to the pull, rise after it in K; and, set right
    by the cook's readings, the percent of the meat in each doneness."""

    minutes: float | None = None
    rise_k: float | None = None
    zones: Mapping[str, float] = {}


Expected = Callable[[Entry], Expectation | None]
"""Gives what was to be expected of a cook, or None where nothing can be said."""


class Cook(NamedTuple):
    """A cook. `day` is the same for cooks that shared one day in one cooker; the mass is of all its pieces."""

    entry: Entry
    day: str
    scores: Mapping[str, Scores]
    measures: tuple[Outcome, ...]
    mass_kg: float | None
    pit_c: float | None
    expectation: Expectation | None

    def measure(self, name: str) -> Outcome | None:
        """One of its measures."""
        return next((one for one in self.measures if one.name == name), None)


def cook(kitchen: Kitchen, entry: Entry, expected: Expected | None = None) -> Cook:
    """Gathers a cook; its coat and salt come from all that was put on the meat."""
    own = [one for one in outcomes(entry, kitchen.readings(entry)) if one.name not in entry.scores]
    told = expected(entry) if expected is not None else None
    zones = [Outcome(f"zone, {name}", share, ZONE_UNIT) for name, share in (told.zones if told else {}).items()]
    weights = [weight for piece in entry.pieces if isinstance(weight := piece.known.get("weight"), float)]
    return Cook(
        entry,
        f"{entry.date} {condition(kitchen, entry, 'cooker') or ''}".strip(),
        {aspect: _by_taster(entry, scores) for aspect, scores in entry.scores.items() if scores},
        (*own, *zones, *_put_on(kitchen, entry)),
        sum(weights) / 1000 if weights and len(weights) == len(entry.pieces) else None,
        pit_of(kitchen, entry),
        told,
    )


def _by_taster(entry: Entry, scores: Scores) -> Scores:
    """One score a taster: of the cook as a whole, else the mean of the pieces', which share its day."""
    named = [f", {piece.name}" for piece in entry.pieces if piece.name]
    found: dict[str, list[float]] = {}
    for taster, score in scores.items():
        piece = next((name for name in named if taster.endswith(name)), "")
        own = taster.removesuffix(piece)
        if not piece or own not in scores:
            found.setdefault(own, []).append(score)
    return {taster: fmean(given) for taster, given in found.items()}


def _put_on(kitchen: Kitchen, entry: Entry) -> list[Outcome]:
    on = [applied(kitchen, entry, recipe) for recipe in {**entry.sheet, **entry.as_made}]
    coats = [one.coat_mg_per_cm2 for one in on if one.coat_mg_per_cm2 is not None]
    salts = [one.salt_g_per_kg for one in on if one.salt_g_per_kg is not None]
    found = [Outcome("coat", sum(coats), "mg/cm²")] if coats and len(coats) == len(on) else []
    return found + ([Outcome("salt", sum(salts), "g/kg")] if salts else [])
