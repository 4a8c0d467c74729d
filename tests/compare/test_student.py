"""Student's t and Welch's test against scipy (general-purpose reference library)."""

from __future__ import annotations

from math import atan, pi

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from scipy import stats

from cookbook.compare.judging import Day, gap
from cookbook.compare.student import cdf, incomplete_beta, quantile

FREEDOM = st.floats(1.0, 60.0)


@given(st.floats(-40, 40), FREEDOM)
def test_distribution_agrees_with_scipy(t: float, freedom: float) -> None:
    """scipy itself rounds t below about 1e-8 to nought (1e-9 at one degree of freedom is 0.5 + 3.2e-10)."""
    assume(t == 0 or abs(t) > 1e-7)
    assert cdf(t, freedom) == pytest.approx(float(stats.t.cdf(t, freedom)), abs=1e-10)


@given(st.floats(-1e-6, 1e-6))
def test_near_nought_it_is_the_cauchy_distribution_at_one_degree_of_freedom(t: float) -> None:
    """Closed form: 1/2 + arctan(t) / π."""
    assert cdf(t, 1.0) == pytest.approx(0.5 + atan(t) / pi, abs=1e-15)


@given(st.floats(0.01, 0.99), FREEDOM)
def test_quantile_agrees_with_scipy(chance: float, freedom: float) -> None:
    assert quantile(chance, freedom) == pytest.approx(float(stats.t.ppf(chance, freedom)), rel=1e-7, abs=1e-8)


@given(st.floats(0.5, 30), st.floats(0.5, 30), st.floats(0, 1))
def test_incomplete_beta_agrees_with_scipy(a: float, b: float, x: float) -> None:
    assert incomplete_beta(a, b, x) == pytest.approx(float(stats.beta.cdf(x, a, b)), abs=1e-10)


SCORES = st.lists(st.integers(0, 20).map(lambda n: n / 2), min_size=2, max_size=8)


@given(SCORES, SCORES)
def test_the_gap_of_two_groups_is_students_test_of_scipy(one: list[float], two: list[float]) -> None:
    """Where the scores scatter by more than the half point that they are written in."""
    assume(len(set(one)) > 1 and len(set(two)) > 1)
    spread = ((len(one) - 1) * stats.tvar(one) + (len(two) - 1) * stats.tvar(two)) / (len(one) + len(two) - 2)
    assume(spread > 0.25)
    theirs = stats.ttest_ind(two, one, equal_var=True)
    found = gap([Day(value, 0) for value in one] + [Day(value, 1) for value in two], 0, 1, "points")
    assert found is not None
    assert found.estimate / found.error == pytest.approx(float(theirs.statistic), rel=1e-9, abs=1e-9)
    assert 1 - found.chance_above() == pytest.approx(
        float(stats.ttest_ind(two, one, equal_var=True, alternative="greater").pvalue), rel=1e-6, abs=1e-9
    )
    low, high = theirs.confidence_interval(0.8)
    assert found.interval(0.8) == pytest.approx((float(low), float(high)), rel=1e-6, abs=1e-9)


def test_printed_percentage_points() -> None:
    """Abramowitz and Stegun, table 26.10: t for two-tailed 0.95 with 5, 10 and 30 degrees of freedom."""
    assert [round(quantile(0.975, n), 3) for n in (5, 10, 30)] == [2.571, 2.228, 2.042]
