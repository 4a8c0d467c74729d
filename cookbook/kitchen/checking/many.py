"""Examining many files at once, on every core there is."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from pathlib import Path

from cookbook.kitchen.checking.examining import Examined, examine
from cookbook.kitchen.kitchen import Kitchen

MANY = 400
"""With fewer files than this, starting another process takes longer than it saves."""

_PART = 50

Job = tuple[Path, bool]


def cores() -> int:
    """How many processes this one may run at once."""
    try:
        return len(os.sched_getaffinity(0))
    except AttributeError:
        return os.cpu_count() or 1


def examined(kitchen: Kitchen, jobs: Sequence[Job], at_once: int = 1) -> Iterator[Examined]:
    """What was found in every file (and whether it is a recipe), in their order."""
    if at_once < 2 or len(jobs) < MANY:
        for path, recipe in jobs:
            yield examine(kitchen, path, recipe)
        return
    from concurrent.futures import ProcessPoolExecutor
    from multiprocessing import get_context

    parts = [jobs[place : place + _PART] for place in range(0, len(jobs), _PART)]
    with ProcessPoolExecutor(at_once, get_context("spawn"), _begin, (str(kitchen.root),)) as pool:
        for found in pool.map(_part, parts):
            yield from found


_own: dict[str, Kitchen] = {}


def _begin(root: str) -> None:
    """Each process opens the kitchen once."""
    _own["kitchen"] = Kitchen(Path(root)).forgive()


def _part(jobs: Sequence[Job]) -> list[Examined]:
    return [examine(_own["kitchen"], path, recipe) for path, recipe in jobs]
