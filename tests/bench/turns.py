"""What acts take beside each other: they take turns, and the smallest of each counts."""

from __future__ import annotations

import time
from collections.abc import Callable


def turns(*acts: Callable[[], object], times: int = 9, pause_s: float = 0.0) -> tuple[float, ...]:
    """The least seconds of each act in so many rounds; before each there is a pause."""
    took: list[list[float]] = [[] for _ in acts]
    for _ in range(times):
        for act, spent in zip(acts, took, strict=True):
            time.sleep(pause_s)
            begun = time.perf_counter()
            act()
            spent.append(time.perf_counter() - begun)
    return tuple(map(min, took))
