"""Laws of the dwell tables: hotter is never slower, longer never less safe, a reading in between adds nothing."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.safety import Curve, come_up, integrated_log10, lethality, required_dwell_s, trichinella_safe
from cookbook.safety.dwell import PRODUCTS, dwell_table
from cookbook.safety.reduction import conformance, row_seconds, table_log10

PRODUCT = st.sampled_from(PRODUCTS)
FAT = st.none() | st.floats(0, 30)
CORE = st.floats(-5, 90)
READINGS = st.lists(st.tuples(st.floats(1, 5000), CORE), min_size=2, max_size=12)


def log(steps: list[tuple[float, float]]) -> tuple[list[float], list[float]]:
    """Times that rise by the steps, and the cores."""
    times, now = [], 0.0
    for step, _ in steps:
        times.append(now)
        now += step
    return times, [core for _, core in steps]


@given(PRODUCT, FAT, st.floats(136, 200), st.floats(0, 40))
def test_hotter_is_never_slower(product: str, fat: float | None, core_f: float, more_f: float) -> None:
    slow = required_dwell_s(product, core_f, fat_percent=fat)
    assert required_dwell_s(product, core_f + more_f, fat_percent=fat) <= slow


@given(PRODUCT, READINGS, st.floats(0, 15))
def test_a_hotter_curve_is_never_less_safe(product: str, steps: list[tuple[float, float]], more_c: float) -> None:
    times, core = log(steps)
    cold = lethality(times, core, product)
    hot = lethality(times, [value + more_c for value in core], product)
    assert hot.log10_reduction >= cold.log10_reduction - 1e-9
    assert hot.conforms or not cold.conforms


@given(PRODUCT, READINGS, st.floats(0, 5000), CORE)
def test_a_longer_curve_is_never_less_safe(
        product: str, steps: list[tuple[float, float]], more_s: float, core_c: float) -> None:
    times, core = log(steps)
    short = lethality(times, core, product)
    longer = lethality([*times, times[-1] + more_s], [*core, core_c], product)
    assert longer.log10_reduction >= short.log10_reduction - 1e-9
    assert longer.conforms or not short.conforms


@given(PRODUCT, READINGS, st.data())
def test_a_reading_between_two_never_makes_more_of_a_pass(
        product: str, steps: list[tuple[float, float]], data: st.DataObject) -> None:
    times, core = log(steps)
    at = data.draw(st.integers(1, len(times) - 1))
    share = data.draw(st.floats(0, 1))
    between_s = times[at - 1] + share * (times[at] - times[at - 1])
    straight_c = core[at - 1] + share * (core[at] - core[at - 1])
    table = dwell_table(product)
    before = conformance(table, Curve.of(times, core))
    for drop_c in (0.0, data.draw(st.floats(0, 30))):
        more = Curve.of([*times[:at], between_s, *times[at:]], [*core[:at], straight_c - drop_c, *core[at:]])
        after = conformance(table, more)
        assert after.fraction <= before.fraction * (1 + 1e-6) + 1e-6
        assert after.how == before.how or not after.conforms or drop_c or after.fraction == pytest.approx(1, abs=1e-6)
        assert before.conforms or not after.conforms or after.fraction == pytest.approx(1, abs=1e-6)


@given(PRODUCT, FAT, st.floats(60, 66), st.floats(60, 66), st.floats(1, 20000))
def test_no_credit_is_ever_lost_or_made_by_cutting_a_stretch_into_rows(
        product: str, fat: float | None, first_c: float, last_c: float, seconds: float) -> None:
    table = dwell_table(product, None, fat)
    spent = row_seconds(table, Curve.of([0, seconds], [first_c, last_c]))
    assert sum(spent.values()) == pytest.approx(seconds)


@given(PRODUCT, READINGS)
def test_the_forecast_figure_is_never_behind_the_printed_rows_nor_far_ahead(
        product: str, steps: list[tuple[float, float]]) -> None:
    table, curve = dwell_table(product), Curve.of(*log(steps))
    sure = conformance(table, curve).fraction * table.log10
    assert sure <= table_log10(curve, table) * (1 + 1e-9) + 1e-9
    assert table_log10(curve, table) <= sure * 1.6 + 1e-9


@given(st.floats(50, 60), st.floats(60, 70), st.floats(60, 7200))
def test_a_ramp_cut_in_two_adds_up_to_itself(low_c: float, high_c: float, seconds: float) -> None:
    whole = integrated_log10([0, seconds], [low_c, high_c], d_s=100, at_c=60, z_c=5.56)
    middle = (low_c + high_c) / 2
    halves = integrated_log10([0, seconds / 2, seconds], [low_c, middle, high_c], d_s=100, at_c=60, z_c=5.56)
    assert halves == pytest.approx(whole, rel=1e-6)


@given(READINGS, st.floats(1, 5000))
def test_a_longer_hold_never_undoes_trichinella(steps: list[tuple[float, float]], more_s: float) -> None:
    times, core = log(steps)
    short = Curve.of(times, core)
    longer = Curve.of([*times, times[-1] + more_s], [*core, core[-1]])
    assert trichinella_safe(longer) or not trichinella_safe(short)


@given(READINGS)
def test_come_up_never_takes_longer_than_the_cook(steps: list[tuple[float, float]]) -> None:
    times, core = log(steps)
    seen = come_up(times, core)
    assert -1e-6 <= seen.seconds <= times[-1] - times[0] + 1e-6
