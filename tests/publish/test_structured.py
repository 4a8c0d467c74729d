"""The card as data for machines; its vocabulary is checked in tests/external/test_schema_org.py."""

from __future__ import annotations

import json
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.publish.forms.structured import duration, recipe_data, structured
from tests.publish.cards import CAUTIONS, COOK_CARD, PASTE_CARD


def test_one_object_that_is_a_recipe() -> None:
    data = json.loads(structured(PASTE_CARD))
    assert (data["@context"], data["@type"]) == ("https://schema.org", "Recipe")
    assert data["name"] == "Fennel and sage paste"


def test_ingredients_are_texts_in_the_cooks_order() -> None:
    assert recipe_data(PASTE_CARD)["recipeIngredient"] == [
        "12 cloves (about 62 g) garlic, minced", "30 g (1 cup + 2 tbsp) sage, fresh, chopped (or thyme, fresh)",
        ("80 ml (⅓ cup, 73 g) olive oil "
         "(until it drops slowly from the spoon; keep back 10 ml of it, to add by taste)"),
        "24 g (4 tsp) fine salt"]


def test_a_cook_begins_with_its_meat() -> None:
    ingredients = recipe_data(COOK_CARD)["recipeIngredient"]
    assert ingredients[0] == "2.2 kg (4.9 lb) pork loin, boneless"
    assert ingredients[-1] == "2 chunks cherry wood"


def test_every_step_says_its_place_and_the_cautions_are_the_last() -> None:
    for card in (PASTE_CARD, COOK_CARD):
        steps = recipe_data(card)["recipeInstructions"]
        assert [step["position"] for step in steps] == list(range(1, len(steps) + 1))
        assert {step["@type"] for step in steps} == {"HowToStep"}
        assert all(caution.text in steps[-1]["text"] for caution in CAUTIONS)


def test_a_cook_gives_fire_pull_and_rest_as_a_step_with_its_duration() -> None:
    step = recipe_data(COOK_CARD)["recipeInstructions"][-2]
    assert step["text"].startswith("130 °C (266 °F) pit, drum, charcoal, cherry; 60 °C (140 °F) pull")
    assert step["itemListElement"][0]["performTime"] == "PT25M"


def test_a_rest_that_is_a_range_is_given_in_words_only() -> None:
    step = recipe_data(COOK_CARD._replace(rest_s=None))["recipeInstructions"][-2]
    assert "25 min rest" in step["text"]
    assert "itemListElement" not in step


def test_own_scores_are_never_a_public_rating() -> None:
    shown = structured(COOK_CARD)
    assert "ating" not in shown
    assert "review" not in shown.casefold()


def test_what_is_not_known_is_left_out() -> None:
    bare = PASTE_CARD._replace(author="", licence="", kitchen="", address="", facts=(), cut="")
    assert not {"author", "license", "publisher", "url", "recipeYield", "cookingMethod"} & set(recipe_data(bare))


def test_a_licence_that_is_an_address_is_given_as_one_and_an_address_that_is_none_is_not() -> None:
    card = PASTE_CARD._replace(licence="https://example.org/licence", address="ask at the hall")
    data = recipe_data(card)
    assert data["license"] == "https://example.org/licence"
    assert "url" not in data


@pytest.mark.parametrize(("seconds", "text"), [
    (0, "PT0S"), (29, "PT0S"), (1500, "PT25M"), (3600, "PT1H"), (5400, "PT1H30M"), (93600, "PT26H"),
    (95400, "PT26H30M"),
])
def test_durations_are_iso_8601_to_the_minute(seconds: float, text: str) -> None:
    assert duration(seconds) == text


@given(st.text(max_size=300))
def test_no_title_ends_the_script_that_it_stands_in(title: str) -> None:
    hostile = f"{title}</script><!--<script>{title}"
    shown = structured(PASTE_CARD._replace(title=hostile))
    assert not re.search(r"[<>&\u2028\u2029]", shown)
    assert json.loads(shown)["name"] == hostile.replace("\u00a0", " ")
