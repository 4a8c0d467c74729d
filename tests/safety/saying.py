"""Recipes and entries as the checks see them, said in a line each."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta
from types import SimpleNamespace as Said
from typing import Any

from cookbook.safety import Around, entry_safety

START = datetime.fromisoformat("2026-11-21T09:00:00+01:00")
LOIN_CUT = "pork loin, boneless"
SPECIES = {LOIN_CUT: "pork", "rib roast, bone in": "beef", "chicken, whole": "chicken",
           "turkey, whole": "turkey"}


def ingredient(item: str, kind: str = "mass", follows: str = "surface", alternatives: tuple[str, ...] = ()) -> Said:
    return Said(words=item, item=item, recipe=None, follows=follows, alternatives=alternatives,
                amount=Said(kind=kind))


def recipe(*ingredients: Said, kind: str = "paste", cut: str | None = LOIN_CUT, pull_c: float | None = None,
           rest_min: float | None = None, pit: Said | None = None, steps: tuple[str, ...] = (),
           coats: tuple[Said, ...] = ()) -> Any:
    return Said(ingredients=ingredients, kind=kind, meat=cut, steps=steps, coats=coats, pit=pit, made_for=None,
                pull_at=None if pull_c is None else Said(c=pull_c),
                rest=None if rest_min is None else Said(time=Said(seconds=rest_min * 60)))


def pit(pit_c: float | None = 120, cooker: str = "drum", fuel: str | None = "charcoal",
        wrap: str | None = None) -> Any:
    return Said(temperature=None if pit_c is None else Said(c=pit_c), cooker=cooker, fuel=fuel, wood=None, wrap=wrap)


def at(minutes: float) -> datetime:
    return START + timedelta(minutes=minutes)


def event(minutes: float, did: str | None = None, note: str | None = None, piece: str | None = None) -> Any:
    return Said(at=at(minutes), did=did, note=note, piece=piece)


def reading(minutes: float, core_c: float | None = None, pit_c: float | None = None, piece: str | None = None,
            depth_cm: float | None = None) -> Any:
    return Said(at=at(minutes), core_c=core_c, surface_c=None, pit_c=pit_c, piece=piece, probe=None,
                depth_cm=depth_cm)


def entry(*events: Said, pieces: tuple[Said, ...] | None = None, deviations: tuple[str, ...] = (),
          outcome: dict[str, Any] | None = None, weather: str | None = None, notes: tuple[str, ...] = (),
          finished: datetime | None = None, as_made: tuple[dict[str, Any], ...] = (), **known: Any) -> Any:
    lone = (Said(name="", cut=None, known={"weight": 3100.0, "bones": "on", **known}),)
    return Said(events=events, pieces=pieces or lone, deviations=deviations, outcome=outcome, finished=finished,
                fields={"weather": weather}, notes=[Said(text=text) for text in notes], as_made={"paste": as_made})


def cook(peak_c: float) -> list[Any]:
    """Readings every twenty minutes, the pit at 118 °C."""
    return [reading(20 * step, 4 + (peak_c - 4) * step / 10, 118) for step in range(11)]


def found(cooked: Any, planned: Any = None, readings: Sequence[Any] = (), around: Around | None = None
          ) -> dict[str, Any]:
    findings = entry_safety(cooked, planned, (), readings, around or Around(), SPECIES.__getitem__)
    return {one.rule: one for one in findings}


LOIN = recipe(kind="cook", pull_c=60, rest_min=25, pit=pit(), cut=LOIN_CUT)
DAY = (event(0, "on"), event(200, "pulled"), event(225, "sliced"))
