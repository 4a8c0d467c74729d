"""Which recipe goes on which pieces."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.sizing import for_pieces
from cookbook.recipe.scaling import scaled_to
from tests.conftest import COOK, PASTE

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
