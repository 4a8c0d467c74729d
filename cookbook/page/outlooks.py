"""Forecasts worked out beside the page: asked for at once, known a little later, kept until the cook goes on.

They are worked out in a process of their own, which lets a tap at the fire go first.
"""

from __future__ import annotations

import threading
from collections.abc import Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path

from cookbook.errors import CookbookError
from cookbook.journal import Entry
from cookbook.kitchen import Kitchen
from cookbook.kitchen.forecasting.standing import Ahead, ahead
from cookbook.page.apart import Apart, Told

_MOST = 24


class Outlooks:
    """The latest forecast of each entry, and the one that is being worked out; `apart` in another process."""

    def __init__(self, root: Path, apart: bool = True) -> None:
        self._root, self._apart = root, Apart(apart)
        self._pool = ThreadPoolExecutor(1, "forecast")
        self._lock = threading.Lock()
        self._known: dict[str, tuple[str, list[Ahead]]] = {}
        self._running: dict[str, tuple[str, Future[None]]] = {}

    def of(self, kitchen: Kitchen, entry: Entry) -> tuple[Sequence[Ahead], bool]:
        """What is known of an entry's forecast, and whether it is of the entry as it stands; else it is begun."""
        if entry.finished is not None:
            return [Ahead(piece.name, None, None, None, None) for piece in entry.pieces], True
        stamp = stamp_of(kitchen, entry)
        with self._lock:
            known = self._known.get(entry.name)
            if known is not None and known[0] == stamp:
                return known[1], True
            running = self._running.get(entry.name)
            if running is None or running[0] != stamp:
                if running is not None:
                    running[1].cancel()
                with suppress(RuntimeError):  # the page is being stopped
                    self._running[entry.name] = (stamp, self._pool.submit(self._work, entry.name, stamp))
            return (known[1] if known is not None else ()), False

    def known_stamp(self, name: str) -> str:
        """The stamp of what is known, '' where nothing is: it changes when a forecast is there."""
        known = self._known.get(name)
        return known[0] if known is not None else ""

    def wait(self, name: str, seconds: float) -> None:
        """Until the forecast of an entry that is being worked out is there."""
        running = self._running.get(name)
        if running is not None:
            running[1].result(seconds)

    def stop(self) -> None:
        """Nothing is begun any more, and what runs is ended."""
        self._pool.shutdown(wait=False, cancel_futures=True)
        self._apart.stop()

    def _work(self, name: str, stamp: str) -> None:
        try:
            found = self._apart.do(forecasts, self._root, name)
        except CookbookError as fault:
            found = [Ahead("", None, None, None, fault.message)]
        with self._lock:
            while len(self._known) >= _MOST:
                self._known.pop(next(iter(self._known)))
            self._known[name] = (stamp, found)


def forecasts(_: Told, root: Path, name: str) -> list[Ahead]:
    """The forecasts of one entry; whatever fails, the cook goes on without one."""
    kitchen = Kitchen.open(root)
    try:
        return ahead(kitchen, kitchen.entry(name))
    except CookbookError as fault:
        return [Ahead("", None, None, None, fault.message)]
    except Exception as fault:
        return [Ahead("", None, None, None, f"it failed ({type(fault).__name__})")]


def stamp_of(kitchen: Kitchen, entry: Entry) -> str:
    """Names the state of an entry that its forecast rests on: its text and the files of readings beside it."""
    folder = kitchen.entry_path(entry).parent
    parts = [entry.document.sha256]
    for name in entry.readings:
        try:
            told = (folder / Path(name).name).stat()
            parts.append(f"{told.st_size} {told.st_mtime_ns}")
        except OSError:
            parts.append("-")
    return " ".join(parts)
