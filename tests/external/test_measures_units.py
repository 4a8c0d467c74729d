"""Unit factors against their published definitions, and against pint as a second table.

UCUM essence 2.2 (2024-06-17): gallon 231 cubic inches, inch 2.54 cm, pound 7000 grains of 64.79891 mg, imperial
gallon 4.54609 l. NIST SP 811 (2008), appendix B.8: cup, tablespoon, teaspoon and fluid ounce in litres and
millilitres. 21 CFR 101.9(b)(5)(viii): 240, 15, 5 and 30 ml. New South Wales conversion chart: spoons of 20 and 5 ml,
cup of 250 ml.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from cookbook.quantity import UNITS, Amount, convert, lookup, registry
from cookbook.quantity.bridge import NAMES
from cookbook.quantity.unit import unit

EXACT = {
    "gallon": Fraction("3785.411784"), "quart": Fraction("946.352946"), "pint": Fraction("473.176473"),
    "cup": Fraction("236.5882365"), "gill": Fraction("118.29411825"), "fl oz": Fraction("29.5735295625"),
    "tbsp": Fraction("14.78676478125"), "tsp": Fraction("4.92892159375"),
    "lb": Fraction("453.59237"), "oz": Fraction("28.349523125"),
}


@pytest.mark.parametrize("name", sorted(EXACT))
def test_us_units_are_exact(name: str) -> None:
    assert UNITS[name].size == EXACT[name]


def test_the_pound_is_seven_thousand_grains() -> None:
    assert UNITS["lb"].size == 7000 * Fraction("0.06479891")


def test_the_gallon_is_231_cubic_inches() -> None:
    assert UNITS["gallon"].size == 231 * Fraction("2.54") ** 3


@pytest.mark.parametrize(("name", "millilitres", "digits"), [
    ("cup", "236.5882", 4), ("tbsp", "14.78676", 5), ("tsp", "4.928922", 6), ("fl oz", "29.57353", 5)])
def test_nist_factors_to_their_last_digit(name: str, millilitres: str, digits: int) -> None:
    size = UNITS[name].size
    assert size is not None
    assert round(size, digits) == Fraction(millilitres)


@pytest.mark.parametrize(("text", "system", "millilitres"), [
    ("1 cup", "us-label", 240), ("1 tbsp", "us-label", 15), ("1 tsp", "us-label", 5), ("1 fl oz", "us-label", 30),
    ("1 cup", "metric", 250), ("1 tbsp", "metric", 15), ("1 tsp", "metric", 5), ("1 fl oz", "metric", 30),
    ("1 cup", "au", 250), ("1 tbsp", "au", 20), ("1 tsp", "au", 5), ("1 dessertspoon", "au", 10),
    ("1 tbsp", "uk", 15), ("1 tsp", "uk", 5), ("1 dessertspoon", "uk", 10), ("1 fl oz", "uk", 28.4130625),
    ("1 pint", "uk", 568.26125), ("1 gill", "uk", 142.0653125), ("1 gallon", "uk", 4546.09),
    ("1 cup", "jp", 200), ("1 tbsp", "jp", 15), ("1 tsp", "jp", 5)])
def test_cups_and_spoons_of_the_other_systems(text: str, system: str, millilitres: float) -> None:
    found = Amount.parse(text, system).ml()
    assert found is not None
    assert found.low == found.mid == found.high == millilitres


def test_a_dry_pint_is_a_64th_of_the_bushel_of_2150_42_cubic_inches() -> None:
    dry = unit("US dry pint")
    assert dry is not None
    assert dry.size == Fraction("550.6104713575")


@pytest.mark.parametrize("name", sorted(NAMES))
def test_every_unit_agrees_with_pint(name: str) -> None:
    base = "gram" if UNITS[name].kind == "mass" else "milliliter"
    assert registry().Quantity(Fraction(1), NAMES[name]).to(base).magnitude == UNITS[name].size


@pytest.mark.parametrize(("one", "two", "theirs", "others"), [
    ("imperial pint", "imperial fl oz", "imperial_pint", "imperial_fluid_ounce"),
    ("imperial gill", "imperial pint", "imperial_gill", "imperial_pint"),
    ("imperial cup", "imperial fl oz", "imperial_cup", "imperial_fluid_ounce")])
def test_imperial_ratios_agree_with_pint(one: str, two: str, theirs: str, others: str) -> None:
    first, second = unit(one), unit(two)
    assert first is not None
    assert second is not None
    assert first.size is not None
    assert second.size is not None
    ratio = registry().Quantity(Fraction(1), theirs).to(others).magnitude
    assert first.size / second.size == Fraction(ratio).limit_denominator(10**6)


def test_what_a_user_writes_never_reaches_pints_parser() -> None:
    """pint itself reads half a cup, twelve tablespoons and a picoinch here."""
    cup, spoons, pinch = Amount.parse("1 1/2 cup"), Amount.parse("3 – 4 tbsp"), Amount.parse("a pinch")
    assert cup.to_pint() == registry().Quantity(Fraction(3, 2), "cup")
    assert spoons.to_pint() == registry().Quantity(Fraction(7, 2), "tablespoon")
    assert pinch.to_pint().dimensionless


@pytest.mark.parametrize(("item", "sodium_mg"), [
    ("table salt", 38758), ("soy sauce", 5493), ("fish sauce", 7851), ("chili powder", 2867), ("unsalted butter", 11),
    ("yellow mustard", 1104)])
def test_sodium_of_six_common_foods(item: str, sodium_mg: float) -> None:
    """USDA SR28, ABBREV, mg in 100 g."""
    row = lookup(item)
    assert row is not None
    assert row.sodium_mg == sodium_mg


def test_temperatures_by_definition() -> None:
    assert convert("212 °F", to="C").value == pytest.approx(100)
    assert convert("-40 °C", to="F").value == pytest.approx(-40)
