"""`check` by one process beside all cores, in one run: `python -m tests.bench.bench_check [RECIPES ENTRIES]`.

Only ratios are asserted. What the cores can give at the time is measured beside it, by as many processes that only
count. Nothing to compare on one core.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from pathlib import Path
from typing import NamedTuple

from cookbook.kitchen import Kitchen
from cookbook.kitchen.checking import check
from cookbook.kitchen.checking.many import cores
from tests.bench.generated import make
from tests.bench.turns import turns

SHARE = 0.6
"""How much of what the cores give must show; starting processes and sending their answers take the rest."""
_COUNT = "sum(range(20_000_000))"


class Checked(NamedTuple):
    """Seconds of a check by one process and by all, and how many times as fast all cores count as one."""

    one_s: float
    all_s: float
    cores_give: float

    @property
    def bound(self) -> float:
        """The most that all may take of the time of one."""
        return 1 / (SHARE * self.cores_give)


def measure(root: Path, at_once: int, times: int = 9) -> Checked:
    """The kitchen at `root` checked from nothing, and processes that count, in turns."""
    one_s, all_s, alone_s, together_s = turns(
        lambda: check(Kitchen.open(root), cores=1),
        lambda: check(Kitchen.open(root), cores=at_once),
        lambda: _counting(1),
        lambda: _counting(at_once),
        times=times,
    )
    return Checked(one_s, all_s, at_once * alone_s / together_s)


def _counting(at_once: int) -> None:
    """So many processes that each count to the same number."""
    running = [subprocess.Popen([sys.executable, "-c", _COUNT]) for _ in range(at_once)]
    for process in running:
        process.wait()


def main() -> int:
    """Print the ratio; 1 where it is under its bound."""
    recipes, entries = (int(word) for word in sys.argv[1:3]) if len(sys.argv) > 2 else (400, 4000)
    at_once = cores()
    if at_once < 2:
        print("one core: nothing to compare")
        return 0
    with tempfile.TemporaryDirectory() as name:
        found = measure(make(Path(name) / "kitchen", recipes, entries), at_once)
    print(
        f"{recipes} recipes, {entries} entries: one process {found.one_s:.2f} s, {at_once} processes "
        f"{found.all_s:.2f} s; {found.one_s / found.all_s:.2f} times as fast, at least {1 / found.bound:.2f} "
        f"where {at_once} that only count are {found.cores_give:.2f} times"
    )
    return 0 if found.all_s <= found.bound * found.one_s else 1


if __name__ == "__main__":
    sys.exit(main())
