"""What holds of every finding that any test of this room comes across."""

from __future__ import annotations

from typing import Any

import pytest

from cookbook.safety.finding import HOUSEHOLD, LEVELS, PLANT, RETAIL, Finding, Value
from cookbook.table import source

REGIMES = (HOUSEHOLD, RETAIL, PLANT, "household, Canada", "household, UK", "practice", "regulation", "Canada",
           "home-cure mixes", "EU", "US")
MOST_DECIMALS = {"°C": 1, "°F": 1, "h": 2, "min": 1, "days": 1, "%": 2, "log10": 2, "share of the dwell": 4, "pH": 2,
                 "aw": 3, "g": 0}
"""By unit how finely a finding says what was met; parts per million are compared as they come."""


@pytest.fixture(autouse=True)
def whole_findings(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each one is checked where it is made, so that none goes out half filled in."""
    made: Any = Finding.__new__

    def checked(kind: type[Finding], *given: Any, **named: Any) -> Finding:
        one: Finding = made(kind, *given, **named)
        assert one.level in LEVELS, one
        assert one.regime in REGIMES, one
        assert source(one.source), one
        assert one.rule, one
        assert one.message, one
        assert "None" not in one.message, one
        assert not one.message.endswith((" ", ";")), one
        for value in (one.value, one.limit):
            assert fits(value, one.unit), one
        return one

    monkeypatch.setattr(Finding, "__new__", checked)


def fits(value: Value, unit: str) -> bool:
    """Whether a value is said as its unit asks for it."""
    if unit == "":
        return value is None or isinstance(value, str)
    if not isinstance(value, float):
        return value is None or isinstance(value, (int, str))
    return unit == "ppm" or round(value, MOST_DECIMALS[unit]) == value
