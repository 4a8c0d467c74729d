"""Journals to compare: kitchens with two versions of a loin and their entries, and cooks drawn by chance."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, timedelta
from functools import cache
from pathlib import Path
from random import Random
from typing import NamedTuple

from cookbook.compare.cook import Cook
from cookbook.files import parse
from cookbook.journal import Entry, read
from cookbook.kitchen import Kitchen, store

RECIPE = """\
kind: cook
title: Loin over cherry
revision: {revision}
cut: pork loin, boneless
pit:
  temperature: 130 °C
  cooker: drum
  wood: {wood}
pull_at: {pull} °C
"""


class Told(NamedTuple):
    """One cook as a test tells it: its version (1 or 2), scores by aspect and taster, and lines of YAML besides."""

    version: int
    scores: Mapping[str, Mapping[str, float]] = {}
    minutes: int = 120
    kg: float = 2.2
    more: str = ""
    day: int | None = None


def kitchen_of(root: Path, cooks: Sequence[Told]) -> Kitchen:
    """A kitchen whose loin was cooked so: version 1 with cherry, pulled at 63 °C; version 2 with oak, at 60 °C."""
    recipes = root / "recipes"
    recipes.mkdir(parents=True)
    names = {}
    for revision, wood, pull in ((1, "cherry", 63), (2, "oak", 60)):
        (recipes / "loin.yaml").write_text(RECIPE.format(revision=revision, wood=wood, pull=pull), encoding="utf-8")
        kitchen = Kitchen(root)
        recipe = kitchen.recipe("loin")
        names[revision] = kitchen.version_now(recipe)
        store.put(root, "loin", names[revision], recipe.document.data)
    for number, told in enumerate(cooks):
        day = date(2026, 1, 3) + timedelta(days=7 * number if told.day is None else told.day)
        path = root / "journal" / f"{day.year}" / f"{day}-loin-{number}.yaml"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(entry_text(names[told.version], day, told), encoding="utf-8")
    return Kitchen.open(root)


def entry_text(version: str, day: date, told: Told) -> str:
    """The entry's file."""
    end = f"{12 + told.minutes // 60:02d}:{told.minutes % 60:02d}"
    lines = [
        f'recipe: loin\nversion: {version}\ndate: "{day}"\npiece:\n  weight: {told.kg} kg',
        f'events:\n  - {{at: "{day}T12:00:00+01:00", did: "on"}}\n  - {{at: "{day}T{end}:00+01:00", did: pulled}}',
    ]
    if told.scores:
        lines.append("outcome:\n  scores:")
        for aspect, scores in told.scores.items():
            lines.append(f"    {aspect}: {{{', '.join(f'{who}: {score:g}' for who, score in scores.items())}}}")
    return "\n".join([*lines, told.more, ""])


def one(score: float, aspect: str = "crust", taster: str = "Ada") -> dict[str, dict[str, float]]:
    """A single score."""
    return {aspect: {taster: score}}


@cache
def plain_entry() -> Entry:
    """An entry with nothing in it but its day."""
    entry, problems = read(parse(b'title: drawn\nkind: cook\ndate: "2026-01-03"\n', "e"), "e")
    assert entry is not None, problems
    return entry


class World(NamedTuple):
    """How the cooks of a simulated journal come out: standard deviations in points."""

    day: float = 0.6
    taster: float = 1.0
    chance: float = 0.5
    missing: float = 0.3
    gap: float = 0.0


def simulated(chance: Random, sides: tuple[int, int], world: World, aspects: int = 1) -> list[list[Cook]]:
    """Two groups of cooks scored to halves by one to four tasters, of whom some are missing now and then."""
    tasters = {f"taster {n}": chance.gauss(0, world.taster) for n in range(chance.randint(1, 4))}
    groups = []
    for side, cooks in enumerate(sides):
        group = []
        for number in range(cooks):
            scores = {f"aspect {a}": _scored(chance, tasters, world, 6.5 + side * world.gap) for a in range(aspects)}
            entry = plain_entry()._replace(name=f"{side}-{number}")
            group.append(Cook(entry, f"{side}-{number}", scores, (), None, None, None))
        groups.append(group)
    return groups


def _scored(chance: Random, tasters: Mapping[str, float], world: World, level: float) -> dict[str, float]:
    today = level + chance.gauss(0, world.day)
    there = [taster for taster in tasters if chance.random() >= world.missing] or [chance.choice(list(tasters))]
    return {
        taster: min(10.0, max(0.0, round(2 * (today + tasters[taster] + chance.gauss(0, world.chance))) / 2))
        for taster in there
    }
