"""Worked cases of the published guidelines and closed forms, each by its number in `safety_testcases.csv`."""

from __future__ import annotations

import csv
from math import log10
from pathlib import Path

import pytest
from scipy.stats import linregress

from cookbook.errors import RequestError
from cookbook.safety import (
    STOP,
    WARN,
    Curve,
    Span,
    acid_line,
    come_up,
    cooling,
    cools,
    cure,
    humidity_needed,
    ingoing_ppm,
    integrated_log10,
    lethality,
    oil_days,
    oil_keeping_finding,
    oven_conforms,
    required_dwell_s,
    set_limit_c,
    strictest_product,
    target_after_growth,
    thaw,
    time_out_finding,
    trichinella_freeze_days,
    trichinella_safe,
)
from cookbook.safety.comeup import come_up_finding
from cookbook.safety.cooldown import cooling_of
from cookbook.safety.finding import NOTE
from cookbook.safety.oven import POUND_G

DATA = Path(__file__).parent / "data" / "safety_testcases.csv"
OUNCE_G = POUND_G / 16


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) * 5 / 9


def hours(*values: float) -> list[float]:
    return [value * 3600 for value in values]


def cores(*fahrenheit: float) -> list[float]:
    return [celsius(value) for value in fahrenheit]


def test_s01_beef_at_130_f_takes_112_minutes() -> None:
    assert required_dwell_s("beef", 130) == 112 * 60


def test_s02_beef_at_150_f_takes_67_seconds() -> None:
    assert required_dwell_s("beef", 150, 6.5) == 67


def test_s03_seven_log_at_134_f_is_the_printed_47_minutes() -> None:
    assert required_dwell_s("beef", 134, 7) == 47 * 60


def test_s05_just_under_158_f_for_three_seconds_does_not_conform() -> None:
    assert not lethality([0, 3], cores(157.9, 157.9), "beef").conforms
    assert lethality([0, 3], cores(158, 158), "beef").conforms
    assert required_dwell_s("beef", 157.9) == 14


def test_s06_a_cook_that_missed_158_f_passes_on_27_seconds_at_154_f() -> None:
    assert lethality([0, 27], cores(154, 154), "beef").conforms
    assert not lethality([0, 26], cores(154, 154), "beef").conforms


def test_s07_the_meat_table_has_a_slope_of_ten_fahrenheit() -> None:
    rows = range(130, 158)
    fit = linregress(list(rows), [log10(required_dwell_s("beef", row)) for row in rows])
    assert -1 / fit.slope == pytest.approx(10.0, abs=0.1)


def test_s08_a_ramp_adds_up_to_its_closed_form() -> None:
    at_130 = 112 / 6.5 * 60
    found = integrated_log10([0, 600], cores(130, 140), d_s=at_130, at_c=celsius(130), z_c=10 / 1.8)
    assert found == pytest.approx(2.268, rel=0.005)
    assert found * at_130 / 60 == pytest.approx(39.09, rel=0.005)


def test_s09_half_a_dwell_at_130_f_and_half_at_140_f_make_a_whole() -> None:
    half, other = 56 * 60.0, 6 * 60.0
    seen = lethality([0, half, half, half + other], cores(130, 130, 140, 140), "beef")
    assert seen.log10_reduction == pytest.approx(6.50, abs=0.01)
    assert seen.conforms
    assert not lethality([0, half, half, half + other - 6], cores(130, 130, 140, 140), "beef").conforms


def test_s10_fat_chicken_at_140_f_takes_35_minutes() -> None:
    assert required_dwell_s("chicken", 140, fat_percent=12) == 35 * 60


def test_s13_duck_takes_the_longer_of_chicken_and_turkey() -> None:
    assert required_dwell_s("duck", 145) == pytest.approx(13.8 * 60)
    assert required_dwell_s("chicken", 145) == pytest.approx(13 * 60)


def test_s14_any_poultry_in_a_mixture_makes_it_poultry() -> None:
    assert strictest_product(["beef", "turkey"]) == ("poultry", 7)
    assert strictest_product(["beef", "pork"])[1] == 6.5


def test_s15_predicted_growth_is_added_to_the_reduction() -> None:
    assert target_after_growth(6.5, 3.0) == 9.5


def test_s16_a_thermometer_one_degree_off_waits_one_degree_more() -> None:
    assert set_limit_c(celsius(165), 1 / 1.8) == pytest.approx(celsius(166))


def test_s17_come_up_is_the_time_from_50_to_130_f() -> None:
    seen = come_up(hours(0, 2, 5, 7), cores(40, 80, 120, 140))
    assert seen.from_s / 3600 == pytest.approx(0.5, abs=0.01)
    assert seen.to_s / 3600 == pytest.approx(6.0, abs=0.01)
    assert seen.seconds / 3600 == pytest.approx(5.5, abs=0.01)
    assert seen.within is True


def test_s18_a_long_come_up_may_be_judged_by_the_surface_of_an_intact_piece_only() -> None:
    times, temperatures = hours(0, 2, 7, 9), cores(40, 80, 120, 140)
    assert come_up(times, temperatures).seconds / 3600 == pytest.approx(7.5, abs=0.01)
    core = Curve.of(times, temperatures)
    surface = Curve.of(hours(0, 1, 2, 9), cores(40, 100, 140, 180))
    assert come_up_finding(core, intact=True).level == WARN
    assert come_up_finding(core, intact=True, surface=surface).level == NOTE
    assert come_up_finding(core, intact=False, surface=surface).level == WARN


def test_s19_a_heavy_roast_in_a_250_f_pit_needs_no_moist_air() -> None:
    assert not humidity_needed(12 * POUND_G, celsius(250), "dry")
    assert humidity_needed(9.9 * POUND_G, celsius(250), "dry")
    assert humidity_needed(12 * POUND_G, celsius(249), "dry")


def test_s20_a_light_roast_in_a_250_f_dry_oven_is_not_the_food_codes() -> None:
    assert not oven_conforms(8 * POUND_G, celsius(250), "still_dry")
    assert oven_conforms(8 * POUND_G, celsius(350), "still_dry")
    assert oven_conforms(8 * POUND_G, celsius(250), "high_humidity")


def test_s22_seven_minutes_at_135_f_do_for_trichinella_and_not_for_salmonella() -> None:
    times, temperatures = [0, 7 * 60], cores(135, 135)
    assert trichinella_safe(Curve.of(times, temperatures))
    assert not lethality(times, temperatures, "pork").conforms


def test_s23_a_thicker_cut_freezes_ten_days_longer() -> None:
    assert trichinella_freeze_days(celsius(5), 5 * 2.54) == 20
    assert trichinella_freeze_days(celsius(5), 8 * 2.54) == 30


def test_s24_four_ounces_of_cure_on_a_hundredweight_are_156_ppm() -> None:
    assert ingoing_ppm(4 * OUNCE_G, 6.25, 100 * POUND_G) == pytest.approx(156.25, abs=0.01)
    made = cure("dry", "sausage", 100 * POUND_G, 2, 6.25, nitrite_ppm=156.25)
    assert made.cure_g == pytest.approx(4 * OUNCE_G)


def test_s25_a_pumped_pickle_by_its_gain() -> None:
    assert ingoing_ppm(32, 5.88, 0, pickle_g=1266, pump_percent=10) == pytest.approx(148.6, abs=0.1)
    made = cure("pumped", "pumped", 5000, 1.5, 5.88, nitrite_ppm=148.6, pickle_g=1266, pump_percent=10)
    assert made.cure_g == pytest.approx(32, abs=0.01)


def test_s26_two_pounds_of_nitrite_in_a_thousand_of_pickle_reach_the_limit() -> None:
    made = cure("pumped", "pumped", 5000, 2.0, 100, nitrite_ppm=200, pickle_g=1000 * POUND_G, pump_percent=10)
    assert made.cure_g == pytest.approx(2 * POUND_G)
    assert (made.nitrite_ppm.asked, made.nitrite_ppm.limit) == (200, 200)
    over = cure("pumped", "pumped", 5000, 2.0, 100, nitrite_ppm=200.1, pickle_g=1000 * POUND_G, pump_percent=10)
    assert over.cure_g is None


def test_s27_an_equilibrium_brine_counts_meat_and_pickle() -> None:
    assert ingoing_ppm(5.76, 6.25, 2000, water_g=1000) == pytest.approx(120, abs=0.1)
    made = cure("equilibrium", "pumped", 2000, 2.0, 6.25, nitrite_ppm=120, water_g=1000)
    assert made.cure_g == pytest.approx(5.76, abs=0.005)


def test_s28_too_strong_a_dry_cure_for_bacon_gets_no_amount() -> None:
    asked = ingoing_ppm(7.8, 6.25, 1000)
    assert asked == pytest.approx(487.5)
    made = cure("dry", "bacon, dry", 1000, 2.5, 6.25, nitrite_ppm=asked)
    assert made.nitrite_ppm.limit == 200
    assert (made.cure_g, made.salt_g) == (None, None)
    assert [found.level for found in made.findings] == [STOP]


def test_s29_the_salt_of_the_cure_is_taken_off_the_table_salt() -> None:
    made = cure("equilibrium", "bacon, immersed", 1000, 2.0, 6.25, nitrite_ppm=120)
    assert made.cure_g == pytest.approx(1.92, abs=0.01)
    assert made.salt_g == pytest.approx(18.2, abs=0.01)


def test_s31_food_code_cooling_passes_at_two_hours_and_fails_after() -> None:
    assert cools(cooling(hours(0, 2, 6), cores(135, 70, 41))) is True
    assert cools(cooling(hours(0, 2.25, 6), cores(135, 70, 41))) is False


def test_s32_a_slow_second_stage_fails_option_one() -> None:
    seen = cooling_of(Curve.of(hours(0, 1.4, 6.9), cores(130, 80, 40)), "option 1")
    assert [stage.conforms for stage in seen] == [True, False]
    assert [stage.hours for stage in seen] == pytest.approx([1.4, 5.5])


def test_s33_seventy_five_minutes_in_hot_air_are_too_long() -> None:
    found = time_out_finding([Span("on the table", 75, celsius(95))])
    assert (found.level, found.limit) == (STOP, 60)
    assert time_out_finding([Span("on the table", 75, celsius(85))]).level != STOP


def test_s34_a_fifteen_pound_bird_thaws_three_days_and_more() -> None:
    assert thaw(15 * POUND_G)[:2] == pytest.approx((72, 90))
    assert thaw(15 * POUND_G, "cold water")[:2] == pytest.approx((7.5, 7.5))
    assert "every 30 min" in thaw(15 * POUND_G, "cold water").rule


def test_s35_garlic_in_oil_keeps_two_days_and_stops_after_four() -> None:
    assert oil_days() == (2, 4)
    assert [oil_keeping_finding(day).level for day in range(6)] == [NOTE, NOTE, NOTE, WARN, WARN, STOP]
    assert oil_keeping_finding(0.5, refrigerated=False).level == STOP


def test_s36_the_acid_line_is_ph_4_6() -> None:
    assert acid_line(4.60, 0.95) == "acid"
    assert acid_line(4.61, 0.95) == "low-acid"


def test_s38_ten_hours_just_below_the_table_are_no_credit() -> None:
    assert lethality([0, 36000], cores(129, 129), "beef") == (0.0, False)
    with pytest.raises(RequestError, match="outside the table"):
        required_dwell_s("beef", 129)


ELSEWHERE = {"S37"}
"""Allergens are the ingredient table's business; its own outside checks hold that case."""


def test_every_published_case_has_its_check() -> None:
    lines = DATA.read_text(encoding="utf-8").splitlines()
    listed = {row["id"] for row in csv.DictReader(line for line in lines if not line.startswith("#"))}
    checked = {name[5:8].upper() for name in globals() if name.startswith("test_s") and name[6:8].isdigit()}
    assert listed == checked | ELSEWHERE
