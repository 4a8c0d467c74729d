"""Least squares against numpy and scipy (general-purpose reference libraries)."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from cookbook.compare.linear import fit, inverse

NUMBER = st.integers(-40, 40).map(lambda n: n / 4)


@given(st.lists(st.tuples(NUMBER, NUMBER), min_size=3, max_size=12))
def test_a_slope_and_its_doubt_are_those_of_scipy(points: list[tuple[float, float]]) -> None:
    xs, ys = zip(*points, strict=True)
    assume(max(xs) - min(xs) >= 1 and len(set(ys)) > 1)
    found = fit([[1.0, x] for x in xs], ys)
    theirs = stats.linregress(xs, ys)
    assert found is not None
    slope, share = found.contrast([0.0, 1.0])
    assert slope == pytest.approx(float(theirs.slope), abs=1e-9)
    error = (found.spread or 0.0) * share**0.5
    assert error == pytest.approx(float(theirs.stderr), abs=1e-6)


@given(st.lists(st.lists(NUMBER, min_size=3, max_size=3), min_size=3, max_size=3))
def test_the_inverse_is_that_of_numpy(matrix: list[list[float]]) -> None:
    assume(abs(float(np.linalg.det(np.array(matrix)))) > 1)
    found = inverse(matrix)
    assert found is not None
    assert np.allclose(np.array(found), np.linalg.inv(np.array(matrix)), atol=1e-9)


def test_two_columns_that_say_the_same_have_no_fit() -> None:
    assert fit([[1.0, 2.0], [1.0, 2.0], [1.0, 2.0]], [1.0, 2.0, 3.0]) is None


def test_as_many_values_as_columns_leave_no_spread() -> None:
    found = fit([[1.0, 0.0], [0.0, 1.0]], [3.0, 5.0])
    assert found is not None
    assert found.spread is None
