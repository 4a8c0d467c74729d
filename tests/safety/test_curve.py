"""Bad readings are named; gaps and jumps of the probe carry no verdict."""

from __future__ import annotations

from math import inf, nan

import pytest

from cookbook.errors import RequestError
from cookbook.safety import Curve, lethality
from cookbook.safety.curve import GAP, PROBE_OUT, faults, floor_row, to_c, to_f


@pytest.mark.parametrize(("times", "core", "named"), [
    ([], [], "no readings"),
    ([0, 60], [20.0], "2 times but 1"),
    ([0, 60, 30], [20, 30, 40], "earlier than the one before"),
    ([-1, 60], [20, 30], "before the beginning"),
    ([0, nan], [20, 30], "reading 2 is at nan"),
    ([0, 60], [20, inf], "not a number"),
    ([0, 60], [20, None], "reading 2 is at 60.0 s and nan"),
    ([0, 60], [20, "warm"], "not a number"),
    ([0, 60], [20, 130], "hotter than the core of any meat"),
    ([0, 60], [20, -80], "colder than any freezer"),
])
def test_readings_that_cannot_be_are_refused_by_name(times: list[float], core: list[float], named: str) -> None:
    with pytest.raises(RequestError, match=named):
        lethality(times, core, "beef")


def test_a_core_of_130_without_its_unit_is_told_to_be_fahrenheit_or_a_loose_probe() -> None:
    with pytest.raises(RequestError) as caught:
        Curve.of([0], [130])
    assert "°F" in str(caught.value.mend)
    assert "out of the meat" in str(caught.value.mend)


@pytest.mark.parametrize("row", range(100, 170))
def test_whole_fahrenheit_survives_the_way_through_celsius(row: int) -> None:
    assert floor_row(to_f((row - 32) * 5 / 9)) == row
    assert to_c(row) == pytest.approx((row - 32) * 5 / 9)


def test_no_temperature_has_no_row() -> None:
    with pytest.raises(RequestError, match="no temperature"):
        floor_row(nan)


def test_time_at_or_above_is_straight_between_readings() -> None:
    curve = Curve.of([0, 100, 200, 300, 400], [50, 60, 60, 50, 60])
    assert curve.above(to_f(55)) == [(50, 250), (350, 400)]
    assert curve.longest_above_s(to_f(55)) == 200
    assert curve.longest_above_s(to_f(70)) == 0


def test_the_first_moment_at_or_below() -> None:
    curve = Curve.of([0, 100, 200], [60, 40, 40])
    assert curve.first_below_s(to_f(50), 0) == pytest.approx(50)
    assert curve.first_below_s(to_f(50), 80) == 80
    assert curve.first_below_s(to_f(50), 150) == 150
    assert curve.first_below_s(to_f(40), 100) == 100
    assert curve.first_below_s(to_f(30), 0) is None


def test_a_gap_and_a_jump_are_told_apart() -> None:
    curve = Curve.of([0, 600, 600 + 3600, 4260, 4320], [20, 25, 60, 61, 25])
    assert [(fault.kind, fault.from_s, fault.to_s) for fault in faults(curve)] == [
        (GAP, 600, 4200), (PROBE_OUT, 4260, 4320)]


def test_half_an_hour_between_readings_is_no_gap_yet() -> None:
    assert faults(Curve.of([0, 1800], [20, 30])) == []
    assert faults(Curve.of([0, 1801], [20, 30]))[0].kind == GAP
    assert faults(Curve.of([0, 60], [20, 25])) == []
    assert faults(Curve.of([0, 60], [20, 25.1]))[0].kind == PROBE_OUT


def test_nothing_counts_over_a_gap_or_after_a_jump() -> None:
    curve = Curve.of([0, 600, 4200, 4260, 4320, 4380], [20, 25, 60, 61, 25, 25])
    assert [part.times_s for part in curve.without(faults(curve))] == [(0, 600), (4200, 4260)]
    whole = Curve.of([0, 600], [20, 25])
    assert whole.without(faults(whole)) == (whole,)
    gap = Curve.of([0, 600, 4200, 4800], [20, 25, 60, 61])
    assert [part.times_s for part in gap.without(faults(gap))] == [(0, 600), (4200, 4800)]
