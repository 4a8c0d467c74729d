"""Work that takes longer than a tap should wait: done in another process, so that a tap at the fire goes first."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from contextlib import suppress
from multiprocessing import get_context
from multiprocessing.connection import Connection
from traceback import format_exc
from typing import Any

from cookbook.errors import CookbookError

Told = Callable[[str], None]
"""Hears how far the work is, in words."""

_COURTESY = 10
_TOLD, _DONE, _FAILED = range(3)


def nobody(_: str) -> None:
    """Hears of it and says nothing."""


class Apart:
    """One process that does one piece of work after the other: begun when first asked, again where it ended.

    A piece of work is a function of a module: it takes who hears how far it is, then what it is given. Only one
    thread at a time may ask.
    """

    def __init__(self, apart: bool = True) -> None:
        self._apart = apart
        self._worker: tuple[Any, Connection] | None = None
        self._stopped = False

    def do(self, work: Callable[..., Any], *given: Any, told: Told = nobody) -> Any:
        """What the work finds. Raises the CookbookError that it ends with, also where it is stopped."""
        if not self._apart:
            return work(told, *given)
        process, line = self._begun()
        try:
            line.send((work, given))
            while True:
                kind, found = line.recv()
                if kind == _TOLD:
                    told(found)
                elif kind == _FAILED:
                    raise found
                else:
                    return found
        except (EOFError, OSError):
            self._end(process, line)
            raise CookbookError("the work was stopped", mend="ask again") from None

    def _begun(self) -> tuple[Any, Connection]:
        if self._stopped:
            raise CookbookError("the page is being stopped")
        if self._worker is not None and self._worker[0].is_alive():
            return self._worker
        if self._worker is not None:
            self._end(*self._worker)
        ours, theirs = get_context("spawn").Pipe()
        process = get_context("spawn").Process(target=_serve, args=(theirs,), daemon=True)
        process.start()
        theirs.close()
        self._worker = process, ours
        return self._worker

    def _end(self, process: Any, line: Connection) -> None:
        process.terminate()
        process.join(5)
        line.close()
        self._worker = None

    def stop(self) -> None:
        """What runs is ended, and nothing is begun any more."""
        self._stopped = True
        worker = self._worker
        if worker is not None:
            worker[0].terminate()
            worker[0].join(5)


def _serve(line: Connection) -> None:
    """The other process: work in, how far it is and what it found out, until nobody asks any more."""
    import signal

    signal.signal(signal.SIGINT, signal.SIG_IGN)
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    if hasattr(os, "nice"):
        os.nice(_COURTESY)
    with suppress(EOFError, OSError):
        while True:
            work, given = line.recv()
            try:
                answer: tuple[int, Any] = (_DONE, work(lambda words: line.send((_TOLD, words)), *given))
            except CookbookError as fault:
                answer = (_FAILED, fault)
            except Exception:
                sys.stderr.write(f"the page failed apart:\n{format_exc()}")
                answer = (_FAILED, CookbookError("this program failed here; its words stand where it was started"))
            line.send(answer)
