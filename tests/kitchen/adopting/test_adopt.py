"""Adopting: what went in today becomes the next revision, restated for the recipe's own piece, byte by byte."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta, timezone

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cookbook.errors import RequestError
from cookbook.journal.writing import append
from cookbook.kitchen import Kitchen
from cookbook.kitchen.adopting import Adopted, adoptions, line_words, write
from cookbook.kitchen.adopting.adopt import three_digits
from cookbook.kitchen.log import logbook, loglines, undoing
from cookbook.quantity import Amount
from cookbook.recipe.scaling import factor_between, scaled_to
from tests.conftest import COOK, PASTE

AT = datetime(2026, 11, 21, 11, 5, tzinfo=timezone(timedelta(hours=1)))
MakeKitchen = Callable[..., Kitchen]


def cooked(kitchen: Kitchen, weight: str, *used: dict[str, str | bool]) -> str:
    """A cook on a piece of this weight with these as-made lines; the entry's name."""
    entry = logbook.start(kitchen, "loin", {"": {"weight": weight}}, AT)
    for said in used:
        line = loglines.line_of(entry, "used", {"piece": None, "into": "walnut-paste", **said}, AT)
        entry = logbook.add(kitchen, entry, line.change, line.words)
    return entry.name


def adopted(kitchen: Kitchen, name: str, today: bool = False) -> str:
    """The recipe's text after adopting."""
    entry = kitchen.entry(name)
    write(kitchen, entry, adoptions(kitchen, entry, today))
    return (kitchen.root / "recipes" / "walnut-paste.yaml").read_text()


def test_only_the_changed_values_and_the_revision_change(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    text = adopted(kitchen, cooked(kitchen, "4.4 kg", {"item": "walnuts", "more": "37 g"}))
    assert text == PASTE.replace("revision: 2", "revision: 3").replace("amount: 80 g", "amount: 100 g")


def test_today_and_in_the_recipe_are_both_shown(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = kitchen.entry(cooked(kitchen, "4.4 kg", {"item": "walnuts", "more": "37 g"}))
    (adoption,) = adoptions(kitchen, entry)
    (line,) = adoption.changes
    assert isinstance(line, Adopted)
    assert (str(line.today), str(line.in_recipe), adoption.today, adoption.own) == (
        "186 g",
        "100 g",
        "4.4 kg",
        "2.2 kg",
    )
    assert line.factor == pytest.approx(1.859, abs=0.01)


def test_salt_logged_as_a_share_of_the_meat_is_taken_over_as_it_is(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    text = adopted(kitchen, cooked(kitchen, "4.4 kg", {"item": "fine salt", "amount": "13 g/kg"}))
    assert text == PASTE.replace("revision: 2", "revision: 3").replace("1.1 % of meat", "1.3 % of meat")


def test_made_for_today_names_todays_piece(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = kitchen.entry(cooked(kitchen, "4.4 kg", {"item": "walnuts", "more": "37 g"}))
    (adoption,) = adoptions(kitchen, entry, True)
    assert (adoption.today, adoption.own) == ("4.4 kg", "4.4 kg")


def test_a_revision_line_is_added_under_the_title_where_there_is_none(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen(
        {"recipes/walnut-paste.yaml": PASTE.replace("revision: 2\n", ""), "recipes/loin.yaml": COOK}
    )
    text = adopted(kitchen, cooked(kitchen, "2.2 kg", {"item": "walnuts", "more": "10 g"}))
    assert text.splitlines()[1:3] == ["title: Walnut and thyme paste", "revision: 1"]


def test_swapped_left_out_and_new(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    text = adopted(
        kitchen,
        cooked(
            kitchen,
            "2.2 kg",
            {"item": "walnuts", "left_out": "true"},
            {"item": "thyme, fresh", "instead": "sage, fresh"},
            {"item": "lemon zest", "amount": "1 tbsp"},
        ),
    )
    assert "walnuts" not in text.split("ingredients:")[1]
    assert "  - item: sage, fresh\n    amount: 1/4 cup        # packed loosely\n" in text
    assert "  - item: lemon zest\n    amount: 1 tbsp\n" in text


@pytest.mark.parametrize(
    ("before", "after"),
    [
        ("    or: sage, fresh\n", ""),
        ('    or: ["parsley, fresh", "sage, fresh"]\n', '    or: ["parsley, fresh"]\n'),
    ],
)
def test_what_was_taken_instead_is_no_alternative_to_itself(
    make_kitchen: MakeKitchen, before: str, after: str
) -> None:
    amount = "    amount: 1/4 cup        # packed loosely\n"
    kitchen = make_kitchen(
        {"recipes/walnut-paste.yaml": PASTE.replace(amount, amount + before), "recipes/loin.yaml": COOK}
    )
    text = adopted(kitchen, cooked(kitchen, "2.2 kg", {"item": "thyme, fresh", "instead": "sage, fresh"}))
    assert "  - item: sage, fresh\n" + amount + after + "  - item: olive oil" in text


def test_salt_as_a_share_stays_a_share_and_is_asked_about(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    name = cooked(kitchen, "4.4 kg", {"item": "fine salt", "amount": "57 g"})
    (line,) = adoptions(kitchen, kitchen.entry(name))[0].changes
    assert isinstance(line, Adopted)
    assert line.salt
    assert "amount: 1.3 % of meat" in adopted(kitchen, name)


def test_made_for_today_moves_the_piece_and_takes_the_amounts_as_they_were(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    text = adopted(kitchen, cooked(kitchen, "4.4 kg", {"item": "walnuts", "more": "37 g"}), today=True)
    assert "  weight: 4.4 kg\n" in text
    assert "amount: 186 g" in text
    assert "amount: 149 ml" in text
    assert "amount: 1.1 % of meat" in text
    assert "# the piece this batch coats" in text


def test_the_entry_says_which_revision_it_led_to(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    name = cooked(kitchen, "4.4 kg", {"item": "walnuts", "more": "37 g"})
    adopted(kitchen, name)
    assert kitchen.entry(name).adopted == "walnut-paste revision 3"


def test_nothing_otherwise_made_is_nothing_to_adopt(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    with pytest.raises(RequestError, match="nothing to adopt"):
        adoptions(kitchen, kitchen.entry(cooked(kitchen, "3 kg")))


def test_the_first_revision_from_an_entry_without_a_recipe(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start_new(
        kitchen, "Hazelnut paste", "paste", "pork loin, boneless", {"": {"weight": "3.1kg"}}, AT, "212g"
    )
    for said in (
        {"item": "hazelnuts", "reads": "292 g"},
        {"item": "olive oil", "reads": "357 g"},
        {"item": "fine salt", "amount": "30 g"},
        {"item": "cumin"},
        {"item": "bowl", "reads": "393 g"},
    ):
        line = loglines.line_of(entry, "used", {"piece": None, "into": None, **said}, AT)
        entry = logbook.add(kitchen, entry, line.change, line.words)
    write(kitchen, entry, adoptions(kitchen, entry))
    text = (kitchen.root / "recipes" / "hazelnut-paste.yaml").read_text()
    head, _, lines = text.partition("ingredients:\n")
    assert head == (
        "kind: paste\ntitle: Hazelnut paste\nrevision: 1\nmade_for:\n  cut: pork loin, boneless\n  weight: 3.1 kg\n"
    )
    assert [line.split("#")[0].rstrip() for line in lines.splitlines()] == [
        "  - item: hazelnuts",
        "    amount: 80 g",
        "  - item: olive oil",
        "    amount: 65 g",
        "  - item: fine salt",
        "    amount: 30 g",
        "    follows: weight",
        "  - item: cumin",
        "    amount: 6 g",
    ]
    assert lines.splitlines()[3].endswith("cup + 1 tbsp")
    assert lines.splitlines()[8].endswith("# a guess: nobody weighed it")
    assert Kitchen.open(kitchen.root).recipe("hazelnut-paste").revision == 1


@settings(max_examples=25, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(st.integers(1200, 6000), st.integers(20, 300))
def test_adopting_and_scaling_back_gives_the_days_amounts_within_the_rounding(
    make_kitchen: MakeKitchen, weight: int, grams: int
) -> None:
    kitchen = make_kitchen()
    for path in kitchen.entry_paths():
        path.unlink()
    name = cooked(
        kitchen, f"{weight} g", {"item": "walnuts", "amount": f"{grams} g"}, {"item": "honey", "amount": "5 g"}
    )
    adopted(kitchen, name)
    again = Kitchen.open(kitchen.root)
    paste = again.recipe("walnut-paste")
    piece = again.entry(name).pieces[0].piece("pork loin, boneless")
    assert piece is not None
    assert paste.made_for is not None
    line = scaled_to(paste, piece).lines[0]
    assert line.grams is not None
    step = 0.5 if line.grams.mid / line.factor >= 19.5 else 0.25
    assert line.grams.mid == pytest.approx(
        grams, abs=1e-3 + step * factor_between(paste.made_for.piece(), [piece], "surface")
    )


def test_undo_goes_back_to_what_was_adopted_and_says_so(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    name = cooked(kitchen, "4.4 kg", {"item": "walnuts", "more": "37 g"})
    adopted(kitchen, name)
    line = loglines.line_of(kitchen.entry(name), "note", {"words": ["afterwards"]}, AT)
    entry = logbook.add(kitchen, kitchen.entry(name), line.change, line.words)
    assert undoing.undo(kitchen, entry) == line.words
    before = kitchen.entry_path(entry).read_bytes()
    with pytest.raises(RequestError, match="walnut-paste revision 3 was adopted") as caught:
        undoing.undo(kitchen, entry)
    assert caught.value.code == "adopted-since"
    assert kitchen.entry_path(entry).read_bytes() == before


def test_each_line_says_today_before_and_how_sure(make_kitchen: MakeKitchen) -> None:
    files = {"recipes/walnut-paste.yaml": PASTE.replace("80 g", "70-90 g"), "recipes/loin.yaml": COOK}
    kitchen = make_kitchen(files)
    entry = kitchen.entry(
        cooked(
            kitchen, "2.2 kg", {"item": "walnuts", "amount": "75 g"}, {"item": "honey", "amount": "21 g"},
            {"item": "thyme, fresh", "left_out": True},
        )
    )
    (adoption,) = adoptions(kitchen, entry)
    assert {line_words(line, adoption) for line in adoption.changes} == {
        "walnuts: today 75 g on 2.2 kg, in the recipe 75 g for 2.2 kg (was 70-90 g, tightened to what was used)",
        "honey: today 21 g on 2.2 kg, in the recipe 21 g for 2.2 kg (new)",
        "thyme, fresh: left out today, comes out of the recipe",
    }


LEFT_OUT = {"item": "mint", "left_out": "true"}


def test_without_amounts_there_is_no_first_revision(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    known = {"": {"weight": "2 kg"}}
    entry = logbook.start_new(kitchen, "Plum paste", "paste", "pork loin, boneless", known, AT)
    line = loglines.line_of(entry, "used", {"piece": None, "into": None, "item": "plums"}, AT)
    logbook.add(kitchen, entry, line.change, line.words)
    with pytest.raises(RequestError, match="no amounts to make a recipe of"):
        adoptions(kitchen, kitchen.entry(entry.name))
    line = loglines.line_of(entry, "used", {"piece": None, "into": None, "item": "honey", "amount": "21 g"}, AT)
    logbook.add(kitchen, entry, line.change, line.words)
    logbook.add(kitchen, entry, lambda edit: append(edit, ["as_made", "plum-paste"], LEFT_OUT), "by hand")
    (adoption,) = adoptions(kitchen, kitchen.entry(entry.name))
    plums, honey = adoption.changes
    assert line_words(plums, adoption) == "plums: as needed; a guess, nobody weighed it"
    assert line_words(honey, adoption) == "honey: 21 g"


@pytest.mark.parametrize("today", [False, True])
def test_spoons_on_top_of_millilitres_are_told_in_digits_that_can_be_measured(
    make_kitchen: MakeKitchen, today: bool
) -> None:
    kitchen = make_kitchen()
    entry = kitchen.entry(cooked(kitchen, "2.2 kg", {"item": "olive oil", "more": "1 tbsp"}))
    (adoption,) = adoptions(kitchen, entry, today)
    line = next(one for one in adoption.changes if one.item == "olive oil")
    assert isinstance(line, Adopted)
    assert (str(line.today), str(line.in_recipe)) == ("94.8 ml", "94.8 ml" if today else "95 ml")


@pytest.mark.parametrize(("amount", "exact"), [("9 cloves", "9 cloves"), ("1 clove", "1 clove"), ("83 g", "83 g")])
def test_an_amount_before_its_rounding_is_counted_as_people_count(amount: str, exact: str) -> None:
    assert three_digits(Amount.parse(amount)) == exact
