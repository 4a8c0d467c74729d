"""What entries teach is kept in the cache, and counts only while nothing it was read from has changed."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from cookbook.kitchen import Kitchen
from cookbook.kitchen.cache import cache_folder
from cookbook.kitchen.learning import teaching
from cookbook.kitchen.starter import new
from cookbook.recipe.scaling import Habits

PASTE = "fennel-sage-paste"


@pytest.fixture
def root(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A kitchen whose files and folders are older than any tick of the clock."""
    monkeypatch.setattr("cookbook.kitchen.learning.habits.SAME_TICK_NS", -(10**18))
    return new(tmp_path / "mine", example=True)


def asked(root: Path) -> Habits:
    return Kitchen.open(root).habits(PASTE)


def forbidden(*_: object) -> Habits:
    raise AssertionError("the entries were read again")


def test_a_second_question_reads_no_entry(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    first = asked(root)
    assert first.salt_percent is not None
    assert first.coverage is not None
    monkeypatch.setattr(teaching, "taught", forbidden)
    assert asked(root) == first


@pytest.mark.parametrize("part", ["recipes/fennel-sage-paste.yaml", "shared/kitchen.yaml", "journal/2026/late.yaml"])
def test_any_changed_or_added_file_is_read_again(root: Path, monkeypatch: pytest.MonkeyPatch, part: str) -> None:
    asked(root)
    path = root / part
    path.write_bytes(path.read_bytes() + b"\n" if path.exists() else b"")
    monkeypatch.setattr(teaching, "taught", lambda *_: Habits((1.5, 2.5)))
    assert asked(root) == Habits((1.5, 2.5))


@pytest.mark.parametrize("damage", [b"", b"x", b"\xff\xfe", b"0\n-\n-\n-"])
def test_a_damaged_note_is_read_anew(root: Path, damage: bytes) -> None:
    right = asked(root)
    note = cache_folder(root) / "habits" / f"{PASTE}.txt"
    whole = note.read_bytes()
    note.write_bytes(damage or whole[:70])
    assert asked(root) == right
    assert note.read_bytes() == whole


def test_a_file_of_this_very_moment_is_not_trusted(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("cookbook.kitchen.learning.habits.SAME_TICK_NS", 10**18)
    root = new(tmp_path / "mine", example=True)
    assert asked(root) == asked(root)
    assert not (cache_folder(root) / "habits").exists()


def test_nothing_is_written_where_nothing_can_be(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    right = asked(root)
    blocked = root.parent / "blocked"
    blocked.write_bytes(b"")
    monkeypatch.setenv("XDG_CACHE_HOME", os.fspath(blocked))
    assert asked(root) == right
