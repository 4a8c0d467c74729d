"""The checkable kitchen measures: USDA SR28, the exact pound and gallon, 21 CFR 101.9(b)(5)(viii)."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from cookbook.quantity import Amount, convert, lookup

DATA = Path(__file__).parent / "data"
READ_UNDER = {"US": "us", "US-label": "us-label", "metric": "metric"}


def rows(name: str) -> list[dict[str, str]]:
    """A data file's rows, without its head."""
    with (DATA / name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


CASES = {row["id"]: row for row in rows("measure_cases.csv")}


def item(case: dict[str, str]) -> str:
    """The ingredient as written, without USDA's number."""
    return case["ingredient"].split(" (")[0]


@pytest.mark.parametrize("key", ["M01", "M02", "M03", "M06", "M07", "M09", "M11", "M14", "M17"])
def test_what_an_amount_weighs(key: str) -> None:
    case = CASES[key]
    found = convert(case["input"], item(case), to="g")
    assert found.value == pytest.approx(float(case["expected"]), abs=float(case["tolerance"]))
    tolerance = float(case["tolerance"])
    assert found.interval["low"] - tolerance <= float(case["expected"]) <= found.interval["high"] + tolerance


def test_salt_by_weight_in_spoons() -> None:
    case = CASES["M04"]
    found = convert(case["input"], item(case), to="tsp")
    assert found.value == pytest.approx(float(case["expected"]), abs=float(case["tolerance"]))


def test_juice_of_lemons_by_volume() -> None:
    case = CASES["M10"]
    found = convert(case["input"], item(case), to="ml")
    assert found.value == pytest.approx(float(case["expected"]), abs=float(case["tolerance"]))


def test_sodium_of_two_spoons_of_soy_sauce() -> None:
    case = CASES["M12"]
    grams = convert(case["input"], item(case), to="g").value
    row = lookup(item(case))
    assert row is not None
    assert row.sodium_mg is not None
    assert grams * row.sodium_mg / 100 == pytest.approx(float(case["expected"]), abs=float(case["tolerance"]))


def test_ounces_are_weight_and_fluid_ounces_are_volume() -> None:
    case = CASES["M15"]
    for text, expected in zip(case["input"].split(" vs "), case["expected"].split(" / "), strict=True):
        assert convert(text, item(case), to="g").value == pytest.approx(float(expected), abs=float(case["tolerance"]))


def test_a_cup_in_four_systems() -> None:
    case = CASES["M18"]
    systems = case["question"].split(" in ")[1].split(" / ")
    for system, expected in zip(systems, case["expected"].split(" / "), strict=True):
        text = "1 imperial cup" if system == "imperial" else case["input"]
        found = Amount.parse(text, READ_UNDER.get(system, "us")).ml()
        assert found is not None
        assert found.mid == pytest.approx(float(expected), abs=float(case["tolerance"]))


def test_no_case_is_left_out() -> None:
    checked = {"M01", "M02", "M03", "M04", "M06", "M07", "M09", "M10", "M11", "M12", "M14", "M15", "M17", "M18"}
    assert set(CASES) == checked
