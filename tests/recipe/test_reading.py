"""Recipes as cooks write them, and what is said when they can't be read."""

from __future__ import annotations

import pytest

from cookbook.errors import FileError, Problem
from cookbook.files import parse
from cookbook.recipe import Recipe, read
from tests.conftest import COOK, PASTE


def test_what_a_tape_or_a_scan_told_that_cannot_be_stands_at_its_line() -> None:
    told = "1233.2 cm2 give or take 4.2 %, 86.4 cm2 of it underneath, 2693.7 cm3, 44 x 13 x 9 cm"
    for line, words in ((f'weight: 5 kg\n  scan: "loin.ply: {told}"', "the scale says 5 kg"),
                        ("weight: 2.2 kg\n  girth_ends: 90 cm, 80 cm", "is the"),
                        ("weight: 2.2 kg\n  girth_ends: 90 cm", "no two lengths"),
                        ("weight: 2.2 kg\n  scan: loin.ply", "nothing that a scan told")):
        text = PASTE.replace("weight: 2.2 kg", line)
        found, problems = read(parse(text.encode(), "recipes/paste.yaml"), "paste")
        assert found is None
        assert any(words in one.message for one in problems), problems
        assert any(one.place is not None and ("scan" in line) == ("scan:" in text.splitlines()[one.place.line - 1])
                   for one in problems)


def recipe(text: str, name: str = "trial") -> Recipe:
    found, problems = read(parse(text.encode(), f"recipes/{name}.yaml"), name)
    assert found is not None, [problem.printed() for problem in problems]
    return found


def problems(text: str) -> list[Problem]:
    found, listed = read(parse(text.encode(), "recipes/trial.yaml"), "trial")
    assert found is None
    return listed


def test_a_paste_is_read_with_the_rule_of_each_ingredient() -> None:
    found = recipe(PASTE)
    assert [(line.item, str(line.amount), line.follows) for line in found.ingredients] == [
        ("walnuts", "80 g", "surface"),
        ("thyme, fresh", "1/4 cup", "surface"),
        ("olive oil", "80 ml", "surface"),
        ("fine salt", "1.1 % of meat", "weight"),
    ]
    assert found.made_for is not None
    assert found.made_for.piece().mass_g.mid == pytest.approx(2200)


def test_a_cook_uses_its_coats() -> None:
    found = recipe(COOK)
    assert (found.uses, found.meat, found.serves) == (("walnut-paste",), "pork loin, boneless", 8)
    assert found.pit is not None
    assert found.pit.temperature is not None
    assert found.pit.temperature.c == 130


def test_prep_or_until_and_hold_back_are_kept() -> None:
    line = recipe(
        PASTE.replace(
            "    amount: 80 ml\n",
            "    amount: 80 ml\n    prep: warmed\n    or: [butter, lard]\n"
            "    until: it drops slowly\n    hold_back: 10 ml\n",
        )
    ).ingredients[2]
    assert (line.prep, line.alternatives, line.until, str(line.hold_back)) == (
        "warmed",
        ("butter", "lard"),
        "it drops slowly",
        "10 ml",
    )


@pytest.mark.parametrize(
    ("old", "new", "place", "words"),
    [
        ("amount: 80 g", "amount: 80 gr.ms", (9, 16), "gr.ms"),
        ("amount: 80 ml", "amount: 4-3 tbsp", (13, 13), "4-3"),
        ("weight: 2.2 kg", "weight: -2.2 kg", (6, 11), "-2.2 kg"),
        ("weight: 2.2 kg", "weight: 300 kg", (6, 11), "60 kg"),
        ("weight: 2.2 kg", "weight: 2.2 kg\n  ribs: 4", (7, 9), "rib"),
        ("cut: pork loin, boneless", "cut: pork lion", (5, 8), "pork lion"),
        ("title: Walnut", "titel: Walnut", (2, 1), "titel"),
        ("kind: paste", "kind: pastry", (1, 7), "pastry"),
        ("ingredients:", "ingredients: none\nothers:", (7, 14), "none"),
        ("  - item: walnuts\n", "  - item: walnuts\n    item: nuts\n", (9, 5), "item"),
        ("title: Walnut", "title: &w Walnut", (2, 8), "gives a name to this value"),
        ("title: Walnut", "title: !!str Walnut", (2, 8), "names a type"),
        ("  weight:", "\tweight:", (6, 1), "tab"),
        ("- item: olive oil", "- item: Walnuts", (12, 11), "twice"),
        ("amount: 80 ml", "amount: 80 ml\n    hold_back: 90 ml", (14, 16), "more than the whole"),
    ],
)
def test_a_fault_names_line_column_and_what_was_read(old: str, new: str, place: tuple[int, int], words: str) -> None:
    assert old in PASTE
    found = problems(PASTE.replace(old, new, 1))
    matching = [one for one in found if one.place is not None and words in one.printed()]
    assert matching, [one.printed() for one in found]
    assert matching[0].place is not None
    assert matching[0].place[1] == place[0]
    assert all(one.mend or one.code in ("syntax", "wrong-type") for one in matching), matching[0]


def test_all_faults_of_a_file_come_in_one_run() -> None:
    text = (
        PASTE.replace("80 g", "80 grm")
        .replace("80 ml", "80 mll")
        .replace("revision: 2", "revision: two")
        .replace("steps:", "stpes:")
    )
    assert sorted(one.place.line for one in problems(text) if one.place) == [3, 9, 13, 16]


def test_an_unknown_field_asks_for_the_nearest() -> None:
    (found,) = problems(PASTE.replace("steps:", "stpes:"))
    assert found.mend is not None
    assert found.mend.startswith("did you mean `steps`")


def test_an_unknown_cut_names_the_nearest_ones() -> None:
    (found,) = problems(PASTE.replace("pork loin, boneless", "pork loin boneles"))
    assert found.mend is not None
    assert "pork loin, boneless" in found.mend


@pytest.mark.parametrize("text", ["", "# only a comment\n", "- a\n- list\n", "just words\n", "kind: paste\n"])
def test_files_that_hold_no_recipe_say_what_is_missing(text: str) -> None:
    assert problems(text)[0].place is not None


def test_bytes_that_are_no_utf_8_are_named_with_their_place() -> None:
    with pytest.raises(FileError) as caught:
        parse(PASTE.encode().replace(b"Walnut", b"W\xe4lnut"), "recipes/trial.yaml")
    assert caught.value.place is not None
    assert (caught.value.place.line, caught.value.place.column) == (2, 9)
