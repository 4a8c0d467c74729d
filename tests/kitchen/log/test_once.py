"""Lines that come more than once, and those that were cut off in the middle."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from cookbook.errors import StorageError, UnknownName
from cookbook.files import save
from cookbook.kitchen import Kitchen
from cookbook.kitchen.clock import now
from cookbook.kitchen.log import logbook, once, undoing
from cookbook.kitchen.log.undoing import undo

IDENT = "a-line-of-its-own"
LIT = {"did": ["lit"]}


def entry_of(kitchen: Kitchen) -> str:
    return logbook.start(kitchen, "loin", {}, now()).name


def test_a_program_that_stops_before_the_line_logs_it_when_it_comes_again(
    make_kitchen: Callable[..., Kitchen], monkeypatch: pytest.MonkeyPatch
) -> None:
    kitchen = make_kitchen()
    name = entry_of(kitchen)

    def full(*_: object, **__: object) -> None:
        raise StorageError("the entry", "No space left on device")

    with monkeypatch.context() as disk:
        disk.setattr(logbook, "save", full)
        with pytest.raises(StorageError):
            once.log(kitchen, name, "event", LIT, now(), IDENT)
    assert not once.log(kitchen, name, "event", LIT, now(), IDENT).again
    assert len(kitchen.entry(name).events) == 1


def test_a_program_that_stops_behind_the_line_does_not_log_it_again(
    make_kitchen: Callable[..., Kitchen], monkeypatch: pytest.MonkeyPatch
) -> None:
    kitchen = make_kitchen()
    name = entry_of(kitchen)

    def then_stop(*given: object, **more: object) -> None:
        save(*given, **more)  # type: ignore[arg-type]  # handed through
        raise KeyboardInterrupt

    with monkeypatch.context() as program:
        program.setattr(logbook, "save", then_stop)
        with pytest.raises(KeyboardInterrupt):
            once.log(kitchen, name, "event", LIT, now(), IDENT)
    assert once.log(kitchen, name, "event", LIT, now(), IDENT).again
    assert len(kitchen.entry(name).events) == 1


def test_what_was_taken_back_does_not_come_again(make_kitchen: Callable[..., Kitchen]) -> None:
    kitchen = make_kitchen()
    name = entry_of(kitchen)
    once.log(kitchen, name, "event", LIT, now(), IDENT)
    undo(kitchen, kitchen.entry(name))
    assert once.log(kitchen, name, "event", LIT, now(), IDENT).again
    assert kitchen.entry(name).events == ()


def test_a_cook_that_was_begun_is_found_again_under_its_name(make_kitchen: Callable[..., Kitchen]) -> None:
    kitchen = make_kitchen()
    first = once.start(kitchen, "loin", {}, now(), IDENT)
    again = once.start(Kitchen.open(kitchen.root), "loin", {}, now(), IDENT)
    assert (again.entry, again.again) == (first.entry, True)
    assert once.start(kitchen, "loin", {}, now(), "another-line").entry == f"{first.entry}-2"


def test_by_hand_and_by_page_one_after_the_other(make_kitchen: Callable[..., Kitchen]) -> None:
    """What was kept of the entry counts only while its file is the same."""
    kitchen = make_kitchen()
    name = entry_of(kitchen)
    once.log(kitchen, name, "event", LIT, now(), "line-one")
    path = kitchen.entry_path(kitchen.entry(name))
    path.write_text(path.read_text() + "weather: rain   # by hand\n")
    once.log(kitchen, name, "event", {"did": ["on"]}, now(), "line-two")
    text = path.read_text()
    assert "weather: rain   # by hand" in text
    assert [event.did for event in kitchen.entry(name).events] == ["lit", "on"]


def test_an_entry_that_is_not_there_is_said(make_kitchen: Callable[..., Kitchen]) -> None:
    with pytest.raises(UnknownName):
        once.log(make_kitchen(), "nowhere", "event", LIT, now(), IDENT)


def test_a_start_and_an_undo_that_were_cut_off_behind_the_work_are_not_done_again(
    make_kitchen: Callable[..., Kitchen], monkeypatch: pytest.MonkeyPatch
) -> None:
    kitchen = make_kitchen()

    def stopped(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    with monkeypatch.context() as program:
        program.setattr(undoing, "remember", stopped)
        with pytest.raises(KeyboardInterrupt):
            once.start(kitchen, "loin", {}, now(), IDENT)
    assert once.start(kitchen, "loin", {}, now(), IDENT).again
    (name,) = [path.stem for path in kitchen.entry_paths()]
    for did in ("lit", "on"):
        once.log(kitchen, name, "event", {"did": [did]}, now())
    with monkeypatch.context() as program:
        program.setattr(undoing, "_keep", stopped)
        with pytest.raises(KeyboardInterrupt):
            once.take_back(kitchen, name, "back")
    assert once.take_back(kitchen, name, "back").again
    assert [event.did for event in kitchen.entry(name).events] == ["lit"]
    assert once.take_back(kitchen, name, "once more").words.endswith("lit")


def test_what_cannot_be_read_is_kept_as_a_note_and_said(make_kitchen: Callable[..., Kitchen]) -> None:
    kitchen = make_kitchen()
    name = entry_of(kitchen)
    done = once.log(kitchen, name, "reading", {"values": ["soul=48C"]}, now(), IDENT)
    assert done.warnings == ("kept as a note: 'soul' is no probe",)
    (note,) = kitchen.entry(name).notes
    assert (note.text, note.unread) == ("reading soul=48C", True)
    assert once.log(kitchen, name, "reading", {"values": ["soul=48C"]}, now(), IDENT).again
