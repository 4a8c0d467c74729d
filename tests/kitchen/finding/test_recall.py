"""Before doing it again: the last cooks, open lines for next time, questions, prices."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from cookbook.errors import RequestError, UnknownName
from cookbook.kitchen import Kitchen
from cookbook.kitchen.finding.recall import last
from cookbook.kitchen.log import reminders
from cookbook.kitchen.log.undoing import undo
from cookbook.kitchen.starter import new


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    return Kitchen.open(new(tmp_path / "mine", example=True))


def test_the_newest_cook_comes_first_with_its_size_times_and_what_was_changed(kitchen: Kitchen) -> None:
    found = last(kitchen, "pork-loin-over-cherry", 2)
    assert [cook.entry[:10] for cook in found.cooks] == ["2026-10-17", "2026-06-20"]
    newest = found.cooks[0]
    assert newest.size == "2.8 kg"
    assert newest.measured["time to pull"] == (115.0, "min")
    assert newest.scores == {"crust": 8.25, "juiciness": 8.0}
    assert newest.changed == ("thyme, fresh: in the place of sage, fresh",)
    assert newest.version is not None
    assert newest.version.startswith("revision 2")


def test_a_newer_paste_is_what_changed_in_the_cook_that_uses_it(kitchen: Kitchen) -> None:
    newest = last(kitchen, "pork-loin-over-cherry", 1).cooks[0]
    assert "newer fennel-sage-paste" in str(newest.version)


def test_lines_for_next_time_come_up_for_the_same_coat_and_the_same_cut(kitchen: Kitchen) -> None:
    own = [one.line for one in last(kitchen, "pork-loin-over-cherry").next_time]
    assert "turn it once, the back runs hot" in own
    assert [one.line for one in last(kitchen, "fennel-sage-paste").next_time] == own
    assert [one.line for one in last(kitchen, "pork loin, boneless").next_time] == own
    assert not set(own) & {one.line for one in last(kitchen, "rib-roast-on-oak").next_time}


def test_a_ticked_line_comes_up_no_more(kitchen: Kitchen) -> None:
    path = kitchen.root / "journal/2026/2026-06-20-pork-loin-over-cherry.yaml"
    line = "turn it once, the back runs hot"
    text = path.read_text(encoding="utf-8")
    assert line in text
    ticked = [f'  - {{line: "{line}", done: "2026-07-01"}}' if line in one else one for one in text.splitlines()]
    path.write_text("\n".join(ticked) + "\n", encoding="utf-8")
    assert line not in [one.line for one in last(Kitchen.open(kitchen.root), "pork-loin-over-cherry").next_time]


def test_prices_are_those_of_the_cut_by_the_kilogram(kitchen: Kitchen) -> None:
    newest, before, _ = last(kitchen, "rib-roast-on-oak").prices
    assert (newest.price, newest.per_kg, newest.date.month) == ("149.50 EUR", 23.0, 2)
    assert (before.price, before.per_kg, before.date.month) == ("97.50 EUR", 25.0, 12)


def test_questions_stay_until_they_are_answered(kitchen: Kitchen) -> None:
    assert [one["asked"] for one in last(kitchen, "rib roast, bone in").questions] == [
        "How long for two ribs in an oven?"
    ]
    path = kitchen.root / "shared/questions.yaml"
    path.write_text("- {recipe: rib-roast-on-oak, asked: How long?, answer: two hours}\n", encoding="utf-8")
    assert last(Kitchen.open(kitchen.root), "rib-roast-on-oak").questions == ()


def test_a_remembered_cook_is_shown_as_one(kitchen: Kitchen) -> None:
    (kitchen.root / "journal/2026-11-01-old.yaml").write_bytes(
        b'recipe: rib-roast-on-oak\ndate: "2026-11-01"\nfrom: memory\ndeviations: [two hours in the wrong oven]\n'
    )
    newest = last(kitchen, "rib-roast-on-oak").cooks[0]
    assert newest.memory is True
    assert newest.changed == ("two hours in the wrong oven",)


def test_what_is_neither_recipe_nor_cut_gets_the_nearest_of_both(kitchen: Kitchen) -> None:
    with pytest.raises(UnknownName) as fault:
        last(kitchen, "rib-rost")
    assert "rib-roast-on-oak" in fault.value.nearest


def test_the_lines_of_the_cook_at_hand_are_left_out(kitchen: Kitchen) -> None:
    lines = reminders.open_lines(kitchen, ["pork-loin-over-cherry"], None, "2026-06-20-pork-loin-over-cherry")
    assert lines
    assert all(one.entry != "2026-06-20-pork-loin-over-cherry" for one in lines)


def test_a_line_is_ticked_by_its_words_in_whichever_cook_it_stands(kitchen: Kitchen) -> None:
    path = kitchen.root / "journal/2026/2026-06-20-pork-loin-over-cherry.yaml"
    before = path.read_text(encoding="utf-8")
    ticked = reminders.tick(kitchen, "Turn it  once", date(2026, 7, 1))
    assert ticked.entry == "2026-06-20-pork-loin-over-cherry"
    line = "turn it once, the back runs hot"
    assert path.read_text(encoding="utf-8") == before.replace(line, f'{{line: "{line}", done: "2026-07-01"}}')
    assert line not in [one.line for one in last(Kitchen.open(kitchen.root), "pork-loin-over-cherry").next_time]
    assert undo(kitchen, kitchen.entry(ticked.entry)) == f"ticked: {line}"
    assert path.read_text(encoding="utf-8") == before


@pytest.mark.parametrize(
    ("written", "after"),
    [
        ("next_time: light it earlier  # really", '{line: light it earlier, done: "2026-07-01"}  # really'),
        ("next_time:\n  - {line: light it earlier}", '{line: light it earlier, done: "2026-07-01"}'),
        ("next_time:\n  - line: light it earlier", 'line: light it earlier\n    done: "2026-07-01"'),
        ("next_time: [more salt, light it earlier]", '[more salt, {line: light it earlier, done: "2026-07-01"}]'),
    ],
)
def test_a_line_is_ticked_however_it_was_written(kitchen: Kitchen, written: str, after: str) -> None:
    path = kitchen.root / "journal/2026/2026-07-01-loin.yaml"
    path.write_text(f'title: Loin\ndate: "2026-07-01"\n{written}\n', encoding="utf-8")
    reminders.tick(kitchen, "light it earlier", date(2026, 7, 1))
    assert after in path.read_text(encoding="utf-8")
    assert Kitchen.open(kitchen.root).entry("2026-07-01-loin").next_time[-1].done == date(2026, 7, 1)


@pytest.mark.parametrize(("words", "said"), [("nothing of it", "no open line"), ("it", "more than one open line")])
def test_words_that_no_line_or_several_hold_are_said(kitchen: Kitchen, words: str, said: str) -> None:
    with pytest.raises(RequestError, match=said) as caught:
        reminders.tick(kitchen, words, date(2026, 7, 1))
    assert "turn it once" in str(caught.value.mend)


@pytest.mark.parametrize(("typed", "meant"), [("lamb", "leg-of-lamb-over-vine"), ("fenel", "fennel-sage-paste")])
def test_one_word_of_a_recipes_name_is_enough_to_be_asked_for_it(kitchen: Kitchen, typed: str, meant: str) -> None:
    with pytest.raises(UnknownName) as fault:
        kitchen.recipe(typed)
    assert meant in fault.value.nearest
    assert meant in str(fault.value.mend)
