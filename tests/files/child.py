"""A writer in a process of its own, so that it can be killed or lose its rights: forked, with everything loaded."""

from __future__ import annotations

import os
from collections.abc import Callable
from typing import NamedTuple

NOBODY = 65534


class Ended(NamedTuple):
    """How a child ended: its exit code (128 and the signal's number for a killed one) and what it said before."""

    code: int
    said: str


def in_child(work: Callable[[Callable[[str], None]], None]) -> Ended:
    """Run `work(say)` in a fork of this process; code 0 where it came to its end, 99 where it raised."""
    reader, writer = os.pipe()
    pid = os.fork()
    if pid == 0:
        code = 99
        try:
            os.close(reader)
            work(lambda words: _say(writer, words))
            code = 0
        finally:
            os._exit(code)
    os.close(writer)
    with open(reader, encoding="utf-8") as pipe:  # noqa: PTH123  # a pipe has no path
        said = pipe.read()
    _, status = os.waitpid(pid, 0)
    ended = os.waitstatus_to_exitcode(status)
    return Ended(ended if ended >= 0 else 128 - ended, said)


_write = os.write


def _say(descriptor: int, words: str) -> None:
    _write(descriptor, (words + "\n").encode())
