"""Exact binomial tails and limits against scipy (general-purpose reference library)."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from cookbook.compare.binomial import at_least, limits

COUNTS = st.integers(1, 60).flatmap(lambda of: st.tuples(st.integers(0, of), st.just(of)))


@given(COUNTS, st.sampled_from([Fraction(1, 3), Fraction(1, 2)]))
def test_tails_agree_with_scipy(counts: tuple[int, int], chance: Fraction) -> None:
    hits, of = counts
    assert at_least(hits, of, chance) == pytest.approx(float(stats.binom.sf(hits - 1, of, float(chance))), rel=1e-9)


@given(COUNTS)
def test_limits_agree_with_scipy(counts: tuple[int, int]) -> None:
    """Clopper and Pearson."""
    theirs = stats.binomtest(*counts).proportion_ci(0.95, method="exact")
    assert limits(*counts) == pytest.approx((float(theirs.low), float(theirs.high)), abs=1e-7)
