"""Scaling and rounding: exact there and back, then to what can be measured."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import RequestError
from cookbook.quantity import Amount
from cookbook.quantity.number import tenth
from tests.quantity.writing import AMOUNT

FACTOR = st.fractions(min_value=Fraction(1, 50), max_value=50, max_denominator=1000)


@given(AMOUNT, FACTOR)
def test_scaling_there_and_back_gives_the_same_amount(text: str, factor: Fraction) -> None:
    found = Amount.parse(text)
    back = found.scaled(factor).scaled(1 / factor)
    assert (back.low, back.high, back.unit) == (found.low, found.high, found.unit)
    assert back.each == found.each


@given(AMOUNT, FACTOR)
def test_the_weight_scales_with_the_amount(text: str, factor: Fraction) -> None:
    found = Amount.parse(text)
    one, other = found.grams("garlic"), found.scaled(factor).grams("garlic")
    assert (one is None) == (other is None)
    if one is not None and other is not None:
        assert other.mid == pytest.approx(one.mid * float(factor), rel=1e-9)


@given(AMOUNT, FACTOR)
def test_what_is_rounded_can_be_read_and_is_not_rounded_again(text: str, factor: Fraction) -> None:
    rounded = Amount.parse(text).scaled(factor).rounded()
    assert Amount.parse(rounded.ascii()).canonical() == rounded.canonical()
    assert rounded.rounded().canonical() == rounded.canonical()
    assert rounded.low is None or rounded.low > 0


@given(st.fractions(min_value=1, max_value=5000))
def test_grams_are_rounded_to_what_a_balance_shows(grams: Fraction) -> None:
    rounded = Amount.parse("1 g").scaled(grams).rounded()
    assert rounded.low is not None
    assert abs(rounded.low - grams) <= (Fraction(1, 20) if grams < 5 else Fraction(1, 4) if grams < 20
                                        else Fraction(1, 2))


@pytest.mark.parametrize(("text", "factor", "rounded"), [
    ("3 cloves", "1.47", "4 1/2 cloves"), ("12 cloves", "1.3", "16 cloves"), ("1 clove", "0.1", "1/2 clove"),
    ("5 sprigs", "1.3", "6 sprigs"),
    ("1 sprig", "0.3", "1 sprig"), ("juice of 1 lemon", "1.2", "juice of 1 1/2 lemons"),
    ("1 lemon", "1.2", "1 lemon"), ("1 cup", "1.4", "1 1/3 cups"),
    ("1/4 cup", "0.7", "3 tbsp"), ("1 tbsp", "0.3", "1 tsp"), ("1 tsp", "1.3", "1 1/4 tsp"), ("60 g", "1.35", "81 g"),
    ("1.1 % of meat", "3", "1.1 % of meat"),
    ("3-4 tbsp", "1.5", "4 1/2-6 tbsp"), ("1 kg", "1.2345", "1.23 kg"), ("1.16 % of meat", "1", "1.15 % of meat"),
    ("2 (400 g) cans", "1.4", "3 (400 g) cans"),
    ("1 pinch", "2.4", "2 pinches"),
])
def test_to_what_a_kitchen_can_measure(text: str, factor: str, rounded: str) -> None:
    assert Amount.parse(text).scaled(Fraction(factor)).rounded().ascii() == rounded


def test_scaling_below_nothing_is_a_bad_call() -> None:
    with pytest.raises(RequestError, match="less than nothing"):
        Amount.parse("1 cup").scaled(-1)


def test_a_vague_number_becomes_a_range_when_it_is_scaled() -> None:
    scaled = Amount.parse("a few sprigs").scaled(2)
    assert scaled.ascii() == "4-8 sprigs"
    assert scaled.words == ()


def test_a_weight_said_beside_a_measure_scales_with_it() -> None:
    assert Amount.parse("1 1/2 cups (90 g)").scaled(2).ascii() == "3 cups (180 g)"
    assert Amount.parse("1/4 cup (16 g)").scaled(Fraction(1, 2)).rounded().ascii() == "2 tbsp (8 g)"


@pytest.mark.parametrize(("one", "two", "total"), [
    ("1 cup", "2 tbsp", "1 1/8 cups"), ("60 g", "about 1 kg", "1060 g"), ("2 cloves", "1 clove", "3 cloves"),
    ("2-3 tbsp", "1 tbsp", "3-4 tbsp")])
def test_amounts_of_one_kind_add_up(one: str, two: str, total: str) -> None:
    found = Amount.parse(one).plus(Amount.parse(two))
    assert found is not None
    assert found.ascii() == total


@pytest.mark.parametrize(("one", "two"), [("1 cup", "60 g"), ("2 cloves", "2 heads"), ("to taste", "1 g"),
                                          ("1 (400 g) can", "1 can")])
def test_other_kinds_do_not(one: str, two: str) -> None:
    assert Amount.parse(one).plus(Amount.parse(two)) is None


def test_a_difference_never_falls_below_nothing() -> None:
    found = Amount.parse("10 g").plus(Amount.parse("15 g"), -1)
    assert found is not None
    assert found.low == 0


@pytest.mark.parametrize(("value", "told"), [
    (54.4444, "54.4"), (121.0, "121"), (107.222, "107.2"), (1200.0, "1200"), (-0.02, "0"), (-5.26, "-5.3"),
    (1e6, "1000000"), (float("nan"), "nan"), (float("inf"), "inf"),
])  # fmt: skip
def test_degrees_are_told_to_a_tenth_and_never_with_an_exponent(value: float, told: str) -> None:
    assert tenth(value) == told
