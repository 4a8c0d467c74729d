"""Every row of every published safety table, read from its own copy, against what the cookbook answers."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from cookbook.errors import CookbookError
from cookbook.safety import (
    Curve,
    cooling,
    cools,
    cure,
    curing_limit,
    food_code_hold_s,
    household_minimum,
    lethality,
    out_limit_min,
    oven_conforms,
    required_dwell_s,
    thaw,
    thaw_band,
    trichinella_freeze_days,
    trichinella_frozen_hours,
    trichinella_heat_s,
    trichinella_safe,
)
from cookbook.safety.cooldown import stages
from cookbook.safety.household import elsewhere, minimums
from cookbook.safety.oven import POUND_G, oven_least_f

DATA = Path(__file__).parent / "data"
Row = dict[str, str]


def outside(name: str) -> list[Row]:
    """The rows of a published table as copied into this folder."""
    lines = (DATA / f"{name}.csv").read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) * 5 / 9


@pytest.mark.parametrize("row", outside("safety_lethality_meat"), ids=lambda row: row["temp_F"])
@pytest.mark.parametrize(("log10", "column"), [(5, "dwell_s_5log_Table6"), (6.5, "dwell_s_6.5log_Table2"),
                                               (7, "dwell_s_7log_Table2")])
def test_meat_dwell_is_what_fsis_gd_2021_14_prints(row: Row, log10: float, column: str) -> None:
    for product in ("beef", "veal", "lamb", "pork", "venison"):
        assert required_dwell_s(product, float(row["temp_F"]), log10) == float(row[column])
    assert required_dwell_s("beef", float(row["temp_F"]) + 0.999, log10) == float(row[column])


@pytest.mark.parametrize("row", outside("safety_lethality_meat"), ids=lambda row: row["temp_F"])
def test_meat_conforms_after_just_the_printed_dwell_and_not_before(row: Row) -> None:
    core, seconds = celsius(float(row["temp_F"])), float(row["dwell_s_6.5log_Table2"])
    assert lethality([0, seconds], [core + 0.4] * 2, "lamb").conforms
    assert seconds == 0 or not lethality([0, seconds - 1], [core + 0.4] * 2, "lamb").conforms


@pytest.mark.parametrize("row", outside("safety_lethality_poultry"), ids=lambda row: row["species"] + row["temp_F"])
def test_poultry_conforms_after_just_the_printed_dwell_and_not_before(row: Row) -> None:
    core = celsius(float(row["temp_F"]))
    for fat in (1, 7, 12):
        seconds = float(row[f"dwell_s_7log_fat{fat}pct"])
        assert lethality([0, seconds], [core + 0.4] * 2, row["species"], 7, fat).conforms
        assert seconds == 0 or not lethality([0, seconds - 1], [core + 0.4] * 2, row["species"], 7, fat).conforms


@pytest.mark.parametrize("row", outside("safety_lethality_poultry"), ids=lambda row: row["species"] + row["temp_F"])
def test_poultry_dwell_is_what_fsis_gd_2021_14_prints_for_each_share_of_fat(row: Row) -> None:
    for fat in range(1, 13):
        printed = float(row[f"dwell_s_7log_fat{fat}pct"])
        assert required_dwell_s(row["species"], float(row["temp_F"]), 7, fat) == printed
    fattest = float(row["dwell_s_7log_fat12pct"])
    assert required_dwell_s(row["species"], float(row["temp_F"])) == fattest
    assert required_dwell_s(row["species"], float(row["temp_F"]), fat_percent=20) == fattest
    assert required_dwell_s("goose", float(row["temp_F"])) >= fattest


@pytest.mark.parametrize("row", [row for row in outside("safety_foodcode_roasts") if row["rule"] == "roast_hold"],
                         ids=lambda row: row["temp_F"])
def test_food_code_holds_are_the_printed_ones(row: Row) -> None:
    assert food_code_hold_s(float(row["temp_F"])) == float(row["hold_s"])


@pytest.mark.parametrize("row", [row for row in outside("safety_foodcode_roasts") if row["rule"] == "roast_oven"],
                         ids=lambda row: row["oven_type"][:10] + row["condition"][-7:])
def test_food_code_ovens_are_the_printed_ones(row: Row) -> None:
    mass_g = (9 if "<10 lb" in row["condition"] else 10) * POUND_G
    oven = row["oven_type"].partition("(")[0]
    at_least = row["condition"].startswith(">=")
    assert oven_least_f(mass_g, oven) == (float(row["temp_F"]), at_least)
    assert oven_conforms(mass_g, celsius(float(row["temp_F"])), oven)
    assert not oven_conforms(mass_g, celsius(float(row["temp_F"]) + (-1 if at_least else 1)), oven)


TRICHINELLA = outside("safety_trichinella")


@pytest.mark.parametrize("row", [row for row in TRICHINELLA if row["treatment"] == "heat"],
                         ids=lambda row: row["temp_F"])
def test_trichinella_heat_is_what_9_cfr_318_10_prints(row: Row) -> None:
    seconds = float(row["time_value"]) * {"h": 3600, "min": 60, "instant": 0}[row["time_unit"]]
    at = float(row["temp_F"])
    assert trichinella_heat_s(at) == seconds
    assert trichinella_safe(Curve.of([0, seconds], [celsius(at)] * 2))
    assert seconds == 0 or not trichinella_safe(Curve.of([0, seconds - 1], [celsius(at)] * 2))


@pytest.mark.parametrize("row", [row for row in TRICHINELLA if row["treatment"] == "freeze"],
                         ids=lambda row: row["temp_F"] + "group" + row["group"])
def test_trichinella_freezing_is_what_9_cfr_318_10_prints(row: Row) -> None:
    for inches in {"1": (0.5, 6), "2": (6.01, 27)}[row["group"]]:
        assert trichinella_freeze_days(celsius(float(row["temp_F"])), inches * 2.54) == float(row["time_value"])


@pytest.mark.parametrize("row", [row for row in TRICHINELLA if row["treatment"] == "freeze_internal"],
                         ids=lambda row: row["temp_F"])
def test_trichinella_inner_freezing_is_what_9_cfr_318_10_prints(row: Row) -> None:
    assert trichinella_frozen_hours(celsius(float(row["temp_F"]))) == float(row["time_value"])


MINIMUMS = outside("safety_min_temps")


@pytest.mark.parametrize("row", [row for row in MINIMUMS if row["min_temp_F"]],
                         ids=lambda row: f"{row['species'][:8]} {row['form'][:20]} {row['jurisdiction_note'][:9]}")
def test_every_row_of_the_minimum_temperature_charts_is_kept_as_printed(row: Row) -> None:
    kept = [mine for mine in minimums() if mine.rule == row["form"] and mine.core_f == float(row["min_temp_F"])]
    kept = [mine for mine in kept if row["species"] in mine.species.split(";")] or kept
    assert kept[0].printed_c == float(row["min_temp_C"])
    assert kept[0].rest_min == float(row["rest_or_hold_min"] or 0)
    assert kept[0].core_c == pytest.approx(kept[0].printed_c, abs=0.05)
    assert any(mine.memory for mine in kept) == (row["flag"] == "MEMORY" or "+ MEMORY" in row["flag"])


@pytest.mark.parametrize(("species", "cut", "fahrenheit", "rest"), [
    ("beef", None, 145, 3), ("veal", None, 145, 3), ("lamb", "leg of lamb, bone in", 145, 3), ("bison", None, 145, 3),
    ("goat", None, 145, 3), ("pork", "pork loin, boneless", 145, 3), ("pork", "fresh ham, bone in", 145, 3),
    ("ham", "cooked ham, packed in a plant", 140, 0), ("ham", "cooked", 165, 0), ("beef", "ground", 160, 0),
    ("pork", "sausage", 160, 0), ("chicken", "ground", 165, 0), ("chicken", "chicken, whole", 165, 0),
    ("turkey", None, 165, 0), ("duck", None, 165, 0), ("goose", None, 165, 0), ("pork", "stuffed loin", 165, 0),
    ("beef", "casserole", 165, 0), ("lamb", "leftovers", 165, 0), ("egg", None, 160, 0), ("fish", None, 145, 0),
    ("rabbit", None, 160, 0), ("venison", None, 160, 0), ("beef", "injected brisket", 145, 3),
])
def test_household_minimum_is_the_usda_chart(species: str, cut: str | None, fahrenheit: float, rest: float) -> None:
    core_c, rest_min, source = household_minimum(species, cut)
    assert core_c == pytest.approx(celsius(fahrenheit), abs=1e-9)
    assert rest_min == rest
    assert source


def test_canada_asks_more_of_pork_and_the_uk_70_degrees_of_any_core() -> None:
    assert {row.regime: row.core_f for row in elsewhere("pork")} == {"household, Canada": 160, "household, UK": 158}
    assert {row.regime: row.core_f for row in elsewhere("lamb")} == {"household, Canada": 145, "household, UK": 158}


COOLING = outside("safety_cooling")
STAGED = [row for row in COOLING if row["from_F"].isdigit() and "unverified" not in row["flag"]]


@pytest.mark.parametrize("row", STAGED, ids=lambda row: row["rule"])
def test_every_cooling_stage_is_kept_at_its_printed_hours(row: Row) -> None:
    options = ("food code", "option 1", "option 2", "option 3")
    stage = next(stage for option in options for stage in stages(option) if stage.rule == row["rule"])
    assert (stage.from_f, stage.to_f, stage.max_hours) == (
        float(row["from_F"]), float(row["to_F"]), float(row["max_hours"]))


def test_what_nobody_could_read_again_gives_no_verdict() -> None:
    unread = [row["rule"] for row in COOLING if "unverified" in row["flag"]]
    assert unread == ["FSIS 2021 option 4 slow"]
    with pytest.raises(CookbookError):
        cooling([0, 3600], [60, 4], "option 4")


def test_food_code_cooling_meets_its_own_corners() -> None:
    hours = [0, 2, 6]
    assert cools(cooling([hour * 3600 for hour in hours], [celsius(135), celsius(70), celsius(41)])) is True


def test_consumer_hours_out_are_the_printed_ones() -> None:
    limits = {row["rule"]: float(row["max_hours"]) for row in COOLING if row["from_F"] == "out"}
    assert out_limit_min(20) == limits["Consumer 2-hour rule"] * 60
    assert out_limit_min(celsius(90)) == limits["Consumer 2-hour rule"] * 60
    assert out_limit_min(celsius(90.1)) == limits["Consumer 1-hour rule"] * 60


THAWING = outside("safety_thawing")


@pytest.mark.parametrize("row", [row for row in THAWING if row["item"].startswith("turkey ")],
                         ids=lambda row: f"{row['method']} {row['item']}")
def test_turkey_thawing_bands_are_the_printed_ones(row: Row) -> None:
    low_lb, high_lb = (float(part) for part in row["item"].split()[1].split("-"))
    amount, unit = row["rule"].split()
    low, high = (float(part) * {"days": 24, "h": 1}[unit] for part in amount.split("-"))
    for pounds in (low_lb, (low_lb + high_lb) / 2, high_lb - 0.01):
        band = thaw_band(pounds * POUND_G, "turkey", row["method"])
        assert band is not None
        assert (band.low_h, band.high_h) == (low, high)


def test_thawing_by_the_pound_is_the_printed_rule() -> None:
    rules = {(row["method"], row["item"]): row["rule"] for row in THAWING}
    assert rules["refrigerator", "turkey/large item"].startswith("24 h per 4-5 lb")
    large = thaw(10 * POUND_G)
    assert (large.low_h, large.high_h) == pytest.approx((10 / 5 * 24, 10 / 4 * 24))
    assert rules["cold water", "any, leak-proof bag"].startswith("30 min per lb")
    assert thaw(10 * POUND_G, "cold water").high_h == pytest.approx(5)
    assert rules["refrigerator", "small package (1 lb ground meat, boneless breast)"] == "a full day (24 h)"
    assert thaw(POUND_G) == thaw(0.5 * POUND_G)
    assert thaw(POUND_G).high_h == 24
    assert thaw(POUND_G).memory
    package = thaw_band(3.5 * POUND_G, "package", "cold water")
    assert rules["cold water", "3-4 lb package"] == "2-3 h"
    assert package is not None
    assert (package.low_h, package.high_h, package.memory) == (2, 3, True)


@pytest.mark.parametrize("method", ["microwave", "running water", "counter", "hot water"])
def test_a_way_of_thawing_without_a_time_gives_none(method: str) -> None:
    with pytest.raises(CookbookError, match="thawing"):
        thaw(2000, method)


CURING = outside("safety_curing_limits")
CLASSES = {
    "comminuted (sausage)": "sausage", "comminuted": "sausage", "pumped / massaged / immersed, not bacon": "pumped",
    "pumped / immersed": "pumped", "dry cured, not bacon": "dry cured", "dry cured": "dry cured",
    "bacon pumped": "bacon, pumped", "bacon immersion": "bacon, immersed", "bacon dry cured": "bacon, dry",
    "bacon any": "bacon, dry",
}


@pytest.mark.parametrize("row", [row for row in CURING if row["product_class"] in CLASSES],
                         ids=lambda row: f"{row['product_class']} {row['agent']}")
def test_curing_limits_are_the_published_ones(row: Row) -> None:
    product, agent = CLASSES[row["product_class"]], row["agent"].replace("sodium/potassium ", "")
    limit = curing_limit(product, agent)
    assert limit.exact_ppm == float(row["limit_ppm_exact_or_factor"])
    assert limit.stated_ppm == float(row["limit_ppm_stated"])
    assert limit.memory == row["flag"].startswith("MEMORY")
    rind_on = next(float(row["limit_ppm_stated"]) for row in CURING if row["product_class"] == "rind-on bellies")
    assert curing_limit(product, agent, rind=True).stated_ppm == pytest.approx(limit.stated_ppm * rind_on)


def test_the_other_published_nitrite_figures_are_told_beside_the_limit() -> None:
    listed = {(row["product_class"], row["agent"]): float(row["limit_ppm_stated"]) for row in CURING}
    weak = cure("dry", "dry cured", 1000, 2.5, 6.25, nitrite_ppm=100)
    told = {found.rule: found.limit for found in weak.findings}
    assert told["nitrite floor"] == listed['policy minimum, "Keep Refrigerated" cured product', "sodium nitrite"]
    strong = cure("dry", "dry cured", 1000, 2.5, 6.25, nitrite_ppm=300)
    told = {found.rule: found.limit for found in strong.findings}
    assert told["nitrite limit, Canada"] == listed["Canada: cured meat", "sodium nitrite"]
    assert told["nitrite limit, home-cure mixes"] == listed[
        "home-cure mixes, finished food (21 CFR 172.170/.175)", "sodium nitrite"]
    bacon = cure("dry", "bacon, dry", 1000, 2.5, 6.25, nitrite_ppm=150)
    told = {found.rule: found.limit for found in bacon.findings}
    assert told["nitrite limit, Canada"] == listed["Canada: bacon", "sodium nitrite"]
