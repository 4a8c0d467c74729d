"""Writing that loses nothing: a temp file beside the target, flushed, renamed over it, the folder flushed."""
# Bare system calls on purpose: their order is what makes this safe, and a test stops at each of them.
# ruff: noqa: PTH100, PTH101, PTH102, PTH104, PTH105, PTH108, PTH112, PTH116, PTH118, PTH120, PTH123, PTH208

from __future__ import annotations

import errno
import os
import re
import stat
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from os import PathLike

from cookbook.errors import Conflict, StorageError

Path = str | PathLike[str]

_TEMP = re.compile(r"\.(?P<target>.+)\.(?P<pid>\d+)-[0-9a-f]{8}\.cookbook-temp")
_OLD_S = 3600.0
_UNFLUSHABLE = {errno.EINVAL, errno.ENOTSUP, errno.EBADF, errno.EACCES, errno.EISDIR}
_NO_LINKS = {errno.EPERM, errno.ENOTSUP, errno.ENOSYS, errno.EMLINK, errno.EXDEV}

_mine: set[str] = set()


def save(path: Path, data: bytes, expected_sha256: str | None = None, *, name: str | None = None) -> None:
    """Make `data` the content of `path`, whole or not at all; mode kept, a symbolic link followed.

    Conflict where the file no longer has the hash `expected_sha256` (or is gone), StorageError where the disk
    refuses. Of two saves at once that expect the same, one wins and the other gets the Conflict.
    """
    shown = name if name is not None else os.fspath(path)
    target = os.path.realpath(path)
    try:
        with _alone(target):
            before = _guarded(target, shown, data, expected_sha256)
            temp = _written_temp(target, data, before)
            try:
                os.replace(temp, target)
            except BaseException:
                _discard(temp)
                raise
            finally:
                _mine.discard(temp)
    except OSError as error:
        raise storage_error(shown, error) from error
    _finish(os.path.dirname(target), shown)


@contextmanager
def _alone(target: str) -> Iterator[None]:
    """No other save replaces `target` meanwhile.

    A lock on a file is void once another is renamed over it, so it counts only while the path still leads to the file
    that was locked. Where the system has no such lock, the kitchen's own holds.
    """
    try:
        import fcntl
    except ImportError:
        yield
        return
    while True:
        try:
            held = os.open(target, os.O_RDONLY | os.O_CLOEXEC | os.O_NONBLOCK)
        except FileNotFoundError:
            yield
            return
        try:
            fcntl.flock(held, fcntl.LOCK_EX)
            if _leads_to(target, held):
                yield
                return
        finally:
            os.close(held)


def _leads_to(target: str, held: int) -> bool:
    try:
        now = os.stat(target)
    except OSError:
        return True
    locked = os.fstat(held)
    return (now.st_dev, now.st_ino) == (locked.st_dev, locked.st_ino)


def create(path: Path, data: bytes, *, name: str | None = None) -> None:
    """Make a new file with `data`, and the folders it needs; Conflict where one of that name is there by now."""
    shown = name if name is not None else os.fspath(path)
    target = os.path.abspath(path)
    folder = os.path.dirname(target)
    try:
        _make_folders(folder)
        temp = _written_temp(target, data, None)
        try:
            _link(temp, target)
        except FileExistsError:
            raise Conflict(shown, _content(target), data) from None
        finally:
            _discard(temp)
            _mine.discard(temp)
    except OSError as error:
        raise storage_error(shown, error) from error
    _finish(folder, shown)


def hand_out(path: Path, data: bytes) -> None:
    """Write a file for the world outside the kitchen, whole or not at all; a device or a pipe is written to."""
    try:
        straight = not stat.S_ISREG(os.stat(path).st_mode) and not os.path.isdir(path)
    except OSError:
        straight = False
    if not straight:
        save(path, data)
        return
    try:
        with open(path, "wb") as file:
            file.write(data)
    except OSError as error:
        raise storage_error(os.fspath(path), error) from error


def stale_temp_files(folder: Path) -> list[str]:
    """Paths of temp files in `folder` and below it that a writer left behind whose process is gone."""
    return sorted(path for here, _, names in os.walk(folder) for path in _stale(here, names))


def sweep(folder: Path) -> list[str]:
    """Remove the stale temp files of `folder` alone, as every writer does; the paths removed."""
    try:
        removed = list(_stale(os.fspath(folder), os.listdir(folder)))
    except OSError:
        return []
    for path in removed:
        _discard(path)
    return removed


def _finish(folder: str, shown: str) -> None:
    """What follows once the new content has its name: the folder flushed, the left-overs of others swept."""
    try:
        _flush_folder(folder)
    except OSError as error:
        raise storage_error(shown, error, written=True) from error
    sweep(folder)


def storage_error(shown: str, error: OSError, *, written: bool = False) -> StorageError:
    """The system's refusal in one sentence."""
    mends = {errno.ENOENT: "make its folder first, or name another", errno.EINVAL: "name a file, not a folder"}
    return StorageError(shown, error.strerror or str(error), written=written, mend=mends.get(error.errno or 0))


def _guarded(target: str, shown: str, data: bytes, expected: str | None) -> os.stat_result | None:
    """What is known of the file that is to be replaced; None where there is none yet."""
    try:
        before = os.stat(target)
    except FileNotFoundError:
        if expected is not None:
            raise Conflict(shown, b"", data) from None
        return None
    if not stat.S_ISREG(before.st_mode):
        raise OSError(errno.EINVAL, "it is no plain file")
    if not os.access(target, os.W_OK):
        raise PermissionError(errno.EACCES, "the file is read-only")
    if expected is not None:
        from hashlib import sha256

        there = _content(target)
        if sha256(there).hexdigest() != expected:
            raise Conflict(shown, there, data)
    return before


def _content(path: str) -> bytes:
    with open(path, "rb") as file:
        return file.read()


def _written_temp(target: str, data: bytes, before: os.stat_result | None) -> str:
    """A flushed temp file beside `target` with `data` and the mode and owner of the file it will replace."""
    folder, base = os.path.split(target)
    temp = os.path.join(folder, f".{base[:40]}.{os.getpid()}-{os.urandom(4).hex()}.cookbook-temp")
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_BINARY", 0)
    _mine.add(temp)
    try:
        descriptor = os.open(temp, flags, 0o666)
        try:
            rest = memoryview(data)
            while rest:
                rest = rest[os.write(descriptor, rest):]
            if before is not None:
                _keep_mode(temp, descriptor, before)
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
    except BaseException:
        _discard(temp)
        _mine.discard(temp)
        raise
    return temp


def _keep_mode(temp: str, descriptor: int, before: os.stat_result) -> None:
    """Mode as it was; owner and group too where the system lets us."""
    if sys.platform == "win32":
        os.chmod(temp, stat.S_IMODE(before.st_mode))
        return
    now = os.fstat(descriptor)
    if (now.st_uid, now.st_gid) != (before.st_uid, before.st_gid):
        with suppress(PermissionError):
            os.fchown(descriptor, before.st_uid, before.st_gid)
    os.fchmod(descriptor, stat.S_IMODE(before.st_mode))


def _link(temp: str, target: str) -> None:
    """Give the temp file its final name, only where that is free; FileExistsError else."""
    if sys.platform == "win32":
        os.rename(temp, target)
        return
    try:
        os.link(temp, target)
    except OSError as error:
        if error.errno not in _NO_LINKS:
            raise
        os.close(os.open(target, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666))
        os.replace(temp, target)


def _make_folders(folder: str) -> None:
    """Every missing folder down to `folder`, each made to last."""
    if os.path.isdir(folder):
        return
    above = os.path.dirname(folder)
    _make_folders(above)
    with suppress(FileExistsError):
        os.mkdir(folder)
    _flush_folder(above)


def _flush_folder(folder: str) -> None:
    """Make a change of names in `folder` last through a power cut, where the system can."""
    if sys.platform == "win32":
        return
    try:
        descriptor = os.open(folder, os.O_RDONLY | os.O_CLOEXEC)
        try:
            os.fsync(descriptor)
        finally:
            os.close(descriptor)
    except OSError as error:
        if error.errno not in _UNFLUSHABLE:
            raise


def _discard(path: str) -> None:
    with suppress(OSError):
        os.unlink(path)


def _stale(folder: str, names: list[str]) -> Iterator[str]:
    """Of the temp files among `names`, those nobody is writing any more."""
    for name in names:
        found = _TEMP.fullmatch(name) if name.endswith(".cookbook-temp") else None
        if found:
            path = os.path.join(folder, name)
            pid = int(found.group("pid"))
            if path not in _mine and (pid == os.getpid() or not _runs(pid) or _is_old(path)):
                yield path


def _runs(pid: int) -> bool:
    """Whether a process of that number is there; on Windows, where asking may end it, always true."""
    if sys.platform == "win32":
        return True
    try:
        os.kill(pid, 0)
    except PermissionError:
        return True
    except (OSError, OverflowError):
        return False
    return True


def _is_old(path: str) -> bool:
    """Older than any writing takes: its number may have gone to another process."""
    from time import time

    try:
        return time() - os.stat(path).st_mtime > _OLD_S
    except OSError:
        return False
