"""The page's ratios; `bench_page.py` prints them."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.bench import bench_page


def test_the_page_answers_within_its_bounds(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bench_page, "RUNS", 16)
    lines = bench_page.measure(tmp_path)
    assert [f"{line.what}: {line.ours_s / line.bare_s:.2f} times" for line in lines if not line.holds] == []
    assert len(lines) == 3
