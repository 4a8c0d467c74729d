"""The kitchen's lock: one writer at a time over processes and threads, a bounded wait, a file that stays."""

from __future__ import annotations

import errno
import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from cookbook.errors import Busy, StorageError
from cookbook.files import LOCK_NAME, lock, read

from .child import NOBODY, in_child

HOLD = """
import sys
from cookbook.files import lock
with lock(sys.argv[1]):
    print("held", flush=True)
    sys.stdin.read()
"""

APPEND = """
import sys
from cookbook.files import Edit, lock, read
root, who, times = sys.argv[1], sys.argv[2], int(sys.argv[3])
for number in range(times):
    with lock(root, 60):  # not to lose one is asked, not how long one waits on a busy machine
        document = read(root + "/entry.yaml")
        Edit(document).add_item(document.root.get("readings"), {"by": who, "n": str(number)}, flow=True).save()
    print(number, flush=True)
"""


def holder(root: Path) -> subprocess.Popen[bytes]:
    process = subprocess.Popen([sys.executable, "-c", HOLD, str(root)], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    assert process.stdout is not None
    assert process.stdout.readline().strip() == b"held"
    return process


def test_a_second_writer_waits_then_says_who_is_in_the_way(tmp_path: Path) -> None:
    with holder(tmp_path) as process:
        begin = time.monotonic()
        with pytest.raises(Busy) as caught, lock(tmp_path, wait_s=0.2):
            pytest.fail("two writers held the lock at once")
        assert 0.2 <= time.monotonic() - begin < 2
        assert (caught.value.folder, caught.value.waited_s) == (str(tmp_path), 0.2)
        process.communicate(b"")
    with lock(tmp_path, wait_s=0.2):
        assert (tmp_path / LOCK_NAME).exists()


def test_a_writer_that_is_killed_lets_go(tmp_path: Path) -> None:
    with holder(tmp_path) as process:
        process.kill()
        process.wait()
    with lock(tmp_path, wait_s=1):
        assert (tmp_path / LOCK_NAME).exists()


def test_the_lock_file_is_never_replaced_or_removed(tmp_path: Path) -> None:
    with lock(tmp_path):
        first = (tmp_path / LOCK_NAME).stat().st_ino
    with lock(tmp_path):
        assert (tmp_path / LOCK_NAME).stat().st_ino == first


def test_who_holds_the_lock_may_take_it_again_and_another_thread_may_not(tmp_path: Path) -> None:
    refused: list[bool] = []

    def other() -> None:
        try:
            with lock(tmp_path, wait_s=0.05):
                refused.append(False)
        except Busy:
            refused.append(True)

    with lock(tmp_path), lock(str(tmp_path)):
        thread = threading.Thread(target=other)
        thread.start()
        thread.join()
    assert refused == [True]
    other()
    assert refused == [True, False]


def test_an_error_inside_lets_go(tmp_path: Path) -> None:
    with pytest.raises(KeyError), lock(tmp_path):
        raise KeyError("x")
    with lock(tmp_path, wait_s=0.05):
        assert (tmp_path / LOCK_NAME).exists()


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(StorageError), lock(tmp_path / "nowhere"):
        pytest.fail("a lock in no folder")


@pytest.mark.skipif(sys.platform == "win32", reason="needs fork and users")
def test_a_lock_file_that_may_only_be_read_is_enough_to_lock() -> None:
    with TemporaryDirectory() as root:
        file = Path(root) / LOCK_NAME
        file.touch()
        file.chmod(0o444)
        Path(root).chmod(0o755)

        def work(say: Callable[[str], None]) -> None:
            if os.geteuid() == 0:
                os.setgid(NOBODY)
                os.setuid(NOBODY)
            with lock(root, wait_s=0.05):
                say("held")
            try:
                with lock(root + "/nowhere"):
                    say("a lock in no folder")
            except StorageError as error:
                say(error.reason)

        assert in_child(work) == (0, "held\nNo such file or directory\n")


@pytest.mark.skipif(sys.platform == "win32", reason="flock is POSIX's")
def test_a_disk_that_knows_no_locks_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import fcntl

    def refuse(*_: object) -> None:
        raise OSError(errno.ENOLCK, "No locks available")

    monkeypatch.setattr(fcntl, "flock", refuse)
    with pytest.raises(StorageError) as caught, lock(tmp_path):
        pytest.fail("a lock without a lock")
    assert caught.value.reason == "No locks available"


def test_who_has_just_let_go_lets_others_in_first(tmp_path: Path) -> None:
    with lock(tmp_path):
        begin = time.monotonic()
    with lock(tmp_path):
        assert time.monotonic() - begin >= 0.002


GREEDY = """
import sys, time
from cookbook.files import lock
print("begun", flush=True)
while True:
    with lock(sys.argv[1], 60):
        time.sleep(0.02)
"""


def test_writers_that_come_back_at_once_do_not_keep_others_out(tmp_path: Path) -> None:
    command = [sys.executable, "-c", GREEDY, str(tmp_path)]
    with ExitStack() as stack:
        for _ in range(3):
            process = stack.enter_context(subprocess.Popen(command, stdout=subprocess.PIPE))
            stack.callback(process.kill)
            assert process.stdout is not None
            process.stdout.readline()
        for _ in range(10):
            with lock(tmp_path, wait_s=3):
                time.sleep(0.001)


def append_at_once(root: Path, times: int) -> None:
    """Four processes append `times` lines each; every acknowledged one must be there."""
    entry = root / "entry.yaml"
    entry.write_bytes(b"date: x\nreadings:\n  # one a line\nnotes: end\n")
    command = [sys.executable, "-c", APPEND, str(root)]
    writers = [subprocess.Popen([*command, who, str(times)], stdout=subprocess.PIPE) for who in "abcd"]
    acknowledged = {}
    for who, writer in zip("abcd", writers, strict=True):
        acknowledged[who] = [int(line) for line in writer.communicate()[0].split()]
    assert all(writer.returncode == 0 for writer in writers)
    assert all(numbers == list(range(times)) for numbers in acknowledged.values())
    document = read(entry)
    assert document.problems == []
    assert document.root is not None
    readings = document.root.get("readings")
    assert readings is not None
    found = [(item.get("by"), item.get("n")) for item in readings.items]
    for who in "abcd":
        assert [int(n.text) for by, n in found if by and n and by.text == who] == list(range(times))
    assert len(found) == 4 * times
    assert sorted(path.name for path in root.iterdir()) == [LOCK_NAME, "entry.yaml"]


def test_four_processes_that_write_at_once_lose_no_line(tmp_path: Path) -> None:
    append_at_once(tmp_path, 25)


@pytest.mark.long
def test_four_processes_that_write_hundreds_of_lines_each_lose_none(tmp_path: Path) -> None:
    append_at_once(tmp_path, 400)


@pytest.mark.skipif(not Path("/proc/self/fd").is_dir(), reason="needs a list of open files")
def test_who_waits_in_vain_leaves_nothing_open(tmp_path: Path) -> None:
    command = [sys.executable, "-c", HOLD, str(tmp_path)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == b"held\n"
        before = len(list(Path("/proc/self/fd").iterdir()))
        for _ in range(3):
            with pytest.raises(Busy), lock(tmp_path, 0.01):
                pass
        assert len(list(Path("/proc/self/fd").iterdir())) == before
