"""A page to visit: of a small kitchen with two recipes, or of the demonstration kitchen."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from cookbook.kitchen import Kitchen
from tests.page.visiting import Visitor, demonstration


@pytest.fixture
def small(make_kitchen: Callable[..., Kitchen]) -> Visitor:
    return Visitor(make_kitchen().root)


@pytest.fixture
def full(tmp_path: Path) -> Visitor:
    return Visitor(demonstration(tmp_path / "kitchen"))
