"""Conformance by the floor row, the forecast figure beside it, and what a pass rests on."""

from __future__ import annotations

from itertools import pairwise
from math import nan

import pytest

from cookbook.errors import RequestError, UnknownName
from cookbook.safety import (
    Curve,
    integrated_log10,
    lethality,
    required_dwell_s,
    strictest_product,
    target_after_growth,
)
from cookbook.safety.dwell import PRODUCTS, dwell_table
from cookbook.safety.reduction import conformance


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) * 5 / 9


def held(fahrenheit: float, seconds: float) -> Curve:
    return Curve.of([0, seconds], [celsius(fahrenheit)] * 2)


def test_reaching_158_f_is_enough_at_once_for_meat() -> None:
    assert lethality([0], [celsius(158)], "pork").conforms
    assert conformance(dwell_table("pork"), held(158, 0)).how == "instant"
    assert not lethality([0], [celsius(158)], "chicken").conforms
    assert lethality([0], [celsius(165)], "duck").conforms


def test_a_reading_of_54_4_c_is_below_the_table() -> None:
    assert lethality([0, 1e5], [54.4, 54.4], "beef") == (0.0, False)
    assert lethality([0, 6720], [54.5, 54.5], "beef").conforms


def test_one_hold_names_the_highest_row_that_does() -> None:
    seen = conformance(dwell_table("beef"), held(150.7, 67))
    assert (seen.conforms, seen.how, seen.row_f, seen.low) == (True, "one hold", 150, False)


def test_a_pass_on_a_long_low_hold_is_marked() -> None:
    assert conformance(dwell_table("beef"), held(130, 6720)).low
    assert not conformance(dwell_table("beef"), held(135, 2160)).low
    assert not conformance(dwell_table("beef"), held(130, 6000)).low


def test_stretches_add_up_over_a_break() -> None:
    table = dwell_table("beef")
    assert conformance(table, held(140, 360), held(140, 360)).how == "parts"
    assert not conformance(table, held(140, 360)).conforms


def test_a_falling_core_counts_as_a_rising_one() -> None:
    up = lethality([0, 900], [50, 65], "beef")
    down = lethality([0, 900], [65, 50], "beef")
    assert up.log10_reduction == pytest.approx(down.log10_reduction)
    assert up.conforms == down.conforms


def test_the_forecast_figure_goes_no_faster_than_the_last_row_with_a_dwell() -> None:
    one_minute = lethality([0, 60], [celsius(157)] * 2, "beef").log10_reduction
    assert lethality([0, 60], [90, 90], "beef").log10_reduction == pytest.approx(one_minute)
    assert lethality([0, 60], [celsius(157), celsius(158)], "beef").log10_reduction == pytest.approx(one_minute)


def test_integration_refuses_what_is_no_constant() -> None:
    with pytest.raises(RequestError, match="decimal reduction time"):
        integrated_log10([0, 60], [60, 60], d_s=0, at_c=60, z_c=5)
    with pytest.raises(RequestError, match="slope"):
        integrated_log10([0, 60], [60, 60], d_s=60, at_c=60, z_c=nan)


def test_at_the_reference_one_decimal_time_is_one_log() -> None:
    assert integrated_log10([0, 60], [60, 60], d_s=60, at_c=60, z_c=5) == pytest.approx(1)


def test_fat_between_two_columns_takes_the_longer_of_both() -> None:
    assert required_dwell_s("chicken", 151, fat_percent=1.5) == required_dwell_s("chicken", 151, fat_percent=1)
    assert required_dwell_s("chicken", 145, fat_percent=1.5) == required_dwell_s("chicken", 145, fat_percent=2)
    assert required_dwell_s("chicken", 145, fat_percent=0.2) == required_dwell_s("chicken", 145, fat_percent=1)


@pytest.mark.parametrize("product", PRODUCTS)
def test_dwell_falls_strictly_from_row_to_row(product: str) -> None:
    for fat in (None, *range(1, 13)):
        table = dwell_table(product, None, fat)
        timed = table.seconds[: table.rows_f.index(table.instant_f)]
        assert all(slow > fast for slow, fast in pairwise(timed))
        assert list(table.rows_f) == list(range(table.first_f, table.rows_f[-1] + 1))


@pytest.mark.parametrize(("arguments", "named"), [
    (("beef", 129.9), "begins at 130 °F"), (("chicken", 135), "begins at 136 °F"), (("beef", 150, 6), "6-log"),
    (("turkey", 150, 6.5), "7 log|6.5-log"), (("turkey", 150, None, -1), "fat"), (("turkey", 150, None, 101), "fat"),
    (("beef", nan), "no temperature"),
])
def test_what_the_tables_do_not_hold_is_an_error(arguments: tuple[object, ...], named: str) -> None:
    with pytest.raises(RequestError, match=named):
        required_dwell_s(*arguments)  # type: ignore[arg-type] # one mixture after the other


def test_an_unknown_product_is_refused_with_the_nearest() -> None:
    with pytest.raises(UnknownName) as caught:
        required_dwell_s("turky", 150)
    assert caught.value.nearest[0] == "turkey"


def test_a_mixture_is_its_strictest_part() -> None:
    assert strictest_product(["Turkey"]) == ("turkey", 7)
    assert strictest_product(["lamb"]) == ("lamb", 6.5)
    with pytest.raises(RequestError, match="nothing"):
        strictest_product([])


def test_growth_is_never_negative() -> None:
    with pytest.raises(RequestError, match="no growth"):
        target_after_growth(6.5, -1)
