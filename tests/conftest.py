"""What all tests share: the seeded tenth of the long ones."""

from __future__ import annotations

import random

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--seeded-tenth", action="store_true", help="run a seeded tenth of the tests that are selected")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """Keep one test in ten, at least one, always the same ones."""
    if not config.getoption("--seeded-tenth") or not items:
        return
    kept = set(random.Random(1).sample(range(len(items)), max(1, len(items) // 10)))
    config.hook.pytest_deselected(items=[item for place, item in enumerate(items) if place not in kept])
    items[:] = [item for place, item in enumerate(items) if place in kept]
