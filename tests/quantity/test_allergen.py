"""Allergens by the words of an ingredient: longer wordings win, and look-alikes are none."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import RequestError
from cookbook.quantity import allergens
from cookbook.table import rows, source


def contains(item: str, law: str) -> list[str]:
    """The contained allergens in words."""
    return [str(one) for one in allergens(item, law).contains]


@pytest.mark.parametrize(("item", "us", "eu"), [
    ("walnuts", ["tree nuts (walnut)"], ["nuts (walnut)"]),
    ("walnuts, toasted and chopped", ["tree nuts (walnut)"], ["nuts (walnut)"]),
    ("butter", ["milk"], ["milk"]), ("peanut butter", ["peanuts"], ["peanuts"]),
    ("flour", ["wheat"], ["cereals containing gluten (wheat)"]),
    ("soy sauce", ["soybeans", "wheat"], ["soybeans", "cereals containing gluten (wheat)"]),
    ("wholegrain mustard", [], ["mustard"]),
    ("mustard, wholegrain", [], ["mustard"]), ("celery seed", [], ["celery"]),
    ("beer", [], ["cereals containing gluten (barley)"]),
    ("sesame oil, toasted", ["sesame"], ["sesame"]), ("eggs, beaten", ["eggs"], ["eggs"]),
    ("anchovy fillets", ["fish"], ["fish"]),
    ("oyster sauce", [], ["molluscs"]), ("shrimp", ["crustacean shellfish"], ["crustaceans"]),
    ("pine nuts", ["tree nuts (pine nut)"], []),
    ("panko", ["wheat"], ["cereals containing gluten (wheat)"]), ("lupin flour", [], ["lupin"]),
    ("almond milk", ["tree nuts (almond)"], ["nuts (almond)"]),
])
def test_what_is_in_it_by_us_and_by_eu_law(item: str, us: list[str], eu: list[str]) -> None:
    assert (contains(item, "us"), contains(item, "eu")) == (us, eu)


@pytest.mark.parametrize("item", ["coconut milk", "cocoa butter", "cream of tartar", "nutmeg", "butternut squash",
                                  "oyster mushrooms", "eggplant",
                                  "rice flour", "cornflour", "water chestnuts", "buckwheat flour", "garlic", "zork",
                                  "ginger ale", "peppermint"])
def test_what_only_looks_like_an_allergen(item: str) -> None:
    for law in ("us", "eu"):
        found = allergens(item, law)
        assert found.contains == ()
        assert found.check == ()


@pytest.mark.parametrize(("item", "law", "check"), [("chicken stock", "eu", "celery"),
                                                    ("vinegar", "eu", "sulphur dioxide and sulphites"),
                                                    ("curry powder", "eu", "mustard"),
                                                    ("tamari", "us", "wheat"),
                                                    ("miso", "eu", "cereals containing gluten (barley)")])
def test_what_the_label_has_to_be_read_for(item: str, law: str, check: str) -> None:
    found = allergens(item, law)
    assert check in [str(one) for one in found.check]


def test_what_is_contained_need_not_be_checked() -> None:
    found = allergens("soy sauce and miso", "us")
    assert {one.name for one in found.contains} == {"soybeans", "wheat"}
    assert not found.check


def test_what_one_law_counts_and_the_other_does_not_is_still_worth_a_look() -> None:
    """Pine nuts are tree nuts in the US and not in the EU's list."""
    found = allergens("pine nuts", "eu")
    assert found.contains == ()
    assert [str(one) for one in found.check] == ["nuts (pine nut, by US law)"]


def test_only_known_laws() -> None:
    with pytest.raises(RequestError, match="no law"):
        allergens("milk", "moon")


def test_every_wording_names_known_allergens_and_has_a_source() -> None:
    known = {row["name"] for row in rows("allergens")} | {"none", ""}
    for row in rows("allergen_words"):
        assert row["memory"] in ("true", "false")
        for column in ("contains", "check"):
            names = {one.partition(" (")[0].strip() for one in row[column].split(";")}
            assert names <= known, row
        for phrase in row["words"].split("; "):
            found = allergens(phrase, "eu")
            assert not (row["contains"] == "none" and found.contains)
    assert not source("allergen-laws").memory


@given(st.text(max_size=60))
def test_any_words_are_read_without_a_fault(item: str) -> None:
    found = allergens(item)
    assert set(found.contains).isdisjoint(found.check)


def test_a_phrase_that_says_a_word_twice_needs_it_twice() -> None:
    assert [one.name for one in allergens("half and half").contains] == ["milk"]
    assert allergens("and a half").contains == ()
