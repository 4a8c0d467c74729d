"""Amounts as a cook measures them and as a card says them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.quantity import Amount, doubts, drawer_of, label, own_weights, weighing
from cookbook.quantity.number import digits
from tests.quantity.writing import AMOUNT


@pytest.mark.parametrize(("text", "item", "us", "metric", "both"), [
    ("1 1/2 cups", "brown sugar", "1 1/2 cups", "218 g", "1 1/2 cups (218 g)"),
    ("3-4 tbsp", "fennel seed", "3 tbsp to 1/4 cup", "17-23 g", "3 tbsp to 1/4 cup (17-23 g)"),
    ("60 g", "garlic", "2 1/8 oz", "60 g", "60 g (2 1/8 oz)"),
    ("1 lb 4 oz", "onion", "1 lb 4 oz", "567 g", "1 lb 4 oz (567 g)"),
    ("80 ml", "olive oil", "1/3 cup", "80 ml", "80 ml (73 g)"),
    ("1/3 cup", "olive oil", "1/3 cup", "79 ml", "1/3 cup (72 g)"),
    ("6 cloves", "garlic", "6 cloves", "6 cloves", "6 cloves (about 18 g)"),
    ("1 clove", "garlic", "1 clove", "1 clove", "1 clove (about 3 g)"),
    ("to taste", "black pepper", "to taste", "to taste", "to taste"),
    ("1.1 % of meat", "fine salt", "1.1 % of meat", "1.1 % of meat", "1.1 % of meat"),
    ("2 kg", "onion", "4 lb 6 1/2 oz", "2 kg", "2 kg (4 lb 6 1/2 oz)"),
    ("6 cups", "water", "1 1/2 quarts", "1.42 l", "1 1/2 quarts (1.42 kg)"),
    ("6 cups", "paprika", "6 cups", "653 g", "6 cups (653 g)"), ("1 cup", "zork", "1 cup", "237 ml", "1 cup"),
    ("200-300 g", "onion", "7-10 5/8 oz", "200-300 g", "200-300 g (7-10 5/8 oz)"),
    ("1 1/2 cups (90 g)", "panko", "1 1/2 cups", "90 g", "1 1/2 cups"), ("3 g", "paprika", "1 1/4 tsp", "3 g", "3 g"),
    ("3 oz", "butter", "3 oz", "85 g", "3 oz (85 g)"),
    ("2 (400 g) cans", "tomatoes", "2 (400 g) cans", "2 (400 g) cans", "2 (400 g) cans (800 g)"),
])
def test_labels_in_us_metric_and_both(text: str, item: str, us: str, metric: str, both: str) -> None:
    amount = Amount.parse(text)
    assert [label(amount, item, units) for units in ("us", "metric", "both")] == [us, metric, both]


def test_cards_have_printed_fractions_and_dashes() -> None:
    assert label(Amount.parse("3-4 tbsp"), "fennel seed", typographic=True) == "3 tbsp to ¼ cup (17–23 g)"
    assert label(Amount.parse("1 1/2 cups"), "brown sugar", typographic=True) == "1½ cups (218 g)"


@pytest.mark.parametrize(("text", "item", "shown", "note"), [
    ("4.4 cloves", "garlic", "4 1/2 cloves", "rounded from 4.4 cloves"),
    ("7.3 sprigs", "thyme", "7 sprigs", "rounded from 7.3 sprigs"),
    ("1.2 lemons", "lemon", "1 lemon", "rounded from 1.2 lemons"),
    ("juice of 1.2 lemons", "lemon juice", "juice of 1 1/2 lemons", "rounded from juice of 1.2 lemons"),
    ("1.70192 heads", "garlic", "1 1/2 heads", "rounded from 1.7 heads"),
    ("7.05 cloves", "garlic", "7 cloves", ""), ("4 cloves", "garlic", "4 cloves", "")])
def test_pieces_are_rounded_to_what_a_cook_can_cut_and_it_is_said(text: str, item: str, shown: str,
                                                                  note: str) -> None:
    found = Amount.parse(text).measured("both", item)
    assert (found.text, found.note) == (shown, note)


def test_a_heaping_spoon_becomes_level_ones() -> None:
    assert Amount.parse("1 heaping tbsp").measured("both", "flour").scoops == "1 tbsp + 2 tsp"


def test_many_pinches_become_a_spoon_and_few_stay_pinches() -> None:
    assert Amount.parse("4 pinches").measured("both", "cayenne").scoops == "1/4 tsp"
    assert Amount.parse("1/2 pinch").measured("both", "cayenne").scoops == ""


def test_salt_is_held_tighter_than_spice() -> None:
    """13 g of table salt are 2.14 teaspoons: two are 6 % short, two and a quarter 5 % over."""
    spice = Amount.parse("3.25 tsp").measured("both", "paprika")
    salt = Amount.parse("13 g").measured("both", "table salt")
    assert abs(spice.error) <= 0.05
    assert salt.scoops == ""
    assert "weigh it" in salt.note
    assert abs(Amount.parse("18 g").measured("both", "table salt").error) <= 0.02


@pytest.mark.parametrize("item", ["curing salt", "pink curing salt", "cure #1", "curing salt no. 2", "saltpetre",
                                  "sodium nitrite"])
@pytest.mark.parametrize("text", ["3 g", "2 tsp", "1 tbsp"])
def test_curing_salt_is_never_spooned(text: str, item: str) -> None:
    for units in ("us", "metric", "both"):
        found = Amount.parse(text).measured(units, item)
        assert found.scoops == ""
        assert "never spooned" in found.note or units == "metric"


def test_where_no_spoons_come_close_the_error_is_said() -> None:
    found = Amount.parse("3 ml").measured("both", "olive oil")
    assert found.scoops == "1/2 tsp"
    assert found.note == "spoons are 18% under"


def test_the_drawer_decides() -> None:
    amount = Amount.parse("25 ml")
    assert amount.measured("both", "olive oil").scoops == "1 tbsp + 2 tsp"
    assert Amount.parse("25 ml", "au").measured("both", "olive oil").scoops == "1 tbsp + 1 tsp"
    assert amount.measured("both", "olive oil", drawer=drawer_of(("5 ml",))).scoops == "25 ml"


def test_own_weights_decide_how_many_spoons() -> None:
    weights = own_weights([weighing("flaked salt", "1 tbsp", "8 g")])
    assert Amount.parse("16 g").measured("both", "flaked salt", weights).scoops == "2 tbsp"


@given(AMOUNT, st.sampled_from(["garlic", "olive oil", "fine salt", "zork", "thyme", "lemon"]),
       st.sampled_from(["us", "metric", "both"]))
def test_what_is_shown_can_be_read_again(text: str, item: str, units: str) -> None:
    """A day's sheet stores it."""
    found = Amount.parse(text).measured(units, item)
    assert Amount.parse(found.text)
    assert abs(found.error) < 1.01
    assert label(Amount.parse(text), item, units)


@pytest.mark.parametrize(("text", "item", "says"), [
    ("8 oz", "honey", "is a weight"), ("1,500 g", "onion", "thousands"), ("1 tbsp", "kosher salt", "differ by half"),
    ("2 tbsp", "salt", "differ by half"),
    ("1 heaping tbsp", "flour", "1.25 to 2"), ("1 bunch", "parsley", "may weigh 25 to 60 g")])
def test_what_is_doubtful_is_said(text: str, item: str, says: str) -> None:
    found = doubts(Amount.parse(text), item)
    assert len(found) == 1
    assert says in found[0]


@pytest.mark.parametrize(("text", "item"), [("8 fl oz", "honey"), ("8 oz", "onion"), ("1500 g", "onion"),
                                            ("1 tbsp", "table salt"), ("10 g", "kosher salt"),
                                            ("2 cloves", "garlic"), ("1,5 kg", "onion"), ("to taste", "salt"),
                                            ("8 oz (227 g)", "honey")])
def test_what_is_clear_raises_no_doubt(text: str, item: str) -> None:
    assert doubts(Amount.parse(text), item) == ()


@pytest.mark.parametrize(
    ("value", "many", "text"),
    [
        (1234.0, 3, "1230"),
        (999.6, 3, "1000"),
        (99.4, 2, "99"),
        (120.0, 2, "120"),
        (-12345.0, 4, "-12340"),
        (0.5, 3, "0.5"),
    ],
)
def test_no_number_is_shown_with_an_exponent(value: float, many: int, text: str) -> None:
    assert digits(value, many) == text


def test_a_tonne_is_shown_in_kilos() -> None:
    assert Amount.parse("191 heaping gal").measured("metric", "fine salt").text == "1000 kg"
