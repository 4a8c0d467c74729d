"""Differences in the cook's words; ways of writing are none."""

from __future__ import annotations

import pytest

from cookbook.recipe.difference import Change, differences, summary
from tests.conftest import COOK, PASTE
from tests.recipe.test_reading import recipe


def changes(old: str, new: str, text: str = PASTE) -> list[Change]:
    assert old in text
    return differences(recipe(text), recipe(text.replace(old, new, 1)))


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("1/4 cup        # packed loosely", "4 tbsp"),
        ("80 g", "0.08 kg"),
        ("80 ml", "8 cl"),
        ("2.2 kg", "2200 g"),
        ("title: Walnut", "title: The walnut"),
        ("revision: 2", "revision: 7"),
        ("walnuts", " walnuts  "),
        ("# the piece this batch coats", "# another remark"),
        ("- Pound it all.", '- "Pound  it all."'),
    ],
)
def test_another_way_of_writing_is_no_change(old: str, new: str) -> None:
    assert changes(old, new) == []


def test_amounts_are_told_with_their_ratio() -> None:
    (found,) = changes("80 g", "100 g")
    assert found == Change("walnuts", "amount", "80 g", "100 g", 1.25)
    assert (found.short(), found.sentence()) == ("more walnuts", "walnuts: 80 g, now 100 g (1.25 times)")


def test_a_spoon_against_grams_is_compared_by_weight() -> None:
    (found,) = changes("1/4 cup        # packed loosely", "20 g")
    assert found.ratio == pytest.approx(20 / (59.147 * 0.1623), rel=0.02)


def test_what_comes_in_and_what_goes() -> None:
    assert changes("  - item: olive oil", "  - item: garlic\n    amount: 3 cloves\n  - item: olive oil") == [
        Change("garlic", "ingredient", None, "3 cloves")
    ]
    assert [one.short() for one in changes("  - item: walnuts\n    amount: 80 g\n", "")] == ["without walnuts"]


def test_the_fire_the_pull_and_the_rest() -> None:
    found = [
        one.sentence()
        for one in differences(
            recipe(COOK),
            recipe(COOK.replace("130 °C", "266 °F").replace("60 °C", "58 °C").replace("25 min", "40 min")),
        )
    ]
    assert found == ["pull at: 60 °C, now 58 °C", "rest, time: 25 min, now 40 min"]


def test_steps_are_aligned() -> None:
    found = changes("steps:\n", "steps:\n  - Toast the walnuts.\n")
    assert found == [Change("step 1", "step", None, "Toast the walnuts.")]


def test_about_is_a_change() -> None:
    assert changes("80 g", "about 80 g") != []


def test_the_biggest_changes_make_the_label() -> None:
    found = differences(
        recipe(PASTE),
        recipe(PASTE.replace("80 g", "160 g").replace("80 ml", "82 ml").replace("Pound it all.", "Blend it.")),
    )
    assert summary(found) == "more walnuts, more olive oil and 1 more"
