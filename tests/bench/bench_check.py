"""`check` by one process beside all cores, in one run: `python tests/bench/bench_check.py [RECIPES ENTRIES]`.

All take turns; the smallest of each is compared, and only ratios are asserted. What the cores can give at the time is
measured beside it, by as many processes that only count. Nothing to compare on one core.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[2]))

from cookbook.kitchen import Kitchen
from cookbook.kitchen.checking.checking import check
from cookbook.kitchen.checking.many import cores
from tests.bench.generated import make

RUNS = 9
SHARE = 0.6
"""How much of what the cores give must show; starting processes and sending their answers take the rest."""
_COUNT = "sum(range(20_000_000))"


def seconds(root: Path, at_once: int) -> float:
    """The wall time of one check, nothing kept from the one before."""
    start = time.perf_counter()
    check(Kitchen.open(root), cores=at_once)
    return time.perf_counter() - start


def counting(at_once: int) -> float:
    """The wall time of so many processes that each count to the same number."""
    start = time.perf_counter()
    running = [subprocess.Popen([sys.executable, "-c", _COUNT]) for _ in range(at_once)]
    for process in running:
        process.wait()
    return time.perf_counter() - start


def main() -> int:
    """Print the ratio; 1 where it is under its bound."""
    recipes, entries = (int(word) for word in sys.argv[1:3]) if len(sys.argv) > 2 else (400, 4000)
    at_once = cores()
    one: list[float] = []
    all_: list[float] = []
    alone: list[float] = []
    together: list[float] = []
    with tempfile.TemporaryDirectory() as name:
        root = make(Path(name) / "kitchen", recipes, entries)
        for _ in range(RUNS if at_once > 1 else 0):
            one.append(seconds(root, 1))
            all_.append(seconds(root, at_once))
            alone.append(counting(1))
            together.append(counting(at_once))
    if not one:
        print("one core: nothing to compare")
        return 0
    ratio = min(one) / min(all_)
    cores_give = at_once * min(alone) / min(together)
    bound = SHARE * cores_give
    print(
        f"{recipes} recipes, {entries} entries: one process {min(one):.2f} s, {at_once} processes {min(all_):.2f} s; "
        f"{ratio:.2f} times as fast, at least {bound:.2f} where {at_once} that only count are {cores_give:.2f} times"
    )
    return 0 if ratio >= bound else 1


if __name__ == "__main__":
    sys.exit(main())
