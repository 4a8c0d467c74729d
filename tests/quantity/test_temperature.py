"""Temperatures and differences of temperature are two types."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import AmountError
from cookbook.quantity import Temperature, TemperatureDifference


@pytest.mark.parametrize(("text", "low_c", "high_c"), [
    ("130 °C", 130, 130), ("250F", 121.11111, 121.11111), ("121C", 121, 121), ("107.5 c", 107.5, 107.5),
    ("-18 °C", -18, -18),
    ("\u221218 °C", -18, -18), ("110-120 °C", 110, 120), ("110 to 120 C", 110, 120),
    ("225F-250F", 107.22222, 121.11111),
    ("250 degrees F", 121.11111, 121.11111), ("180 deg C.", 180, 180), ("-18 to -15 °C", -18, -15),
    ("½ °C", 0.5, 0.5),
])
def test_what_a_temperature_is(text: str, low_c: float, high_c: float) -> None:
    found = Temperature.parse(text)
    assert (found.low_c, found.high_c) == pytest.approx((low_c, high_c), abs=1e-4)
    assert found.c == pytest.approx((low_c + high_c) / 2, abs=1e-4)


@pytest.mark.parametrize(("text", "says"), [
    ("130", "has no scale"), ("gas mark 4", "no temperature"), ("130 K", "no scale of a temperature"),
    ("120-110 C", "no rising range"),
    ("", "no temperature"), ("hot", "no temperature"), ("5000 C", "no temperature of a kitchen"),
    ("-90 F", "no temperature of a kitchen"),
    ("1e999 C", "no scale"), ("110 C-230 F", "two scales"), ("130 °C roast", "no scale"), ("nan C", "no temperature"),
    ("130 °", "no scale")])
def test_what_is_none_says_why(text: str, says: str) -> None:
    with pytest.raises(AmountError, match=says) as caught:
        Temperature.parse(text)
    assert caught.value.mend


def test_gas_marks_are_no_scale() -> None:
    with pytest.raises(AmountError) as caught:
        Temperature.parse("gas mark 4")
    assert "gas marks differ" in (caught.value.mend or "")


def test_a_bare_number_takes_the_scale_that_is_given() -> None:
    assert Temperature.parse("130", "C").c == 130
    assert Temperature.parse("212", "F").c == pytest.approx(100)
    assert Temperature.parse("100 C", "F").c == 100


@pytest.mark.parametrize(("text", "both"), [
    ("130C", "130 °C (266 °F)"), ("250F", "250 °F (121 °C)"), ("110-120C", "110–120 °C (230–248 °F)"),
    ("-18 to -15C", "-18 to -15 °C (0–5 °F)"),
    ("-20C", "-20 °C (-4 °F)")])
def test_on_both_scales(text: str, both: str) -> None:
    assert Temperature.parse(text).both() == both


@given(st.integers(-600, 12000).map(lambda tenths: Fraction(tenths, 10)), st.sampled_from("CF"))
def test_what_is_written_reads_back(value: Fraction, scale: str) -> None:
    found = Temperature(value, value, scale)
    assert Temperature.parse(str(found)) == found


def test_a_difference_is_no_temperature() -> None:
    """A rise of 10 °F is 5.56 K; 10 °F is -12.2 °C."""
    assert TemperatureDifference.parse("10 °F").k == pytest.approx(5.5556, abs=1e-4)
    assert Temperature.parse("10 °F").c == pytest.approx(-12.222, abs=1e-3)
    assert TemperatureDifference.parse("4 K").k == TemperatureDifference.parse("4 °C").k == 4


def test_temperatures_differ_by_a_difference_and_are_never_added_or_doubled() -> None:
    one, two = Temperature.parse("225 °F"), Temperature.parse("203 °F")
    rise = one - two
    assert isinstance(rise, TemperatureDifference)
    assert rise.k == pytest.approx(22 * 5 / 9)
    assert (two + rise).f == pytest.approx(225)
    with pytest.raises(TypeError):
        one + two  # type: ignore[operator]
    with pytest.raises(TypeError):
        one * 2  # type: ignore[operator]
    assert not hasattr(one, "scaled")


def test_equal_temperatures_on_two_scales() -> None:
    assert Temperature.parse("100 °C") == Temperature.parse("212 °F")
    assert Temperature.parse("100 °C").canonical() == ["100", "100", "°C", ""]
    assert TemperatureDifference.parse("9 °F").canonical() == ["5", "5", "K", ""]
