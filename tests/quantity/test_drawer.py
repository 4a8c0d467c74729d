"""Spoons that exist: the exact search against brute force, and the choices worked out by hand."""

from __future__ import annotations

from fractions import Fraction
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cookbook.errors import AmountError
from cookbook.quantity.drawer import DRAWERS, MOST_KINDS, MOST_SCOOPS, Scoop, drawer_of, nearest, scoops, written

SMALL = {name: tuple(scoop for scoop in drawer if scoop.part in (1, Fraction(1, 2))) for name,
         drawer in DRAWERS.items()}
WIDE = drawer_of(("1 cup", "2/3 cup", "1/2 cup", "1/8 cup", "1 tbsp", "1/2 tbsp", "1 tsp", "1/8 tsp"))


@pytest.mark.parametrize(("system", "ml"), [
    ("us-label", "240 120 80 60 15 5 5/2 5/4"), ("metric", "250 125 80 60 15 5 5/2 5/4"),
    ("au", "250 125 80 60 20 5 5/2 5/4"), ("uk", "15 5 5/2 5/4"), ("jp", "200 15 5 5/2")])
def test_the_basic_sets_are_those_that_are_sold(system: str, ml: str) -> None:
    """measures, 5.4 (AU: New South Wales chart; metric third and quarter cups as marked) and 21 CFR 101.9(b)(5)."""
    assert [scoop.ml for scoop in DRAWERS[system]] == [Fraction(one) for one in ml.split()]


def test_the_us_set_divides_a_cup_of_16_tablespoons_of_3_teaspoons() -> None:
    cup = Fraction(473176473, 2000000)
    parts = [1, 2, 3, 4, 16, 48, 96, 192]
    assert [scoop.ml for scoop in DRAWERS["us"]] == [cup / part for part in parts]


def brute_force(ml: Fraction, drawer: tuple[Scoop, ...], tolerance: Fraction) -> tuple[int, ...] | None:
    """All ways to fill the measures, tried one by one."""
    best: tuple[int, int, Fraction, tuple[int, ...]] | None = None
    sizes = [scoop.ml for scoop in drawer]
    for counts in product(*(range(min(MOST_SCOOPS, int(ml * (1 + tolerance) / size)) + 1) for size in sizes)):
        many, kinds = sum(counts), sum(1 for n in counts if n)
        if not 0 < many <= MOST_SCOOPS or kinds > MOST_KINDS:
            continue
        error = abs(sum((n * size for n, size in zip(counts, sizes, strict=True)), Fraction(0)) - ml)
        found = (many, kinds, error, tuple(-n for n in counts))
        if error <= ml * tolerance and (best is None or found < best):
            best = found
    return None if best is None else tuple(-n for n in best[3])


@given(st.sampled_from(sorted(SMALL)), st.integers(1, 900),
       st.sampled_from([Fraction(1, 20), Fraction(1, 50), Fraction(1, 7)]))
@settings(max_examples=150, deadline=None)
def test_no_choice_is_better_than_the_one_found(system: str, tenths: int, tolerance: Fraction) -> None:
    ml = Fraction(tenths, 10)
    found = scoops(ml, SMALL[system], tolerance)
    assert (found.counts if found else None) == brute_force(ml, SMALL[system], tolerance)


@given(st.integers(5, 300))
@settings(max_examples=25, deadline=None)
def test_nor_with_all_eight_measures_of_the_basic_set(tenths: int) -> None:
    ml = Fraction(tenths, 10)
    found = scoops(ml, DRAWERS["us"])
    assert (found.counts if found else None) == brute_force(ml, DRAWERS["us"], Fraction(1, 20))


@given(st.fractions(min_value=Fraction(1, 10), max_value=900, max_denominator=1000),
       st.sampled_from([DRAWERS["us"], DRAWERS["au"], WIDE]))
def test_what_is_found_keeps_the_bounds(ml: Fraction, drawer: tuple[Scoop, ...]) -> None:
    found = scoops(ml, drawer)
    if found is not None:
        filled = sum((n * scoop.ml for n, scoop in zip(found.counts, drawer, strict=True)), Fraction(0))
        assert filled - ml == found.error_ml
        assert abs(found.error_ml) <= ml / 20
        assert sum(found.counts) <= MOST_SCOOPS
        assert sum(1 for n in found.counts if n) <= MOST_KINDS


@pytest.mark.parametrize(("ml", "system", "words", "error"), [
    ("7.4", "us", "1 1/2 tsp", -0.001), ("25", "us", "1 tbsp + 2 tsp", -0.014), ("25", "au", "1 tbsp + 1 tsp", 0.0),
    ("75", "us", "1/4 cup + 1 tbsp", -0.014),
    ("100", "us", "1/3 cup + 1 tbsp + 1 tsp", -0.014), ("100", "au", "1/3 cup + 1 tbsp", 0.0),
    ("150", "us", "1/2 cup + 2 tbsp", -0.014),
    ("200", "us", "1/2 + 1/3 cup", -0.014), ("300", "us", "1 1/4 cups", -0.014),
    ("18", "us", "1 tbsp + 1/2 tsp", -0.042), ("250", "metric", "1 cup", 0.0),
    ("80", "metric", "1/3 cup", 0.0), ("60", "au", "1/4 cup", 0.0), ("30", "uk", "2 tbsp", 0.0),
    ("200", "jp", "1 cup", 0.0)])
def test_choices_worked_out_by_hand(ml: str, system: str, words: str, error: float) -> None:
    """The measures that the New South Wales chart and common practice give a drawer."""
    found = scoops(Fraction(ml), DRAWERS[system])
    assert found is not None
    assert written(found.counts, DRAWERS[system]) == words
    assert float(found.error_ml / Fraction(ml)) == pytest.approx(error, abs=6e-4)


def test_between_half_and_three_quarters_of_a_teaspoon_nothing_fits() -> None:
    """3.0 ml: half a teaspoon is 18 % under, three quarters 23 % over."""
    assert scoops(Fraction(3), DRAWERS["us"]) is None
    close = nearest(Fraction(3), DRAWERS["us"])
    assert close is not None
    assert written(close.counts, DRAWERS["us"]) == "1/2 tsp"
    assert float(close.error_ml / 3) == pytest.approx(-0.1785, abs=1e-3)


def test_five_percent_is_always_reached_from_two_and_a_half_teaspoons_up() -> None:
    """With a quarter teaspoon the error is at most an eighth."""
    for tenths in range(124, 600):
        assert scoops(Fraction(tenths, 10), DRAWERS["us"], Fraction(1, 20)) is not None


def test_under_half_the_smallest_measure_there_is_no_spoon() -> None:
    assert nearest(Fraction(1, 2), DRAWERS["us"]) is None


def test_a_kitchens_own_set() -> None:
    drawer = drawer_of(("1 tsp", "1 cup", "10 ml", "1/8 tsp", "1 Australian tbsp"))
    assert [scoop.ml for scoop in drawer] == sorted((scoop.ml for scoop in drawer), reverse=True)
    found = scoops(Fraction(30), drawer)
    assert found is not None
    assert written(found.counts, drawer) == "1 Australian tbsp + 10 ml"


@pytest.mark.parametrize("words", ["60 g", "1-2 tbsp", "1 heaping tbsp", "a pinch", "0 tsp", "1 spoon", "to taste"])
def test_what_is_no_measure_of_a_drawer(words: str) -> None:
    with pytest.raises(AmountError):
        drawer_of((words,))


def test_two_eighths_are_no_quarter_where_the_drawer_has_none() -> None:
    drawer = drawer_of(("1 tsp", "1/8 tsp"))
    assert written((1, 2), drawer) == "1 + 1/8 + 1/8 tsp"
    assert written((0, 3), drawer_of(("1 tsp", "1/4 tsp"))) == "3/4 tsp"
