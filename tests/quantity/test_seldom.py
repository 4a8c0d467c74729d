"""What is said, read and asked seldom: each refusal with its mend, each answer with its source."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cookbook.errors import AmountError, RequestError, UnknownName
from cookbook.quantity import (
    Amount,
    Duration,
    Length,
    Temperature,
    TemperatureDifference,
    convert,
    doubts,
    grams_source,
    lookup,
    own_weights,
    read_mass_g,
    weighing,
)
from cookbook.quantity.drawer import DRAWERS
from cookbook.quantity.own import own_for
from cookbook.quantity.rounding import in_unit
from cookbook.quantity.salt import salt_grams, salt_in
from cookbook.quantity.scanner import MOST_PARTS
from cookbook.quantity.total import totals
from cookbook.quantity.unit import unit


def test_what_programmers_print_names_the_type_and_the_words() -> None:
    told = [Amount.parse("1 cup"), Duration.parse("25 min"), Length.parse("18 cm"), Temperature.parse("60 C")]
    assert [repr(one) for one in told] == [
        "Amount('1 cup')", "Duration('25 min')", "Length('18 cm')", "Temperature('60 °C')"
    ]
    assert str(TemperatureDifference.parse("5 K")) == "5 K"
    assert [str(one) for one in told] == ["1 cup", "25 min", "18 cm", "60 °C"]


def test_what_is_cut_to_a_length_need_be_no_package() -> None:
    assert Amount.parse("2 (5 cm) sprigs").canonical() == ["2", "2", "sprig", "each 5 cm"]


def test_a_percentage_may_be_a_guess() -> None:
    assert Amount.parse("about 2 % of meat").canonical() == ["2", "2", "percent of meat", "about"]


def test_plural_short_units_and_long_words_of_a_system() -> None:
    assert Amount.parse("3 ozs").canonical() == Amount.parse("3 oz").canonical()
    assert Amount.parse("1 US fluid ounce").canonical() == Amount.parse("1 US fl oz").canonical()


@pytest.mark.parametrize("said", ["900 ml", "30 ml"])
def test_a_bracket_behind_a_sum_says_all_of_it(said: str) -> None:
    assert Amount.parse("1 cup + 2 tbsp (266 ml)").ascii()
    with pytest.raises(AmountError, match="the whole sum again"):
        Amount.parse(f"1 cup + 2 tbsp ({said})")


def test_less_than_a_balance_shows_is_the_least_it_does() -> None:
    gram = unit("g")
    assert gram is not None
    assert in_unit(Fraction(1, 1000), gram) == Fraction(1, 10)


def test_what_is_the_same_size_is_equal_and_found_in_a_set() -> None:
    assert len({Length.parse("18 cm"), Length.parse("180 mm"), Length.parse("18 in")}) == 2
    assert len({Temperature.parse("60 C"), Temperature.parse("60 °C"), Temperature.parse("60 F")}) == 2
    assert len({TemperatureDifference.parse("5 K"), TemperatureDifference.parse("5 K")}) == 1


@pytest.mark.parametrize(("text", "said", "mend"), [
    ("zest and 2 lemons", "after 'zest' comes 'of'", "`zest of 2 lemons`"),
    ("1/2000000 cup", "parts as small as 1/2000000", "as a decimal"),
    ("heaping 1 (400 g) can", "neither heaped nor scant", "1 (400 g) can"),
    ("3 (400 g) cups", "comes the package", "1 (400 g) can"),
    ("2 (400 g each cans", "bracket is not closed", "1 (400 g) can"),
    ("1 1/2 cups (90 g", "bracket is not closed", "1 1/2 cups (90 g)"),
    ("2 (400 g) each (3 oz cans", None, None),
    ("1 firmly cup", "'firmly' how?", "`firmly packed`"),
    ("1 Australian hogshead", "no Australian measure 'hogshead'", None),
    ("5 g/table spoon", "'/table' is no unit", None),
    ("heaping 2 % of meat", "a percentage is not 'heaping'", "1.1 % of meat"),
    ("a little over 1 1/2 % of meat", "a percentage is not 'a little over'", "1.1 % of meat"),
    ("5 per head", "a percentage is meant", "1.1 % of meat"), ("about 2 %", "a percentage of what", "1.1 % of meat"),
    ("5 (3 cm) cups", "comes the package", "1 (400 g) can"), ("2 x 3 cm cups", "comes the package", "(400 g) can"),
    ("2 fl grams", "'fl' is no unit", "under `item:`"),
])  # fmt: skip
def test_a_refusal_says_what_it_read_and_how_to_write_it(text: str, said: str | None, mend: str | None) -> None:
    with pytest.raises(AmountError, match=said) as refused:
        Amount.parse(text)
    assert mend is None or mend in str(refused.value.mend)


def test_the_smallest_part_that_can_be_written() -> None:
    assert Amount.parse(f"1/{MOST_PARTS} cup").low == Fraction(1, MOST_PARTS)
    with pytest.raises(AmountError):
        Amount.parse(f"1/{MOST_PARTS + 1} cup")


@pytest.mark.parametrize(("text", "plain"), [
    ("finely grated zest of 2 lemons", "zest of 2 lemons"), ("zest from a lemon", "zest of 1 lemon"),
    ("1 US dry pint", "1 US dry pint"), ("2 US dry pints", "2 US dry pints"),
    ("1 US label fl oz.", "1 US label fl oz"),
    ("few grains", "a few grains"), ("heaping few grains", "a few grains"),
    ("1 metric tbsp.", "1 metric tbsp"), ("2 (2-in.) pieces", "2 (2 in) pieces"),
])  # fmt: skip
def test_a_seldom_way_of_writing_is_read(text: str, plain: str) -> None:
    assert Amount.parse(text).ascii() == plain


def test_a_conversion_that_cannot_be_says_why() -> None:
    with pytest.raises(RequestError, match="has no weight of its own") as refused:
        convert("to taste", "salt", to="g")
    assert "2 tbsp" in str(refused.value.mend)
    with pytest.raises(UnknownName, match="no ingredient weight for 'quzzle'"):
        convert("1 cup", "quzzle", to="g")
    with pytest.raises(RequestError, match="the measure system 'metric' has no quart") as without:
        convert("300 ml", to="quart", measures="metric")
    assert "quart" in str(without.value.mend)


def test_a_pinch_is_what_common_practice_says() -> None:
    found = convert("1 pinch", to="ml")
    assert found.low < found.value < found.high
    assert "trade spoons" in found.source


@pytest.mark.parametrize(("text", "said"), [
    ("1,000 g", "a comma and three digits are thousands"), ("1.000 g", "digits behind a point are decimals"),
    ("1 teacup", "nobody agrees how much a teacup holds"), ("1 ladle", "write it in cups or ml"),
])  # fmt: skip
def test_what_a_cook_should_know_of_an_amount(text: str, said: str) -> None:
    assert any(said in one for one in doubts(Amount.parse(text), "sugar"))


def test_a_vessel_that_says_what_it_holds_is_clear() -> None:
    assert not doubts(Amount.parse("1 teacup (120 ml)"), "water")


def test_salt_whose_weight_nobody_knows_is_not_counted() -> None:
    assert salt_grams(Amount.parse("1 tbsp"), "quzzle") is None
    assert salt_grams(Amount.parse("10 g"), "fine salt") is not None
    assert salt_in("fine salt") == pytest.approx(1, abs=0.05)


def test_without_weighings_there_is_no_weight_of_ones_own() -> None:
    assert own_for(None, "garlic") is None
    assert own_for({}, "garlic") is None


def test_what_could_not_be_added_up_says_what_is_missing() -> None:
    lines = [(Amount.parse("1 cup"), "quzzle"), (Amount.parse("2 heads"), "oregano, dried")]
    assert {(one.item, one.why) for one in totals(lines).uncounted} == {
        ("quzzle", "what quzzle weighs is not known"),
        ("oregano, dried", "what one head of oregano, dried weighs is not known"),
    }


@pytest.mark.parametrize("text", ["0 g", "1001 kg"])
def test_no_piece_weighs_nothing_or_more_than_a_ton(text: str) -> None:
    with pytest.raises(RequestError) as refused:
        read_mass_g(text)
    assert refused.value.mend == "more than nothing, at most a ton"


def test_half_a_gram_is_a_weight() -> None:
    assert read_mass_g("0.5 g") == pytest.approx(0.5)


@pytest.mark.parametrize("text", ["the 2 cups", "grated 2 cups", "2 cans (400 g each", "1 % of meat + 3 g",
                                  "1 14-oz cup"])
def test_what_begins_like_an_amount_and_is_none_is_refused(text: str) -> None:
    with pytest.raises(AmountError) as refused:
        Amount.parse(text)
    assert refused.value.mend


@pytest.mark.parametrize(("text", "plain"), [
    ("juice of 1/2 of a lemon", "juice of 1/2 lemon"), ("1 lb 4 oz (2 cups)", "1 1/4 lb (2 cup)"),
    ("1 lb 4 oz (20 oz)", "1 1/4 lb (20 oz)"),
])  # fmt: skip
def test_a_seldom_sum_is_read(text: str, plain: str) -> None:
    assert Amount.parse(text).ascii() == plain


def test_where_the_weight_of_an_amount_comes_from() -> None:
    assert grams_source(Amount.parse("3 g"), "sugar") == "exact definitions of the units"
    assert grams_source(Amount.parse("1 (400 g) can"), "tomatoes") == "as the amount itself says"


def test_a_fruit_has_no_spoonful() -> None:
    with pytest.raises(RequestError, match="what a spoonful of lemon weighs is not known"):
        convert("1 cup", "lemon", to="g")
    with pytest.raises(RequestError, match="lime"):
        convert("2 wedges", "lime", to="cup")
    found = totals([(Amount.parse("1 cup"), "lemon")]).uncounted
    assert {one.why for one in found} == {"what a spoonful of lemon weighs is not known"}
    assert lookup("lemon").doubt == 0  # type: ignore[union-attr]  # a row that is there


def test_nothing_of_an_ingredient_weighs_nothing() -> None:
    assert convert("0 cup", "sugar", to="g").value == 0
    assert Amount.parse("0 g").measured(item="sugar").text.startswith("0")


def test_a_measure_that_a_system_has_not_is_none() -> None:
    assert unit("metric hogshead") is None
    assert unit("Australian quart") is None
    assert unit("metric quart") is None


def test_juice_and_zest_are_both_weighed() -> None:
    parts = ("juice and zest", "juice", "zest")
    both, juice, zest = (convert(f"{part} of 2 lemons", "lemon", to="g") for part in parts)
    assert both.value == pytest.approx(juice.value + zest.value)


def test_own_figures_of_a_count_leave_the_tables_volume() -> None:
    own = own_weights([weighing("garlic", "2 cloves", "11 g"), weighing("quzzle", "1 tbsp", "9 g")])
    assert convert("2 cloves", "garlic", to="g", weights=own).value == pytest.approx(11)
    assert convert("1 tbsp", "quzzle", to="g", weights=own).value == pytest.approx(9)
    assert grams_source(Amount.parse("1 cup"), "quzzle", own)


@pytest.mark.parametrize(("text", "system", "spoons"), [
    ("0-2 cups", "us", ""), ("0-6 cups", "us", ""), ("6 cups", "us", "1 1/2 quarts"), ("6 cups", "metric", ""),
    ("4.4 cups", "us", ""),
])  # fmt: skip
def test_what_no_level_measure_comes_close_to_is_left_as_written(text: str, system: str, spoons: str) -> None:
    """No quart in the metric set; 4.4 cups are 9 % off the nearest quarter of a quart; nothing has no spoon."""
    assert Amount.parse(text, system).measured(item="water").scoops == spoons


def test_what_holds_something_must_be_a_package() -> None:
    with pytest.raises(AmountError, match="comes the package"):
        Amount.parse("2 (400 g) sprigs")


def test_fresh_garlic_is_garlic_and_dried_garlic_is_another_thing() -> None:
    fresh = lookup("fresh garlic")
    assert fresh is not None
    assert fresh.name == "garlic, raw"
    assert lookup("dried garlic") is None


def test_a_weight_of_nobody_knows_what_has_no_spoons() -> None:
    assert Amount.parse("10 g").measured().scoops == ""
    assert Amount.parse("10 g").measured(item="sugar").scoops != ""


def test_a_kitchens_own_measures_say_a_metric_volume_in_themselves_or_weigh_it() -> None:
    own = DRAWERS["us"]
    assert Amount.parse("250 ml").measured(item="water", units="us", drawer=own).text == "1 cup + 1 tbsp"
    assert Amount.parse("4.4 cups").measured(item="water", drawer=own).text == "1.04 l"
    assert Amount.parse("4.4 cups").measured(item="flour", drawer=own).text.endswith(" g")


@pytest.mark.parametrize(("text", "said", "under"), [
    ("1 cup + salt", "'salt' is no number", "salt"),
    ("1 cup foo\tbar", "'foo' is no unit and no word of an amount", "foo"),
    ("1 cup ; x", "';' is no unit and no word of an amount", ";"),
    ("1 lb + 4 oz (760 g)", "the bracket does not say the whole sum again", "+ 4 oz (760 g)")])
def test_what_is_no_amount_is_named_by_its_own_word(text: str, said: str, under: str) -> None:
    with pytest.raises(AmountError) as caught:
        Amount.parse(text)
    assert caught.value.message == said
    assert text[caught.value.offset:][:caught.value.length] == under
