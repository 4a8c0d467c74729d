"""The kitchen's own weights and cuts: they win over the reference tables, and their faults are named."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from cookbook.errors import FileError, RequestError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.checking import check
from cookbook.kitchen.forecasting.outlook import cooker_of
from cookbook.kitchen.ingredients import weigh
from cookbook.quantity import Amount
from cookbook.recipe.scaling import scaled_to
from tests.conftest import PASTE

MakeKitchen = Callable[..., Kitchen]
DAY = date(2026, 11, 21)
OLD = '- {item: sumac, amount: 1 tsp, weighs: 2.1 g, date: "2025-01-02"}'


def test_an_own_weighing_wins_over_the_table(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    before = Amount.parse("1 tbsp").grams("fine salt", kitchen.weights)
    weigh(kitchen, "fine salt", "1 tbsp", "15 g", DAY)
    after = Amount.parse("1 tbsp").grams("fine salt", Kitchen.open(kitchen.root).weights)
    assert before is not None
    assert after is not None
    assert after.mid == pytest.approx(15)
    assert before.mid == pytest.approx(18.25, abs=0.3)


def test_a_curing_salt_is_never_told_by_the_spoon(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    with pytest.raises(RequestError, match="never trusted"):
        weigh(kitchen, "pink curing salt", "1 tsp", "6 g", DAY)
    assert not (kitchen.root / "shared" / "ingredients.yaml").exists()


def test_repeated_weighings_average_and_the_doubt_shrinks(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    first = weigh(kitchen, "fine salt", "1 tbsp", "15.0 g", DAY).own
    third = [
        weigh(Kitchen.open(kitchen.root), "fine salt", "1 tbsp", f"{grams} g", DAY).own for grams in (15.4, 15.2)
    ][-1]
    assert (first.weighings, third.weighings) == (1, 3)
    assert third.doubt < first.doubt
    assert third.g_per_ml == pytest.approx(15.2 / 14.787, rel=1e-3)


def test_a_weighing_is_one_line_below_those_that_are_there(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen(
        {
            "recipes/a.yaml": PASTE,
            "shared/ingredients.yaml": f"# on the old balance\n{OLD}\n",
        }
    )
    weigh(kitchen, "fine salt", "1 tbsp", "17.5g", DAY)
    new = '- {item: fine salt, amount: 1 tbsp, weighs: 17.5 g, date: "2026-11-21"}'
    assert (kitchen.root / "shared/ingredients.yaml").read_text() == f"# on the old balance\n{OLD}\n{new}\n"
    assert check(Kitchen.open(kitchen.root)).problems == ()


@pytest.mark.parametrize(
    ("amount", "mass"), [("60 g", "60 g"), ("1 tbsp", "1 tbsp"), ("to taste", "3 g"), ("1 tbsp", "0 g")]
)
def test_what_is_no_weighing_is_refused_and_nothing_is_written(
    make_kitchen: MakeKitchen, amount: str, mass: str
) -> None:
    kitchen = make_kitchen()
    with pytest.raises(RequestError):
        weigh(kitchen, "fine salt", amount, mass, DAY)
    assert not (kitchen.root / "shared").exists()


OWN_CUT = "collar roast:\n  like: pork shoulder\n  thickness_cm: 9\n  synonyms: [neck roast]\n"


def test_a_kitchens_own_cut_can_be_cooked(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen(
        {"recipes/a.yaml": PASTE.replace("pork loin, boneless", "neck roast"), "shared/cuts.yaml": OWN_CUT}
    )
    assert check(kitchen).problems == ()
    scaled = scaled_to(kitchen.recipe("a"))
    assert scaled.made_for.cut.name == "collar roast"


def test_a_cut_that_cannot_be_is_named_at_its_place(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen(
        {"recipes/a.yaml": PASTE, "shared/cuts.yaml": OWN_CUT.replace("pork shoulder", "pork sholder")}
    )
    with pytest.raises(FileError):
        kitchen.recipe("a")
    found = check(Kitchen.open(kitchen.root)).problems
    assert [problem.place and problem.place.file for problem in found] == ["shared/cuts.yaml"]
    assert found[0].mend is not None


def test_a_hot_side_comes_with_its_degrees_in_either_scale(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen({"shared/cookers.yaml": "drum: {kind: drum, hot_side: back, hotter_by: 18 °F}\n"})
    drum = cooker_of(kitchen, "drum")
    assert drum.hot_side == "back"
    assert drum.hotter_k == pytest.approx(10.0)


@pytest.mark.parametrize("words", ["-5 K", "0 K", "400 K"])
def test_a_hot_side_that_no_cooker_has_is_named(make_kitchen: MakeKitchen, words: str) -> None:
    kitchen = make_kitchen({"shared/cookers.yaml": f"drum: {{kind: drum, hotter_by: {words}}}\n"})
    said = [problem.printed() for problem in check(kitchen).problems]
    assert any("shared/cookers.yaml:1:" in one and "no difference between the two sides" in one for one in said)
