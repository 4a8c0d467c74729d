"""A real browser for pages: Chromium as the machine has it, asked for nothing from outside."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from cookbook.kitchen import Kitchen

ROOT = Path(__file__).resolve().parents[2]
_FLAGS = ("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
          "--disable-component-update", "--disable-sync")


@pytest.fixture(scope="session")
def browser() -> Iterator[Any]:
    """Chromium by Playwright; `CHROMIUM` names another one than the machine's."""
    from playwright.sync_api import sync_playwright

    where = os.environ.get("CHROMIUM") or shutil.which("chromium") or shutil.which("chromium-browser")
    with sync_playwright() as driver:
        opened = driver.chromium.launch(executable_path=where, args=list(_FLAGS))
        yield opened
        opened.close()


@pytest.fixture(autouse=True)
def own_cache(kept_forecasts: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing that a test remembers reaches the cache of whoever runs it."""
    monkeypatch.setenv("XDG_CACHE_HOME", kept_forecasts)


@pytest.fixture
def demo() -> Kitchen:
    """The demonstration kitchen."""
    return Kitchen.open(ROOT)
