"""The kitchen's lock: one writer at a time over processes and threads, a bounded wait, a file that stays."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest

from cookbook.errors import Busy, StorageError
from cookbook.files import LOCK_NAME, lock, read

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
    with lock(root, 60):
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


@pytest.mark.skipif(sys.platform == "win32" or os.geteuid() == 0, reason="the administrator may write everywhere")
def test_a_lock_file_of_someone_else_can_be_locked_read_only(tmp_path: Path) -> None:
    (tmp_path / LOCK_NAME).touch(0o444)
    with lock(tmp_path, wait_s=0.05), pytest.raises(Busy), lock(tmp_path / ".", wait_s=0.05):
        pytest.fail("two at once")


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
def test_four_processes_that_write_a_thousand_lines_each_lose_none(tmp_path: Path) -> None:
    append_at_once(tmp_path, 1000)
