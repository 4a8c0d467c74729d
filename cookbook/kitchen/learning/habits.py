"""What this cook's own entries have taught, as plain records that the lower rooms define.

Every `scale` asks, so the answer is kept in the cache beside what it was read from; it counts only while every file
of the kitchen, by size and times, and the program itself are the same.
"""

from __future__ import annotations

import time
from pathlib import Path

from cookbook.kitchen.cache import SAME_TICK_NS, cache_folder, checksum, keep, rules
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.listing import PARTS, newest_ns, stamps
from cookbook.meat.coverage import Learned
from cookbook.recipe.scaling import Habits


def habits(kitchen: Kitchen, recipe: str) -> Habits:
    """The salt that went on in the cooks of `recipe` (lowest and highest, percent of the meat), this cook's own
    coverage (g on each cm², from bowls weighed before and after) and the share of a bowl that stays behind."""
    file = cache_folder(kitchen.root) / "habits" / f"{recipe}.txt"
    stamp = _stamp(kitchen)
    found = _kept(file, stamp) if stamp is not None else None
    if found is None:
        from cookbook.kitchen.learning.teaching import taught

        found = taught(kitchen, recipe)
        if stamp is not None:
            _keep(file, stamp, found)
    return found


def _stamp(kitchen: Kitchen) -> str | None:
    """Names what habits are read from; None where a file is so new that it can change with its times the same."""
    told, newest = [rules()], 0
    for part in PARTS:
        for folder, lines in stamps(str(kitchen.root / part), below=True):
            told += [folder, lines]
            newest = max(newest, newest_ns(lines))
    if newest > time.time_ns() - SAME_TICK_NS:
        return None
    return checksum("\n".join(told))


def _keep(file: Path, stamp: str, found: Habits) -> None:
    """Write it for the next time; nothing where nothing can be written."""
    lines = [stamp, *(" ".join(map(repr, one)) if one else "-" for one in found)]
    keep(file, "\n".join(lines))


def _kept(file: Path, stamp: str) -> Habits | None:
    try:
        said, *lines = file.read_text(encoding="ascii").split("\n")
        if said != stamp:
            return None
        salt, coverage, spare = lines
        low_high = (float(salt.split()[0]), float(salt.split()[1])) if salt != "-" else None
        return Habits(low_high, _learned(coverage), _learned(spare))
    except (OSError, ValueError, IndexError):
        return None


def _learned(line: str) -> Learned | None:
    if line == "-":
        return None
    mean, spread, cooks = line.split()
    return Learned(float(mean), None if spread == "None" else float(spread), int(cooks))
