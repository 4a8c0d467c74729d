"""Every writing verb, as people run it, killed at any system call: nothing that was acknowledged is lost.

A tracer outside ends the process at the n-th call of a kind, from the taking of the kitchen's lock to the end. After
each kill every file is what it was or what it was to become, leftovers are named by `check`, and the next verb works.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
from collections import Counter
from pathlib import Path
from typing import NamedTuple

import pytest

from cookbook.cli import main
from cookbook.files import LOCK_NAME, stale_temp_files
from cookbook.kitchen import Kitchen
from cookbook.kitchen.checking import check
from cookbook.kitchen.starter import LEFT_OVER
from tests.conftest import COOK, PASTE

ROOT = Path(__file__).resolve().parent.parent.parent
AT = ("--at", "2026-11-21T14:05:00+01:00")
LOG = "".join(f"2026-11-21T{11 + n // 60}:{n % 60:02}:00+01:00,{5 + n // 4},121\n" for n in range(0, 120, 5))
VERBS: dict[str, tuple[str, ...]] = {
    "start": ("log", "start", "loin", "--weight", "3.1kg", *AT),
    "start, new": ("log", "start", "--new", "Plum paste", "--cut", "pork loin, boneless", "--weight", "2kg", *AT),
    "start, from memory": ("log", "start", "loin", "--from-memory", "--at", "2014-07"),
    "line": ("log", "core 48 pit 121, a split on, 8 g more walnuts", *AT),
    "unread": ("log", "nothing that could be read", *AT),
    "reading": ("log", "reading", "core=48C", "pit=121C", *AT),
    "event": ("log", "event", "wrapped", *AT),
    "used": ("log", "used", "walnuts", "--more", "8 g"),
    "taste": ("log", "taste", "more salt", *AT),
    "note": ("log", "note", "wind", *AT),
    "next": ("log", "next", "light it earlier"),
    "take": ("log", "take", "the slicing", *AT),
    "otherwise": ("log", "otherwise", "--pit", "140C"),
    "about": ("log", "about", "weather", "rain"),
    "photo": ("log", "photo", "{here}/slices.jpg"),
    "import": ("log", "import", "{here}/log.csv"),
    "finish": ("log", "finish", "--score", "crust=8", *AT),
    "undo": ("log", "undo"),
    "undo, import": ("log", "undo"),
    "adopt": ("adopt", "2026-11-20-loin", "--yes"),
    "weigh": ("weigh", "walnuts", "1 tbsp", "7.5g"),
    "rename": ("rename", "walnut-paste", "nut-paste"),
    "import, recipe": ("import", "{here}/recipe.json", "--kind", "sauce"),
    "card": ("card", "loin", "--out", "{here}/kitchen/card.txt"),
}
"""Each verb that writes into a kitchen or beside it."""
SHARED: dict[str, tuple[str, ...]] = {
    "score": ("log", "score", "crust=8", "--by", "Ada", *AT),
    "next, done": ("log", "next", "light it", "--done", *AT),
    "undo, start": ("log", "undo"),
    "undo, photo": ("log", "undo"),
    "adopt, first": ("adopt", "2026-11-21-plum-paste", "--yes"),
    "adopt, of two": ("adopt", "2026-11-20-loin", "2026-11-21-loin", "--yes"),
    "weigh, again": ("weigh", "walnuts", "2 tbsp", "16g"),
    "drawing": ("piece", "pork loin, boneless", "--weight", "2kg", "--svg", "{here}/kitchen/card.txt"),
    "text": ("rewrite", "walnut-paste"),
    "text, new": ("rewrite", "nut-paste"),
    "sent": ("once",),
}
"""Verbs that write as one of the others does: fewer points of each. The last three are calls of the library."""
BEGUN = ("log", "start", "--new", "Plum paste", "--cut", "pork loin, boneless", "--weight", "2kg", *AT)
BEFORE: dict[str, tuple[tuple[str, ...], ...]] = {
    "undo, import": (("log", "import", "{here}/log.csv"),),
    "undo, photo": (("log", "photo", "{here}/slices.jpg"),),
    "undo, start": (BEGUN,),
    "next, done": (("log", "next", "light it earlier"),),
    "adopt, first": (BEGUN, ("log", "used", "plums", "500 g"), ("log", "used", "honey", "2 tbsp")),
    "adopt, of two": (
        ("log", "start", "loin", "--weight", "2.8kg", *AT),
        ("log", "used", "thyme, fresh", "--more", "1 tbsp"),
    ),
    "weigh, again": (("weigh", "walnuts", "1 tbsp", "7.5g"),),
}
"""What goes before a verb."""
OUTSIDE: dict[str, tuple[str, ...]] = {"new": ("new", "{here}/mine", "--with-example")}
"""What makes a kitchen."""
LIBRARY = """
import sys
from datetime import datetime
from cookbook.kitchen import Kitchen
from cookbook.kitchen.log.once import log
from cookbook.kitchen.checking import rewrite, text_of
what, *words, _, root = sys.argv[1:]
kitchen = Kitchen.open(root)
if what == "once":
    said = {"words": ["core 48 pit 121"]}
    log(kitchen, "2026-11-20-loin", "line", said, datetime.fromisoformat("2026-11-20T14:05:00+01:00"), "a1b2c3")
else:
    there = text_of(kitchen, "walnut-paste")
    rewrite(kitchen, words[0], there.text + "# tried\\n", there.sha256 if words[0] == there.name else "")
"""
FOREIGN = """{"@context": "https://schema.org", "@type": "Recipe", "name": "Plum sauce", "recipeYield": "4",
"recipeIngredient": ["500 g plums", "2 tbsp honey"], "recipeInstructions": "Simmer it until it coats a spoon."}"""

pytestmark = [
    pytest.mark.skipif(shutil.which("strace") is None, reason="needs strace"),
]


class Bench(NamedTuple):
    """A kitchen to be copied for every kill, the files of it, and where things lie."""

    template: Path
    here: Path

    @property
    def root(self) -> Path:
        return self.here / "kitchen"

    @property
    def cache(self) -> Path:
        return self.here / "cache"

    def fresh(self) -> None:
        for name in ("kitchen", "cache"):
            shutil.rmtree(self.here / name, ignore_errors=True)
            shutil.copytree(self.template / name, self.here / name)

    def files(self) -> dict[str, bytes]:
        return {
            path.relative_to(self.root).as_posix(): path.read_bytes()
            for path in self.root.rglob("*")
            if path.is_file() and path.name != LOCK_NAME
        }

    def prepare(self, verb: str) -> None:
        """Make what goes before the verb part of what is copied."""
        self.fresh()
        for words in BEFORE.get(verb, ()):
            assert main([*self.words(words), "--kitchen", str(self.root)]) == 0
        for name in ("kitchen", "cache"):
            shutil.rmtree(self.template / name, ignore_errors=True)
            shutil.copytree(self.here / name, self.template / name)

    def words(self, words: tuple[str, ...]) -> list[str]:
        return [word.replace("{here}", str(self.here)) for word in words]

    def traced(self, verb: str, *options: str) -> subprocess.CompletedProcess[str]:
        words = self.words((VERBS | SHARED | OUTSIDE)[verb])
        call = ["-c", LIBRARY] if words[0] in ("rewrite", "once") else ["-m", "cookbook"]
        command = [
            *("strace", "-qq", "-o", str(self.here / "trace"), *options, sys.executable, *call),
            *(*words, *(() if verb in OUTSIDE else ("--kitchen", str(self.root)))),
        ]
        home = {**os.environ, "PYTHONHASHSEED": "0", "XDG_CACHE_HOME": str(self.cache), "PYTHONPATH": str(ROOT)}
        return subprocess.run(command, capture_output=True, text=True, check=False, env=home, cwd=self.here)


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Bench:
    """A kitchen with one open entry that has a line, and what a verb takes in."""
    found = Bench(tmp_path / "template", tmp_path)
    monkeypatch.setenv("XDG_CACHE_HOME", str(found.cache))
    root = found.root
    (root / "recipes").mkdir(parents=True)
    (root / "recipes" / "walnut-paste.yaml").write_bytes(PASTE.encode())
    (root / "recipes" / "loin.yaml").write_bytes(COOK.encode())
    (tmp_path / "log.csv").write_text("at,core °C,pit °C\n" + LOG, encoding="utf-8")
    (tmp_path / "recipe.json").write_text(FOREIGN, encoding="utf-8")
    (root / "card.txt").write_text("the card of last year\n", encoding="utf-8")
    (tmp_path / "slices.jpg").write_bytes(b"\xff\xd8 a picture")
    for words in (
        ["log", "start", "loin", "--weight", "3.1kg", "--at", "2026-11-20T10:00:00+01:00"],
        ["log", "used", "thyme, fresh", "--more", "2 tbsp"],
    ):
        assert main([*words, "--kitchen", str(root)]) == 0
    for name in ("kitchen", "cache"):
        shutil.copytree(tmp_path / name, found.template / name)
    return found


def points(bench: Bench, verb: str) -> tuple[list[tuple[str, int]], dict[str, bytes]]:
    """Every system call from the taking of the lock on (the first writing, where a verb takes none), its name and the
    how many-th it is; and the files after."""
    bench.prepare(verb)
    bench.fresh()
    whole = bench.traced(verb)
    assert whole.returncode == 0, whole.stdout + whole.stderr
    seen: Counter[str] = Counter()
    found: list[tuple[str, int]] = []
    for line in (bench.here / "trace").read_text(errors="replace").splitlines():
        name = line.partition("(")[0]
        seen[name] += 1
        if found or LOCK_NAME in line or ".cookbook-temp" in line or LEFT_OVER in line:
            found.append((name, seen[name]))
    return [point for point in found if point[0] != "exit_group" and point[0].isidentifier()], bench.files()


def examine(bench: Bench, before: dict[str, bytes], after: dict[str, bytes], done: bool) -> None:
    """What must hold after a kill anywhere."""
    now = bench.files()
    stale = {Path(path).relative_to(bench.root).as_posix() for path in stale_temp_files(bench.root)}
    for name, data in now.items():
        assert name in stale or data in (before.get(name), after.get(name)), name
    assert set(before) & set(after) <= set(now)
    assert set(before) <= set(now) or set(after) <= set(now)
    if done:
        assert {name: data for name, data in now.items() if name not in stale} == after
    kitchen = Kitchen.open(bench.root)
    report = check(kitchen)
    assert report.errors == 0, [problem.printed() for problem in report.problems]
    named = {problem.place.file for problem in report.problems if problem.code == "left-over" and problem.place}
    assert {Path(name).name for name in named} == {Path(name).name for name in stale}
    for index in bench.cache.rglob("*.sqlite*"):
        if index.read_bytes().startswith(b"SQLite format 3"):
            with sqlite3.connect(index) as opened:
                assert opened.execute("pragma integrity_check").fetchone() == ("ok",)
            opened.close()
    assert main(["log", "note", "still here", "--entry", "2026-11-20-loin", "--kitchen", str(bench.root)]) == 0
    left = [path for path in stale_temp_files(bench.root) if "journal/2026" in path]
    assert left == []


def kill(bench: Bench, verb: str, chosen: slice) -> int:
    """Kill the verb at the chosen points; how many kills there were."""
    calls, after = points(bench, verb)
    bench.fresh()
    before = bench.files()
    killed = 0
    for name, number in calls[chosen]:
        bench.fresh()
        ended = bench.traced(verb, "-e", f"inject={name}:signal=KILL:when={number}")
        assert ended.returncode in (0, -9), ended.stderr
        examine(bench, before, after, ended.returncode == 0)
        killed += ended.returncode == -9
    return killed


def test_a_verb_killed_at_its_last_rename_loses_nothing(bench: Bench) -> None:
    calls, after = points(bench, "reading")
    bench.fresh()
    before = bench.files()
    name, number = [call for call in calls if call[0].startswith("rename")][-1]
    ended = bench.traced("reading", "-e", f"inject={name}:signal=KILL:when={number}")
    assert ended.returncode == -9
    examine(bench, before, after, done=False)


@pytest.mark.long
def test_there_are_five_hundred_points_to_be_killed_at(bench: Bench) -> None:
    found = {verb: len(points(bench, verb)[0]) for verb in VERBS}
    assert min(found.values()) >= 20, found
    assert sum(found.values()) >= 500, found


@pytest.mark.long
@pytest.mark.parametrize("tenth", range(10))
@pytest.mark.parametrize("verb", VERBS)
def test_every_verb_killed_at_every_system_call_loses_nothing(bench: Bench, verb: str, tenth: int) -> None:
    assert kill(bench, verb, slice(tenth, None, 10)) >= 2


@pytest.mark.long
@pytest.mark.parametrize("verb", SHARED)
def test_a_verb_that_writes_as_another_does_loses_nothing_either(bench: Bench, verb: str) -> None:
    assert kill(bench, verb, slice(5, None, 12)) >= 1


@pytest.mark.long
@pytest.mark.parametrize("part", range(10))
def test_a_line_that_is_sent_again_after_a_kill_is_there_once(bench: Bench, part: int) -> None:
    calls, after = points(bench, "sent")
    for name, number in calls[part::60]:
        bench.fresh()
        bench.traced("sent", "-e", f"inject={name}:signal=KILL:when={number}")
        assert bench.traced("sent").returncode == 0
        assert bench.files() == after


@pytest.mark.long
@pytest.mark.parametrize("part", range(10))
def test_a_new_kitchen_is_whole_or_not_there(bench: Bench, part: int) -> None:
    mine = bench.here / "mine"
    calls, _ = points(bench, "new")
    whole = {path.relative_to(mine).as_posix() for path in mine.rglob("*")}
    for name, number in calls[part::100]:
        shutil.rmtree(mine)
        ended = bench.traced("new", "-e", f"inject={name}:signal=KILL:when={number}")
        if ended.returncode and not mine.exists():
            assert bench.traced("new").returncode == 0
        assert {path.relative_to(mine).as_posix() for path in mine.rglob("*")} == whole
