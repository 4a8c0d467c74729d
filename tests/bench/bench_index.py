"""The index beside what it rests on, in one run: `python -m tests.bench.bench_index [RECIPES ENTRIES]`.

First index against loading the same files with ruamel's C parser; a refresh with nothing changed against a bare walk
with stat; list and find against the same questions in bare sqlite3; memory. Only ratios and the memory are asserted.
"""

from __future__ import annotations

import os
import resource
import sqlite3
import sys
import tempfile
import time
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path
from typing import Any, NamedTuple

from cookbook.kitchen import Kitchen
from cookbook.kitchen.finding import search
from cookbook.kitchen.finding.index import Index, Question
from tests.bench.generated import make
from tests.bench.turns import turns

FIRST, WALK, WALK_MORE_S, QUERY, MEMORY_MB = 3.0, 1.5, 0.1, 3.0, 500


class Measured(NamedTuple):
    """One line of the table: ours, what it is held against, and how much ours may take."""

    what: str
    ours_s: float
    bare_s: float
    bound_s: float

    @property
    def holds(self) -> bool:
        """Whether it is within the bound."""
        return self.ours_s <= self.bound_s


def load_all(root: Path) -> None:
    """Load every recipe and entry as plain data."""
    from ruamel.yaml import YAML

    yaml = YAML(typ="safe")
    for part in ("recipes", "journal"):
        for path in (root / part).rglob("*.yaml"):
            yaml.load(path.read_bytes())


def walk(folder: str) -> int:
    """A bare walk that asks for the stat of every file."""
    total = 0
    with os.scandir(folder) as found:
        for one in found:
            if one.is_dir(follow_symlinks=False):
                total += walk(one.path)
            else:
                total += one.stat().st_size
    return total


def settle(root: Path) -> None:
    """Give every file a time before now, so that none counts as just written."""
    wait = time.time() + 2.5
    while time.time() < wait:
        time.sleep(0.1)
    assert root.is_dir()


def measure(root: Path, cache: Path, firsts: int = 1) -> list[Measured]:
    """Every line of the table for the kitchen at `root`, with its index in the folder `cache`, made so many times."""
    file = cache / "index.sqlite"

    def build() -> None:
        file.unlink(missing_ok=True)
        built = Index(Kitchen.open(root), file)
        built.ask("SELECT count(*) FROM entry")
        built.close()

    first, loading = turns(build, lambda: load_all(root), times=firsts)
    kitchen = Kitchen.open(root)
    kitchen._index = index = Index(kitchen, file)
    refresh, bare_walk = turns(
        lambda: index.ask("SELECT 1"), lambda: (walk(str(root / "recipes")), walk(str(root / "journal")))
    )
    lines = [
        Measured("first index / load all files", first, loading, FIRST * loading),
        Measured("refresh / scandir and stat", refresh, bare_walk, WALK * bare_walk + WALK_MORE_S),
    ]
    bare = sqlite3.connect(file)
    asked: list[Question] = []
    usual = index._fresh

    def listen(questions: Sequence[Question]) -> list[list[Any]]:
        asked[:] = questions
        return plain(questions)

    plain = index.ask_all
    questions: dict[str, Callable[[], object]] = {
        "list": lambda: search.everything(kitchen),
        "find words": lambda: search.find(kitchen, search.Wanted("cherry windy")),
        "find by cut and score": lambda: search.find(kitchen, search.Wanted(cut="pork shoulder", score=9.0)),
    }
    for what, act in questions.items():
        setattr(index, "ask_all", listen)  # noqa: B010  # the questions are written down once
        act()
        setattr(index, "ask_all", plain)  # noqa: B010
        setattr(index, "_fresh", index._connection)  # noqa: B010  # the refresh has its own line
        ours, alone = turns(act, partial(_alone, bare, tuple(asked)))
        setattr(index, "_fresh", usual)  # noqa: B010
        lines.append(Measured(f"{what} / the same in bare sqlite3", ours, alone, QUERY * alone))
    bare.close()
    index.close()
    return lines


def _alone(bare: sqlite3.Connection, questions: Sequence[Question]) -> None:
    """The questions in bare sqlite3."""
    for question, values in questions:
        bare.execute(question, values).fetchall()


def main() -> int:
    """Print the table; 1 where a bound is passed."""
    recipes, entries = (int(word) for word in sys.argv[1:3]) if len(sys.argv) > 2 else (10_000, 100_000)
    with tempfile.TemporaryDirectory() as name:
        root = make(Path(name) / "kitchen", recipes, entries)
        settle(root)
        lines = measure(root, Path(name))
        size = (Path(name) / "index.sqlite").stat().st_size
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(
        f"{recipes} recipes, {entries} entries; index {size / 1e6:.0f} MB; peak memory {peak:.0f} MB of {MEMORY_MB}"
    )
    for line in lines:
        print(
            f"{line.what:<48} {line.ours_s * 1e3:9.1f} ms  {line.bare_s * 1e3:9.1f} ms  "
            f"{line.ours_s / line.bare_s:5.2f} times  {'holds' if line.holds else 'TOO SLOW'}"
        )
    return 0 if all(line.holds for line in lines) and peak < MEMORY_MB else 1


if __name__ == "__main__":
    sys.exit(main())
