"""Plans, cards and comparisons: asked for at once, shown once they are there, kept while nothing changes."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from contextlib import suppress
from pathlib import Path
from queue import SimpleQueue
from typing import Any, NamedTuple

from cookbook.errors import CookbookError
from cookbook.page.apart import Apart
from cookbook.page.opening import KEPT, told_of

HANDS = 2
"""So many things are worked out at once: a quick one need not wait for a slow one."""
PATIENCE_S = 0.6
"""So long an answer may take before the page says that it is being worked out."""
_KEPT_S, _MOST_KEPT = 600.0, 24
_MOST_ASKED, _LEFT_S = 8, 15.0
_LATE_S = 30.0


class Later(Exception):
    """It is being worked out; `words` say how far it is, '' where that is not known yet."""

    def __init__(self, words: str) -> None:
        super().__init__(words)
        self.words = words


class _Found(NamedTuple):
    """What was found, or the fault it ended with; the state of the files it rests on; when it was there."""

    recipes: object
    journal: object
    at: float
    value: Any
    fault: CookbookError | None


class _Asked:
    """Something that is being worked out: how far it is, and when somebody last looked."""

    def __init__(self) -> None:
        self.looked = time.monotonic()
        self.words = ""
        self.work: Future[None] | None = None


class Desk:
    """What a page asks for that takes its time. `apart` works in other processes; else each answer is waited for."""

    def __init__(self, root: Path, apart: bool = True) -> None:
        self._root = root
        self.patience_s = PATIENCE_S if apart else 120.0
        self._pool = ThreadPoolExecutor(HANDS, "desk")
        self._all = [Apart(apart) for _ in range(HANDS)]
        self._free: SimpleQueue[Apart] = SimpleQueue()
        for one in self._all:
            self._free.put(one)
        self._lock = threading.Lock()
        self._found: dict[tuple[Any, ...], _Found] = {}
        self._asked: dict[tuple[Any, ...], _Asked] = {}

    def ask(self, work: Callable[..., Any], *given: Any) -> Any:
        """What `work(told, root, *given)` finds in the kitchen as it stands.

        Raises Later while it is being worked out, and the CookbookError that it ended with.
        """
        key = (work.__name__, *given)
        known, asked = self._look(key, work, given)
        if known is None and asked is not None and asked.work is not None:
            with suppress(TimeoutError):
                asked.work.result(self.patience_s)
            known, _ = self._look(key, None, given)
        if known is None:
            raise Later(asked.words if asked is not None else "other things are worked out first")
        if known.fault is not None:
            raise known.fault
        return known.value

    def stop(self) -> None:
        """Nothing is begun any more, and what runs is ended."""
        self._pool.shutdown(wait=False, cancel_futures=True)
        for one in self._all:
            one.stop()

    def _look(
        self, key: tuple[Any, ...], work: Callable[..., Any] | None, given: tuple[Any, ...]
    ) -> tuple[_Found | None, _Asked | None]:
        """What is known, and what is being worked out: begun by `work` where neither is."""
        recipes, journal = told_of(self._root, KEPT), told_of(self._root, ("journal",))
        now = time.monotonic()
        with self._lock:
            known, asked = self._found.get(key), self._asked.get(key)
            # who waited for it is not made to wait again because somebody logged a line meanwhile
            kept_s = 0.0 if known is None else _KEPT_S if known.journal == journal else _LATE_S
            if known is not None and known.recipes == recipes and now < known.at + kept_s:
                return known, asked
            if asked is None and work is not None:
                self._drop_left(now)
                if len(self._asked) < _MOST_ASKED:
                    asked = self._asked[key] = _Asked()
                    with suppress(RuntimeError):  # the page is being stopped
                        asked.work = self._pool.submit(self._work, key, asked, work, given, recipes, journal)
            if asked is not None:
                asked.looked = now
            return None, asked

    def _drop_left(self, now: float) -> None:
        """What waits for its turn and nobody looked for any more is not begun."""
        for key, one in list(self._asked.items()):
            if now > one.looked + _LEFT_S and (one.work is None or one.work.cancel()):
                del self._asked[key]

    def _work(
        self, key: tuple[Any, ...], asked: _Asked, work: Callable[..., Any], given: tuple[Any, ...],
        recipes: object, journal: object,
    ) -> None:  # fmt: skip
        def told(words: str) -> None:
            asked.words = words

        found: tuple[Any, CookbookError | None] | None = None
        hand = self._free.get()
        try:
            found = hand.do(work, self._root, *given, told=told), None
        except CookbookError as fault:
            found = None, fault
        finally:
            self._free.put(hand)
            with self._lock:
                self._asked.pop(key, None)
                while len(self._found) >= _MOST_KEPT:
                    self._found.pop(next(iter(self._found)))
                if found is not None:
                    self._found[key] = _Found(recipes, journal, time.monotonic(), *found)
