"""Come-up, ovens, cooling, thawing, keeping, time out and Trichinella beyond their published corners."""

from __future__ import annotations

from math import inf, nan

import pytest

from cookbook.errors import RequestError, UnknownName
from cookbook.safety import (
    NOTE,
    STOP,
    WARN,
    Curve,
    Span,
    acid_line,
    come_up,
    cooling,
    cools,
    humidity_needed,
    keeping_finding,
    oil_keeping_finding,
    out_limit_min,
    oven_conforms,
    set_limit_c,
    thaw,
    thaw_band,
    time_out_finding,
    trichinella_freeze_days,
    trichinella_frozen_hours,
    trichinella_heat_s,
    trichinella_safe,
)
from cookbook.safety.comeup import come_up_finding
from cookbook.safety.cooldown import cooling_of, stage_finding
from cookbook.safety.keeping import raw_contact_finding, raw_for
from cookbook.safety.oven import POUND_G, humidity_finding, oven_finding, pit_finding
from cookbook.safety.trichinella import trichinella_finding


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) * 5 / 9


def curve(*points: tuple[float, float]) -> Curve:
    """Hours and °F."""
    return Curve.of([hour * 3600 for hour, _ in points], [celsius(core) for _, core in points])


def test_come_up_adds_starts_and_stops_and_leaves_the_cooling_out() -> None:
    stopped = curve((0, 40), (1, 90), (2, 45), (3, 140), (9, 70))
    seen = come_up(stopped.times_s, [celsius(core) for core in stopped.core_f])
    assert seen.seconds / 3600 == pytest.approx(0.8 + 40 / 45 + 80 / 95)
    assert seen.within is True


def test_a_log_that_starts_late_or_ends_early_gives_no_pass() -> None:
    late = come_up_finding(curve((0, 70), (2, 140)), intact=True)
    assert late.level == NOTE
    assert come_up([0, 7200], [celsius(70), celsius(140)]).within is None
    assert come_up([0, 7200], [celsius(40), celsius(120)]).within is None
    assert "starts late" in late.message
    assert "no verdict" in late.message
    early = come_up_finding(curve((0, 40), (2, 120)), intact=True)
    assert "was not reached" in early.message
    cold = come_up([0, 60], [2, 3])
    assert (cold.seconds, cold.within) == (0, None)
    good = come_up_finding(curve((0, 40), (2, 140)), intact=False)
    assert (good.level, good.limit, good.regime) == (NOTE, 6, "inspected plant")
    assert good.value == 1.6
    assert "centre" not in good.message
    by_surface = come_up_finding(curve((0, 40), (8, 140)), intact=True, surface=curve((0, 40), (8, 140)))
    assert by_surface.level == WARN
    assert by_surface.message.startswith("the surface took")
    assert good.message.startswith("the core took")
    assert "may be measured" not in by_surface.message
    assert "took 1.6 h from 50 to 130 °F; a plant is given 6 h" in good.message


def test_a_slow_come_up_of_an_opened_piece_names_its_centre() -> None:
    assert "centre" in come_up_finding(curve((0, 40), (8, 140)), intact=False).message
    assert "surface may be measured" in come_up_finding(curve((0, 40), (8, 140)), intact=True).message


@pytest.mark.parametrize("how", ["sealed bag", "sealed oven", "steam", "immersed", "direct heat", "wrapped"])
def test_moist_or_direct_heat_needs_no_moisture(how: str) -> None:
    assert not humidity_needed(1000, 110, how)


def test_ten_pounds_at_250_f_need_no_moisture_and_less_of_either_does() -> None:
    assert not humidity_needed(10 * POUND_G, celsius(250))
    assert humidity_needed(9.99 * POUND_G, celsius(250))
    assert humidity_needed(10 * POUND_G, celsius(249))


def test_a_small_piece_in_dry_heat_is_warned_below_158_f_and_told_above() -> None:
    low = humidity_finding(2000, 110, 60)
    high = humidity_finding(2000, 110, 75)
    assert low is not None
    assert high is not None
    assert (low.level, high.level) == (WARN, NOTE)
    assert (low.value, low.limit) == (110, 121.1)
    assert humidity_finding(6000, 130, 60) is None


def test_the_food_codes_oven_is_a_note_with_its_numbers() -> None:
    short = oven_finding(8 * POUND_G, celsius(225))
    assert (short.level, short.limit, short.regime) == (NOTE, 350, "retail")
    assert "does not meet" in short.message
    assert "90 % humid" in short.message
    assert "meets" in oven_finding(12 * POUND_G, celsius(250)).message
    assert "at most 250" in oven_finding(8 * POUND_G, celsius(260), "high_humidity").message


def test_smoker_air_is_told_only_below_225_f() -> None:
    assert pit_finding(celsius(225)) is None
    assert pit_finding(celsius(350)) is None
    cool = pit_finding(celsius(200))
    assert cool is not None
    assert (cool.level, cool.limit) == (NOTE, "225-300")


def test_ovens_and_weights_that_cannot_be_are_refused() -> None:
    with pytest.raises(RequestError, match="no weight"):
        humidity_needed(0, 120)
    with pytest.raises(RequestError, match="no way of heating"):
        humidity_needed(1000, 120, "magic")
    with pytest.raises(RequestError, match="no oven"):
        oven_conforms(1000, 120, "microwave")
    with pytest.raises(RequestError, match="no weight"):
        oven_conforms(nan, 120)


def test_cooling_that_lacks_an_end_is_never_a_pass() -> None:
    half = curve((0, 135), (1, 80))
    assert cools(cooling(half.times_s, [celsius(core) for core in half.core_f])) is None
    late = curve((0, 120), (1, 60), (3, 40))
    assert cools(cooling(late.times_s, [celsius(core) for core in late.core_f])) is None
    slow = curve((0, 135), (7, 80))
    tight = curve((0, 135), (2.02, 70), (6, 41))
    assert cools(cooling(tight.times_s, [celsius(core) for core in tight.core_f])) is False
    assert cools(cooling(slow.times_s, [celsius(core) for core in slow.core_f])) is False


def test_cooling_starts_when_the_core_leaves_the_heat() -> None:
    peaked = curve((0, 130), (1, 145), (2, 135), (4, 70), (8, 41), (20, 41))
    kept = [stage_finding(stage) for stage in cooling_of(peaked)]
    assert [(found.level, found.value) for found in kept] == [(NOTE, 2), (NOTE, 6)]
    never = curve((0, 135), (3, 100))
    open_ = [stage_finding(stage) for stage in cooling_of(never)]
    assert [found.level for found in open_] == [WARN, WARN]
    assert "lacks an end" in open_[1].message


def test_a_core_that_warms_again_on_the_way_down_starts_no_stage_anew() -> None:
    bounced = curve((0, 140), (1, 130), (1.5, 136), (2.4, 70), (5, 41))
    assert cools(cooling(bounced.times_s, [celsius(core) for core in bounced.core_f])) is True
    late = curve((0, 140), (1, 130), (1.9, 136), (2.8, 70), (6, 41))
    assert cools(cooling(late.times_s, [celsius(core) for core in late.core_f])) is False


def test_cured_meat_cools_by_its_own_option() -> None:
    cured = curve((0, 130), (4.9, 80), (14.8, 45))
    temperatures = [celsius(core) for core in cured.core_f]
    assert cools(cooling(cured.times_s, temperatures, "option 3")) is True
    assert cools(cooling(cured.times_s, temperatures, "option 1")) is False
    with pytest.raises(UnknownName, match="way of cooling"):
        cooling(cured.times_s, temperatures, "option 9")


def test_thawing_outside_the_bands_has_no_band() -> None:
    assert thaw_band(2 * POUND_G) is None
    assert thaw_band(25 * POUND_G) is None
    assert thaw(0.5 * POUND_G, "cold water").high_h == pytest.approx(0.25)
    with pytest.raises(RequestError, match="no weight"):
        thaw(-1)


@pytest.mark.parametrize(("days", "level"), [(0, NOTE), (3, NOTE), (3.5, WARN), (4, WARN), (4.1, STOP)])
def test_leftovers_are_told_at_three_days_and_stopped_after_four(days: float, level: str) -> None:
    assert keeping_finding("leftovers", days).level == level


def test_retail_ready_to_eat_is_a_retail_rule_of_one_number() -> None:
    found = keeping_finding("ready to eat, retail", 8)
    assert (found.level, found.limit, found.regime) == (STOP, 7, "retail")
    assert "7 days" in found.message
    assert keeping_finding("raw meat", 4).regime == "household"


def test_raw_poultry_and_ground_meat_keep_shorter_than_cuts() -> None:
    assert raw_for("turkey") == "raw poultry"
    assert raw_for("fish") == "raw seafood"
    assert raw_for("beef", ground=True) == "raw ground meat"
    assert raw_for("lamb") == "raw meat"


def test_keeping_needs_a_thing_and_a_number_of_days() -> None:
    with pytest.raises(UnknownName):
        keeping_finding("hope", 1)
    for days in (-1, nan, inf):
        with pytest.raises(RequestError, match="number of days"):
            oil_keeping_finding(days)


def test_garlic_in_oil_names_the_pages_that_disagree() -> None:
    said = oil_keeping_finding(3).message
    for page in ("PNW 664 2-4", "CDC 4", "Health Canada 7", "NCHFP 4 (from memory)"):
        assert page in said


def test_frozen_oil_waits_and_a_measured_acid_takes_the_days_off() -> None:
    assert oil_keeping_finding(60, frozen=True).level == NOTE
    assert oil_keeping_finding(9, ph=4.4).rule == "acid line"
    dry = oil_keeping_finding(9, aw=0.8)
    assert (dry.value, dry.limit, dry.unit) == (0.8, 0.85, "aw")
    assert oil_keeping_finding(9, ph=4.4).unit == "pH"
    assert oil_keeping_finding(9, ph=4.7).level == STOP


def test_the_acid_line_wants_a_measurement() -> None:
    assert acid_line(5.5, 0.85) == "dry"
    assert acid_line(None, 0.9) == "low-acid"
    assert acid_line(5.5) == "low-acid"
    with pytest.raises(RequestError, match="neither"):
        acid_line(None)
    with pytest.raises(RequestError, match="no pH"):
        acid_line(15)
    with pytest.raises(RequestError, match="no water activity"):
        acid_line(None, 1.2)


def test_a_marinade_that_touched_raw_meat_is_boiled_or_thrown_away() -> None:
    assert raw_contact_finding("the brush", served=True).level == STOP
    assert raw_contact_finding("the paste", served=False).level == NOTE
    boiled = raw_contact_finding("the marinade", served=True, boiled=True)
    assert (boiled.level, boiled.value) == (NOTE, "boiled")


def test_stretches_out_add_up_each_against_its_own_limit() -> None:
    mixed = time_out_finding([Span("paste on", 60, 20), Span("on the counter", 31, 35)], "raw")
    assert mixed.level == STOP
    assert mixed.value == 91
    assert time_out_finding([Span("paste on", 60, 20), Span("on the counter", 30, 35)], "raw").level == WARN
    assert time_out_finding([Span("paste on", 89)], "raw").level == NOTE
    assert time_out_finding([]).limit == 120
    assert time_out_finding([Span("resting", 0, 35)]).limit == 60


@pytest.mark.parametrize(("stage", "kept"), [("raw", "in the refrigerator meanwhile"), ("cooked", "stayed at 60 °C")])
def test_what_nobody_wrote_down_may_have_kept_it_cold_or_hot(stage: str, kept: str) -> None:
    unsure = time_out_finding([Span("till the next day", 600, sure=False)], stage)
    assert unsure.level == WARN
    assert kept in unsure.message


def test_no_time_runs_backwards() -> None:
    with pytest.raises(RequestError, match="that is no time"):
        time_out_finding([Span("paste on", -5)])
    with pytest.raises(RequestError, match="no temperature"):
        out_limit_min(nan)


def test_trichinella_counts_by_the_row_below_and_one_hold_only() -> None:
    assert trichinella_heat_s(135) == trichinella_heat_s(134) == 360
    assert not trichinella_safe(curve((0, 134), (0.05, 134), (0.06, 100), (0.1, 134), (0.14, 134)))
    assert trichinella_safe(Curve.of([0], [celsius(144)]))
    with pytest.raises(RequestError, match="begins at 120"):
        trichinella_heat_s(119.9)


def test_a_trichinella_pass_says_it_is_none_for_salmonella() -> None:
    assert "no verdict on Salmonella" in trichinella_finding(curve((0, 140), (1, 140))).message
    assert trichinella_finding(curve((0, 100), (1, 110))).level == WARN


def test_freezing_between_rows_takes_the_warmer_row() -> None:
    assert trichinella_freeze_days(celsius(-5), 10) == 20
    assert trichinella_freeze_days(celsius(-40), 10) == 6
    assert trichinella_frozen_hours(celsius(-12)) == 63
    for thickness in (0, 70, nan):
        with pytest.raises(RequestError, match="27 in"):
            trichinella_freeze_days(-20, thickness)
    for temperature in (-10, nan):
        with pytest.raises(RequestError, match="warmer than"):
            trichinella_freeze_days(temperature, 10)


def test_a_thermometers_error_is_added_to_the_limit() -> None:
    assert set_limit_c(62.8, 0.5) == pytest.approx(63.3)
    for wrong in (-1, 25, nan):
        with pytest.raises(RequestError, match="no accuracy"):
            set_limit_c(62.8, wrong)
