"""Cooks grouped by the version of a recipe or by recipe, each outcome's mean and spread, and what the change did."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from statistics import fmean, stdev
from typing import NamedTuple

from cookbook.compare.student import cdf, quantile, welch
from cookbook.errors import RequestError
from cookbook.journal import Entry
from cookbook.journal.outcome import Outcome, outcomes
from cookbook.kitchen import Kitchen
from cookbook.kitchen.descent import cooks_of
from cookbook.kitchen.history import labels_of, versions
from cookbook.recipe.difference import Change, differences

ENOUGH = 4
"""Cooks a side below which no verdict is given: with three and three even the largest gap can be chance."""

MATTERS = {"points": 0.5, "min": 15.0, "°C": 1.0, "K": 1.0, "%": 2.0, "g": 20.0}
"""How big a difference must be to matter at the table; common practice."""


class Spread(NamedTuple):
    """One outcome of a group: how many cooks say it, their mean, and their standard deviation (None for one)."""

    name: str
    unit: str
    cooks: int
    mean: float
    spread: float | None


class Group(NamedTuple):
    """The cooks under one label."""

    label: str
    entries: tuple[str, ...]
    outcomes: tuple[Spread, ...]
    values: dict[str, list[float]]

    @property
    def cooks(self) -> int:
        """How many."""
        return len(self.entries)


class Difference(NamedTuple):
    """Group b against group a in one outcome: the estimate b - a, an 80 % interval, and a plain verdict.

    `estimate` and the interval are None where a side has too few cooks to tell a spread.
    """

    outcome: str
    unit: str
    a: str
    b: str
    estimate: float | None
    low: float | None
    high: float | None
    probability_better: float | None
    verdict: str

    def json(self) -> dict[str, object]:
        """The difference as `compare --json` lists it."""
        return {key: round(value, 4) if isinstance(value, float) else value for key, value in self._asdict().items()}


class Comparison(NamedTuple):
    """Groups in order, what changed from each to the next, and the differences of the last two."""

    groups: tuple[Group, ...]
    changes: tuple[tuple[Change, ...], ...]
    differences: tuple[Difference, ...]


def compare_versions(kitchen: Kitchen, name: str) -> Comparison:
    """The cooks of `name` by version, oldest first. Raises RequestError where nothing was cooked."""
    known = versions(kitchen, name)
    by_meaning: dict[str, list[Entry]] = {}
    for cook in cooks_of(kitchen, name):
        by_meaning.setdefault(cook.meaning or "", []).append(cook.entry)
    cooked = [version for version in known if version.name in by_meaning]
    if not cooked:
        raise RequestError(
            f"nothing was cooked with {name} yet", mend="begin with `cookbook log start`", code="no-cooks"
        )
    labels = labels_of(known)
    groups = tuple(_group(kitchen, labels[version.name], by_meaning[version.name]) for version in cooked)
    changes = [
        tuple(differences(one.recipe, two.recipe)) if one.recipe and two.recipe else ()
        for one, two in pairwise(cooked)
    ]
    return Comparison(groups, tuple(changes), _last_two(groups))


def compare_recipes(kitchen: Kitchen, one: str, two: str) -> Comparison:
    """Two recipes on the same cut. Raises RequestError where they are for different cuts or one was never cooked."""
    recipes = [kitchen.recipe(one), kitchen.recipe(two)]
    if recipes[0].meat != recipes[1].meat:
        raise RequestError(
            f"{one} is for {recipes[0].meat}, {two} for {recipes[1].meat}: cooks of different cuts can't be "
            "held against each other",
            mend="compare two recipes on the same cut",
        )
    groups = []
    for recipe in recipes:
        entries = [cook.entry for cook in cooks_of(kitchen, recipe.name)]
        if not entries:
            raise RequestError(f"nothing was cooked with {recipe.name} yet", code="no-cooks")
        groups.append(_group(kitchen, recipe.title, entries))
    return Comparison(tuple(groups), (tuple(differences(recipes[0], recipes[1])),), _last_two(tuple(groups)))


def _group(kitchen: Kitchen, label: str, entries: Iterable[Entry]) -> Group:
    values: dict[str, list[float]] = {}
    kinds: dict[str, Outcome] = {}
    names = []
    for entry in entries:
        names.append(entry.name)
        for outcome in outcomes(entry, kitchen.readings(entry)):
            values.setdefault(outcome.name, []).append(outcome.value)
            kinds[outcome.name] = outcome
    spreads = tuple(
        Spread(name, kinds[name].unit, len(found), fmean(found), stdev(found) if len(found) > 1 else None)
        for name, found in values.items()
    )
    return Group(label, tuple(names), spreads, values)


def _last_two(groups: tuple[Group, ...]) -> tuple[Difference, ...]:
    if len(groups) < 2:
        return ()
    before, after = groups[-2], groups[-1]
    units = {spread.name: spread.unit for spread in after.outcomes}
    return tuple(
        difference(name, units[name], before.label, after.label, before.values[name], after.values[name])
        for name in after.values
        if name in before.values
    )


def difference(name: str, unit: str, a: str, b: str, one: list[float], two: list[float]) -> Difference:
    """What changed from `one` to `two`, by Welch's t; no verdict from fewer than four cooks a side."""
    sign = {"points": 1, "%": -1}.get(unit, 0)
    gap = fmean(two) - fmean(one)
    if min(len(one), len(two)) < 2 or (len(set(one)) == 1 and len(set(two)) == 1):
        fewest = min(len(one), len(two))
        cooks = f"{fewest} cook{'s' if fewest > 1 else ''} on one side"
        return Difference(name, unit, a, b, gap, None, None, None, f"can't tell yet ({cooks})")
    _, error, freedom = welch(one, two)
    reach = quantile(0.9, freedom) * error
    better = cdf(gap / error, freedom) if sign > 0 else cdf(-gap / error, freedom) if sign < 0 else None
    return Difference(
        name,
        unit,
        a,
        b,
        gap,
        gap - reach,
        gap + reach,
        better,
        _verdict(unit, sign, gap, error, freedom, min(len(one), len(two))),
    )


def _verdict(unit: str, sign: int, gap: float, error: float, freedom: float, fewest: int) -> str:
    if fewest < ENOUGH:
        more = ENOUGH - fewest
        return f"can't tell yet ({fewest} cooks on one side, {more} more would help)"
    reach = quantile(0.975, freedom) * error
    if abs(gap) > reach and abs(gap) >= MATTERS[unit]:
        if sign == 0:
            return "more" if gap > 0 else "less"
        return "better" if gap * sign > 0 else "worse"
    if gap + reach < MATTERS[unit] and gap - reach > -MATTERS[unit]:
        return "no difference that matters"
    return "can't tell yet"
