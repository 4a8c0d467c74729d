"""The index file by SQLite's own judgement, `PRAGMA integrity_check` (sqlite.org/pragma.html), after kills.

A process that builds or refreshes the index is ended with SIGKILL at many moments; what it leaves must be whole
for SQLite, and the answers must be those of an index built from nothing.
"""

from __future__ import annotations

import os
import random
import signal
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from pathlib import Path

import pytest

from cookbook.kitchen import Kitchen
from cookbook.kitchen.finding.index import Index
from tests.bench.generated import make

BUILD = (
    "import sys; from pathlib import Path; from cookbook.kitchen import Kitchen\n"
    "from cookbook.kitchen.finding.index import Index\n"
    "index = Index(Kitchen.open(sys.argv[1]), Path(sys.argv[2])); print('begin', flush=True)\n"
    "print(index.ask('SELECT count(*) FROM entry')[0][0], flush=True)"
)
WHOLE = [("ok",)]


def build(root: Path, file: Path) -> subprocess.Popen[str]:
    """A process that brings the index in line and tells how many entries there are."""
    command = [sys.executable, "-c", BUILD, str(root), str(file)]
    here = str(Path(__file__).resolve().parents[2])
    return subprocess.Popen(command, stdout=subprocess.PIPE, text=True, env={**os.environ, "PYTHONPATH": here})


def answers(root: Path, file: Path | None) -> list[object]:
    index = Index(Kitchen.open(root), file)
    if file is None:
        index.file = None
    with closing(index):
        return [
            index.ask(f"SELECT count(*), sum({number}) FROM {table}")
            for table, number in (
                ("entry", "score"),
                ("recipe", "revision"),
                ("used", "1"),
                ("file", "length(path)"),
                ("words", "length(text)"),
            )
        ]


def integrity(file: Path) -> list[tuple[str]]:
    with closing(sqlite3.connect(file)) as found:
        return found.execute("PRAGMA integrity_check").fetchall()


def kill_while_building(tmp_path: Path, kills: int, entries: int, seed: int) -> int:
    """Kill `kills` builders, each at another moment; returns how many died before they had answered."""
    dice = random.Random(seed)
    root = make(tmp_path / "kitchen", 20, entries)
    file = tmp_path / "index.sqlite"
    start = time.perf_counter()
    with build(root, tmp_path / "measured.sqlite") as process:
        assert process.stdout is not None
        assert process.stdout.read().split() == ["begin", str(entries)]
    whole = time.perf_counter() - start
    cut_off = 0
    for number in range(kills):
        (root / "journal/1986").mkdir(exist_ok=True)
        changed = root / f"journal/1986/1986-01-04-more-{number}.yaml"
        changed.write_bytes(b'title: More\ndate: "1986-01-04"\noutcome: {scores: {crust: 8}}\n')
        with build(root, file) as process:
            assert process.stdout is not None
            process.stdout.readline()
            time.sleep(dice.uniform(0, whole if number < kills // 2 else whole / 8))
            process.send_signal(signal.SIGKILL)
            cut_off += not process.stdout.read()
        if file.exists():
            assert integrity(file) == WHOLE
        if number % 4 == 3:
            assert answers(root, file) == answers(root, None)
            assert integrity(file) == WHOLE
        if number == kills // 2:
            file.unlink(missing_ok=True)
    assert answers(root, file) == answers(root, None)
    return cut_off


@pytest.mark.long
@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system has no SIGKILL")
def test_an_index_whose_builder_was_killed_is_whole_and_right(tmp_path: Path) -> None:
    assert kill_while_building(tmp_path, 8, 120, 1) > 0


@pytest.mark.long
@pytest.mark.parametrize("seed", range(5))
def test_an_index_is_whole_after_many_kills(tmp_path: Path, seed: int) -> None:
    assert kill_while_building(tmp_path, 40, 300, seed + 2) > 5


def test_processes_that_build_at_once_agree(tmp_path: Path) -> None:
    root, file = make(tmp_path / "kitchen", 20, 100), tmp_path / "index.sqlite"
    builders = [build(root, file) for _ in range(3)]
    told = []
    for process in builders:
        with process:
            assert process.stdout is not None
            told.append(process.stdout.read().split()[-1])
    assert told == ["100"] * 3
    assert integrity(file) == WHOLE
    assert answers(root, file) == answers(root, None)
