"""Several log at once, the disk is full, the card is read-only: what was acknowledged stays, the rest is said."""

from __future__ import annotations

import errno
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cookbook.cli import main
from cookbook.files import stale_temp_files
from cookbook.kitchen import Kitchen
from cookbook.kitchen.checking import check
from tests.files.child import NOBODY, in_child

ROOT = Path(__file__).resolve().parent.parent.parent
START = ("log", "start", "loin", "--weight", "3.1kg", "--at", "2026-11-21T09:30:00+01:00")
WRITER = """
import sys
from cookbook.cli import main
number, count, kitchen = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3]
done = 0
for n in range(count):
    words = ["log", "reading", f"core={n / 20:.2f}C", f"pit={100 + number}C", "--entry", "2026-11-21-loin"]
    done += main([*words, "--kitchen", kitchen]) == 0
print("acknowledged", done)
"""

MakeKitchen = Callable[..., Kitchen]


@pytest.fixture
def kitchen(make_kitchen: MakeKitchen) -> Kitchen:
    found = make_kitchen()
    assert main([*START, "--kitchen", str(found.root)]) == 0
    return found


def all_at_once(kitchen: Kitchen, writers: int, each: int) -> None:
    """So many processes log so many readings each through the command line; every one of them is there."""
    command = [sys.executable, "-c", WRITER]
    home = {**os.environ, "PYTHONPATH": str(ROOT)}
    running = [
        subprocess.Popen(
            [*command, str(n), str(each), str(kitchen.root)], stdout=subprocess.PIPE, text=True, env=home
        )
        for n in range(writers)
    ]
    for process in running:
        out, _ = process.communicate()
        assert out.splitlines()[-1] == f"acknowledged {each}"
    entry = kitchen.entry("2026-11-21-loin")
    found = sorted((round(event.pit.c), round(event.core.c, 2)) for event in entry.events if event.core and event.pit)
    wanted = sorted((100 + n, float(f"{m / 20:.2f}")) for n in range(writers) for m in range(each))
    assert found == wanted
    assert stale_temp_files(kitchen.root) == []
    assert check(kitchen).errors == 0


def test_four_processes_logging_at_once_lose_no_reading(kitchen: Kitchen) -> None:
    all_at_once(kitchen, 4, 12)


@pytest.mark.long
@pytest.mark.parametrize("each", [pytest.param(100, marks=pytest.mark.tenth), 1000])
def test_four_processes_logging_a_thousand_readings_each_lose_none(kitchen: Kitchen, each: int) -> None:
    all_at_once(kitchen, 4, each)


def test_commands_typed_at_the_same_moment_all_go_in(kitchen: Kitchen) -> None:
    home = {**os.environ, "PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "cookbook", "log", "--kitchen", str(kitchen.root)]
    lines = [f"core {40 + n}C, wind {n}" for n in range(4)]
    running = [
        subprocess.Popen(
            [*command[:4], line, *command[4:]], env=home, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        for line in lines
    ]
    assert [process.wait() for process in running] == [0, 0, 0, 0]
    assert {event.note for event in kitchen.entry("2026-11-21-loin").events} == set(lines)


@pytest.mark.parametrize("call", ["write", "fsync", "open", "replace"])
def test_a_full_disk_is_said_and_the_entry_stays_as_it_was(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], call: str
) -> None:
    path = kitchen.entry_path(kitchen.entry("2026-11-21-loin"))
    before = path.read_bytes()
    real = getattr(os, call)

    def full(*given: Any, **options: Any) -> Any:
        if call == "open" and "cookbook-temp" not in str(given[0]):
            return real(*given, **options)
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    monkeypatch.setattr(os, call, full)
    code = main(["log", "reading", "48C", "--kitchen", str(kitchen.root)])
    monkeypatch.undo()
    said = capsys.readouterr().err
    assert code == 2
    assert os.strerror(errno.ENOSPC) in said
    assert "nothing was changed" in said
    assert "free space" in said
    assert path.read_bytes() == before
    assert stale_temp_files(kitchen.root) == []


@pytest.mark.skipif(sys.platform == "win32", reason="needs fork and POSIX rights")
@pytest.mark.parametrize("words", [("log", "reading", "48C"), START, ("adopt", "2026-11-21-loin", "--yes")])
def test_read_only_media_are_said_and_nothing_changes(kitchen: Kitchen, words: tuple[str, ...]) -> None:
    assert main(["log", "used", "walnuts", "--more", "8 g", "--kitchen", str(kitchen.root)]) == 0
    # nobody may not read the folder that the tests run from: all that the command loads is loaded before
    twin = shutil.copytree(kitchen.root, kitchen.root.with_name("twin"))
    assert main([*words, "--kitchen", str(twin), "--json"]) == 0
    for folder, _, names in os.walk(kitchen.root):
        for name in names:
            Path(folder, name).chmod(0o444)
        Path(folder).chmod(0o555)
    for above in kitchen.root.parents:
        if above.stat().st_uid == os.getuid() and above != Path(above.root):
            above.chmod(above.stat().st_mode | 0o055)
    before = {path: path.read_bytes() for path in kitchen.root.rglob("*") if path.is_file()}

    def work(say: Callable[[str], None]) -> None:
        if os.getuid() == 0:
            os.setuid(NOBODY)
        code = main([*words, "--kitchen", str(kitchen.root), "--json"])
        say(f"code {code}")

    ended = in_child(work)
    for folder, _, _ in os.walk(kitchen.root):
        Path(folder).chmod(0o755)
    assert ended.said == "code 2\n"
    assert {path: path.read_bytes() for path in kitchen.root.rglob("*") if path.is_file()} == before


def test_a_writer_that_never_ends_is_named_after_the_wait(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from cookbook.files import locking

    monkeypatch.setattr(locking.lock.__init__, "__defaults__", (0.05,))
    holding = os.open(kitchen.root / ".cookbook-lock", os.O_RDWR)
    assert locking._taken(holding)
    code = main(["log", "reading", "48C", "--kitchen", str(kitchen.root)])
    os.close(holding)
    assert code == 2
    assert "another program has been writing" in capsys.readouterr().err
