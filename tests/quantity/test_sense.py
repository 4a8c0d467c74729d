"""What vague words come to: early cookery texts for heaped and scant cups, kitchen charts for pinches and zest."""

from __future__ import annotations

import pytest
from hypothesis import given

from cookbook.quantity import Amount
from tests.quantity.writing import AMOUNT

CUP, TSP = 236.5882365, 4.92892159375


def ml(text: str) -> tuple[float, float, float]:
    """The volume of an amount."""
    found = Amount.parse(text).ml()
    assert found is not None
    return found.low, found.mid, found.high


def test_a_heaping_cup_is_a_level_one_and_two_tablespoons() -> None:
    """Early twentieth-century cookery texts: heaping and scant cups are two tablespoons more or less."""
    assert ml("1 heaping cup")[1] == pytest.approx(CUP * 9 / 8)
    assert ml("1 scant cup")[1] == pytest.approx(CUP * 7 / 8)
    assert ml("1 scant cup")[0] < ml("1 scant cup")[1] < ml("1 scant cup")[2] <= CUP


def test_a_heaping_spoon_is_one_and_a_quarter_to_two_level_ones() -> None:
    assert ml("1 heaping tbsp") == pytest.approx((3 * TSP * 1.25, 3 * TSP * 1.625, 3 * TSP * 2))


def test_level_says_nothing_new() -> None:
    assert ml("1 level tbsp") == ml("1 tbsp") == pytest.approx((3 * TSP,) * 3)


@pytest.mark.parametrize(("word", "low", "usual", "high"), [
    ("pinch", 1 / 24, 1 / 16, 1 / 8), ("dash", 1 / 23, 1 / 15, 1 / 8), ("drop", 1 / 120, 1 / 60, 1 / 60),
    ("saltspoon", 1 / 8, 1 / 4, 1 / 4),
    ("smidgen", 1 / 48, 1 / 32, 1 / 32), ("few grains", 0, 1 / 16, 1 / 8)])
def test_trade_spoons_are_estimates(word: str, low: float, usual: float, high: float) -> None:
    """Common practice and early cookery texts; no standard exists."""
    assert ml(f"1 {word}") == pytest.approx((low * TSP, usual * TSP, high * TSP))


def test_about_is_a_tenth_either_way() -> None:
    found = Amount.parse("about 100 g").grams()
    assert found is not None
    assert tuple(found) == pytest.approx((90, 100, 110))


def test_a_range_keeps_both_ends() -> None:
    found = Amount.parse("200-300 g").grams()
    assert found is not None
    assert tuple(found) == (200, 250, 300)


def test_zest_of_a_lemon_is_one_to_three_teaspoons() -> None:
    """Kitchen charts, 1 to 3 tsp; USDA SR28: a teaspoon of peel is 2.0 g."""
    found = Amount.parse("zest of 2 lemons").grams("lemon")
    assert found is not None
    assert tuple(found) == (4, 8, 12)


def test_pieces_cut_by_length_weigh_by_their_length() -> None:
    one, two = Amount.parse("1-inch piece").grams("ginger"), Amount.parse("2 2-inch pieces").grams("ginger")
    assert one is not None
    assert two is not None
    assert two.mid == pytest.approx(4 * one.mid)


def test_a_package_weighs_what_it_holds() -> None:
    cans, bottle = Amount.parse("2 (400 g) cans").grams("tomatoes"), Amount.parse("1 (330 ml) bottle").ml()
    assert cans is not None
    assert bottle is not None
    assert cans.mid == 800
    assert bottle.mid == 330


@given(AMOUNT)
def test_every_interval_is_in_order_and_finite(text: str) -> None:
    found = Amount.parse(text)
    for interval in (found.ml(), found.grams(), found.grams("garlic"), found.grams("lemon juice")):
        if interval is not None:
            assert 0 <= interval.low <= interval.mid <= interval.high < 1e12
