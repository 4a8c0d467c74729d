"""The grammar of amounts, form by form: what a text means, exactly, and where a fault lies."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cookbook.errors import AmountError, RequestError
from cookbook.quantity import Amount

CUP = Fraction("236.5882365")


@pytest.mark.parametrize(("text", "low", "high", "unit"), [
    ("1 1/2 cup", "3/2", "3/2", "cup"), ("½ cup", "1/2", "1/2", "cup"), ("1½ cups", "3/2", "3/2", "cup"),
    ("1 ½ cups", "3/2", "3/2", "cup"), ("1-1/2 cups", "3/2", "3/2", "cup"), ("2-3/4 cups", "11/4", "11/4", "cup"),
    ("1\u20131/2 cups", "3/2", "3/2", "cup"), ("1\u20442 cup", "1/2", "1/2", "cup"),
    (".5 l", "1/2", "1/2", "l"), ("2.5 kg", "5/2", "5/2", "kg"), ("1,5 kg", "3/2", "3/2", "kg"),
    ("1,500 g", "1500", "1500", "g"),
    ("1,000,000 mg", "1000000", "1000000", "mg"), ("1,500.5 g", "3001/2", "3001/2", "g"), ("60g", "60", "60", "g"),
    ("3-4 tbsp", "3", "4", "tbsp"), ("3 – 4 tbsp", "3", "4", "tbsp"), ("3—4 tbsp", "3", "4", "tbsp"),
    ("3 to 4 tbsp", "3", "4", "tbsp"),
    ("1/2-1 cup", "1/2", "1", "cup"), ("1-1 1/2 cups", "1", "3/2", "cup"), ("1½–2 cups", "3/2", "2", "cup"),
    ("two or three cloves", "2", "3", "clove"), ("60 g to 80 g", "60", "80", "g"),
    ("1 tsp to 1 tbsp", "1", "3", "tsp"),
    ("half a bunch", "1/2", "1/2", "bunch"), ("two dozen", "24", "24", ""), ("2 dozen", "24", "24", ""),
    ("half a dozen", "6", "6", ""),
    ("one and a half cups", "3/2", "3/2", "cup"), ("two-thirds of a cup", "2/3", "2/3", "cup"),
    ("1 and 1/2 cups", "3/2", "3/2", "cup"),
    ("8 fl oz", "8", "8", "fl oz"), ("8 fl. oz.", "8", "8", "fl oz"), ("5#", "5", "5", "lb"),
    ("2 T", "2", "2", "tbsp"),
    ("2 t", "2", "2", "tsp"), ("2 c", "2", "2", "cup"), ("2 C", "2", "2", "cup"), ("1 L", "1", "1", "l"),
    ("3 TBSP.", "3", "3", "tbsp"),
    ("1\u00a0cup", "1", "1", "cup"), ("2 Pounds", "2", "2", "lb"), ("4", "4", "4", ""), ("pinch", "1", "1", "pinch"),
])
def test_numbers_ranges_and_units(text: str, low: str, high: str, unit: str) -> None:
    found = Amount.parse(text)
    assert (found.low, found.high, found.unit) == (Fraction(low), Fraction(high), unit)
    assert found.words == ()


@pytest.mark.parametrize(("text", "words"), [
    ("about 60 g", ("about",)), ("~ 60 g", ("about",)), ("approx. 60 g", ("about",)), ("60 g or so", ("about",)),
    ("1 heaping tbsp", ("heaping",)), ("heaped tbsp", ("heaping",)), ("scant 1/2 cup", ("scant",)),
    ("a generous 1/2 cup", ("generous",)),
    ("1 rounded tsp", ("rounded",)), ("1 level tsp", ()), ("1 cup packed", ("packed",)),
    ("1 packed cup", ("packed",)),
    ("1 cup (packed)", ("packed",)), ("1 cup, packed", ("packed",)), ("1 cup firmly packed", ("firmly packed",)),
    ("1 cup lightly packed", ("lightly packed",)), ("1 cup sifted", ("sifted",)), ("1 cup chopped", ("chopped",)),
    ("2 large", ("large",)), ("1 small bunch", ("small",)), ("2 extra large", ("extra-large",)),
    ("a few sprigs", ("a few",)),
    ("1 tbsp or to taste", ("to taste",)), ("1 tbsp, plus more for serving", ("for serving",)),
    ("2 tbsp as needed", ("as needed",)),
    ("about 1 cup or so", ("about",)),
])
def test_words_that_change_the_meaning(text: str, words: tuple[str, ...]) -> None:
    assert Amount.parse(text).words == words


@pytest.mark.parametrize(("text", "grams"), [
    ("1 lb 4 oz", "566.9904625"), ("1 lb. 13 oz.", "822.136170625"), ("1 kg 200 g", "1200"),
    ("1 lb, 8 oz", "680.388555"),
])
def test_pounds_and_ounces_add_up(text: str, grams: str) -> None:
    assert Amount.parse(text).base == (Fraction(grams), Fraction(grams), "g")


@pytest.mark.parametrize(("text", "cups"), [
    ("1 cup plus 2 tbsp", "9/8"), ("1 cup + 1 tbsp", "17/16"), ("1 cup and 2 tbsp", "9/8"), ("1 cup 2 tbsp", "9/8"),
    ("1 cup minus 1 tbsp", "15/16"), ("1 cup less 2 tbsp", "7/8"), ("1/2 + 1/3 cup", "5/6"),
    ("1 pint 2 fl oz", "9/4"),
    ("1-2 cups + 1 tbsp", "17/16"),
])
def test_cups_and_spoons_add_up(text: str, cups: str) -> None:
    base = Amount.parse(text).base
    assert base is not None
    assert base[0] == Fraction(cups) * CUP


@pytest.mark.parametrize(("text", "low", "high", "each"), [
    ("1 (400 g) can", 1, 1, (400, "g")), ("2 (400 g) cans", 2, 2, (400, "g")), ("2 x 400 g tins", 2, 2, (400, "g")),
    ("2 × 400 g tins", 2, 2, (400, "g")), ("400 g tin", 1, 1, (400, "g")), ("1 can (400 g)", 1, 1, (400, "g")),
    ("2 cans (400 g each)", 2, 2, (400, "g")), ("2 14-oz cans", 2, 2, (Fraction("396.89332375"), "g")),
    ("a 14-oz can", 1, 1, (Fraction("396.89332375"), "g")), ("1 (330 ml) bottle", 1, 1, (330, "ml")),
    ("1-inch piece", 1, 1, (Fraction("2.54"), "cm")), ('1" piece', 1, 1, (Fraction("2.54"), "cm")),
    ("2 5 cm pieces", 2, 2, (5, "cm")),
    ("2 x 400 g", 2, 2, (400, "g")),
])
def test_what_one_package_holds(text: str, low: int, high: int, each: tuple[Fraction, str]) -> None:
    found = Amount.parse(text)
    assert (found.low, found.high) == (Fraction(low), Fraction(high))
    assert found.each is not None
    assert (found.each.size, found.each.base) == each


def test_two_cans_of_a_size_behind_them_ask_whether_each_or_all_is_meant() -> None:
    with pytest.raises(AmountError, match="each of the cans or all of them"):
        Amount.parse("2 cans (400 g)")


@pytest.mark.parametrize(("text", "low", "high"), [
    ("1 1/2 cups (90 g)", 90, 90), ("1 cup/90 g", 90, 90), ("4 cloves (12-16 g)", 12, 16),
    ("3 (about 400 g)", 360, 440)])
def test_a_weight_said_beside_the_measure_is_the_weight(text: str, low: float, high: float) -> None:
    grams = Amount.parse(text).grams("anything")
    assert grams is not None
    assert (grams.low, grams.high) == pytest.approx((low, high))


@pytest.mark.parametrize("text", ["to taste", "as needed", "to cover", "for serving", "for garnish"])
def test_free_amounts_have_no_number(text: str) -> None:
    found = Amount.parse(text)
    assert found.kind == "free"
    assert found.low is None
    assert found.high is None
    assert found.grams("salt") is None
    assert found.scaled(3) is found


@pytest.mark.parametrize(("text", "unit"), [
    ("1.2 % of meat", "percent of meat"), ("1.2% of the meat", "percent of meat"),
    ("1.2 percent of meat", "percent of meat"),
    ("1.1 % of boneless meat", "percent of boneless meat"),
    ("1.1 % of meat without bone", "percent of boneless meat")])
def test_a_share_of_the_meat(text: str, unit: str) -> None:
    found = Amount.parse(text)
    assert (found.kind, found.unit) == ("percent", unit)
    assert found.scaled(2) is found


def test_juice_of_two_lemons_is_a_count_of_fruit() -> None:
    found = Amount.parse("juice of 2 lemons")
    assert (found.kind, found.unit, found.low, found.words) == ("count", "lemon", Fraction(2), ("juice of",))


@pytest.mark.parametrize(("text", "offset", "length", "says"), [
    ("4-3 tbsp", 0, 3, "falling range"), ("1 - 1/2 cup", 0, 7, "falling range"), ("3-3 cups", 0, 3, "falling range"),
    ("1 cup walnuts", 6, 7, "'walnuts' is no unit"), ("2 tbps", 2, 4, "'tbps' is no unit"),
    ("1 cup walnuts, chopped", 6, 7, "walnuts"),
    ("-2 cups", 0, 1, "less than nothing"), ("1/0 cup", 2, 1, "divided by 0"), ("1 cup (packed", 6, 7, "'(packed'"),
    ("1 (400 g can", 2, 1, "bracket is not closed"), ("1 (400 g) cup", 10, 3, "comes the package"),
    ("2 %", 2, 1, "percentage of what"),
    ("150 % of meat", 0, 3, "more than all"), ("1 cup and 1 lb", 6, 8, "can't be added"),
    ("juice of 2 onions", 11, 6, "no fruit"),
    ("juice with lemons", 6, 4, "comes 'of'"), ("1/2 of a 28 oz can", 4, 2, "'of' what"), ("cup", 0, 3, "how many"),
    ("1 cup less 2 cups", 6, 11, "more is taken away"), ("60 g to 2 cups", 5, 2, "can't be compared"),
    ("1 heaping cup plus 1 tbsp", 14, 11, "can't be added up"), ("2 kg to 1 kg", 5, 7, "does not rise"),
    ("1 extra cup", 2, 5, "'extra' what"),
])
def test_a_fault_is_shown_at_its_place(text: str, offset: int, length: int, says: str) -> None:
    with pytest.raises(AmountError, match=r".") as caught:
        Amount.parse(text)
    assert says in caught.value.message
    assert (caught.value.offset, caught.value.length) == (offset, length)
    assert caught.value.mend


@pytest.mark.parametrize("text", [
    "", " ", "1e999", "1e5 g", "nan", "inf g", "Infinity", "9" * 400 + " g", "1/" + "9" * 30 + " cup",
    "0." + "1" * 400, "٣ cups", "² cups",
    "1.² g", "Ⅳ cups", "1 cup" + " " * 300, "x" * 1000, "++", "((((", "1 (((", "- - -", "1--2 cups", "1 cup cup",
    "1 2 3", "1 gr",
    "999,999,999,999 g", "a a cup", "% of meat", "1 % of the", "juice of", "1 x", "\x00", "1 \ufffd cup"])
def test_nonsense_is_refused_as_an_amount_error(text: str) -> None:
    with pytest.raises(AmountError):
        Amount.parse(text)


@pytest.mark.parametrize(("word", "near"), [("tbps", "tbsp"), ("tablspoon", "tbsp"), ("grms", "g"), ("onces", "oz"),
                                            ("clovs", "clove")])
def test_a_mistyped_unit_is_suggested(word: str, near: str) -> None:
    with pytest.raises(AmountError) as caught:
        Amount.parse(f"2 {word}")
    assert f"'{near}'" in (caught.value.mend or "")


@pytest.mark.parametrize(("system", "unit"), [("uk", "cup"), ("jp", "fl oz"), ("jp", "pint"), ("metric", "quart"),
                                              ("us-label", "dessertspoon")])
def test_a_system_without_the_measure_says_so_and_how_to_name_one(system: str, unit: str) -> None:
    with pytest.raises(AmountError, match=f"'{system}' has no {unit}") as caught:
        Amount.parse(f"1 {unit}", system)
    assert "name the system" in (caught.value.mend or "")


def test_an_unknown_measure_system_is_a_bad_call() -> None:
    with pytest.raises(RequestError, match="no measure system"):
        Amount.parse("1 cup", "imperial")


@pytest.mark.parametrize(("one", "two", "measures"), [
    ("1/4 cup", "4 tbsp", "us"), ("1 tbsp", "3 tsp", "us"), ("1 Australian tbsp", "4 tsp", "au"),
    ("1 lb", "16 oz", "us"),
    ("1 kg", "1000 g", "us"), ("2 cups", "1 pint", "us"), ("half a dozen", "6", "us"), ("1 US cup", "1 cup", "us")])
def test_the_same_amount_in_other_words_is_equal(one: str, two: str, measures: str) -> None:
    assert Amount.parse(one, measures) == Amount.parse(two, measures)
    assert hash(Amount.parse(one, measures)) == hash(Amount.parse(two, measures))


@pytest.mark.parametrize(("one", "two"), [("60 g", "about 60 g"), ("1 cup", "1 cup packed"), ("2 cloves", "2 heads"),
                                          ("1 cup", "1 metric cup"),
                                          ("1 (400 g) can", "1 can"), ("2", "2 large"), ("1 cup", "1 cup (90 g)"),
                                          ("3 tbsp", "3-4 tbsp")])
def test_other_meanings_are_not_equal(one: str, two: str) -> None:
    assert Amount.parse(one) != Amount.parse(two)


def test_the_meaning_that_a_version_digests() -> None:
    """Exact fractions as text, ml for volumes, g for weights, counts with their own word."""
    assert Amount.parse("1/4 cup").canonical() == ["473176473/8000000", "473176473/8000000", "ml", ""]
    assert Amount.parse("about 1 lb").canonical() == ["45359237/100000", "45359237/100000", "g", "about"]
    assert Amount.parse("2-3 large cloves").canonical() == ["2", "3", "clove", "large"]
    assert Amount.parse("to taste").canonical() == ["", "", "", "to taste"]
    assert Amount.parse("2 (400 g) cans").canonical() == ["2", "2", "can", "each 400 g"]
    assert Amount.parse("1.2 % of meat").canonical() == ["6/5", "6/5", "percent of meat", ""]


def test_only_cups_and_spoons_depend_on_the_measure_system() -> None:
    assert Amount.parse("1 cup").depends_on_measures
    assert Amount.parse("a pinch").depends_on_measures
    assert not Amount.parse("1 metric cup").depends_on_measures
    assert not Amount.parse("60 g").depends_on_measures
    assert not Amount.parse("2 cloves").depends_on_measures
