"""Conduction against exact series (Carslaw and Jaeger; roots by scipy) and textbook cases."""

from __future__ import annotations

import numpy as np
import pytest

from cookbook.heat import conduction
from cookbook.heat.body import Body, box, ellipsoid, prism
from cookbook.heat.check import linear_rate, march
from cookbook.heat.grid import graph_of
from tests.external.heat_series import exact, time_to

K, HEAT, H, START, AIR = 0.48, 3.6e6, 16.0, 5.0, 121.0
BODIES = [
    ("Slab", (0.1,)), ("Cylinder", (0.12,)), ("Sphere", (0.17,)), ("FiniteCylinder", (0.14, 0.24)),
    ("Brick", (0.4, 0.24, 0.07)), ("Brick", (0.22, 0.18, 0.12)),
]


def _late(shape: str, size_m: tuple[float, ...], core_c: float, cells: int | None = None) -> float:
    """Relative error of the time to a core temperature."""
    truth = time_to(exact(shape, size_m, H / K, K / HEAT), (AIR - core_c) / (AIR - START))
    times = np.linspace(0.97 * truth, 1.03 * truth, 25)
    cores = conduction(shape, size_m, K, 3600.0, 1000.0, H, START, AIR, times.tolist(), cells)
    return float(np.interp(core_c, cores, times)) / truth - 1.0


@pytest.mark.parametrize(("shape", "size_m"), BODIES)
@pytest.mark.parametrize("core_c", [49.0, 63.0])
def test_simple_bodies_reach_49_and_63_within_two_tenths_of_a_per_cent_by_default(
        shape: str, size_m: tuple[float, ...], core_c: float) -> None:
    assert abs(_late(shape, size_m, core_c)) < 0.002


def test_halving_the_cells_quarters_the_error_of_a_sphere() -> None:
    errors = [abs(_late("Sphere", (0.17,), 49.0, cells)) for cells in (6, 12, 24)]
    rates = [np.log2(errors[0] / errors[1]), np.log2(errors[1] / errors[2])]
    assert rates == pytest.approx([2.0, 2.0], abs=0.4)


CUT = [
    (prism(0.07, 0.07, 0.24), "FiniteCylinder", (0.14, 0.24)), (ellipsoid(0.085, 0.085, 0.085), "Sphere", (0.17,)),
    (box(0.24, 0.4, 0.07), "Brick", (0.4, 0.24, 0.07)), (box(0.18, 0.22, 0.12), "Brick", (0.22, 0.18, 0.12)),
]


@pytest.mark.parametrize(("body", "shape", "size_m"), CUT)
@pytest.mark.parametrize(("step_m", "within"), [(0.008, 0.007), (0.0045, 0.002)])
def test_cut_cells_of_a_roast_reach_49_and_63_in_time(
        body: Body, shape: str, size_m: tuple[float, ...], step_m: float, within: float) -> None:
    graph = graph_of(body, step_m)
    rate, euler_s = linear_rate(graph, K, HEAT, H, AIR)
    for core_c in (49.0, 63.0):
        truth = time_to(exact(shape, size_m, H / K, K / HEAT), (AIR - core_c) / (AIR - START))
        times = np.linspace(0.98 * truth, 1.02 * truth, 5).tolist()
        found = float(np.interp(core_c, march(graph, rate, euler_s, START, times, steps=120), times))
        assert abs(found / truth - 1.0) < within


# Textbook cases: Cengel Ex. 4-3 (egg, memory and full series), 4-5 (shaft, one term); exact brick series.
def test_an_egg_of_50_mm_is_at_70_after_fourteen_minutes() -> None:
    core = conduction("Sphere", (0.05,), 0.627, 0.627 / 0.151e-6 / 1000, 1000.0, 1200.0, 5.0, 95.0, [14.36 * 60])
    assert core[0] == pytest.approx(70.0, abs=0.1)


def test_a_steel_shaft_cools_as_the_one_term_solution_says() -> None:
    core = conduction("Cylinder", (0.2,), 14.9, 14.9 / 3.95e-6 / 500, 500.0, 80.0, 600.0, 200.0, [45 * 60])
    assert core[0] == pytest.approx(364.3, abs=0.7)


@pytest.mark.parametrize(("ratios", "biot", "minutes"), [
    ((1.3, 2.0), 2.0, (113.1, 167.0, 242.5)), ((1.3, 2.0), 5.0, (87.9, 126.9, 181.0)),
    ((1.0, 1.0), 1.0, (100.5, 151.9, 227.7)), ((2.0, 4.0), 3.0, (121.4, 187.2, 280.0))])
def test_bricks_of_50_mm_half_thickness_follow_the_exact_series(
        ratios: tuple[float, float], biot: float, minutes: tuple[float, ...]) -> None:
    size_m = (0.1 * ratios[1], 0.1 * ratios[0], 0.1)
    times = [60 * minute for minute in minutes]
    found = conduction("Brick", size_m, 0.47, 3700.0, 1000.0, biot * 0.47 / 0.05, 1.0, 0.0, times)
    assert found == pytest.approx([0.7, 0.5, 0.3], abs=0.002)


def test_a_roast_taken_as_a_sphere_reaches_77_when_the_full_series_says() -> None:
    # Kreith's roast: 1.5 kg, rho 1000, cp 4000, k 0.5, h 18, 20 to 77 °C in 163 °C; full series 132.8 min.
    diameter = 2 * (3 * 1.5 / 1000 / (4 * np.pi)) ** (1 / 3)
    core = conduction("Sphere", (float(diameter),), 0.5, 1000.0, 4000.0, 18.0, 20.0, 163.0, [132.8 * 60])
    assert core[0] == pytest.approx(77.0, abs=0.15)
