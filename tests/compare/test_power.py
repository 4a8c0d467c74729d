"""What it takes to tell a difference, against scipy's noncentral t (general-purpose reference library)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from cookbook.compare.power import cooks_to_tell, noncentral_above, power


@given(st.floats(0.2, 6), st.integers(1, 60), st.floats(0, 4))
def test_the_noncentral_tail_agrees_with_scipy(t: float, freedom: int, shift: float) -> None:
    assert noncentral_above(t, freedom, shift) == pytest.approx(float(stats.nct.sf(t, freedom, shift)), abs=1e-6)


@pytest.mark.parametrize(("cooks", "gap"), [(3, 2.0), (4, 1.5), (8, 1.0), (17, 1.0), (40, 0.5)])
def test_power_agrees_with_scipy(cooks: int, gap: float) -> None:
    freedom = 2 * cooks - 2
    theirs = stats.nct.sf(stats.t.ppf(0.975, freedom), freedom, gap * (cooks / 2) ** 0.5)
    assert power(cooks, gap) == pytest.approx(float(theirs), abs=1e-6)


def test_printed_sample_sizes() -> None:
    """Cohen, Statistical Power Analysis (1988), table 2.4.1: 17 a side at d = 1.0 and 26 at 0.8, for 80 % power at
    two-sided 0.05 (from memory)."""
    assert (cooks_to_tell(1.0, 1.0), cooks_to_tell(0.8, 1.0)) == (17, 26)


def test_steadier_cooks_need_fewer() -> None:
    found = [cooks_to_tell(1.0, spread) for spread in (0.2, 0.5, 0.8, 1.2)]
    assert found == sorted(found, key=lambda cooks: cooks or 99)
    assert found[0] == 3


def test_a_hopeless_difference_says_so() -> None:
    assert cooks_to_tell(0.1, 1.0) is None
