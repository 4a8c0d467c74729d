"""Critical numbers of blind tastings: the printed tables, and the exact binomial distribution of scipy behind them.

The tables of ISO 4120 (triangle, one-sided 0.05) and ISO 5495 (paired, two-sided 0.05) were not read; their numbers
stand here from memory (memory: true), so each is also derived from scipy.stats.binom.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from scipy import stats

from cookbook.compare.binomial import critical, power

TRIANGLE = {
    6: 5, 7: 5, 8: 6, 9: 6, 10: 7, 11: 7, 12: 8, 13: 8, 14: 9, 15: 9, 16: 9, 17: 10, 18: 10, 19: 11, 20: 11, 21: 12,
    22: 12, 23: 12, 24: 13, 25: 13, 26: 14, 27: 14, 28: 15, 29: 15, 30: 15,
}  # fmt: skip
PAIRED = {
    6: 6,
    7: 7,
    8: 8,
    9: 8,
    10: 9,
    11: 10,
    12: 10,
    13: 11,
    14: 12,
    15: 12,
    16: 13,
    17: 13,
    18: 14,
    19: 15,
    20: 15,
}
CASES = [("triangle", n, k) for n, k in TRIANGLE.items()] + [("paired", n, k) for n, k in PAIRED.items()]


@pytest.mark.parametrize(("test", "tasters", "printed"), CASES)
def test_critical_numbers_are_those_of_the_tables_and_of_the_exact_distribution(
    test: str, tasters: int, printed: int
) -> None:
    chance, sides = (Fraction(1, 3), 1) if test == "triangle" else (Fraction(1, 2), 2)
    theirs = next(k for k in range(tasters + 1) if stats.binom.sf(k - 1, tasters, float(chance)) <= 0.05 / sides)
    assert critical(tasters, chance, sides=sides) == theirs == printed


@pytest.mark.parametrize("tasters", range(3, 120, 7))
def test_power_is_that_of_the_exact_distribution(tasters: int) -> None:
    needed = critical(tasters, Fraction(1, 3))
    assert needed is not None
    theirs = float(stats.binom.sf(needed - 1, tasters, 2 / 3))
    assert power(tasters, Fraction(1, 3), 2 / 3) == pytest.approx(theirs, rel=1e-9)


@pytest.mark.parametrize("tasters", [1, 2, 3, 4, 5])
def test_too_few_for_any_preference(tasters: int) -> None:
    assert critical(tasters, Fraction(1, 2), sides=2) is None
