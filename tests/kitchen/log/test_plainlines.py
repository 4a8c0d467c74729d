"""A plain line in the entry: what was read in it, and the words as they were typed."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta, timezone

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cookbook.errors import RequestError
from cookbook.journal import Entry
from cookbook.kitchen import Kitchen
from cookbook.kitchen.log import logbook, undoing
from cookbook.kitchen.log.plainlines import plain_line

AT = datetime(2026, 11, 21, 14, 10, tzinfo=timezone(timedelta(hours=1)))
MakeKitchen = Callable[..., Kitchen]


def begun(kitchen: Kitchen) -> Entry:
    return logbook.start(kitchen, "loin", {"": {"weight": "3.1 kg"}}, AT)


def logged(kitchen: Kitchen, entry: Entry, words: str, at: str | None = None) -> tuple[Entry, str, tuple[str, ...]]:
    line = plain_line(entry, words, at, AT, "C")
    return logbook.add(kitchen, entry, line.change, line.words), line.words, line.doubts


def test_the_line_from_the_pit(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    words = "14:05 core 48 pit 121, a split on, two spoons more oil"
    entry, said, doubts = logged(kitchen, begun(kitchen), words)
    (event,) = entry.events
    assert event.note == words
    assert (event.did, str(event.core), str(event.pit)) == ("wood added", "48 °C", "121 °C")
    assert f"{event.at:%H:%M}" == "14:05"
    assert said == "14:05, core 48 °C, pit 121 °C, wood added"
    assert [(note.text, note.unread) for note in entry.notes] == [("two spoons more oil", True)]
    assert "or tsp" in doubts[0]


def test_what_went_in_goes_to_the_as_made_lines_and_the_words_to_the_notes(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry, _, doubts = logged(kitchen, begun(kitchen), "2 tbsp more oil and no walnuts")
    one, two = entry.as_made["walnut-paste"]
    assert (one["item"], str(one["more"])) == ("olive oil", "2 tbsp")
    assert (two["item"], two["left_out"]) == ("walnuts", True)
    assert [(note.text, note.unread) for note in entry.notes] == [("2 tbsp more oil and no walnuts", False)]
    assert doubts == ()


def test_nothing_read_is_a_note_marked_unread(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry, _, _ = logged(kitchen, begun(kitchen), "core 145")
    assert entry.events == ()
    assert [(note.text, note.unread) for note in entry.notes] == [("core 145", True)]


def test_a_piece_said_beside_the_line_is_that_of_all_that_names_none(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    pieces = {"big": {"weight": "3.1 kg"}, "small": {"weight": "1.6 kg"}}
    entry = logbook.start(kitchen, "loin", pieces, AT)
    line = plain_line(entry, "core 48, turned it", None, AT, "C", piece="small")
    entry = logbook.add(kitchen, entry, line.change, line.words)
    line = plain_line(entry, "the big one core 40", None, AT, "C", piece="small")
    entry = logbook.add(kitchen, entry, line.change, line.words)
    line = plain_line(entry, "note: it drips", None, AT, "C", piece="small")
    entry = logbook.add(kitchen, entry, line.change, line.words)
    assert [(event.piece, str(event.core)) for event in entry.events] == [("small", "48 °C"), ("big", "40 °C")]
    assert "text: it drips, piece: small" in entry.document.text
    with pytest.raises(RequestError, match="no piece of this entry is called 'tiny'"):
        plain_line(entry, "core 48", None, AT, "C", piece="tiny")


def test_each_part_keeps_its_own_time(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry, _, _ = logged(kitchen, begun(kitchen), "13:50 core 48, 14:00 wrapped and pit 121")
    assert [(f"{one.at:%H:%M}", one.did, str(one.core), str(one.pit)) for one in entry.events] == [
        ("13:50", None, "48 °C", "None"),
        ("14:00", "wrapped", "None", "121 °C"),
    ]


def test_the_time_said_beside_the_line_wins(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry, _, _ = logged(kitchen, begun(kitchen), "core 48", "13:00")
    assert f"{entry.events[0].at:%H:%M}" == "13:00"


def test_a_line_that_says_what_it_is(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry, _, _ = logged(kitchen, begun(kitchen), "next time: light it earlier")
    entry, _, _ = logged(kitchen, entry, "note: core 48 was the old probe")
    assert entry.next_time[0].line == "light it earlier"
    assert [(note.text, note.unread) for note in entry.notes] == [("core 48 was the old probe", False)]


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(
    st.lists(
        st.sampled_from(
            ["core 48", "pit 121", "a split on", "8 g more walnuts", "wind", "14:05", "on", "145", "no oil"]
        ),
        min_size=1,
        max_size=5,
    )
)
def test_the_words_are_always_in_the_entry_and_undo_takes_them_back(
    make_kitchen: MakeKitchen, parts: list[str]
) -> None:
    kitchen = make_kitchen()
    entry = begun(kitchen)
    before = entry.document.data
    words = ", ".join(parts)
    after, _, _ = logged(kitchen, entry, words)
    kept = [event.note for event in after.events] + [note.text for note in after.notes]
    assert words in kept
    undoing.undo(kitchen, after)
    assert kitchen.entry(entry.name).document.data == before


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("lit the fire at 9:40", "09:40, lit"),
        ("9:40 lit, meat on at 10:05, pit 121", "09:40, lit, 10:05, on, pit 121 °C"),
        ("the wind turned at 9:40", "09:40, note, unread: the wind turned at 9:40"),
    ],
)
def test_every_time_is_read_back_before_what_happened_then(make_kitchen: MakeKitchen, words: str, said: str) -> None:
    read_back = logged(kitchen := make_kitchen(), begun(kitchen), words)[1]
    assert read_back.replace("21 Nov ", "") == said


def test_all_of_an_item_is_said_as_all(make_kitchen: Callable[..., Kitchen]) -> None:
    entry = logbook.start(make_kitchen(), "loin", {"": {"weight": "3.1 kg"}}, AT)
    line = plain_line(entry, "walnuts 90 g in all", None, AT, "C")
    assert line.words.endswith("walnuts, 90 g in all")


def test_a_second_reading_with_its_depth_stands_apart_from_the_core(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    words = "14:05 core 49, 56 at 3 cm, pit 121"
    entry, said, doubts = logged(kitchen, begun(kitchen), words)
    first, second = entry.events
    assert (str(first.core), str(first.pit), first.depth, first.note) == ("49 °C", "121 °C", None, words)
    assert (str(second.core), second.pit, second.depth) == ("56 °C", None, 3.0)
    assert said == "14:05, core 49 °C, core 56 °C at 3 cm, pit 121 °C"
    assert doubts == ()
