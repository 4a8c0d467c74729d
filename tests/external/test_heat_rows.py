"""The forecast against roasting tables, home logs and common practice: the numbers it has to reach.

The lines of practice (memory) are soft bounds of the fit of the constants too: they guard, they prove nothing.
Sources: heat_shapes.csv, heat_rows.csv, heat_roast_chart.csv in this folder's data, each with its head.
"""

from __future__ import annotations

from functools import cache

import pytest

from tests.bench.bench_heat_rows import Found, Numbers, found, hot_rises, logs, numbers, practised
from tests.bench.calibrate_heat import PRACTICE
from tests.bench.heat_cases import by_weight, dimensioned

pytestmark = pytest.mark.long


@cache
def _numbers() -> Numbers:
    return numbers(*([found(case) for case in cases] for cases in (dimensioned(), list(by_weight()), logs())))


@cache
def _practice() -> list[Found]:
    return [practised(one) for one in PRACTICE]


def test_times_by_dimensions_are_within_a_fifth_on_rows_that_were_not_fitted() -> None:
    assert _numbers().unfitted <= 0.20
    assert _numbers().all_dimensioned <= 0.17


def test_times_by_weight_alone_are_within_a_quarter_of_their_band() -> None:
    assert _numbers().by_weight <= 0.25


def test_rise_and_loss_are_within_their_bands_but_for_a_kelvin_and_three_points() -> None:
    assert _numbers().rise_k <= 1.2
    assert _numbers().loss <= 3.5


def test_intervals_meet_most_bands_without_being_wide() -> None:
    assert _numbers().met >= 0.60
    assert _numbers().width <= 2.0


# Common practice (memory).
def test_five_ribs_at_121_take_three_to_four_hours_and_rise_two_to_five_kelvin_in_twenty_minutes() -> None:
    ribs = _practice()[0]
    assert 180 <= ribs.middle_min <= 240
    assert ribs.rise_k is not None
    assert 2.0 <= ribs.rise_k <= 5.0


def test_a_bare_brisket_at_107_takes_thirteen_to_eighteen_hours() -> None:
    assert 13 * 60 <= _practice()[1].middle_min <= 18 * 60


def test_a_bare_brisket_at_121_takes_ten_to_fourteen_hours() -> None:
    assert 10 * 60 <= _practice()[2].middle_min <= 14 * 60


def test_a_brisket_in_foil_from_70_at_114_to_121_takes_eight_to_eleven_hours() -> None:
    for one in _practice()[3:]:
        assert 8 * 60 <= one.middle_min <= 11 * 60


def test_roasts_from_a_hot_oven_rise_five_to_eleven_kelvin() -> None:
    rises = hot_rises()
    assert min(rises) >= 5.0
    assert max(rises) <= 11.0
