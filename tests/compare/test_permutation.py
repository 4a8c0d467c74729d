"""The exact permutation test against scipy and against printed small examples."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats

from cookbook.compare.permutation import permutation, splits

SCORES = st.lists(st.integers(0, 20).map(lambda n: n / 2), min_size=2, max_size=5)


def gap(one: np.ndarray, two: np.ndarray, axis: int) -> np.ndarray:
    """Mean of the second minus mean of the first."""
    found: np.ndarray = np.mean(two, axis=axis) - np.mean(one, axis=axis)
    return found


@given(SCORES, SCORES)
@settings(max_examples=40)
def test_both_sides_agree_with_scipy(one: list[float], two: list[float]) -> None:
    found = permutation(one, two)
    assert found is not None
    for share, side in zip(found, ("greater", "less"), strict=True):
        theirs = stats.permutation_test(
            (one, two), gap, vectorized=True, n_resamples=np.inf, alternative=side, permutation_type="independent"
        )
        assert share == pytest.approx(float(theirs.pvalue))


def test_three_and_three_fully_apart_is_one_in_twenty() -> None:
    """20 splits, one of them as far apart: the least that three cooks a side can give."""
    assert permutation([5, 6, 6.5], [8, 8.5, 9]) == pytest.approx((1 / 20, 1.0))


def test_recovery_times_of_a_printed_example() -> None:
    """Ernst, Permutation Methods, Statistical Science 19 (2004): new 19 22 25 26, old 23 33 40; 3 of 35 splits as low
    (from memory)."""
    found = permutation([23, 33, 40], [19, 22, 25, 26])
    assert found is not None
    assert found[1] == pytest.approx(3 / 35)


def test_mice_of_a_printed_example() -> None:
    """Efron and Tibshirani, An Introduction to the Bootstrap (1993), table 2.1, chapter 15: 7 treated, 9 control;
    132 of 1000 random permutations as high, so the exact share is within three times 0.0107 (from memory)."""
    treated = [94, 197, 16, 38, 99, 141, 23]
    control = [52, 104, 146, 10, 51, 30, 40, 27, 46]
    found = permutation(control, treated)
    assert found is not None
    assert found[0] == pytest.approx(0.132, abs=0.033)


def test_many_cooks_are_left_to_students_t() -> None:
    assert splits(8, 8) == 12870
    assert permutation([1.0] * 10, [2.0] * 10) is None
