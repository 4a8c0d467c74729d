"""A page to visit: of a small kitchen with two recipes, or of the demonstration kitchen."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path

import pytest

from cookbook.heat import forecast
from cookbook.kitchen import Kitchen
from tests.page.visiting import Visitor, demonstration


@pytest.fixture(autouse=True)
def few_members(monkeypatch: pytest.MonkeyPatch) -> None:
    """The page is asked for, not the forecast: a small ensemble tells enough."""
    monkeypatch.setattr("cookbook.kitchen.forecasting.outlook.forecast", partial(forecast, members=30))


@pytest.fixture
def small(make_kitchen: Callable[..., Kitchen]) -> Visitor:
    return Visitor(make_kitchen().root)


@pytest.fixture
def full(tmp_path: Path) -> Visitor:
    return Visitor(demonstration(tmp_path / "kitchen"))
