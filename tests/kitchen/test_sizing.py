"""Which recipe goes on which pieces."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.sizing import for_pieces, inside
from cookbook.recipe.inside import WHOLE
from cookbook.recipe.scaling import scaled_to
from tests.conftest import COOK, PASTE, SPICE

MakeKitchen = Callable[..., Kitchen]
BINDER = COOK.replace("coats:\n", "coats:\n  - item: yellow mustard\n    amount: 2 tbsp\n")


def test_a_binder_is_a_coat_in_one_line_and_follows_the_surface(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen({"recipes/walnut-paste.yaml": PASTE, "recipes/loin.yaml": BINDER})
    found = for_pieces(kitchen, kitchen.recipe("loin"), {"": {"weight": "4.4 kg"}})
    assert [recipe.name for recipe, _ in found] == ["walnut-paste", "yellow-mustard"]
    paste, binder = (scaled_to(recipe, pieces) for recipe, pieces in found)
    assert binder.factor.surface == pytest.approx(paste.factor.surface)
    assert binder.lines[0].grams is not None
    assert binder.lines[0].grams.mid == pytest.approx(2 * 15.6 * binder.factor.surface, rel=0.03)


def test_faces_of_a_coat_in_a_cook_win(make_kitchen: MakeKitchen) -> None:
    text = COOK.replace("recipe: walnut-paste", "recipe: walnut-paste\n    faces: no-ends")
    kitchen = make_kitchen({"recipes/walnut-paste.yaml": PASTE, "recipes/loin.yaml": text})
    ((_, (piece,)),) = for_pieces(kitchen, kitchen.recipe("loin"), {"": {"weight": "4.4 kg"}})
    assert [face.coated for face in piece.faces if face.name.endswith("end")] == [False, False]


def test_without_a_piece_it_is_the_one_the_coat_was_made_for(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    ((_, (piece,)),) = for_pieces(kitchen, kitchen.recipe("loin"), {})
    assert piece.mass_g.mid == pytest.approx(2200)


def test_another_cut_needs_its_size(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    with pytest.raises(RequestError, match="how big is the piece"):
        for_pieces(kitchen, kitchen.recipe("walnut-paste"), {}, "pork shoulder")
    ((_, (piece,)),) = for_pieces(kitchen, kitchen.recipe("walnut-paste"), {"": {"weight": "3 kg"}}, "pork shoulder")
    assert piece.cut.name == "pork shoulder"


def test_what_goes_in_by_the_spoon_is_that_part_of_its_batch(make_kitchen: MakeKitchen) -> None:
    """The whole dust fills so many spoons by its own parts: half of them is half of it."""
    outer = PASTE.replace("  - item: walnuts\n    amount: 80 g\n", "  - {recipe: dust, amount: 1 tbsp}\n")
    dust = SPICE.replace("  - {item: juniper, amount: 5 g, follows: fixed}\n", "")
    kitchen = make_kitchen({"recipes/dust.yaml": dust, "recipes/outer.yaml": outer})
    whole = kitchen.recipe("dust").scaled_to(weights=kitchen.weights)
    (inner,) = inside(kitchen, kitchen.recipe("outer").scaled_to(used=kitchen.recipe))
    part = 14.787 / whole.totals().ml.mid
    assert 0.1 < part < 0.5
    assert [line.grams.mid for line in inner.lines if line.grams] == pytest.approx([30 * part, 10 * part], rel=1e-3)


def test_where_nobody_can_tell_the_part_it_is_a_whole_batch_that_says_so(make_kitchen: MakeKitchen) -> None:
    outer = PASTE.replace("  - item: walnuts\n    amount: 80 g\n", "  - {recipe: dust, amount: 1 tbsp}\n")
    dust = SPICE.replace("{item: juniper, amount: 5 g, follows: fixed}", "{item: anchovy fillets, amount: 4}")
    kitchen = make_kitchen({"recipes/dust.yaml": dust, "recipes/outer.yaml": outer})
    for grams in (1100, 2200):
        ((recipe, pieces),) = for_pieces(kitchen, kitchen.recipe("outer"), {"": {"weight": f"{grams} g"}})
        (inner,) = inside(kitchen, scaled_to(recipe, pieces))
        assert [line.grams.mid for line in inner.lines if line.grams][:2] == pytest.approx([30, 10])
        assert inner.notes == (WHOLE,)


def test_what_goes_into_a_recipe_is_as_much_as_is_needed_whatever_its_lines_follow(make_kitchen: MakeKitchen) -> None:
    outer = PASTE.replace("  - item: walnuts\n    amount: 80 g\n", "  - {recipe: dust, amount: 90 g}\n")
    kitchen = make_kitchen({"recipes/dust.yaml": SPICE, "recipes/outer.yaml": outer})
    for grams in (1100, 2200, 6000):
        ((recipe, pieces),) = for_pieces(kitchen, kitchen.recipe("outer"), {"": {"weight": f"{grams} g"}})
        whole = scaled_to(recipe, pieces)
        (inner,) = inside(kitchen, whole)
        needed = 90 * whole.factor.surface
        assert [line.grams.mid for line in inner.lines if line.grams] == pytest.approx(
            [needed * part / 45 for part in (30, 10, 5)], rel=1e-4)
        assert inner.salt is not None
        assert inner.salt.grams == pytest.approx(needed * 10 / 45, rel=0.01)


@pytest.mark.parametrize(
    ("said", "told"), [({"weight": 4.4}, "weight: 4.4 is no text"), ({"mass_g": 4400}, "'mass_g' is nothing")]
)
def test_a_size_in_a_programs_words_is_refused_in_words(make_kitchen: MakeKitchen, said: Any, told: str) -> None:
    with pytest.raises(RequestError, match=told):
        make_kitchen().scaled("walnut-paste", **said)
