"""The index's ratios on a small kitchen; `bench_index.py` measures the whole size, and memory."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bench.bench_index import measure, settle
from tests.bench.generated import make


@pytest.mark.long
@pytest.mark.tenth
def test_indexing_refreshing_and_asking_stay_within_their_bounds(tmp_path: Path) -> None:
    root = make(tmp_path / "kitchen", 100, 600)
    settle(root)
    lines = measure(root, tmp_path)
    assert [f"{line.what}: {line.ours_s / line.bare_s:.2f} times" for line in lines if not line.holds] == []
    assert len(lines) == 5


@pytest.mark.long
def test_a_lifetime_of_cooks_stays_within_the_bounds_and_the_memory(monkeypatch: pytest.MonkeyPatch) -> None:
    import subprocess
    import sys

    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    command = [sys.executable, "-m", "tests.bench.bench_index"]
    done = subprocess.run(command, cwd=Path(__file__).parents[2], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stdout + done.stderr
