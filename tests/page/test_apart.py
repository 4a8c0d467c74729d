"""Work in another process: what comes back, what is said meanwhile, and what happens when that process dies."""

from __future__ import annotations

import os
import signal
import sys
import time
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace

import pytest

from cookbook.errors import CookbookError, UnknownName
from cookbook.page.apart import Apart, Told
from cookbook.page.desk import Desk, Later
from cookbook.page.opening import KEPT, stamp_of, told_of


def who(told: Told, number: int) -> int:
    told("half of it")
    return os.getpid() + number


def refuse(_: Told) -> None:
    raise UnknownName("cut", "chop", ["chump"])


def fail(_: Told) -> None:
    raise ZeroDivisionError


def die(_: Told) -> None:
    os.kill(os.getpid(), signal.SIGTERM)


@pytest.mark.skipif(sys.platform == "win32", reason="signals are sent otherwise there")
def test_work_is_done_in_another_process_that_is_begun_again_when_it_dies(
    capfd: pytest.CaptureFixture[str],
) -> None:
    apart, heard = Apart(), list[str]()
    try:
        other = apart.do(who, 0, told=heard.append)
        assert other != os.getpid()
        assert heard == ["half of it"]
        with pytest.raises(UnknownName) as unknown:
            apart.do(refuse)
        assert unknown.value.nearest == ("chump",)
        with pytest.raises(CookbookError, match="failed"):
            apart.do(fail)
        assert "ZeroDivisionError" in capfd.readouterr().err
        assert apart.do(who, 1) == other + 1, "a fault ends no process"
        with pytest.raises(CookbookError, match="stopped"):
            apart.do(die)
        assert apart.do(who, 0) not in (other, os.getpid())
    finally:
        apart.stop()
    with pytest.raises(CookbookError, match="being stopped"):
        apart.do(who, 0)


calls: list[tuple[object, ...]] = []


def count(told: Told, _: Path, *given: object) -> int:
    told("begun")
    calls.append(given)
    if given == ("bad",):
        raise CookbookError("it can't be")
    return len(calls)


def test_what_was_found_is_kept_until_the_kitchen_changes(tmp_path: Path) -> None:
    calls.clear()
    desk, recipe = Desk(tmp_path, apart=False), tmp_path / "recipes/x.yaml"
    recipe.parent.mkdir()
    recipe.write_text("kind: rub\n")
    assert [desk.ask(count, "a") for _ in range(3)] == [1, 1, 1]
    assert desk.ask(count, "b") == 2
    for _ in range(2):
        with pytest.raises(CookbookError, match="can't be"):
            desk.ask(count, "bad")
    assert len(calls) == 3
    entry = tmp_path / "journal/x.yaml"
    entry.parent.mkdir()
    entry.write_text("date: x\n")
    assert desk.ask(count, "a") == 1, "somebody logs a line: whoever waits does not wait again"
    recipe.write_text("kind: paste\n")
    assert desk.ask(count, "a") == 4
    desk.stop()


def test_a_file_that_was_only_just_written_may_change_within_the_same_tick(tmp_path: Path) -> None:
    path = tmp_path / "recipes/x.yaml"
    path.parent.mkdir()
    assert stamp_of(tmp_path, KEPT) == told_of(tmp_path, KEPT)
    path.write_text("kind: rub\n")
    assert stamp_of(tmp_path, KEPT) is None


def test_a_line_logged_long_ago_counts(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    calls.clear()
    monkeypatch.setattr("cookbook.page.desk._LATE_S", 0.0)
    desk = Desk(tmp_path, apart=False)
    assert [desk.ask(count, "a"), desk.ask(count, "a")] == [1, 1]
    (tmp_path / "journal").mkdir()
    (tmp_path / "journal/x.yaml").write_text("date: x\n")
    assert desk.ask(count, "a") == 2
    later = SimpleNamespace(monotonic=lambda: time.monotonic() + 3600)
    monkeypatch.setattr("cookbook.page.desk.time", later)
    assert desk.ask(count, "a") == 3, "nothing is kept for ever"
    desk.stop()


def test_nobody_fills_the_desk_and_what_nobody_waits_for_is_not_begun(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, still: Callable[..., None]
) -> None:
    desk = Desk(tmp_path, apart=False)
    desk.patience_s = 0.0
    for number in range(12):
        with pytest.raises(Later) as late:
            desk.ask(still, number)
    assert "first" in late.value.words
    monkeypatch.setattr("cookbook.page.desk._LEFT_S", -1.0)
    with pytest.raises(Later) as late:
        desk.ask(still, "one more")
    assert late.value.words == "", "those that were left made room"
    desk.stop()


@pytest.fixture
def still() -> Callable[..., None]:
    """Work that takes its time."""
    from threading import Event

    def wait(_: Told, __: Path, ___: object) -> None:
        Event().wait(0.3)

    return wait


def test_what_rests_on_the_same_is_worked_out_one_after_the_other(tmp_path: Path, still: Callable[..., None]) -> None:
    calls.clear()
    desk = Desk(tmp_path, apart=False)
    desk.patience_s = 0.0
    with pytest.raises(Later):
        desk.ask(still, "first", rests_on="loin")
    with pytest.raises(Later):
        desk.ask(count, "second", rests_on="loin")
    with pytest.raises(Later):
        desk.ask(count, "second", rests_on="loin")
    assert calls == []
    desk.patience_s = 60.0
    assert desk.ask(count, "other", rests_on="ribs") == 1
    desk.ask(still, "first", rests_on="loin")
    assert desk.ask(count, "second", rests_on="loin") == 2
    desk.stop()
