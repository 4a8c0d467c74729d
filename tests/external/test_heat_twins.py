"""Updating on seeded synthetic twins (tests/bench/heat_twins.py): errors, baselines and coverage to reach."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import numpy as np
import pytest

from tests.bench.bench_heat_twins import Score, bench
from tests.bench.heat_twins import LONG, ROASTS

pytestmark = pytest.mark.long


@cache
def roasts() -> dict[float, list[Score]]:
    return bench(ROASTS, 100)


@cache
def long_cooks() -> dict[float, list[Score]]:
    return bench(LONG, 40)


@pytest.mark.parametrize(("share", "limit_min"), [(0.25, 14.0), (0.5, 8.5), (0.75, 6.0)])
def test_updated_roasts_err_by_no_more_minutes_than_asked(share: float, limit_min: float) -> None:
    assert np.mean([one.model for one in roasts()[share]]) <= limit_min


@pytest.mark.parametrize("cooks", [roasts, long_cooks])
def test_half_way_the_updated_model_beats_the_best_baseline_by_thirty_per_cent(
        cooks: Callable[[], dict[float, list[Score]]]) -> None:
    half = cooks()[0.5]
    best = min(np.mean([getattr(one, name) for one in half]) for name in ("line", "exponential", "unfitted"))
    assert np.mean([one.model for one in half]) <= 0.7 * best


@pytest.mark.parametrize("share", [0.25, 0.5, 0.75])
def test_eighty_per_cent_intervals_hold_the_truth_in_about_that_many(share: float) -> None:
    held = np.mean([one.held for one in roasts()[share]])
    assert 0.68 <= held <= 0.92


@pytest.mark.parametrize(("share", "limit_min"), [(0.25, 140.0), (0.5, 100.0), (0.75, 70.0)])
def test_updated_long_cooks_err_by_no_more_minutes_than_asked(share: float, limit_min: float) -> None:
    assert np.mean([one.model for one in long_cooks()[share]]) <= limit_min


@pytest.mark.parametrize("share", [0.25, 0.5, 0.75])
def test_intervals_of_long_cooks_hold_the_truth_in_twenty_five_to_thirty_eight_of_forty(share: float) -> None:
    assert 25 <= sum(one.held for one in long_cooks()[share]) <= 38
