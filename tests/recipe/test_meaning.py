"""What a version is: the digest of a recipe's meaning, whatever the way of writing; rule 1 never changes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cookbook.errors import FileError, UnknownName
from cookbook.files import parse
from cookbook.kitchen import Kitchen
from cookbook.recipe import Recipe, digest, meaning, read, stored_version, version
from tests.conftest import COOK, PASTE
from tests.recipe.test_reading import recipe

VECTORS = Path(__file__).parent / "vectors"


TAPED = PASTE.replace("weight: 2.2 kg", "length: 45 cm\n  girth_ends: 36 cm, 30 cm")
TOLD = "1233.2 cm2 give or take 4.2 %, 86.4 cm2 of it underneath, 2693.7 cm3, 44 x 13 x 9 cm"
SCANNED = PASTE.replace("weight: 2.2 kg", f'weight: 2.8 kg\n  scan: "loin.ply: {TOLD}"')


def named(name: str) -> Recipe:
    raise UnknownName("recipe", name)


def of(text: str) -> str:
    return digest(recipe(text), named)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("1/4 cup        # packed loosely", "4 tbsp"),
        ("80 g", "0.08 kg"),
        ("80 ml", "8 cl"),
        ("revision: 2", "revision: 9"),
        ("title: Walnut", "title: Hazel"),
        ("walnuts", '"walnuts "'),
        ("thyme, fresh", '"thyme,   fresh"'),
        ("steps:", "notes: good\nsteps:"),
        ("steps:", "after: older-paste\nsteps:"),
        ("  cut: pork loin, boneless\n  weight: 2.2 kg\n", "  weight: 2.2 kg\n  cut: pork loin, boneless\n"),
    ],
)
def test_what_does_not_change_the_taste_does_not_change_the_version(old: str, new: str) -> None:
    assert old in PASTE
    assert of(PASTE.replace(old, new, 1)) == of(PASTE)


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("80 g", "81 g"),
        ("80 g", "about 80 g"),
        ("walnuts", "hazelnuts"),
        ("2.2 kg", "2.3 kg"),
        ("1.1 %", "1.2 %"),
        ("Pound it all.", "Blend it all."),
        ("    amount: 80 ml\n", "    amount: 80 ml\n    until: it drops\n"),
        ("    amount: 80 ml\n", "    amount: 80 ml\n    follows: weight\n"),
        ("kind: paste", "kind: rub"),
        ("title:", "measures: metric\ntitle:"),
    ],
)
def test_what_changes_the_taste_changes_the_version(old: str, new: str) -> None:
    assert old in PASTE
    assert of(PASTE.replace(old, new, 1)) != of(PASTE)


def test_the_order_of_ingredients_counts() -> None:
    one, two = "  - item: walnuts\n    amount: 80 g\n", "  - item: olive oil\n    amount: 80 ml\n"
    swapped = PASTE.replace(one, "@").replace(two, one).replace("@", two)
    assert of(swapped) != of(PASTE)


def test_the_kitchens_word_for_spoons_goes_in_only_where_spoons_do() -> None:
    def under(text: str, measures: str) -> str:
        found, problems = read(parse(text.encode(), "trial.yaml"), "trial", measures)
        assert found is not None, problems
        return digest(found, named)

    grams = PASTE.replace("1/4 cup        # packed loosely", "10 g")
    assert under(PASTE, "us") != under(PASTE, "metric")
    assert under(grams, "us") == under(grams, "metric")
    assert under(PASTE, "us") == under(PASTE.replace("title:", "measures: us\ntitle:"), "metric")


def test_a_used_recipe_stands_as_its_own_digest() -> None:
    inner = {"walnut-paste": recipe(PASTE, "walnut-paste")}
    one = digest(recipe(COOK), inner.__getitem__)
    renamed = digest(
        recipe(COOK.replace("walnut-paste", "nut-paste")), {"nut-paste": recipe(PASTE, "nut-paste")}.__getitem__
    )
    assert one == renamed
    inner["walnut-paste"] = recipe(PASTE.replace("80 g", "90 g"), "walnut-paste")
    assert digest(recipe(COOK), inner.__getitem__) != one


def test_a_recipe_that_uses_itself_has_no_digest_and_the_line_is_named() -> None:
    loop = recipe(PASTE.replace("- item: walnuts", "- recipe: loop"), "loop")
    with pytest.raises(FileError) as caught:
        digest(loop, {"loop": loop}.__getitem__)
    problem = caught.value.problems[0]
    assert (problem.code, problem.place and problem.place.line) == ("recipe-loop", 8)


def test_the_name_of_a_version_has_the_rule_and_twelve_digits() -> None:
    whole = of(PASTE)
    assert version(whole) == f"1-{whole[:12]}"
    assert stored_version(whole, b"text") == f"1-{whole[:12]}.982d9e3e"


def test_meaning_is_text_all_the_way_down() -> None:
    def leaves(tree: object) -> list[object]:
        if isinstance(tree, dict):
            return [leaf for value in tree.values() for leaf in leaves(value)]
        return [leaf for value in tree for leaf in leaves(value)] if isinstance(tree, list) else [tree]

    assert all(isinstance(leaf, str) for leaf in leaves(meaning(recipe(PASTE), {})))


def vectors() -> dict[str, str]:
    found: dict[str, str] = json.loads((VECTORS / "digests.json").read_text(encoding="utf-8"))
    return found


def test_twenty_recipes_are_frozen() -> None:
    assert len(vectors()) == 20
    assert {path.stem for path in (VECTORS / "recipes").glob("*.yaml")} == set(vectors())


@pytest.mark.parametrize("name", sorted(path.stem for path in (VECTORS / "recipes").glob("*.yaml")))
def test_rule_1_reads_a_frozen_recipe_as_it_always_did(name: str) -> None:
    kitchen = Kitchen.open(VECTORS)
    assert kitchen.digest(kitchen.recipe(name)) == vectors()[name]


def test_how_a_tape_or_a_scan_is_written_is_no_part_of_the_meaning_but_what_it_told_is() -> None:
    assert of(TAPED) == of(TAPED.replace("36 cm, 30 cm", "360mm,  300 mm"))
    assert of(TAPED) != of(TAPED.replace("30 cm", "31 cm"))
    assert of(SCANNED) == of(SCANNED.replace("loin.ply", "another: scan.obj"))
    assert of(SCANNED) != of(SCANNED.replace("1233.2", "1240"))
    assert len({of(PASTE), of(TAPED), of(SCANNED)}) == 3
