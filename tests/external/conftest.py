"""Zones whose clocks change, written as POSIX time zones by the laws that set them."""

from __future__ import annotations

import time
from collections.abc import Iterator

import pytest

BERLIN, NEW_YORK = "CET-1CEST,M3.5.0/2,M10.5.0/3", "EST5EDT,M3.2.0/2,M11.1.0/2"


@pytest.fixture
def zone(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """The zone that a test names is this machine's meanwhile."""
    if not hasattr(time, "tzset"):
        pytest.skip("the zone of this machine can't be set")
    monkeypatch.setenv("TZ", request.param)
    time.tzset()
    yield
    monkeypatch.undo()
    time.tzset()
