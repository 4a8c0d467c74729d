"""Component properties against values computed from the printed table (ASHRAE 2006 chapter 9) in a second place."""

from __future__ import annotations

import pytest

from cookbook.heat.matter import bulk, component, matter_of

DENSITY_20 = {"water": 995.740, "protein": 1319.532, "fat": 917.239, "ash": 2418.187}
K_20 = {"water": 0.6037, "protein": 0.2016, "fat": 0.1751, "ash": 0.3565}
CP_60 = {"water": 4.143, "protein": 2.076, "fat": 2.055, "ash": 1.193}


@pytest.mark.parametrize("name", DENSITY_20)
def test_densities_at_20_agree_with_a_third_public_file(name: str) -> None:
    assert component(name, "rho", 20.0) == pytest.approx(DENSITY_20[name], abs=0.003)


@pytest.mark.parametrize("name", K_20)
def test_conductivities_at_20_and_heats_at_60_agree_to_the_printed_digits(name: str) -> None:
    assert component(name, "k", 20.0) == pytest.approx(K_20[name], abs=6e-5)
    assert component(name, "cp", 60.0) == pytest.approx(CP_60[name], abs=6e-4)


# ASHRAE table 3, cp above freezing kJ/(kg K), read in two public product lists.
@pytest.mark.parametrize(("meat", "cp"), [
    ((0.5518, 0.1694, 0.2654, 0.0080), 3.19), ((0.5454, 0.1637, 0.2698, 0.0077), 3.16),
    ((0.7083, 0.2203, 0.0489, 0.0107), 3.52), ((0.7040, 0.2042, 0.0802, 0.0088), 3.53)])
def test_heat_of_whole_cuts_is_the_printed_one_within_one_and_a_half_per_cent(
        meat: tuple[float, float, float, float], cp: float) -> None:
    total = sum(meat)
    scaled = (meat[0] / total, meat[1] / total, meat[2] / total, meat[3] / total)
    assert bulk(scaled, 5.0)[2] / 1000 == pytest.approx(cp, rel=0.015)


def test_lean_meat_conducts_between_four_and_six_tenths_and_weighs_a_little_more_than_water() -> None:
    lean = matter_of({"water": 72.0, "protein": 22.0, "fat": 5.0, "ash": 1.0})
    k, rho, _ = bulk(lean.fractions, 30.0)
    assert 0.4 < k < 0.6
    assert 1040 < rho < 1070
    assert lean.density_kg_m3 > rho
