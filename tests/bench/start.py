"""Start-up of the command line beside bare Python, in one run: `python tests/bench/start.py` on an installed wheel.

The two commands take turns; the smallest of at least nine of each is compared, and only the ratio is asserted.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

RUNS = 40
BOUNDS = {"--help": 3.0, "scale": 8.0}
BIN = Path(sys.executable).parent


def seconds(command: list[str], folder: Path) -> float:
    """The wall time of one whole process."""
    start = time.perf_counter()
    cache = {**os.environ, "XDG_CACHE_HOME": str(folder / "cache")}
    subprocess.run(command, check=True, capture_output=True, cwd=folder, env=cache)
    return time.perf_counter() - start


def ratio(command: list[str], folder: Path) -> tuple[float, float, float]:
    """Smallest seconds of the command, smallest of `python -c pass`, and their ratio, taking turns."""
    bare, ours = [], []
    for _ in range(RUNS):
        bare.append(seconds([sys.executable, "-c", "pass"], folder))
        ours.append(seconds(command, folder))
    return min(ours), min(bare), min(ours) / min(bare)


def main() -> int:
    """Print the table; 1 where a bound is passed."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        subprocess.run(
            [str(BIN / "cookbook"), "new", "kitchen", "--with-example"], check=True, capture_output=True, cwd=folder
        )
        kitchen = folder / "kitchen"
        time.sleep(2.1)  # files written within the last two seconds are never trusted to the cache
        commands = {
            "--help": [str(BIN / "cookbook"), "--help"],
            "scale": [str(BIN / "cookbook"), "scale", "fennel-sage-paste", "--weight", "4.4kg"],
        }
        late = 0
        for what, command in commands.items():
            ours, bare, found = ratio(command, kitchen)
            late += found > BOUNDS[what]
            print(
                f"cookbook {what:<8} {ours * 1000:6.1f} ms   python -c pass {bare * 1000:5.1f} ms   "
                f"{found:4.2f} times, at most {BOUNDS[what]:g}"
            )
        return 1 if late else 0


if __name__ == "__main__":
    sys.exit(main())
