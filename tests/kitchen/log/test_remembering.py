"""Cooks from memory: words for amounts, shown and searched, never counted."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta, timezone

import pytest

from cookbook.errors import RequestError, UnknownName
from cookbook.journal.memory import as_written
from cookbook.kitchen import Kitchen
from cookbook.kitchen.checking.schema import faults
from cookbook.kitchen.log import logbook, loglines
from cookbook.kitchen.log.remembering import remember, unknown_cut

AT = datetime(2026, 11, 21, 11, 5, tzinfo=timezone(timedelta(hours=1)))
MakeKitchen = Callable[..., Kitchen]


def test_an_old_notebook_goes_in_as_it_was_written(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = remember(kitchen, "2014-07", "loin", pieces={"": {"weight": "a big one"}})
    for item, amount in (("garlic", "a hatful"), ("olive oil", "80 ml")):
        line = loglines.line_of(entry, "used", {"item": item, "amount": amount, "into": "walnut-paste"}, AT)
        entry = logbook.add(kitchen, entry, line.change, line.words)
    assert (entry.name, entry.date, entry.memory, entry.open) == ("2014-07-loin", date(2014, 7, 1), True, False)
    assert as_written(entry, "walnut-paste") == [("garlic", "a hatful"), ("olive oil", "80 ml")]
    assert [one["amount"] is not None for one in entry.as_made["walnut-paste"]] == [False, True]
    assert entry.pieces[0].known["weight"] is None
    assert faults(entry.document, "entry") == []


def test_it_counts_nowhere(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    logbook.start(kitchen, "loin", {"": {"weight": "2.2 kg"}}, AT)
    before = kitchen.habits("walnut-paste")
    entry = remember(kitchen, "2014-07-12", "loin", pieces={"": {"weight": "2 kg"}})
    line = loglines.line_of(entry, "used", {"item": "fine salt", "amount": "200 g", "into": "walnut-paste"}, AT)
    logbook.add(kitchen, entry, line.change, line.words)
    assert Kitchen.open(kitchen.root).habits("walnut-paste") == before


def test_words_for_amounts_are_a_fault_in_a_cook_that_counts(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {"": {"weight": "2.2 kg"}}, AT)
    with pytest.raises(RequestError):
        loglines.line_of(entry, "used", {"item": "walnuts", "amount": "a hatful", "into": None}, AT)


@pytest.mark.parametrize("when", ["last summer", "2014-13", "14-07-12", "2014-07-32"])
def test_a_day_a_month_or_a_year(make_kitchen: MakeKitchen, when: str) -> None:
    kitchen = make_kitchen()
    with pytest.raises(RequestError):
        remember(kitchen, when, None, "Old roast", "cook", "pork loin, boneless")
    assert remember(kitchen, "2014", None, "Old roast", "cook", "pork loin, boneless").name == "2014-old-roast"


def test_a_piece_comes_out_on_its_own_and_its_scores_name_it(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {"big": {"weight": "3 kg"}, "small": {"weight": "2 kg"}}, AT)
    said = {"piece": "big", "scores": [["crust=8", "Ada"]], "weight_after": "2.5 kg", "served": "63C"}
    line = loglines.line_of(entry, "finish", said, AT)
    entry = logbook.add(kitchen, entry, line.change, line.words)
    assert entry.open
    assert entry.scores == {"crust": {"Ada, big": 8.0}}
    assert entry.pieces[0].known["weight_after"] == 2500.0
    with pytest.raises(RequestError, match="which piece"):
        loglines.line_of(entry, "finish", {"piece": None, "weight_after": "2.5 kg"}, AT)


def test_everything_that_an_entry_may_say_of_the_whole_cook(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {"": {"weight": "3 kg"}}, AT)
    for field in loglines.ABOUT:
        line = loglines.line_of(entry, "about", {"piece": None, "field": field, "words": ["some", "words"]}, AT)
        entry = logbook.add(kitchen, entry, line.change, line.words)
    line = loglines.line_of(entry, "take", {"piece": None, "words": ["the", "slicing"]}, AT)
    entry = logbook.add(kitchen, entry, line.change, line.words)
    assert {entry.fields[field] for field in loglines.ABOUT} == {"some words"}
    assert entry.fields["takes"][0]["what"] == "the slicing"
    assert faults(entry.document, "entry") == []


@pytest.mark.parametrize("words", ["a shoulder from the neighbour", "pork loin", "lamb"])
def test_a_cut_that_nobody_can_tell_any_more_stays_as_its_words(make_kitchen: MakeKitchen, words: str) -> None:
    kitchen = make_kitchen()
    entry = remember(kitchen, "1998", None, "Old one", "cook", words, {"": {"weight": "3 kg"}})
    assert entry.pieces[0].cut == words
    assert unknown_cut(kitchen, words) is not None


@pytest.mark.parametrize(("words", "meant"), [("prok loin, boneles", "pork loin"), ("leg o lamb", "leg of lamb")])
def test_a_slip_in_a_cuts_name_is_asked_about(make_kitchen: MakeKitchen, words: str, meant: str) -> None:
    with pytest.raises(UnknownName) as caught:
        remember(make_kitchen(), "1998", None, "Old one", "cook", words)
    assert caught.value.nearest[0].startswith(meant)


def test_a_cut_of_the_table_needs_no_word(make_kitchen: MakeKitchen) -> None:
    assert unknown_cut(make_kitchen(), "brisket, flat") is None


def test_cooks_are_counted_oldest_first_and_without_remembered_ones(make_kitchen: MakeKitchen) -> None:
    from cookbook.kitchen.descent import cooks_of

    kitchen = make_kitchen()
    old = remember(kitchen, "1999-05", "loin")
    started = [
        logbook.start(kitchen, "loin", {}, datetime(2026, month, 1, 11).astimezone()).name for month in (3, 1)
    ]
    assert [cook.entry.name for cook in cooks_of(kitchen, "loin")] == sorted(started)
    assert [cook.entry.name for cook in cooks_of(kitchen, "loin", memory=True)] == [old.name, *sorted(started)]
