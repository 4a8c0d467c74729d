"""The index: it answers for the files as they are now, whatever happened to it or to them."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cookbook.kitchen import Kitchen
from cookbook.kitchen.cache import READERS, cache_folder
from cookbook.kitchen.finding import index as index_room
from cookbook.kitchen.finding import picking
from cookbook.kitchen.finding.index import Index
from cookbook.kitchen.starter import new
from tests.conftest import COOK, PASTE

MakeKitchen = Callable[..., Kitchen]
ENTRY = """\
recipe: loin
version: 1-0123456789ab.01234567
uses: {walnut-paste: 1-aaaaaaaaaaaa.01234567}
date: "2026-11-21"
cooker: drum
outcome:
  scores: {crust: 8}
next_time: [more walnuts]
"""
RECIPES = "SELECT name, kind, title, revision, cut, steps FROM recipe ORDER BY name"
ENTRIES = "SELECT name, date, recipe, version, cut, cooker, memory, open, score, next_time FROM entry ORDER BY name"
USED = "SELECT used.recipe, entry.name, used.version FROM used JOIN entry ON id = entry ORDER BY 1, 2"
ALL = (RECIPES, ENTRIES, USED, "SELECT text FROM words ORDER BY text", "SELECT path, fault FROM file ORDER BY path")


def kitchen_of_one(make_kitchen: MakeKitchen) -> Kitchen:
    return make_kitchen(
        {"recipes/walnut-paste.yaml": PASTE, "recipes/loin.yaml": COOK, "journal/2026/2026-11-21-loin.yaml": ENTRY}
    )


def anew(kitchen: Kitchen) -> list[list[tuple[object, ...]]]:
    """What an index built from nothing says."""
    index = Index(Kitchen.open(kitchen.root))
    index.file = None
    return [sorted(index.ask(question), key=repr) for question in ALL]


def said(kitchen: Kitchen) -> list[list[tuple[object, ...]]]:
    index = Index(Kitchen.open(kitchen.root))
    with closing(index):
        return [sorted(index.ask(question), key=repr) for question in ALL]


def file_of(kitchen: Kitchen) -> Path:
    return cache_folder(kitchen.root) / "index.sqlite"


def age(kitchen: Kitchen) -> None:
    """Let every file be older than the clock's tick."""
    for path in kitchen.root.rglob("*.yaml"):
        os.utime(path, ns=(1_700_000_000_000_000_000, 1_700_000_000_000_000_000))


def test_an_entry_and_its_recipe_stand_in_the_index(make_kitchen: MakeKitchen) -> None:
    kitchen = kitchen_of_one(make_kitchen)
    recipes, entries, used, _, files = said(kitchen)
    assert recipes == [
        ("loin", "cook", "Loin over cherry", None, "pork loin, boneless", 0),
        ("walnut-paste", "paste", "Walnut and thyme paste", 2, "pork loin, boneless", 1),
    ]
    assert entries == [
        ("2026-11-21-loin", "2026-11-21", "loin", "1-0123456789ab.01234567", None, "drum", 0, 1, 8.0, 1)
    ]
    assert used == [
        ("loin", "2026-11-21-loin", "1-0123456789ab.01234567"),
        ("walnut-paste", "2026-11-21-loin", "1-aaaaaaaaaaaa.01234567"),
    ]
    assert [fault for _, fault in files] == [None, None, None]


def test_an_edit_of_the_same_size_in_the_same_tick_is_seen(make_kitchen: MakeKitchen) -> None:
    kitchen = kitchen_of_one(make_kitchen)
    path = kitchen.root / "journal/2026/2026-11-21-loin.yaml"
    told = path.stat()
    index = Index(kitchen)
    assert index.ask("SELECT score FROM entry") == [(8.0,)]
    path.write_bytes(ENTRY.replace("crust: 8", "crust: 9").encode())
    os.utime(path, ns=(told.st_atime_ns, told.st_mtime_ns))
    assert index.ask("SELECT score FROM entry") == [(9.0,)]


def test_nothing_is_read_again_where_nothing_changed(
    make_kitchen: MakeKitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    kitchen = kitchen_of_one(make_kitchen)
    age(kitchen)
    monkeypatch.setattr(index_room, "changed_at_ns", lambda _: 0)
    index = Index(kitchen)
    index.ask("SELECT 1")

    def never(*_: object) -> None:
        raise AssertionError("a file was read again")

    monkeypatch.setattr(index_room, "see", never)
    monkeypatch.setattr(Index, "_read", never)
    assert index.ask("SELECT count(*) FROM entry") == [(1,)]
    assert Index(Kitchen.open(kitchen.root)).ask("SELECT count(*) FROM recipe") == [(2,)]


def test_a_touched_file_is_not_parsed_again_when_its_digest_is_the_same(
    make_kitchen: MakeKitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    kitchen = kitchen_of_one(make_kitchen)
    index = Index(kitchen)
    index.ask("SELECT 1")
    age(kitchen)
    monkeypatch.setattr(index_room, "see", lambda *_: pytest.fail("it was parsed again"))
    assert index.ask("SELECT count(*) FROM entry") == [(1,)]


@pytest.mark.parametrize("damage", [b"", b"no database at all, only words", b"SQLite format 3\0" + b"\xff" * 5000])
def test_a_damaged_index_is_built_anew(make_kitchen: MakeKitchen, damage: bytes) -> None:
    kitchen = kitchen_of_one(make_kitchen)
    right = said(kitchen)
    file_of(kitchen).write_bytes(damage)
    assert said(kitchen) == right
    with closing(sqlite3.connect(file_of(kitchen))) as found:
        assert found.execute("PRAGMA integrity_check").fetchall() == [("ok",)]


@pytest.mark.parametrize("part", [0.1, 0.35, 0.6, 0.85])
def test_an_index_with_a_torn_page_gives_right_answers(make_kitchen: MakeKitchen, part: float) -> None:
    kitchen = kitchen_of_one(make_kitchen)
    right = said(kitchen)
    data = bytearray(file_of(kitchen).read_bytes())
    page = int(part * len(data) / 4096) * 4096
    data[page : page + 4096] = b"\0" * 4096
    file_of(kitchen).write_bytes(bytes(data))
    assert said(kitchen) in (right, anew(kitchen))


def test_an_index_of_another_make_is_built_anew(make_kitchen: MakeKitchen) -> None:
    kitchen = kitchen_of_one(make_kitchen)
    right = said(kitchen)
    with closing(sqlite3.connect(file_of(kitchen))) as found:
        found.execute("PRAGMA user_version = 999")
        found.execute("UPDATE entry SET score = 1")
        found.commit()
    assert said(kitchen) == right


def test_another_word_for_cups_and_spoons_reads_everything_again(make_kitchen: MakeKitchen) -> None:
    kitchen = kitchen_of_one(make_kitchen)
    said(kitchen)
    before = Index(Kitchen.open(kitchen.root))
    (kitchen.root / "shared").mkdir()
    (kitchen.root / "shared/kitchen.yaml").write_bytes(b"measures: metric\n")
    after = Index(Kitchen.open(kitchen.root))
    after.ask("SELECT 1")
    keys = [index._key() for index in (before, after)]
    assert keys[0] != keys[1]
    assert after.ask("SELECT key FROM made") == [(keys[1],)]


def test_it_can_be_deleted_at_any_time(make_kitchen: MakeKitchen) -> None:
    kitchen = kitchen_of_one(make_kitchen)
    right = said(kitchen)
    file_of(kitchen).unlink()
    assert said(kitchen) == right
    file_of(kitchen).unlink()
    assert file_of(kitchen).exists() is False


def test_where_no_cache_can_be_written_it_lives_in_memory(make_kitchen: MakeKitchen) -> None:
    kitchen = kitchen_of_one(make_kitchen)
    blocked = cache_folder(kitchen.root)
    blocked.parent.mkdir(parents=True)
    blocked.write_bytes(b"a file where the folder should be")
    index = Index(kitchen)
    assert index.ask("SELECT count(*) FROM entry") == [(1,)]
    assert index.file is None


def test_a_busy_index_is_not_waited_for_for_ever(make_kitchen: MakeKitchen, monkeypatch: pytest.MonkeyPatch) -> None:
    kitchen = kitchen_of_one(make_kitchen)
    said(kitchen)
    monkeypatch.setattr(index_room, "WAIT_S", 0.05)
    with closing(sqlite3.connect(file_of(kitchen), isolation_level=None)) as other:
        other.execute("BEGIN EXCLUSIVE")
        began = time.monotonic()
        assert Index(kitchen).ask("SELECT count(*) FROM entry") == [(1,)]
        assert time.monotonic() - began < 5
        other.execute("ROLLBACK")
    with closing(sqlite3.connect(file_of(kitchen))) as found:
        assert found.execute("SELECT count(*) FROM entry").fetchall() == [(1,)]


def test_a_file_that_cannot_be_read_is_listed_with_its_fault(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen(
        {"recipes/walnut-paste.yaml": PASTE.replace("80 g", "80 grm"), "recipes/bad.yaml": "a: [\n"}
    )
    faults = dict(Index(kitchen).ask("SELECT path, fault FROM file WHERE fault IS NOT NULL"))
    assert set(faults) == {"recipes/walnut-paste.yaml", "recipes/bad.yaml"}
    assert "grm" in faults["recipes/walnut-paste.yaml"]


def test_threads_may_ask_the_same_index(make_kitchen: MakeKitchen) -> None:
    kitchen = kitchen_of_one(make_kitchen)
    with ThreadPoolExecutor(4) as pool:
        told = list(pool.map(lambda _: kitchen.index.ask("SELECT count(*) FROM entry"), range(20)))
    assert told == [[(1,)]] * 20


CHANGES = st.lists(
    st.tuples(
        st.sampled_from(["write", "remove", "move", "touch", "break"]),
        st.sampled_from(["2026/a", "2026/b", "2025/c", "d"]),
        st.integers(0, 9),
    ),
    max_size=8,
)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(rounds=st.lists(CHANGES, min_size=1, max_size=4))
def test_after_any_changes_it_says_what_one_built_from_nothing_says(
    tmp_path_factory: pytest.TempPathFactory, rounds: list[list[tuple[str, str, int]]]
) -> None:
    root = tmp_path_factory.mktemp("kitchen")
    (root / "recipes").mkdir()
    (root / "recipes/loin.yaml").write_bytes(COOK.encode())
    kitchen = Kitchen.open(root)
    with closing(Index(kitchen)) as kept:
        for changes in rounds:
            for what, name, number in changes:
                change(root / "journal" / f"{name}.yaml", what, number)
            assert [sorted(kept.ask(question), key=repr) for question in ALL] == anew(kitchen)


def change(path: Path, what: str, number: int) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    if what == "write":
        path.write_bytes(ENTRY.replace("crust: 8", f"crust: {number}").encode())
    elif what == "break":
        path.write_bytes(b"date: [\n")
    elif path.exists():
        if what == "remove":
            path.unlink()
        elif what == "move":
            path.rename(path.with_name("moved.yaml"))
        else:
            os.utime(path, ns=(number, number))


@pytest.fixture
def example(tmp_path: Path) -> Kitchen:
    return Kitchen.open(new(tmp_path / "mine", example=True))


@pytest.mark.parametrize("naming", [(), ("fennel-sage-paste",), ("rib-roast-on-oak", "no-such")])
@pytest.mark.parametrize("cut", [None, "pork loin, boneless"])
@pytest.mark.parametrize("open_lines", [False, True])
def test_many_entries_are_picked_as_few_are(
    example: Kitchen, monkeypatch: pytest.MonkeyPatch, naming: tuple[str, ...], cut: str | None, open_lines: bool
) -> None:
    if not (naming or cut or open_lines):
        return

    def fits(path: Path) -> bool:
        from cookbook.kitchen.descent import cut_of

        entry, _ = example.entry_with_problems(path)
        assert entry is not None
        named = bool(set(naming) & {entry.recipe, *entry.versions}) or (
            cut is not None and cut_of(example, entry) == cut
        )
        return (named or not (naming or cut)) and (
            not open_lines or any(line.done is None for line in entry.next_time)
        )

    right = [path for path in example.entry_paths() if fits(path)]
    few = picking.picked(example, naming, cut, open_lines)
    monkeypatch.setattr(picking, "MANY", 0)
    many = picking.picked(example, naming, cut, open_lines)
    assert many == right
    assert [path for path in few if fits(path)] == right


def test_every_room_that_files_are_read_with_stands_in_the_stamp() -> None:
    code = (
        "import sys\nfrom cookbook.kitchen.finding import index, picking\n"
        "from cookbook.kitchen.learning import teaching\n"
        "print(*{name.rpartition('.')[0] for name in sys.modules if name.startswith('cookbook.')})"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    loaded = {room.removeprefix("cookbook").strip(".").replace(".", "/") for room in done.stdout.split()} - {""}
    assert loaded | {"table"} == set(READERS)
