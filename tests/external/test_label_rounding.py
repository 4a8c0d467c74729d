"""Rounding of the nutrition panel.

Source: FDA, Food Labeling Guide, appendix H (2009), rounding the values according to 21 CFR 101.9(c); the ties, half
up, are this cookbook's policy after FDA's own text on percent of the daily value.
"""

from __future__ import annotations

import pytest

from cookbook.publish.forms.label import net_weight
from cookbook.publish.forms.nutrition import declared, panel, percent


@pytest.mark.parametrize(
    ("value", "said"), [(4.9, "0"), (7.5, "10"), (22.5, "25"), (50, "50"), (54.9, "50"), (55, "60")]
)
def test_calories(value: float, said: str) -> None:
    assert declared("energy_kcal", value) == said


@pytest.mark.parametrize(("value", "said"), [(0.49, "0 g"), (2.25, "2.5 g"), (4.75, "5.0 g"), (5.5, "6 g")])
def test_fat(value: float, said: str) -> None:
    assert declared("fat_g", value) == said


@pytest.mark.parametrize(
    ("value", "said"), [(4.9, "0 mg"), (7.5, "10 mg"), (137.5, "140 mg"), (144.9, "140 mg"), (145, "150 mg")]
)
def test_sodium(value: float, said: str) -> None:
    assert declared("sodium_mg", value) == said


@pytest.mark.parametrize("nutrient", ["carbohydrate_g", "fibre_g", "sugars_g", "protein_g"])
@pytest.mark.parametrize(
    ("value", "said"), [(0.49, "0 g"), (0.5, "less than 1 g"), (0.99, "less than 1 g"), (1.5, "2 g")]
)
def test_the_others(nutrient: str, value: float, said: str) -> None:
    assert declared(nutrient, value) == said


def test_percent_of_the_daily_value_goes_up_at_a_half() -> None:
    assert percent("sodium_mg", 57.5) == "3 %"
    assert percent("protein_g", 10) == ""


def test_a_rub_of_a_third_salt() -> None:
    """0.9 g with 35 % salt holds 124 mg of sodium, declared as 125 mg and 5 %."""
    lines = {line.what: line for line in panel([("fine salt", 35.0), ("black pepper, ground", 65.0)], 0.9).lines}
    assert (lines["Sodium"].declared, lines["Sodium"].percent) == ("125 mg", "5 %")


def test_what_is_not_known_of_one_thing_is_not_known_of_the_jar() -> None:
    """USDA gives no sugars for allspice; nothing at all is known of moonwort."""
    found = panel([("fine salt", 10.0), ("allspice, ground", 10.0)], 1.0)
    assert "Total sugars: not known of allspice, ground" in found.missing
    assert "Total sugars" not in [line.what for line in found.lines]
    assert not panel([("moonwort", 1.0)], 1.0).lines


@pytest.mark.parametrize(
    ("grams", "said"),
    [
        (71, "Net wt 2.5 oz (71 g)"),
        (113, "Net wt 3.9 oz (113 g)"),
        (113.4, "Net wt 4 oz (113 g)"),
        (28.0, "Net wt 0.9 oz (28 g)"),
    ],
)
def test_net_weight_never_says_more_than_is_in_it(grams: float, said: str) -> None:
    """NIST: round down; 16 CFR 500.19: 1 oz is 28.3495 g."""
    assert net_weight(grams) == said
