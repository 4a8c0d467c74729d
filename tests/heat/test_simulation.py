"""Laws of the solver: energy, symmetry, scale, the surface's limits, phases."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cookbook.heat.body import ellipsoid, prism, rounded_box
from cookbook.heat.check import linear_rate
from cookbook.heat.course import Course, middle_of, pull_minutes, run
from cookbook.heat.doubt import minutes_of
from cookbook.heat.grid import graph_of
from cookbook.heat.network import Network, legendre_step, stages_for
from cookbook.heat.prior import draw, members_of, priors
from cookbook.heat.roast import cells_of, roast_of
from cookbook.heat.setting import Cooker, Rest, Wrap, phases_of
from cookbook.heat.simulate import holding
from cookbook.heat.surface import Air, balance, let_through, saturation_pa
from cookbook.meat import Cut

MEAT = {"water": 0.6, "protein": 0.18, "fat": 0.21, "ash": 0.01}


def test_energy_of_the_linear_case_closes_to_a_billionth() -> None:
    graph = graph_of(prism(0.06, 0.09, 0.2), 0.01)
    rate, euler_s = linear_rate(graph, 0.48, 3.6e6, 16.0, 121.0)
    loss = np.bincount(graph.face_cell, graph.face_m2 / (1 / 16.0 + graph.face_depth_m / 0.48), graph.cells)
    temp, taken = np.full((graph.cells, 1), 5.0), 0.0
    step = 0.5 * euler_s
    for _ in range(300):
        taken += step * float(loss @ (121.0 - temp[:, 0]))
        temp = temp + step * rate(temp)
    held = 3.6e6 * float(graph.volume_m3 @ (temp[:, 0] - 5.0))
    assert held == pytest.approx(taken, rel=1e-9)


def test_the_stabilised_step_is_of_second_order() -> None:
    def rate(temp: np.ndarray) -> np.ndarray:
        return -temp

    errors = []
    for count in (10, 20, 40):
        temp = np.ones((1, 1))
        for _ in range(count):
            temp = legendre_step(rate, temp, 1.0 / count, 3)
        errors.append(abs(float(temp[0, 0]) - np.exp(-1.0)))
    assert np.log2(errors[0] / errors[1]) == pytest.approx(2.0, abs=0.2)
    assert np.log2(errors[1] / errors[2]) == pytest.approx(2.0, abs=0.2)
    assert stages_for(100.0, 10.0) >= 6


def test_one_column_and_many_see_the_same_flow() -> None:
    graph = graph_of(ellipsoid(0.05, 0.08, 0.04), 0.01)
    warmth = np.random.default_rng(1).random((graph.cells, 1))
    one = Network(graph).inflow(warmth)
    many = Network(graph).inflow(np.repeat(warmth, 20, axis=1))
    assert many[:, :1] == pytest.approx(one, abs=1e-12)
    assert float(one.sum()) == pytest.approx(0.0, abs=1e-12)


def test_a_quarter_body_with_equal_top_and_bottom_is_the_octant_twice() -> None:
    body = rounded_box(0.2, 0.3, 0.08, 0.03)
    octant, quarter = graph_of(body, 0.0125), graph_of(body, 0.0125, whole="z")
    assert quarter.area_m2 == pytest.approx(octant.area_m2, rel=1e-9)
    assert quarter.copies * 2 == octant.copies


def test_left_and_right_that_are_alike_give_the_half_again() -> None:
    body = prism(0.08, 0.06, 0.2, 2.4)
    half, whole = graph_of(body, 0.0125), graph_of(body, 0.0125, whole="x")
    assert whole.area_m2 == pytest.approx(half.area_m2, rel=1e-9)
    assert float(whole.volume_m3.sum()) == pytest.approx(2 * float(half.volume_m3.sum()), rel=1e-9)
    alike, sided = (roast_of(body, MEAT)._replace(side_k=side_k) for side_k in (0.0, 1e-9))
    assert _minutes(sided) == pytest.approx(_minutes(alike), rel=1e-4)


@given(side_k=st.floats(2.0, 40.0))
@settings(max_examples=8, deadline=None)
def test_a_hot_side_moves_the_zones_and_hardly_the_time(side_k: float) -> None:
    even = roast_of(prism(0.08, 0.06, 0.2), MEAT)
    sided = even._replace(side_k=side_k)
    cells, members = cells_of(sided, 0.0125), middle_of(members_of(draw(2, 0), priors()))
    done = run(cells, sided, members, _course())
    assert float(pull_minutes(done, _course())[0]) == pytest.approx(_minutes(even), rel=0.01)
    across, hottest = cells.graph.centre_m[:, 0], done.highest_c[:, 0]
    volume = cells.graph.volume_m3
    right, left = (float(np.average(hottest[half], weights=volume[half])) for half in (across > 0, across < 0))
    assert 0.1 * side_k < right - left < side_k


def test_a_fat_cap_on_top_alone_speeds_the_cook() -> None:
    body = prism(0.08, 0.06, 0.2)
    bare = roast_of(body, MEAT, wet=0.8)
    capped = roast_of(body, MEAT, wet=0.8, covered={"top": 0.1})
    assert _minutes(capped) < _minutes(bare)


def _course(pull_c: float = 55.0, pit_c: float = 121.0) -> Course:
    phases, pulled, before = phases_of(Cooker("oven"), pull_c)
    return Course(phases, pulled, before, np.array([0.0, 1e6]), np.array([pit_c, pit_c]))


def _minutes(roast: object, count: int = 1) -> float:
    members = members_of(draw(max(count, 2), 0), priors())
    cells = cells_of(roast, 0.0125)  # type: ignore[arg-type]
    return float(pull_minutes(run(cells, roast, middle_of(members), _course()), _course())[0])  # type: ignore[arg-type]


def test_single_and_double_precision_agree() -> None:
    roast = roast_of(prism(0.08, 0.06, 0.2), MEAT)
    members = members_of(draw(20, 0), priors())
    cells = cells_of(roast, 0.0125)
    many = pull_minutes(run(cells, roast, members, _course()), _course())
    alone = pull_minutes(run(cells, roast, middle_of(members), _course()), _course())
    assert many[0] == pytest.approx(alone[0], rel=2e-3)


def test_twice_the_size_takes_between_two_and_four_times_as_long() -> None:
    small, big = (_minutes(roast_of(prism(0.04 * f, 0.03 * f, 0.1 * f), MEAT)) for f in (1.0, 2.0))
    assert 2.0 < big / small < 4.0


def test_a_brisket_slows_in_the_high_sixties() -> None:
    roast = roast_of(ellipsoid(0.135, 0.215, 0.0435), MEAT, wet=0.6)
    course = _course(93.0, 110.0)
    done = run(cells_of(roast, 0.0125), roast, middle_of(members_of(draw(2, 0), priors())), course)
    core, minute = done.core_c[:, 0], done.time_s / 60
    climb = np.argmax(core >= 40.0), np.argmax(core >= 55.0), np.argmax(core >= 65.0), np.argmax(core >= 75.0)
    early = 15.0 / (minute[climb[1]] - minute[climb[0]])
    stall = 10.0 / (minute[climb[3]] - minute[climb[2]])
    assert stall < 0.5 * early
    assert 60 * stall < 8.0


def _air(pit_c: float, evaporation: float = 1.0) -> Air:
    return Air(*(np.array([value]) for value in (pit_c, 8.0, 0.9, evaporation, 1900.0)))


# Pseudo-wet-bulb with radiation at 107 °C, W 0.012 (1.9 kPa), h_c 6 and 12: 47 and 43 °C, computed in a second place.
@pytest.mark.parametrize(("h", "wet_bulb_c"), [(6.0, 47.0), (12.0, 43.0)])
def test_a_wet_surface_without_flow_inwards_sits_at_its_wet_bulb(h: float, wet_bulb_c: float) -> None:
    air = _air(107.0)._replace(h=np.array([h]))
    one = np.ones((1, 1))
    flux = balance(one * 50.0, one * 50.0, one * 1e-6, one, one, np.zeros(1), one, air=air, rounds=30)
    assert float(flux.surface_c[0, 0]) == pytest.approx(wet_bulb_c, abs=1.5)


def test_a_dry_surface_without_flow_inwards_takes_the_temperature_of_the_air() -> None:
    one = np.ones((1, 1))
    dry = 0.0 * one
    flux = balance(one * 50.0, one * 50.0, one * 1e-6, dry, one, np.zeros(1), one, air=_air(107.0), rounds=30,
                   boiling_c=np.inf)
    assert float(flux.surface_c[0, 0]) == pytest.approx(107.0, abs=0.01)
    assert float(flux.water[0, 0]) == 0.0


def test_wet_meat_stops_at_boiling_and_what_comes_in_beyond_boils_off() -> None:
    one = np.ones((1, 1))
    inward = 25.0 * one
    flux = balance(one * 90.0, one * 90.0, inward, 0.01 * one, one, np.zeros(1), one, air=_air(230.0), rounds=30)
    assert float(flux.surface_c[0, 0]) == 100.0
    assert float(flux.heat[0, 0]) == pytest.approx(250.0)
    arriving = 8.0 * 130.0 + 0.9 * 5.670374e-8 * (503.15 ** 4 - 373.15 ** 4)
    assert float(flux.water[0, 0]) * 2.35e6 == pytest.approx(arriving - 250.0)


# Stefan's flow (textbook form, memory): P ln((P - p_a) / (P - p_s)) against p_s - p_a, with p_s over water from steam
# tables (memory): 12.35, 47.4 and 84.6 kPa at 50, 80 and 95 °C; p_a 1.9 kPa.
@pytest.mark.parametrize(("surface_c", "pressure_pa"), [(50.0, 12_350.0), (80.0, 47_400.0), (95.0, 84_600.0)])
def test_vapour_that_leaves_drives_itself_on(surface_c: float, pressure_pa: float) -> None:
    one = np.ones((1, 1))
    held = surface_c * one
    water = float(balance(held, held, 1e9 * one, one, one, np.zeros(1), one, air=_air(107.0), rounds=1).water[0, 0])
    driven = 101325.0 * np.log((101325.0 - 1900.0) / (101325.0 - pressure_pa))
    assert water == pytest.approx(0.622 * 8.0 / (1007.0 * 0.87 * 101325.0) * driven, rel=0.02)
    assert water > 0.622 * 8.0 / (1007.0 * 0.87 * 101325.0) * (pressure_pa - 1900.0)


def test_a_crust_keeps_heat_out() -> None:
    one = np.ones((1, 1))
    none, some, thick = (float(let_through(dried * one, 80.0 * one, _air(163.0))[0, 0]) for dried in (0.0, 1.0, 4.0))
    assert none == 1.0
    assert 1.0 > some > thick > 0.6
    # 0.6 mm of solids at 0.2 W/(m K) for a kilogram dried; convection 8, radiation at the mean of 80 and 163 °C
    assert 1.0 / some - 1.0 == pytest.approx((8.0 + 4 * 0.9 * 5.670374e-8 * 394.65 ** 3) * 0.0006 / 0.2)
    bare, crusted = (float(balance(one * 60.0, one * 60.0, 25.0 * one, 0.2 * one, one, np.zeros(1), heat * one,
                                   air=_air(163.0), rounds=30).heat[0, 0]) for heat in (none, thick))
    assert 0.5 * bare < crusted < 0.95 * bare


def test_steam_at_100_has_the_pressure_of_the_atmosphere() -> None:
    assert float(saturation_pa(np.array(100.0))) == pytest.approx(101325.0, rel=0.005)


@settings(max_examples=12, deadline=None)
@given(st.floats(0.03, 0.08), st.floats(0.03, 0.08), st.floats(0.08, 0.3), st.floats(80.0, 200.0))
def test_the_core_of_any_roast_stays_between_its_start_and_its_pit(
        a: float, b: float, c: float, pit_c: float) -> None:
    roast = roast_of(prism(a, b, c), MEAT)
    done = run(cells_of(roast, 0.015), roast, middle_of(members_of(draw(2, 0), priors())), _course(50.0, pit_c))
    assert float(done.core_c.min()) > 0 - 2.0
    assert float(done.core_c.max()) < pit_c


def test_what_is_lost_without_evaporation_is_the_water_that_hot_meat_cannot_hold() -> None:
    roast = roast_of(prism(0.03, 0.03, 0.06), MEAT, wet=0.0)
    members = middle_of(members_of(draw(2, 0), priors()))._replace(hold_s=np.ones(1))
    course = _course(80.0, 120.0)
    done = run(cells_of(roast, 0.01), roast, members, course)
    lost = float(done.loss_end[course.pulled, 0]) / roast.matter.water
    assert float(holding(np.array(78.0))) < lost < 0.31
    slow = run(cells_of(roast, 0.01), roast, members._replace(hold_s=np.full(1, 1e8)), course)
    assert float(slow.loss_end[course.pulled, 0]) < 0.01


@pytest.mark.parametrize("pulls_c", [(50.0, 52.0, 58.0), (50.0, 50.1, 50.2)])
def test_a_branch_at_a_pull_is_the_roast_that_was_pulled_there(pulls_c: tuple[float, ...]) -> None:
    """Also where several pulls are passed in one step."""
    roast = roast_of(ellipsoid(0.05, 0.1, 0.05), MEAT)
    cells = cells_of(roast, 0.02)
    members = members_of(draw(5, 1), priors())

    def laid(pull_c: float) -> Course:
        phases, pulled, before = phases_of(Cooker("kettle"), pull_c, rest=Rest(20, "tented"), standing_min=30)
        return Course(phases, pulled, before, np.zeros(1), np.full(1, 130.0))

    many = run(cells, roast, members, laid(pulls_c[-1]), step_s=60.0, pulls_c=np.array(pulls_c))
    for place, pull_c in enumerate(pulls_c):
        own, column = run(cells, roast, members, laid(pull_c), step_s=60.0), slice(place, None, len(pulls_c))
        for got, wanted in ((many.ended_s[:, column], own.ended_s), (many.peak_c[column], own.peak_c),
                            (many.loss_end[:, column], own.loss_end), (many.highest_c[:, column], own.highest_c)):
            assert got == pytest.approx(wanted, rel=2e-3)
        row = int(own.ended_s[0].min() // 60)
        assert many.core_c[:row, column] == pytest.approx(own.core_c[:row], abs=0.02)
        rested = int(own.ended_s[0].max() // 60) + 4
        assert many.surface_c[:rested, column] == pytest.approx(own.surface_c[:rested], abs=0.2)


def test_meat_that_comes_off_a_hot_fire_has_its_new_surface_in_the_same_step() -> None:
    """Off 230 °C its surface falls by 13 K at once, and by less than 2.5 K in the next minute."""
    phases, pulled, before = phases_of(Cooker("kettle"), 50.0, rest=Rest(20, "tented"))
    course = Course(phases, pulled, before, np.zeros(1), np.full(1, 230.0))
    roast = roast_of(ellipsoid(0.05, 0.1, 0.05), MEAT)
    done = run(cells_of(roast, 0.02), roast, members_of(draw(5, 1), priors()), course, step_s=60.0)
    for member, ended_s in enumerate(done.ended_s[pulled]):
        row = int(ended_s // 60)
        last, first, second = done.surface_c[row + 1:row + 4, member]
        assert last - first > 10.0
        assert 0.0 < first - second < 2.5


@pytest.mark.parametrize("wrap", [None, Wrap("foil", 50.0), Wrap("paper", 50.0)])
def test_cookers_in_one_run_cook_as_each_does_in_its_own(wrap: Wrap | None) -> None:
    """In a wrap its own convection rules, whatever the cooker."""
    cookers, cut = [Cooker("oven"), Cooker("fan oven"), Cooker("kettle")], Cut.named("brisket, whole")
    piece = cut.piece(mass_g=4000)
    both = minutes_of(piece, 1.0, [60.0, 66.0], cookers, {"pit_c": 130.0, "wrap": wrap}, few=3)
    for place, cooker in enumerate(cookers):
        alone = minutes_of(piece, 1.0, [60.0, 66.0], [cooker], {"pit_c": 130.0, "wrap": wrap}, few=3)
        assert both[:, place] == pytest.approx(alone[:, 0], rel=1e-3)
