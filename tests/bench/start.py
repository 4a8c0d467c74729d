"""Start-up of the command line beside bare Python: `python -m tests.bench.start`, with an installed wheel's Python.

Only the ratio is asserted.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

from tests.bench.turns import turns

RUNS = 40
BOUNDS = {"--help": 3.0, "scale": 8.0}
BIN = Path(sys.executable).parent


def beside_bare(command: list[str], folder: Path) -> tuple[float, ...]:
    """Seconds of the command as a whole process, its code compiled before, and of `python -c pass`."""
    around = {**os.environ, "XDG_CACHE_HOME": str(folder / "cache")}
    around.pop("PYTHONDONTWRITEBYTECODE", None)

    def run(command: list[str]) -> None:
        subprocess.run(command, check=True, capture_output=True, cwd=folder, env=around)

    return turns(lambda: run(command), lambda: run([sys.executable, "-c", "pass"]), times=RUNS)


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
            ours, bare = beside_bare(command, kitchen)
            late += ours / bare > BOUNDS[what]
            print(
                f"cookbook {what:<8} {ours * 1000:6.1f} ms   python -c pass {bare * 1000:5.1f} ms   "
                f"{ours / bare:4.2f} times, at most {BOUNDS[what]:g}"
            )
        return 1 if late else 0


if __name__ == "__main__":
    sys.exit(main())
