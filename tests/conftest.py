"""What all tests share: small kitchens on disk, and the seeded tenth of the long tests."""

from __future__ import annotations

import os
import random
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import settings

from cookbook.kitchen import Kitchen

# One thread for small matrices, as the command line has it: several only wait for each other on a busy machine.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
# The same examples in every run, so that a change is judged by itself; `.ci/long` looks for new ones each time.
settings.register_profile("steady", derandomize=True, deadline=None)
settings.register_profile("brief", derandomize=True, deadline=None, max_examples=25)  # thousands of mutants
settings.register_profile("fresh", deadline=None)  # other examples in every long run
settings.load_profile("steady")

PASTE = """\
kind: paste
title: Walnut and thyme paste
revision: 2
made_for:                  # the piece this batch coats
  cut: pork loin, boneless
  weight: 2.2 kg
ingredients:
  - item: walnuts
    amount: 80 g
  - item: thyme, fresh
    amount: 1/4 cup        # packed loosely
  - item: olive oil
    amount: 80 ml
  - item: fine salt
    amount: 1.1 % of meat
steps:
  - Pound it all.
"""

SPICE = """\
kind: rub
title: Seven-pepper dust
made_for: {cut: "pork loin, boneless", weight: 5 kg}
ingredients:
  - {item: black pepper, amount: 30 g}
  - {item: fine salt, amount: 10 g, follows: weight}
  - {item: juniper, amount: 5 g, follows: fixed}
"""
"""A rub that goes into others: whatever its lines follow, all of them make up what is needed."""

COOK = """\
kind: cook
title: Loin over cherry
cut: pork loin, boneless
serves: 8
coats:
  - recipe: walnut-paste
pit:
  temperature: 130 °C
  cooker: drum
pull_at: 60 °C
rest:
  time: 25 min
  cover: tented
"""


@pytest.fixture(autouse=True)
def own_cache(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing that a test remembers reaches the cache of whoever runs it."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path_factory.mktemp("cache")))


@pytest.fixture(scope="session")
def kept_forecasts(tmp_path_factory: pytest.TempPathFactory) -> str:
    """One cache for all card tests: what was once worked out is not worked out again."""
    return str(tmp_path_factory.mktemp("forecasts"))


@pytest.fixture
def short_table(kept_forecasts: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Times of a card for one other cooker and two lengths, few members on coarse cells, kept from test to test."""
    monkeypatch.setattr("cookbook.heat.course.FINE_M", 0.02)
    monkeypatch.setattr("cookbook.heat.course.COARSE_M", 0.025)
    monkeypatch.setattr("cookbook.heat.doubt.GRID_M", 0.03)
    monkeypatch.setenv("XDG_CACHE_HOME", kept_forecasts)
    monkeypatch.setattr("cookbook.heat.doubt.MEMBERS", 12)
    monkeypatch.setattr("cookbook.kitchen.forecasting.timetables.READERS", ("oven",))
    monkeypatch.setattr("cookbook.kitchen.forecasting.timetables.ALONG", (0.0, 1.0))


@pytest.fixture
def make_kitchen(tmp_path: Path) -> Callable[..., Kitchen]:
    """Makes a kitchen of the files given by path; without any, one with a paste and a cook that uses it."""

    def make(files: dict[str, str] | None = None) -> Kitchen:
        root = tmp_path / "kitchen"
        for name, text in (files or {"recipes/walnut-paste.yaml": PASTE, "recipes/loin.yaml": COOK}).items():
            path = root / name
            path.parent.mkdir(parents=True, exist_ok=True)
            path.write_bytes(text.encode())
        (root / "recipes").mkdir(parents=True, exist_ok=True)
        return Kitchen.open(root)

    return make


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--seeded-tenth", action="store_true", help="run a seeded tenth of the tests that are selected")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Keep one in ten of every test that has ten cases or more, and of all the others together; always the same.

    Of a test with a case that is marked as its tenth, that case is kept.
    """
    if not config.getoption("--seeded-tenth") or not items:
        return
    cases: dict[str, list[int]] = {}
    for place, item in enumerate(items):
        cases.setdefault(item.nodeid.partition("[")[0], []).append(place)
    always = {place for place, item in enumerate(items) if item.get_closest_marker("tenth")}
    cases = {name: found for name, found in cases.items() if not always & set(found)}
    pools = [found for found in cases.values() if len(found) >= 10]
    pools += [[place for found in cases.values() if len(found) < 10 for place in found]]
    seeded = random.Random(1)
    kept = always | {place for pool in pools if pool for place in seeded.sample(pool, max(1, len(pool) // 10))}
    config.hook.pytest_deselected(items=[item for place, item in enumerate(items) if place not in kept])
    items[:] = [item for place, item in enumerate(items) if place in kept]
