"""Saving: whole or not at all, under the hash of what was read, and what a refusing disk leaves behind."""

from __future__ import annotations

import errno
import os
import stat
import subprocess
import sys
import threading
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from cookbook.errors import Conflict, StorageError
from cookbook.files import Edit, create, lock, read, save, stale_temp_files, sweep

from .child import NOBODY, in_child

OLD, NEW = b"title: old\n", b"title: new\n"
posix = pytest.mark.skipif(sys.platform == "win32", reason="modes, links and signals are POSIX's")


def digest(data: bytes) -> str:
    return sha256(data).hexdigest()


def names(folder: Path) -> list[str]:
    return sorted(path.name for path in folder.iterdir())


@pytest.fixture
def page(tmp_path: Path) -> Path:
    file = tmp_path / "page.yaml"
    file.write_bytes(OLD)
    return file


@posix
def test_saving_keeps_mode_and_leaves_one_file(page: Path) -> None:
    page.chmod(0o640)
    save(page, NEW, digest(OLD))
    assert page.read_bytes() == NEW
    assert stat.S_IMODE(page.stat().st_mode) == 0o640
    assert names(page.parent) == ["page.yaml"]


@posix
def test_a_new_file_has_the_mode_that_the_umask_asks_for(tmp_path: Path) -> None:
    before = os.umask(0o027)
    try:
        create(tmp_path / "2026" / "11" / "entry.yaml", NEW)
    finally:
        os.umask(before)
    assert stat.S_IMODE((tmp_path / "2026" / "11" / "entry.yaml").stat().st_mode) == 0o640


@posix
def test_a_link_stays_a_link_and_its_target_is_written(page: Path, tmp_path: Path) -> None:
    link = tmp_path / "link.yaml"
    link.symlink_to(page.name)
    save(link, NEW, digest(OLD))
    assert link.is_symlink()
    assert page.read_bytes() == NEW


def test_a_file_changed_by_someone_else_is_not_overwritten_and_both_texts_are_told(page: Path) -> None:
    document = read(page)
    assert document.root is not None
    edit = Edit(document).add_key(document.root, "revision", "2")
    page.write_bytes(b"title: theirs\n")
    with pytest.raises(Conflict) as caught:
        edit.save()
    assert (caught.value.theirs, caught.value.ours) == (b"title: theirs\n", b"title: old\nrevision: 2\n")
    assert page.read_bytes() == b"title: theirs\n"
    assert names(page.parent) == ["page.yaml"]


def test_a_file_removed_by_someone_else_is_a_conflict_too(page: Path) -> None:
    page.unlink()
    with pytest.raises(Conflict) as caught:
        save(page, NEW, digest(OLD))
    assert caught.value.theirs == b""
    assert names(page.parent) == []


def test_of_two_saves_of_one_edited_text_at_once_one_stands_and_one_is_told(page: Path) -> None:
    start = threading.Barrier(2)
    told: list[Conflict] = []

    def writer(text: bytes) -> None:
        seen = digest(OLD)
        start.wait()
        try:
            with lock(page.parent):
                save(page, text, seen)
        except Conflict as conflict:
            told.append(conflict)

    writers = [threading.Thread(target=writer, args=(text,)) for text in (b"a: 1\n", b"b: 2\n")]
    for thread in writers:
        thread.start()
    for thread in writers:
        thread.join()
    (conflict,) = told
    assert conflict.theirs == page.read_bytes()
    assert {conflict.theirs, conflict.ours} == {b"a: 1\n", b"b: 2\n"}


def test_creating_never_overwrites(page: Path) -> None:
    with pytest.raises(Conflict) as caught:
        create(page, NEW)
    assert (caught.value.theirs, caught.value.ours) == (OLD, NEW)
    assert page.read_bytes() == OLD
    assert names(page.parent) == ["page.yaml"]


def test_a_conflict_calls_the_file_as_the_cook_does(page: Path) -> None:
    with pytest.raises(Conflict, match=r"^shared/page\.yaml"):
        create(page, NEW, name="shared/page.yaml")


def test_where_links_are_not_to_be_had_creating_still_never_overwrites(
        page: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object) -> None:
        raise OSError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)
    create(page.with_name("other.yaml"), NEW)
    with pytest.raises(Conflict):
        create(page, NEW)
    assert page.read_bytes() == OLD
    assert page.with_name("other.yaml").read_bytes() == NEW
    assert names(page.parent) == ["other.yaml", "page.yaml"]


def refusing(name: str, number: int, code: int, monkeypatch: pytest.MonkeyPatch) -> None:
    """The `number`-th call of `os.name` fails as a full or read-only disk lets it fail."""
    real: Callable[..., object] = getattr(os, name)
    calls = 0

    def fails(*args: object, **options: object) -> object:
        nonlocal calls
        calls += 1
        if calls == number:
            raise OSError(code, os.strerror(code))
        return real(*args, **options)

    monkeypatch.setattr(os, name, fails)


@pytest.mark.parametrize(("call", "code"), [
    ("open", errno.EROFS), ("open", errno.EACCES), ("write", errno.ENOSPC), ("fsync", errno.ENOSPC),
    ("fsync", errno.EIO), ("replace", errno.EACCES),
])
def test_a_refusing_disk_is_told_and_leaves_the_old_file_alone(
        page: Path, monkeypatch: pytest.MonkeyPatch, call: str, code: int) -> None:
    refusing(call, 1, code, monkeypatch)
    with pytest.raises(StorageError) as caught:
        save(page, NEW, digest(OLD), name="recipes/page.yaml")
    monkeypatch.undo()
    assert caught.value.reason == os.strerror(code)
    assert caught.value.message.startswith("recipes/page.yaml could not be written: ")
    assert page.read_bytes() == OLD
    assert names(page.parent) == ["page.yaml"]


@posix
def test_a_folder_that_cannot_be_flushed_is_told_apart(page: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    refusing("fsync", 2, errno.EIO, monkeypatch)
    with pytest.raises(StorageError) as caught:
        save(page, NEW, digest(OLD))
    assert caught.value.written
    assert page.read_bytes() == NEW


@posix
def test_a_system_that_flushes_no_folders_is_no_fault(page: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    refusing("fsync", 2, errno.EINVAL, monkeypatch)
    save(page, NEW, digest(OLD))
    assert page.read_bytes() == NEW


def test_a_disk_that_takes_a_few_bytes_at_a_time_gets_all_of_them(
        page: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    real = os.write
    monkeypatch.setattr(os, "write", lambda descriptor, data: real(descriptor, data[:3]))
    save(page, NEW * 20, digest(OLD))
    assert page.read_bytes() == NEW * 20


@posix
@pytest.mark.skipif(sys.platform == "win32" or os.geteuid() != 0, reason="only the administrator gives files away")
def test_a_file_of_someone_else_stays_theirs(page: Path) -> None:
    os.chown(page, NOBODY, NOBODY)
    save(page, NEW, digest(OLD))
    assert (page.stat().st_uid, page.stat().st_gid) == (NOBODY, NOBODY)


@posix
@pytest.mark.parametrize("call", ["mkdir", "open", "write", "link"])
def test_a_disk_that_refuses_a_new_file_is_told_and_nothing_is_left(
        tmp_path: Path, monkeypatch: pytest.MonkeyPatch, call: str) -> None:
    refusing(call, 1, errno.ENOSPC, monkeypatch)
    with pytest.raises(StorageError) as caught:
        create(tmp_path / "new" / "page.yaml", NEW)
    monkeypatch.undo()
    assert caught.value.reason == os.strerror(errno.ENOSPC)
    assert [path.name for path in tmp_path.rglob("*") if path.is_file()] == []


def test_saving_without_a_hash_writes_whatever_is_there(page: Path) -> None:
    save(page, NEW)
    save(page.with_name("other.yaml"), NEW)
    assert page.read_bytes() == page.with_name("other.yaml").read_bytes() == NEW


@posix
@pytest.mark.parametrize("read_only", ["file", "folder"])
def test_read_only_files_and_folders_are_respected(read_only: str) -> None:
    with TemporaryDirectory() as name:
        folder = Path(name)
        page = folder / "page.yaml"
        page.write_bytes(OLD)
        if os.geteuid() == 0:
            os.chown(page, NOBODY, NOBODY)
            os.chown(folder, NOBODY, NOBODY)
        page.chmod(0o444 if read_only == "file" else 0o644)
        folder.chmod(0o555 if read_only == "folder" else 0o755)

        def work(say: Callable[[str], None]) -> None:
            if os.geteuid() == 0:
                os.setgid(NOBODY)
                os.setuid(NOBODY)
            try:
                save(page, NEW)
            except StorageError as error:
                say(error.reason)

        ended = in_child(work)
        folder.chmod(0o755)
        assert ended == (0, "the file is read-only\n" if read_only == "file" else "Permission denied\n")
        assert page.read_bytes() == OLD
        assert names(folder) == ["page.yaml"]


@posix
def test_what_is_no_plain_file_is_never_replaced(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    for path in (pipe, tmp_path):
        with pytest.raises(StorageError):
            save(path, NEW)
    assert stat.S_ISFIFO(pipe.stat().st_mode)
    assert names(tmp_path) == ["pipe"]


def left_over(folder: Path, pid: int) -> Path:
    file = folder / f".page.yaml.{pid}-0123abcd.cookbook-temp"
    file.write_bytes(b"half")
    return file


@posix
def test_left_over_temp_files_are_named_and_the_next_writer_sweeps_its_folder(page: Path) -> None:
    below = page.parent / "below"
    below.mkdir()
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    dead, far = left_over(page.parent, ended.pid), left_over(below, ended.pid)
    reused = left_over(page.parent, os.getpid())
    alive = left_over(page.parent, os.getppid())
    page.with_name("notes.cookbook-temp").write_bytes(b"a cook's own file")
    assert stale_temp_files(page.parent) == sorted(map(str, (dead, far, reused)))
    save(page, NEW)
    assert stale_temp_files(page.parent) == [str(far)]
    assert alive.exists()
    create(below / "new.yaml", NEW)
    assert names(below) == ["new.yaml"]
    assert (page.parent / "notes.cookbook-temp").exists()


@posix
def test_a_temp_file_older_than_any_writing_is_stale_whoever_has_its_number_now(page: Path) -> None:
    file = left_over(page.parent, os.getppid())
    assert stale_temp_files(page.parent) == []
    os.utime(file, (1, 1))
    assert sweep(page.parent) == [str(file)]
    assert names(page.parent) == ["page.yaml"]


def test_a_name_as_long_as_the_disk_allows_can_be_saved(tmp_path: Path) -> None:
    file = tmp_path / ("é" * 125 + ".yaml")
    create(file, OLD)
    save(file, NEW, digest(OLD))
    assert file.read_bytes() == NEW
