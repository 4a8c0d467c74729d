"""Allergens by words against teaching charts and the two laws' lists.

Charts: prepared ingredients and what is nearly always in them. Laws: FALCPA with FASTER (nine), Regulation (EU)
1169/2011, Annex II (fourteen).
"""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest

from cookbook.quantity import allergens
from cookbook.table import rows

DATA = Path(__file__).parent / "data"
IN_EU = {"fish": "fish", "mollusc": "molluscs", "crustacean": "crustaceans", "soy": "soybeans", "egg": "eggs",
         "wheat": "cereals containing gluten", "milk": "milk", "tree nuts": "nuts", "mustard": "mustard",
         "celery": "celery",
         "sesame": "sesame", "peanut": "peanuts", "lupin": "lupin", "gluten": "cereals containing gluten",
         "sulphites": "sulphur dioxide and sulphites"}


def read(name: str) -> list[dict[str, str]]:
    """A data file's rows, without its head."""
    with (DATA / name).open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def wordings(text: str) -> list[str]:
    """The ingredients that a chart's line names: `fish sauce / colatura`, `mustard (seed, powder, prepared)`."""
    return [re.sub(r"\([^)]*\)", "", part).strip() for part in re.split(r" / |, (?![^(]*\))| or ", text)]


CHART = [row for row in read("safety_allergen_ingredients.csv")
         if "exempt" not in row["check_label_for"] and "anti-caking" not in row["ingredient"]]


def names(text: str) -> set[str]:
    """A chart's allergens by EU name."""
    words = (re.sub(r"\([^)]*\)|\(refined\)", "", one).replace(" oil", "").strip() for one in text.split(";"))
    return {IN_EU[word] for word in words if word in IN_EU}


@pytest.mark.parametrize("row", CHART, ids=lambda row: row["ingredient"])
def test_what_a_chart_lists_is_contained_and_the_rest_of_its_line_is_to_be_checked(row: dict[str, str]) -> None:
    """What is nearly always in it holds for each of a line's ingredients, what to check for at least one."""
    known = set()
    for word in wordings(row["ingredient"]):
        found = allergens(word, "eu")
        contains = {one.name for one in found.contains}
        assert names(row["nearly_always"]) <= contains, word
        known |= contains | {one.name for one in found.check}
    assert names(row["check_label_for"]) <= known


def test_a_worcestershire_type_sauce_is_fish_in_both_laws_and_the_label_is_read_for_barley_in_the_eu() -> None:
    """Teaching charts; the case S37 of the safety notes."""
    us, eu = allergens("Worcestershire sauce", "us"), allergens("Worcestershire sauce", "eu")
    assert [one.name for one in us.contains] == ["fish"]
    assert [one.name for one in eu.contains] == ["fish"]
    assert any("barley" in one.detail for one in eu.check)


def test_nine_in_the_us_and_fourteen_in_the_eu() -> None:
    """The EU counts wheat among the cereals containing gluten."""
    assert len({row["us"] for row in rows("allergens") if row["us"]}) == 9
    assert len({row["eu"] for row in rows("allergens") if row["eu"]}) == 14


@pytest.mark.parametrize("row", read("safety_allergens.csv"), ids=lambda row: row["allergen"])
def test_each_law_lists_what_its_text_lists(row: dict[str, str]) -> None:
    ours = {"egg": "egg", "crustacean shellfish": "crustacean", "tree nuts": "tree nut", "molluscs": "mollusc",
            "gluten cereals: rye, barley, oats": "gluten", "sulphur dioxide / sulphites": "sulphite"}
    name = ours.get(row["allergen"], row["allergen"])
    line = next(one for one in rows("allergens") if one["name"] == name)
    assert bool(line["us"]) == row["US_9_FALCPA_FASTER"].startswith("y")
    assert bool(line["eu"]) == row["EU_14_1169_2011_Annex_II"].startswith("y")
