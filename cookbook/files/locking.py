"""One lock per kitchen: whoever writes holds it from reading to rename; whoever only reads takes none."""
# Bare system calls on purpose, as beside it in saving.
# ruff: noqa: PTH118

from __future__ import annotations

import errno
import os
import sys
from _thread import get_ident
from os import PathLike
from time import monotonic, sleep
from types import TracebackType

from cookbook.errors import Busy
from cookbook.files.saving import storage_error

LOCK_NAME = ".cookbook-lock"

_POLL_S = 0.001
_COURTESY_S = 0.003

_held: dict[tuple[int, int, str], list[int]] = {}
_let_go_at: dict[str, float] = {}


class lock:  # noqa: N801  # reads as a verb: with lock(root)
    """`with lock(root):` holds the lock of the kitchen at `root`; Busy where it is not to be had in `wait_s` seconds.

    The lock lies on `.cookbook-lock` in the root, a file that is never renamed or removed. The thread that holds it
    may take it again. A process that dies lets go of it by that. Who has only just let go lets others in first.
    """

    def __init__(self, root: str | PathLike[str], wait_s: float = 10.0) -> None:
        self._folder = os.fspath(root)
        self._wait_s = wait_s
        self._key = (0, 0, "")

    def __enter__(self) -> lock:
        path = os.path.join(os.path.realpath(self._folder), LOCK_NAME)
        self._key = (os.getpid(), get_ident(), path)
        holding = _held.get(self._key)
        if holding is not None:
            holding[1] += 1
            return self
        try:
            descriptor = _opened(path)
        except OSError as error:
            raise storage_error(path, error) from error
        try:
            self._wait(descriptor)
        except BaseException:
            os.close(descriptor)
            raise
        _held[self._key] = [descriptor, 1]
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None,
                 trace: TracebackType | None) -> None:
        holding = _held[self._key]
        holding[1] -= 1
        if holding[1] == 0:
            del _held[self._key]
            _let_go(holding[0])
            _let_go_at[self._key[2]] = monotonic()

    def _wait(self, descriptor: int) -> None:
        begin = monotonic()
        courtesy = _let_go_at.get(self._key[2], 0.0) + _COURTESY_S - begin
        if courtesy > 0:
            sleep(courtesy)
        while True:
            try:
                if _taken(descriptor):
                    return
            except OSError as error:
                raise storage_error(os.path.join(self._folder, LOCK_NAME), error) from error
            if monotonic() - begin >= self._wait_s:
                raise Busy(self._folder, self._wait_s)
            sleep(_POLL_S)


def _opened(path: str) -> int:
    """The lock file, made where it is missing; where it may only be read, that is enough to lock it."""
    cloexec = getattr(os, "O_CLOEXEC", 0)
    try:
        return os.open(path, os.O_RDWR | os.O_CREAT | cloexec, 0o666)
    except PermissionError:
        return os.open(path, os.O_RDONLY | cloexec)


if sys.platform == "win32":

    def _taken(descriptor: int) -> bool:
        import msvcrt

        try:
            msvcrt.locking(descriptor, msvcrt.LK_NBLCK, 1)
        except OSError as error:
            if error.errno in (errno.EACCES, errno.EDEADLK):
                return False
            raise
        return True

    def _let_go(descriptor: int) -> None:
        import msvcrt

        os.lseek(descriptor, 0, os.SEEK_SET)
        msvcrt.locking(descriptor, msvcrt.LK_UNLCK, 1)
        os.close(descriptor)

else:

    def _taken(descriptor: int) -> bool:
        """True where the lock is ours now, False where another holds it."""
        import fcntl

        try:
            fcntl.flock(descriptor, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            if error.errno in (errno.EWOULDBLOCK, errno.EAGAIN, errno.EACCES):
                return False
            raise
        return True

    def _let_go(descriptor: int) -> None:
        """Closing the file lets go of the lock."""
        os.close(descriptor)
