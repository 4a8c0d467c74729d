"""A kitchen that stays open from one request to the next, as long as no recipe and no table of it changes.

Entries it reads anew whenever it is asked for one.
"""

from __future__ import annotations

import threading
import time
from pathlib import Path

from cookbook.kitchen import Kitchen
from cookbook.kitchen.cache import SAME_TICK_NS
from cookbook.kitchen.listing import newest_ns, stamps

KEPT = ("recipes", "shared")
"""What a kitchen that is open reads once."""
_kept = threading.local()


def opened(root: Path) -> Kitchen:
    """The kitchen at `root`: the one this thread opened before where all is as it was then, else a new one."""
    stamp = stamp_of(root, KEPT)
    if stamp is not None and getattr(_kept, "stamp", None) == stamp:
        kitchen: Kitchen = _kept.kitchen
        return kitchen
    kitchen = Kitchen.open(root)
    _kept.stamp, _kept.kitchen = stamp, kitchen
    return kitchen


def stamp_of(root: Path, parts: tuple[str, ...]) -> tuple[str, ...] | None:
    """Names the files of these parts by size and times.

    None where one is so new that it can change with its times the same.
    """
    told = told_of(root, parts)
    newest = max(map(newest_ns, told[2::2]), default=0)
    return None if newest > time.time_ns() - SAME_TICK_NS else told


def told_of(root: Path, parts: tuple[str, ...]) -> tuple[str, ...]:
    """The root, then every folder of these parts with one line a file: its size and times."""
    told = [str(root)]
    for part in parts:
        for folder, lines in stamps(str(root / part), below=True):
            told += [folder, lines]
    return tuple(told)
