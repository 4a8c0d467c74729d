"""A writer killed at any step: the file is whole, old or new; what was acknowledged stands; left-overs are named.

Each writing is run in a child whose system calls are counted; it is ended before, after or in the middle of the n-th
one. Beside that, marked `long`, a tracer outside kills it at every system call that the system itself counts.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from collections import Counter
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cookbook.files import LOCK_NAME, Edit, create, lock, parse, read, stale_temp_files

from .child import Ended, in_child

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="needs fork")

OLD = b"date: x\nreadings:\n  - {at: 1, core: 48}  # first\n# end\n"
NEW = b"date: x\nreadings:\n  - {at: 1, core: 48}  # first\n  - {at: 2, core: 49}\n# end\n"
CALLS = ("open", "write", "fsync", "close", "replace", "link", "unlink", "fchmod", "mkdir", "stat", "listdir")
WAYS = ("before", "after", "torn")
KILLED = 77

Say = Callable[[str], None]


def append(root: Path) -> None:
    """A log verb: read, add a line, save, all under the lock."""
    with lock(root):
        document = read(root / "entry.yaml")
        assert document.root is not None
        readings = document.root.get("readings")
        assert readings is not None
        Edit(document).add_item(readings, {"at": "2", "core": "49"}, flow=True).save()


def begin(root: Path) -> None:
    """A start: a new entry in a folder that is not there yet."""
    with lock(root):
        create(root / "2026" / "new.yaml", NEW)


VERBS: dict[str, tuple[Callable[[Path], None], str, bytes | None]] = {
    "append": (append, "entry.yaml", OLD), "begin": (begin, "2026/new.yaml", None),
}


def kitchen(root: Path) -> Path:
    shutil.rmtree(root, ignore_errors=True)
    root.mkdir()
    (root / "entry.yaml").write_bytes(OLD)
    return root


def die_at(number: int, way: str) -> None:
    """From now on the `number`-th counted call ends this process."""
    count = 0

    def counted(name: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def call(*args: Any, **options: Any) -> Any:
            nonlocal count
            count += 1
            if count != number:
                return real(*args, **options)
            try:
                if way == "torn" and name == "write":
                    real(args[0], args[1][:len(args[1]) // 2])
                elif way != "before":
                    real(*args, **options)
            finally:
                os._exit(KILLED)

        return call

    for name in CALLS:
        setattr(os, name, counted(name, getattr(os, name)))


def run(verb: str, root: Path, number: int, way: str) -> Ended:
    work = VERBS[verb][0]

    def child(say: Say) -> None:
        die_at(number, way)
        work(root)
        say("done")

    return in_child(child)


def examine(verb: str, root: Path, ended: Ended) -> None:
    """What must hold after a kill at any step, and that the next writer finds its way."""
    work, name, before = VERBS[verb]
    target = root / name
    now = target.read_bytes() if target.exists() else None
    assert now in (before, NEW)
    if "done" in ended.said:
        assert now == NEW
    assert now is None or parse(now, name).problems == []
    known = {root / LOCK_NAME, root / "entry.yaml", target, *map(Path, stale_temp_files(root))}
    assert {path for path in root.rglob("*") if path.is_file()} <= known
    if now == before:
        work(root)
    else:
        append(root)
    assert target.read_bytes().startswith(b"date: x\nreadings:\n")
    swept = [path for path in map(Path, stale_temp_files(root)) if path.parent == target.parent]
    assert now == NEW or swept == []


def test_a_writer_ended_at_any_call_leaves_a_whole_file_and_the_next_one_works(tmp_path: Path) -> None:
    for verb in VERBS:
        for way in WAYS:
            kills = 0
            while True:
                root = kitchen(tmp_path / "kitchen")
                ended = run(verb, root, kills + 1, way)
                examine(verb, root, ended)
                if ended.code == 0:
                    break
                assert ended.code == KILLED
                kills += 1
            assert kills >= 8


def test_readers_meet_only_whole_files_while_another_writes(tmp_path: Path) -> None:
    root = kitchen(tmp_path / "kitchen")
    pid = os.fork()
    if pid == 0:
        code = 1
        try:
            for _ in range(100):
                append(root)
            code = 0
        finally:
            os._exit(code)
    for _ in range(300):
        seen = (root / "entry.yaml").read_bytes()
        assert parse(seen, "entry.yaml").problems == []
        assert seen.startswith(b"date: x\n")
        assert seen.endswith(b"# end\n")
    assert os.waitpid(pid, 0)[1] == 0
    document = read(root / "entry.yaml")
    assert document.root is not None
    readings = document.root.get("readings")
    assert readings is not None
    assert len(readings.items) == 101


TRACED = """
import hashlib, sys
from pathlib import Path
from cookbook.files import Edit, create, lock, parse, read
parse(b"a: 1", "warm")
root, verb = Path(sys.argv[1]), sys.argv[2]
with lock(root):
    if verb == "append":
        document = read(root / "entry.yaml")
        item = {"at": "2", "core": "49"}
        Edit(document).add_item(document.root.get("readings"), item, flow=True).save()
    else:
        create(root / "2026" / "new.yaml", sys.argv[3].encode())
print("done", flush=True)
"""


def traced(root: Path, verb: str, *options: str) -> subprocess.CompletedProcess[str]:
    """The verb under the tracer; `-o` keeps its own words out of the child's."""
    command = ["strace", "-qq", "-o", str(root.parent / "trace"), *options, sys.executable, "-c", TRACED, str(root),
               verb, NEW.decode()]
    return subprocess.run(command, capture_output=True, text=True, check=False,
                          env={**os.environ, "PYTHONHASHSEED": "0"})


def points(root: Path, verb: str) -> list[tuple[str, int]]:
    """Every system call from the taking of the lock on: its name, and the how many-th of that name it is."""
    assert traced(kitchen(root), verb).stdout == "done\n"
    seen: Counter[str] = Counter()
    found: list[tuple[str, int]] = []
    for line in (root.parent / "trace").read_text().splitlines():
        name = line.partition("(")[0]
        seen[name] += 1
        if found or LOCK_NAME in line:
            found.append((name, seen[name]))
    return [point for point in found if point[0] != "exit_group"]


@pytest.mark.long
@pytest.mark.skipif(shutil.which("strace") is None, reason="needs strace")
@pytest.mark.parametrize("verb", sorted(VERBS))
@pytest.mark.parametrize("tenth", range(10))
def test_a_writer_killed_from_outside_at_any_system_call_loses_nothing(tmp_path: Path, verb: str, tenth: int) -> None:
    root = tmp_path / "kitchen"
    killed = 0
    for name, number in points(root, verb)[tenth::10]:
        ended = traced(kitchen(root), verb, "-e", f"inject={name}:signal=KILL:when={number}")
        examine(verb, root, Ended(ended.returncode, ended.stdout))
        killed += ended.returncode == -9
    assert killed >= 4
