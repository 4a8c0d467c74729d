"""Every household portion of USDA SR28 that is in our copy, through the table that was made of it, there and back."""

from __future__ import annotations

import pytest

from cookbook.quantity import Amount, IngredientWeight, convert, lookup
from cookbook.quantity.naming import attempts, wording
from cookbook.quantity.weight import _row, _rows, _spellings, _wordings
from tests.external import compile_ingredients as made

UNITS = {"cup": "cup", "tbsp": "tbsp", "tsp": "tsp", "fl_oz": "fl oz", "quart": "quart", "litre": "l", "ml": "ml"}
MEASURES = [(food, row) for food in made.foods() for row in food.portions if row["volume_ml_us"]
            and row["is_bulk"] == "1"]


def weight_of(number: str, prep: str) -> IngredientWeight:
    """The table's row for one of USDA's rows."""
    return _row(number, made.PREPS.get(prep, prep))


def test_the_committed_table_is_what_the_rules_make_of_usdas_rows() -> None:
    assert made.TABLE.read_text(encoding="utf-8") == made.compiled()


def test_there_are_three_hundred_foods() -> None:
    assert len({number for number in _rows() if number.isdigit()}) >= 300
    assert len(MEASURES) >= 580


def test_every_measure_lies_in_its_rows_interval_or_is_left_out_with_its_reason() -> None:
    wrong = []
    for food, row in MEASURES:
        weight = weight_of(food.number, row["prep"])
        amount = Amount.parse(f"{row['measure_count']} {UNITS[row['measure']]}").ml()
        assert amount is not None
        assert weight.low is not None
        assert weight.high is not None
        grams = float(row["grams"])
        inside = amount.low * weight.low * 0.999 <= grams <= amount.high * weight.high * 1.001
        left_out = f"{made.measure(row)} = {row['grams']} g left out" in weight.note
        if inside == left_out:
            wrong.append((food.description, row["unit_words"], weight))
    assert not wrong


def test_the_chosen_measure_comes_back_to_usdas_last_digit() -> None:
    for food, row in MEASURES:
        weight = weight_of(food.number, row["prep"])
        if weight.measure != f"{made.measure(row)} = {row['grams']} g":
            continue
        amount = Amount.parse(f"{row['measure_count']} {UNITS[row['measure']]}").ml()
        assert amount is not None
        assert weight.g_per_ml is not None
        assert amount.mid * weight.g_per_ml == pytest.approx(float(row["grams"]), rel=4e-3)


def test_grams_and_back_for_every_food_by_usdas_own_words() -> None:
    """The table's four decimals are the only loss: the lightest herb has 0.0135 g/ml."""
    seen = 0
    for food in made.foods():
        weight = lookup(food.description)
        if weight is None or weight.g_per_ml is None:
            continue
        grams = convert("2 cups", food.description, to="g").value
        back = convert(f"{grams:.6f} g", food.description, to="cup").value
        assert back == pytest.approx(2, rel=1e-6), food.description
        seen += 1
    assert seen >= 300


def test_every_food_with_figures_is_found_by_usdas_own_words() -> None:
    with_figures = {row["id"] for prep in _rows().values() for row in prep.values()}
    missing = [food.description for food in made.foods() if food.number in with_figures
               and lookup(food.description) is None]
    assert not missing


@pytest.mark.parametrize(("item", "left_out"), [
    ("agave syrup", "0.25 cup = 55 g"), ("ketchup", "1 cup = 240 g"), ("low-sodium soy sauce", "1 tsp = 4.5 g"),
    ("sour cream", "1 tbsp = 12.0 g"), ("dry milk", "5 tbsp = 23 g")])
def test_measures_that_cannot_be_are_left_out_with_the_reason(item: str, left_out: str) -> None:
    """The physical cross-check by component densities, Choi and Okos 1986 (from memory)."""
    row = lookup(item)
    assert row is not None
    assert left_out in row.note


@pytest.mark.parametrize(("item", "g_per_ml"), [("agave syrup", 1.400), ("ketchup", 1.150),
                                                ("low-sodium soy sauce", 1.078),
                                                ("sour cream", 0.972), ("hydrolyzed soy sauce", 1.217)])
def test_the_measure_nearest_to_the_parts_is_believed(item: str, g_per_ml: float) -> None:
    row = lookup(item)
    assert row is not None
    assert row.g_per_ml == pytest.approx(g_per_ml, abs=6e-4)


@pytest.mark.parametrize("item", ["hoisin sauce", "oyster sauce", "hot chile sauce", "horseradish sauce"])
def test_suspect_measures_are_flagged_and_the_interval_reaches_the_parts(item: str) -> None:
    row = lookup(item)
    assert row is not None
    assert row.note.startswith("suspect")
    assert row.doubt > 0.09


@pytest.mark.parametrize(("text", "item", "grams"), [
    ("10 sprigs", "parsley", 10.0), ("9 sprigs", "cilantro", 20.0), ("5 sprigs", "fresh dill", 1.0),
    ("5 leaves", "fresh basil", 2.5),
    ("1 clove", "garlic", 3.0), ("5 slices", "ginger", 11.0), ("1 large", "onion", 150.0),
    ("1 medium", "onion", 110.0),
    ("1 small", "onions", 70.0), ("2 medium", "spring onions", 30.0), ("1", "leek", 89.0),
    ("1 large stalk", "celery", 64.0),
    ("1 medium", "carrot", 61.0), ("1 bulb", "fennel", 234.0), ("1 large", "bell pepper", 164.0),
    ("1", "jalapeño", 14.0),
    ("1", "serrano", 6.1), ("1", "ancho", 17.0), ("1 large", "tomato", 182.0), ("1", "cherry tomatoes", 17.0),
    ("1 large head", "cabbage", 1248.0), ("1 large", "egg", 50.0), ("1", "egg yolk", 17.0),
    ("1 fillet", "anchovy", 4.0),
    ("1 packet", "gelatin", 7.0), ("1 packet", "yeast", 7.2), ("1 stick", "butter", 113.0), ("1 pat", "butter", 5.0),
    ("juice of 1 lemon", "", 48.0), ("juice of 1 lime", "", 44.0), ("juice of 1 orange", "", 86.0),
    ("juice of 1 grapefruit", "", 196.0)])
def test_pieces_weigh_what_usda_says(text: str, item: str, grams: float) -> None:
    found = convert(text, item, to="g")
    assert found.value == pytest.approx(grams, rel=1e-4)
    assert found.interval["low"] < grams < found.interval["high"]


def test_a_wording_letter_by_letter_means_what_its_words_mean() -> None:
    words = _wordings()
    for name, meant in _spellings().items():
        assert next(words[one] for one in attempts(wording(name)) if one in words) == meant, name
