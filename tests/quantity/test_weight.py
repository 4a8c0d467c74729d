"""What an ingredient weighs, by the words that recipes use."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import RequestError, UnknownName
from cookbook.quantity import Amount, convert, lookup
from cookbook.table import rows, source

NAMES = [name for row in rows("ingredient_names") if row["id"] != "?" for name in row["words"].split("; ")]


def grams(text: str, item: str) -> float:
    """The middle weight of an amount of an item."""
    return convert(text, item, to="g").value


def test_a_range_of_pieces_is_the_written_one_at_the_weight_of_one() -> None:
    found = convert("2-3 cloves", "garlic", to="g")
    assert (found.low, found.value, found.high) == pytest.approx((6.0, 7.5, 9.0))
    assert found.interval["low"] < 6.0
    assert found.interval["high"] > 9.0


@pytest.mark.parametrize(("one", "other"), [
    ("garlic", "Garlic"), ("garlic", "garlic cloves, peeled"),
    ("black pepper, ground", "freshly ground black pepper"), ("black pepper, ground", "ground pepper, black"),
    ("parsley, fresh", "fresh parsley"), ("parsley", "flat-leaf parsley"), ("cornstarch", "cornflour"),
    ("scallions", "spring onions"),
    ("cilantro", "fresh coriander"), ("baking soda", "bicarbonate of soda"), ("arugula", "rocket"),
    ("ketchup", "catsup"), ("heavy cream", "double cream"),
    ("peanut oil", "groundnut oil"), ("canola oil", "rapeseed oil"), ("powdered sugar", "icing sugar"),
    ("powdered sugar", "confectioners' sugar"),
    ("molasses", "black treacle"), ("paprika, smoked", "smoked paprika"), ("fennel seed", "fennel seeds"),
    ("tomatoes", "tomato"), ("anchovies", "anchovy fillets"),
    ("cherries, sweet", "sweet cherries"), ("bell pepper", "capsicum"), ("all-purpose flour", "plain flour"),
    ("ginger", "fresh root ginger, peeled and grated"),
    ("turmeric", "ground turmeric"), ("chervil, dried", "dried chervil"), ("olive oil", "extra-virgin olive oil"),
    ("lemon zest", "finely grated lemon zest"),
])
def test_other_words_for_the_same_thing(one: str, other: str) -> None:
    first, second = lookup(one), lookup(other)
    assert first is not None
    assert first == second


@pytest.mark.parametrize(("one", "other"), [
    ("cumin seed", "ground cumin"), ("fresh thyme", "dried thyme"), ("garlic", "garlic powder"),
    ("table salt", "kosher salt"), ("brown sugar", "white sugar"),
    ("black peppercorns", "ground black pepper"), ("chili powder", "chilli powder"), ("peanut butter", "butter"),
    ("mustard", "mustard powder"),
    ("tomato paste", "tomato"), ("lemon", "lemon juice"), ("coconut milk", "milk"), ("rice vinegar", "rice"),
    ("celery seed", "celery")])
def test_what_only_sounds_alike(one: str, other: str) -> None:
    first, second = lookup(one), lookup(other)
    assert first is not None
    assert second is not None
    assert (first.id, first.prep) != (second.id, second.prep)


def test_words_before_the_noun_fill_the_cup_and_words_after_a_comma_come_next() -> None:
    """USDA SR28 12155: a cup of chopped walnuts is 117 g, of halves 100 g."""
    assert grams("1 cup", "chopped walnuts") == pytest.approx(117, abs=0.1)
    assert grams("1 cup chopped", "walnuts") == pytest.approx(117, abs=0.1)
    assert grams("1 cup", "walnuts, chopped") == pytest.approx(100, abs=0.1)
    assert grams("1 cup sifted", "icing sugar") == pytest.approx(100, abs=0.1)
    assert grams("1 cup", "icing sugar, sifted") == pytest.approx(120, abs=0.1)


def test_where_nobody_says_how_it_is_cut_the_interval_spans_the_cuts() -> None:
    """USDA SR28 11282: a cup of chopped onion is 160 g, of slices 115 g."""
    unsaid, sliced = convert("1 cup", "onion", to="g"), convert("1 cup", "sliced onion", to="g")
    assert unsaid.interval["low"] <= sliced.value <= unsaid.interval["high"]
    assert convert("1 cup", "chopped onion", to="g").interval["low"] > sliced.value


def test_a_sifted_cup_of_flour_holds_less() -> None:
    """Home Economics Research Report 41 (Fulton et al. 1977, as quoted): a cup of flour 126 g, sifted 116 g."""
    sifted, usual = convert("1 cup sifted", "flour", to="g"), convert("1 cup", "flour", to="g")
    assert sifted.interval["low"] <= 116 <= sifted.interval["high"]
    assert sifted.value < usual.interval["low"]


def test_a_curing_salt_is_asked_for_in_grams_and_no_other_salt_is_offered() -> None:
    with pytest.raises(UnknownName) as caught:
        convert("1 tsp", "pink curing salt", to="g")
    assert (caught.value.nearest, "in grams" in (caught.value.mend or "")) == ((), True)


def test_packing() -> None:
    """USDA SR28 19334: brown sugar 220 g packed, 145 g unpacked."""
    assert grams("1 cup packed", "brown sugar") == pytest.approx(220, abs=0.1)
    assert grams("1 cup firmly packed", "brown sugar") == pytest.approx(220, abs=0.1)
    assert grams("1 cup", "packed brown sugar") == pytest.approx(220, abs=0.1)
    assert grams("1 cup", "brown sugar") == pytest.approx(145, abs=0.1)
    assert grams("1 cup loosely packed", "brown sugar") == pytest.approx(145, abs=0.1)


@pytest.mark.parametrize(("word", "choices"), [("thyme", ("thyme, fresh", "thyme, dried")),
                                               ("coffee", ("ground coffee", "brewed coffee", "instant coffee")),
                                               ("coriander",
                                                ("coriander seed", "coriander, ground", "coriander, fresh"))])
def test_a_word_for_two_things_asks_which(word: str, choices: tuple[str, ...]) -> None:
    assert lookup(word) is None
    with pytest.raises(UnknownName) as caught:
        lookup(word, strict=True)
    assert caught.value.nearest == choices
    assert all(lookup(choice) is not None for choice in choices)


def test_sprigs_are_of_the_fresh_herb() -> None:
    row = lookup("thyme", count="sprig")
    assert row is not None
    assert row.name == "thyme, fresh"
    assert Amount.parse("3 sprigs").grams("rosemary") is not None


def test_the_density_of_a_liquids_parts_is_within_its_interval() -> None:
    """measures, 2.3: USDA's 16 g in a tablespoon of soy sauce are 6 to 7 % low; its parts come to 1.140 g/ml."""
    row = lookup("soy sauce")
    assert row is not None
    assert row.high == pytest.approx(1.140, abs=0.001)
    assert row.g_per_ml == pytest.approx(1.078, abs=0.001)


@pytest.mark.parametrize(("said", "to", "low", "high"), [
    ("121 C", "F", 249.8, 249.8), ("0 C", "F", 32, 32), ("-40 F", "C", -40, -40), ("225-250 F", "°C", 107.22, 121.11),
    ("100-120 C", "F", 212, 248)])
def test_temperatures_go_from_scale_to_scale(said: str, to: str, low: float, high: float) -> None:
    found = convert(said, to=to)
    assert [found.low, found.high] == pytest.approx([low, high], abs=0.01)
    assert found.value == pytest.approx((low + high) / 2, abs=0.01)
    assert found.unit in ("°F", "°C")


def test_an_accent_tells_no_two_things_apart() -> None:
    for marked, plain in (("tomato purée", "tomato puree"), ("jalapeño", "jalapeno"), ("jalapen\u0303o", "jalapeno")):
        assert lookup(marked) is not None
        assert lookup(marked) == lookup(plain)


def test_the_written_range_of_a_heaped_spoon_is_in_low_and_high() -> None:
    """A heaped spoon holds 1.25 to 2 level ones, 1.625 in the middle; `interval` has the doubt of the flour too."""
    found = convert("1 heaping tbsp", "flour", to="g")
    assert found.low / found.value == pytest.approx(1.25 / 1.625)
    assert found.high / found.value == pytest.approx(2 / 1.625)
    assert found.interval["low"] < found.low < found.high < found.interval["high"]


@pytest.mark.parametrize(("item", "near"), [("smokd paprika", "smoked paprika"), ("fenel seed", "fennel seed"),
                                            ("garlik powder", "garlic powder"),
                                            ("olive oyl", "olive oil"), ("parsly", "parsley")])
def test_a_near_miss_asks_and_does_not_guess(item: str, near: str) -> None:
    assert lookup(item) is None
    assert Amount.parse("1 tbsp").grams(item) is None
    with pytest.raises(UnknownName) as caught:
        convert("1 tbsp", item, to="g")
    assert near in caught.value.nearest
    assert "weigh a level tablespoon" in (caught.value.mend or "")


@pytest.mark.parametrize("item", ["dragonfruit", "zork", "", "  ", ",", "1234", "salt and pepper", "half", "chopped"])
def test_what_is_not_known_is_not_known(item: str) -> None:
    assert lookup(item) is None


def test_unknown_and_counts_without_a_weight_say_how_to_weigh_once() -> None:
    with pytest.raises(RequestError, match="what one head of carrot weighs is not known"):
        convert("1 head", "carrot", to="g")
    with pytest.raises(RequestError, match="what a spoonful of lemon weighs"):
        convert("1 tbsp", "lemon", to="g")
    with pytest.raises(RequestError, match="of what"):
        convert("1 tbsp", to="g")


@pytest.mark.parametrize("item", ["ground cumin", "smoked paprika", "fine sea salt", "flaked sea salt", "kosher salt",
                                  "panko", "granulated garlic",
                                  "gochujang", "wholegrain mustard", "sumac"])
def test_what_usda_lacks_is_marked_memory_with_a_wide_interval(item: str) -> None:
    row = lookup(item)
    assert row is not None
    assert row.memory
    assert row.doubt >= 0.07
    assert "from memory, unchecked" in row.said()


def test_no_loose_salt_is_denser_than_its_crystals_can_pack() -> None:
    """Sodium chloride 2.165 g/cm³ at random close packing 0.64 (both from memory): 1.39 g/ml."""
    for row in rows("ingredients_memory"):
        if "salt" in row["name"] and row["sodium_mg"] == "38758":
            assert float(row["high"]) <= 1.39


def test_every_wording_of_the_table_leads_to_its_row() -> None:
    missing = [name for name in NAMES if lookup(name) is None]
    assert not missing


def test_no_wording_means_two_things() -> None:
    from cookbook.quantity.naming import key_of

    keys: dict[frozenset[str], str] = {}
    for row in rows("ingredient_names"):
        for name in row["words"].split("; "):
            assert keys.setdefault(key_of(name), row["id"] + row["prep"]) == row["id"] + row["prep"], name


def test_every_row_is_in_order_and_has_a_source() -> None:
    for name in ("ingredients", "ingredients_memory"):
        for row in rows(name):
            assert source(row["source"]).memory == (name == "ingredients_memory")
            if row["g_per_ml"]:
                assert 0 < float(row["low"]) <= float(row["g_per_ml"]) <= float(row["high"]) < 1.6
            else:
                assert row["counts"]
    for piece in rows("ingredient_pieces"):
        assert 0 < float(piece["low"]) <= float(piece["mid"]) <= float(piece["high"])


@given(st.sampled_from(NAMES), st.sampled_from(["{}", "  {} ", "{}, peeled", "organic {}",
                                                "{}, at room temperature"]))
def test_case_blanks_and_asides_do_not_matter(name: str, frame: str) -> None:
    one, other = lookup(name), lookup(frame.format(name).upper())
    assert one is not None
    assert other is not None
    assert other.id == one.id or other.name == "cucumber, peeled, raw"


@given(st.text(max_size=60))
def test_any_words_are_looked_up_without_a_fault(item: str) -> None:
    row = lookup(item)
    assert row is None or row.name


def test_the_source_is_named_to_the_measure() -> None:
    found = convert("1/4 cup", "table salt", to="g")
    assert found.source == f"salt, table (1 cup = 292 g): {source('usda-sr28').title}"


@pytest.mark.parametrize(("amount", "item", "said"), [
    ("6 cloves", "garlic", f"garlic, raw (1 clove = 3 g): {source('usda-sr28').title}"),
    ("2 large", "eggs", f"egg, whole, raw, fresh (1 large = 50 g): {source('usda-sr28').title}"),
    ("1 bunch", "parsley", "parsley, fresh (1 bunch = 40 g): Written down from memory, unchecked"),
    ("1-inch piece", "ginger", "ginger root, raw (1 inch = 15 g): Written down from memory, unchecked"),
])
def test_the_source_of_a_count_is_that_of_the_piece(amount: str, item: str, said: str) -> None:
    assert convert(amount, item, to="g").source == said


def test_a_stick_of_butter_is_sold_by_weight() -> None:
    found = convert("1 stick", "butter", to="g")
    assert found.value == 113
    assert found.interval["high"] - found.interval["low"] < 5


@pytest.mark.parametrize("to", ["C", "F", "°C"])
def test_a_number_without_its_scale_is_no_temperature(to: str) -> None:
    with pytest.raises(RequestError, match="no temperature"):
        convert("10", to=to)



def test_the_written_range_stands_apart_from_the_weights_doubt() -> None:
    found = convert("3-4 tbsp", "olive oil", to="g")
    assert (found.low, found.high) == pytest.approx((40.5, 54.0), abs=0.01)
    assert found.interval["low"] < found.low < found.value < found.high < found.interval["high"]


def test_weight_to_volume_and_back() -> None:
    honey = convert("100 g", "honey", to="tbsp")
    assert honey.value == pytest.approx(4.7197, abs=1e-3)
    assert honey.interval["low"] < honey.value < honey.interval["high"]
    assert convert("100 g", "honey", to="metric cup").unit == "metric cup"
    with pytest.raises(UnknownName, match="no unit 'zork'"):
        convert("1 cup", "water", to="zork")
    with pytest.raises(RequestError, match="is a count"):
        convert("1 cup", "garlic", to="clove")
