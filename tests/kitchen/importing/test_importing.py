"""A schema.org recipe becomes one of ours, and every line that could not be read is told."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cookbook.errors import CookbookError, FileError, RequestError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.checking import check
from cookbook.kitchen.importing.importing import ingredient, made_of, write

MakeKitchen = Callable[..., Kitchen]
SAUCE: dict[str, Any] = {
    "@context": "https://schema.org",
    "@type": "Recipe",
    "name": "Walnut &amp; thyme sauce",
    "author": {"@type": "Person", "name": "A supper club"},
    "recipeYield": ["8", "8 servings"],
    "recipeIngredient": [
        "1 1/2 cups walnuts, toasted",
        "60g garlic",
        "2 tablespoons (30 ml) olive oil",
        "salt to taste",
        "A hatful of vinegar",
    ],
    "recipeInstructions": [
        {"@type": "HowToSection", "itemListElement": [{"@type": "HowToStep", "text": "Pound <b>it</b> all."}]},
        "Loosen with oil.\nTaste.",
    ],
    "nutrition": {"@type": "NutritionInformation"},
}


def saved(tmp_path: Path, found: Any, indent: int | None = 1) -> Path:
    path = tmp_path / "found.json"
    path.write_text(json.dumps(found, indent=indent), encoding="utf-8")
    return path


def test_it_reads_as_one_of_ours_and_check_finds_no_fault(make_kitchen: MakeKitchen, tmp_path: Path) -> None:
    kitchen = make_kitchen({"shared/kitchen.yaml": "measures: us\n"})
    made = made_of(kitchen, saved(tmp_path, SAUCE))
    write(kitchen, made)
    recipe = Kitchen.open(kitchen.root).recipe("walnut-thyme-sauce")
    assert (recipe.kind, recipe.title, recipe.serves) == ("sauce", "Walnut & thyme sauce", 8)
    assert [(str(line.amount), line.item, line.prep) for line in recipe.ingredients] == [
        ("1 1/2 cups", "walnuts", "toasted"),
        ("60 g", "garlic", None),
        ("2 tablespoons", "olive oil", "30 ml"),
        ("to taste", "salt", None),
    ]
    assert recipe.steps == ("Pound it all.", "Loosen with oil.", "Taste.")
    assert "by A supper club" in recipe.notes
    assert check(Kitchen.open(kitchen.root)).errors == 0


def test_what_could_not_be_read_is_told_with_its_line_and_kept_in_the_notes(
    make_kitchen: MakeKitchen, tmp_path: Path
) -> None:
    kitchen, path = make_kitchen({"shared/kitchen.yaml": "measures: us\n"}), saved(tmp_path, SAUCE)
    made = made_of(kitchen, path)
    lines = path.read_text(encoding="utf-8").splitlines()
    assert [one.text for one in made.unread] == ["A hatful of vinegar", "nutrition"]
    for one in made.unread:
        assert one.line is not None
        assert one.text in lines[one.line - 1]
    assert "not read: A hatful of vinegar" in made.data.decode()


def test_the_recipe_is_found_in_a_list_a_graph_or_another_object(make_kitchen: MakeKitchen, tmp_path: Path) -> None:
    kitchen = make_kitchen({"shared/kitchen.yaml": "measures: us\n"})
    alone = made_of(kitchen, saved(tmp_path, SAUCE)).data
    typed = {**SAUCE, "@type": ["Thing", "https://schema.org/Recipe"]}
    for wrapped in ([{"@type": "Person"}, SAUCE], {"@graph": [{"@type": "WebPage"}, typed]}, {"mainEntity": SAUCE}):
        assert made_of(kitchen, saved(tmp_path, wrapped)).data == alone


def test_the_meat_among_the_ingredients_makes_it_a_cook(make_kitchen: MakeKitchen, tmp_path: Path) -> None:
    kitchen = make_kitchen({"shared/kitchen.yaml": "measures: us\n"})
    roast = {**SAUCE, "name": "Sunday roast", "recipeIngredient": ["4 lb pork loin, boneless", "2 tbsp honey"]}
    made = made_of(kitchen, saved(tmp_path, roast))
    write(kitchen, made)
    recipe = Kitchen.open(kitchen.root).recipe("sunday-roast")
    assert (recipe.kind, recipe.cut) == ("cook", "pork loin, boneless")
    assert recipe.made_for is not None
    assert recipe.made_for.known["weight"] == pytest.approx(4 * 453.59237)
    assert [line.item for line in recipe.ingredients] == ["honey"]


def test_a_rub_without_a_piece_is_a_sauce_that_says_so(make_kitchen: MakeKitchen, tmp_path: Path) -> None:
    kitchen = make_kitchen({"shared/kitchen.yaml": "measures: us\n"})
    rub = {**SAUCE, "name": "Pepper rub"}
    made = made_of(kitchen, saved(tmp_path, rub))
    assert made.kind == "sauce"
    assert "made_for" in made.unread[-1].why
    for_piece = made_of(kitchen, saved(tmp_path, rub), piece={"cut": "brisket, flat", "weight": "3 kg"})
    assert for_piece.kind == "rub"


def test_the_same_item_twice_stays_two_lines(make_kitchen: MakeKitchen, tmp_path: Path) -> None:
    kitchen = make_kitchen({"shared/kitchen.yaml": "measures: us\n"})
    twice = {**SAUCE, "recipeIngredient": ["1 tbsp salt", "2 tbsp salt", "3 tbsp Salt"]}
    text = made_of(kitchen, saved(tmp_path, twice)).data.decode()
    assert text.count("item: ") == 3


@pytest.mark.parametrize(
    ("line", "item", "amount", "prep"),
    [
        ("½ tsp. black pepper, freshly ground", "black pepper", "1/2 tsp", "freshly ground"),
        ("30 g sage, fresh, chopped", "sage, fresh", "30 g", "chopped"),
        ("2-3 sprigs thyme (or marjoram)", "thyme", "2-3 sprigs", "or marjoram"),
        ("1 1/2 cups of olive oil", "olive oil", "1 1/2 cups", None),
        ("a pinch of saffron", "saffron", "a pinch", None),
        ("black pepper, to taste", "black pepper", "to taste", None),
    ],
)
def test_a_line_of_ingredients_comes_apart(line: str, item: str, amount: str, prep: str | None) -> None:
    assert ingredient(line, "us") == (item, amount, prep)


@pytest.mark.parametrize("line", ["oil for the pan", "a hatful of luck", "12", "", "some more"])
def test_a_line_without_an_amount_is_not_guessed(line: str) -> None:
    assert ingredient(line, "us") is None


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b'{"@type": "Recipe",\n "name": }', "not-json"),
        (b"[1, 2]", "no-recipe"),
        (b"\xff\xfe{}", "not-utf8"),
        (b"[" * 100_000, "too-deep"),
        (b" " * (1 << 20) + b"{}", "too-big"),
    ],
)
def test_a_file_that_is_no_recipe_says_why(make_kitchen: MakeKitchen, tmp_path: Path, data: bytes, code: str) -> None:
    path = tmp_path / "bad.json"
    path.write_bytes(data)
    with pytest.raises(FileError) as fault:
        made_of(make_kitchen(), path)
    assert fault.value.code == code


def test_nothing_is_written_over(make_kitchen: MakeKitchen, tmp_path: Path) -> None:
    kitchen = make_kitchen()
    made = made_of(kitchen, saved(tmp_path, SAUCE), name="loin")
    before = (kitchen.root / "recipes/loin.yaml").read_bytes()
    with pytest.raises(RequestError):
        write(kitchen, made)
    assert (kitchen.root / "recipes/loin.yaml").read_bytes() == before


JSON = st.recursive(
    st.none() | st.booleans() | st.floats(allow_nan=False) | st.text(max_size=20),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(st.sampled_from(["name", "text", "@type", "itemListElement", "@graph"]), inner, max_size=3)
    ),
    max_leaves=8,
)


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(values=st.dictionaries(st.sampled_from([*SAUCE, "license", "url", "keywords"]), JSON, max_size=6))
def test_whatever_a_file_holds_the_recipe_reads_or_the_refusal_is_ours(
    make_kitchen: MakeKitchen, tmp_path: Path, values: dict[str, Any]
) -> None:
    kitchen = make_kitchen({"shared/kitchen.yaml": "measures: us\n"})
    path = saved(tmp_path, {**SAUCE, **values, "@type": "Recipe"})
    refused = None
    try:
        made_of(kitchen, path)
    except CookbookError as fault:
        refused = fault.message
    assert refused is None or "could be read" in refused or "cut" in refused


def test_steps_inside_items_and_named_sections_are_all_there(make_kitchen: MakeKitchen, tmp_path: Path) -> None:
    steps = [
        {"@type": "HowToSection", "name": "The sauce", "itemListElement": [
            {"@type": "ListItem", "item": {"@type": "HowToStep", "text": "Pound it."}},
            {"@type": "HowToStep", "itemListElement": [{"@type": "HowToDirection", "text": "Loosen it."}]},
        ]},
        {"@type": "HowToStep", "name": "Taste it."},
    ]  # fmt: skip
    kitchen = make_kitchen()
    write(kitchen, made_of(kitchen, saved(tmp_path, {**SAUCE, "recipeInstructions": steps}), "sauce"))
    assert kitchen.recipe("sauce").steps == ("The sauce: Pound it.", "Loosen it.", "Taste it.")
