"""A formula of one's own: one line everywhere, and nothing of it anywhere."""

from __future__ import annotations

import json

import pytest

from cookbook.kitchen import Kitchen
from cookbook.publish import card
from cookbook.publish.content.gathering import content, gather
from cookbook.publish.forms.paper import paper
from cookbook.publish.forms.scaler import scaler
from cookbook.recipe.scaling import scaled_to
from tests.publish.more import SECRETS

FORMS = ("text", "description", "reply", "page", "json-ld", "sheet")


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("recipe", ["own-rub", "rubbed"])
def test_no_ingredient_share_or_step_of_it_stands_in_any_form(fuller: Kitchen, recipe: str, form: str) -> None:
    shown = card(fuller, recipe, form).casefold()
    for secret in (*SECRETS, "grind the", "plum-cellar"):
        assert secret not in shown


@pytest.mark.parametrize("recipe", ["own-rub", "rubbed"])
def test_nor_in_the_pages_data_or_on_paper(fuller: Kitchen, recipe: str) -> None:
    found = gather(fuller, recipe)
    data = json.dumps(scaler(fuller, found))
    assert not any(secret in data for secret in SECRETS)
    from io import BytesIO

    from pdfminer.high_level import extract_text

    words = extract_text(BytesIO(paper(fuller, found.content, "A5")))
    assert not any(secret in words for secret in SECRETS)


def test_its_line_says_grams_salt_link_and_allergens(fuller: Kitchen) -> None:
    found = content(fuller, "rubbed")
    (line,) = found.batches[0].items
    whole = scaled_to(fuller.recipe("own-rub"), weights=fuller.weights)
    assert line.item == "The hall's own rub"
    assert whole.salt is not None
    assert any(aside.startswith("its salt: 26") for aside in line.asides)
    assert any("https://example.org/jar" in aside for aside in line.asides)
    assert "mustard" in next(one.text for one in found.cautions if one.key == "allergens")


def test_what_to_use_instead_is_the_cooks_word_or_the_same_salt(fuller: Kitchen) -> None:
    (line,) = content(fuller, "own-rub").batches[0].items
    assert any(aside == "or 26 g fine salt and your own spices" for aside in line.asides)
    path = fuller.root / "recipes" / "own-rub.yaml"
    path.write_text(path.read_text(encoding="utf-8") + "stand_in: any hot rub without sugar\n", encoding="utf-8")
    (line,) = content(Kitchen.open(fuller.root), "own-rub").batches[0].items
    assert "or any hot rub without sugar" in line.asides


def test_its_own_jar_label_alone_lists_what_is_in_it_without_shares(fuller: Kitchen) -> None:
    text = (fuller.root / "recipes" / "own-rub.yaml").read_text(encoding="utf-8").replace("3 tbsp", "30 g")
    (fuller.root / "recipes" / "own-rub.yaml").write_text(text, encoding="utf-8")
    shown = card(Kitchen.open(fuller.root), "own-rub", "label")
    flat = " ".join(shown.split())
    assert "Ingredients: gentian root; fine salt; moonwort; mustard seed, ground." in flat
    assert "Contains: mustard." in flat
    assert "30" not in flat.partition("Nutrition")[0]


def test_private_or_not_its_version_is_the_same(fuller: Kitchen) -> None:
    private = fuller.short_version(fuller.recipe("own-rub"))
    path = fuller.root / "recipes" / "own-rub.yaml"
    path.write_text(path.read_text(encoding="utf-8").replace("formula: private", "formula: open"), encoding="utf-8")
    opened = Kitchen.open(fuller.root)
    assert opened.short_version(opened.recipe("own-rub")) == private
    assert "moonwort" in card(opened, "own-rub", "text")
