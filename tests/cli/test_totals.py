"""`scale` says what a batch comes to, and what is in none of its totals."""

from __future__ import annotations

import json
import re
from collections.abc import Callable

import pytest

from cookbook.cli import main
from cookbook.kitchen import Kitchen
from tests.conftest import PASTE, SPICE

SODIUM_IN_SALT = 0.3934
"""Grams of sodium in a gram of salt: 22.990 / 58.443, the atomic weights."""
LOOSE = PASTE.replace("steps:", "  - item: lemon juice\n    amount: to taste\nsteps:")


def test_a_batch_comes_to_the_sum_of_its_lines(
    make_kitchen: Callable[..., Kitchen], capsys: pytest.CaptureFixture[str]
) -> None:
    kitchen = make_kitchen({"recipes/walnut-paste.yaml": LOOSE})
    assert main(["scale", "walnut-paste", "--kitchen", str(kitchen.root), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    total = found["totals"]
    weighed = [line["grams"]["mid"] for line in found["ingredients"] if line["grams"]]
    assert total["grams"]["mid"] == pytest.approx(sum(weighed))
    salt = 0.011 * 2200
    assert total["salt_g"]["mid"] == pytest.approx(salt, rel=0.01)
    assert total["sodium_mg"]["mid"] == pytest.approx(1000 * SODIUM_IN_SALT * salt, rel=0.01)
    assert {(one["item"], one["total"]) for one in total["uncounted"]} >= {
        ("lemon juice", "mass"), ("lemon juice", "volume"), ("lemon juice", "salt")
    }


def test_the_weight_rule_stands_beside_a_piece_and_not_beside_a_layer_that_was_asked_for(
    make_kitchen: Callable[..., Kitchen], capsys: pytest.CaptureFixture[str]
) -> None:
    kitchen = make_kitchen({"recipes/walnut-paste.yaml": PASTE})
    for wish, beside in (([], True), (["--layer", "3"], False), (["--batch", "2"], False)):
        wanted = ["scale", "walnut-paste", "--weight", "4.4kg", *wish, "--kitchen", str(kitchen.root)]
        assert main(wanted) == 0
        assert ("Scaling everything by weight" in capsys.readouterr().out) == beside


def test_what_goes_into_a_recipe_is_told_below_it(
    make_kitchen: Callable[..., Kitchen], capsys: pytest.CaptureFixture[str]
) -> None:
    outer = PASTE.replace("  - item: walnuts\n    amount: 80 g\n", "  - {recipe: dust, amount: 90 g}\n")
    kitchen = make_kitchen({"recipes/dust.yaml": SPICE, "recipes/walnut-paste.yaml": outer})
    wanted = ["scale", "walnut-paste", "--kitchen", str(kitchen.root)]
    assert main(wanted) == 0
    assert re.search(r"Seven-pepper dust, as much as goes into Walnut.* 60 g +black pepper",
                     capsys.readouterr().out, re.DOTALL)
    assert main([*wanted, "--json"]) == 0
    (inner,) = json.loads(capsys.readouterr().out)["inside"]
    assert (inner["recipe"], inner["into"]) == ("dust", "walnut-paste")
    assert sum(line["grams"]["mid"] for line in inner["ingredients"]) == pytest.approx(90, rel=1e-4)


def test_why_says_the_totals_and_names_what_is_not_counted(
    make_kitchen: Callable[..., Kitchen], capsys: pytest.CaptureFixture[str]
) -> None:
    kitchen = make_kitchen({"recipes/walnut-paste.yaml": LOOSE})
    assert main(["scale", "walnut-paste", "--kitchen", str(kitchen.root), "--why"]) == 0
    said = capsys.readouterr().out
    assert "all together: " in said
    assert "salt 24 g, sodium 95" in said
    assert "not in the total mass: lemon juice, to taste, so nobody measures it" in said
    assert main(["scale", "walnut-paste", "--kitchen", str(kitchen.root)]) == 0
    assert "all together: " not in capsys.readouterr().out
