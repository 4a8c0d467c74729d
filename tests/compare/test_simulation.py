"""Simulated journals: the intervals hold the truth as often as they say, and a false "better" is rare."""

from __future__ import annotations

from random import Random
from typing import NamedTuple

import pytest

from cookbook.compare.difference import Difference, differences, measured
from tests.compare.journals import World, simulated

WORLDS = (World(), World(day=0.3, chance=0.4), World(day=1.0, missing=0.0))


def compared(chance: Random, sides: tuple[int, int], world: World, aspects: int = 1) -> tuple[Difference, ...]:
    """One simulated journal, its second group against its first."""
    table = measured(simulated(chance, sides, world, aspects))
    return differences(table, ["before", "after"], [(0, 1)])


class Held(NamedTuple):
    """Shares of intervals that hold the truth."""

    in_80: float
    in_95: float


def coverage(journals: int, seed: int, gap: float, in_all: bool) -> Held:
    """Two to eight cooks a side, or in all; the three worlds by turns."""
    chance = Random(seed)
    hits = hits_95 = 0
    for number in range(journals):
        first, second = chance.randint(2, 8), chance.randint(2, 8)
        if in_all:
            first = chance.randint(1, second - 1)
            second -= first
        found = compared(chance, (first, second), WORLDS[number % 3]._replace(gap=gap))[0]
        hits += found.low <= gap <= found.high
        hits_95 += found.low_95 <= gap <= found.high_95
    return Held(hits / journals, hits_95 / journals)


def false_better(journals: int, seed: int, aspects: int) -> float:
    """The share of journals without any effect in which some outcome is called better."""
    chance = Random(seed)
    found = 0
    for number in range(journals):
        sides = (chance.randint(2, 8), chance.randint(2, 8))
        verdicts = [one.verdict for one in compared(chance, sides, WORLDS[number % 3], aspects)]
        found += "better" in verdicts
    return found / journals


@pytest.mark.long
def test_eighty_percent_intervals_hold_the_truth_about_as_often() -> None:
    """300 journals: the binomial's own 99 % spread about 80 % is 74 to 86."""
    held = coverage(300, 7, gap=0.5, in_all=False)
    assert 0.74 <= held.in_80 <= 0.86
    assert held.in_95 >= 0.91


@pytest.mark.long
def test_without_effect_better_is_rarely_said() -> None:
    """300 journals with three aspects each: at most 6 %, and the binomial's own 99 % spread above it."""
    assert false_better(300, 11, aspects=3) <= 0.10


@pytest.mark.long
@pytest.mark.parametrize("gap", [0.0, 1.0])
@pytest.mark.parametrize("in_all", [False, True])
def test_coverage_over_two_thousand_journals(gap: float, in_all: bool) -> None:
    held = coverage(2000, 21, gap, in_all)
    assert 0.76 <= held.in_80 <= 0.84
    assert held.in_95 >= 0.93


@pytest.mark.long
@pytest.mark.parametrize("aspects", [1, 2, 3, 5])
def test_false_better_over_two_thousand_journals(aspects: int) -> None:
    assert false_better(2000, 22, aspects) <= 0.06


def test_a_real_gap_of_two_points_is_found_with_eight_cooks_a_side() -> None:
    chance = Random(5)
    found = [compared(chance, (8, 8), World(gap=2.0))[0].verdict for _ in range(20)]
    assert found.count("better") >= 17
    assert "worse" not in found
