"""What a check found, and the sources behind it."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from cookbook.table import source

STOP, WARN, NOTE = "stop", "warn", "note"
LEVELS = (STOP, WARN, NOTE)

HOUSEHOLD, PLANT, RETAIL = "household", "inspected plant", "retail"
"""Whose rule it is: the consumer charts, the guidelines for inspected plants, the Food Code for retail."""

_REGIMES = (HOUSEHOLD, "household, Canada", "household, UK", RETAIL, PLANT)

Value = float | str | None


class Finding(NamedTuple):
    """One check's outcome. `value` and `limit` are in `unit`; `source` is a key of the bibliography."""

    rule: str
    level: str
    value: Value
    limit: Value
    regime: str
    source: str
    unit: str = ""
    message: str = ""

    @property
    def memory(self) -> bool:
        """Whether the source was written down from memory and never re-read."""
        return source(self.source).memory

    def json(self) -> dict[str, object]:
        """The finding as `safety --json` lists it."""
        return {**self._asdict(), "memory": self.memory}


def by_gravity(findings: Iterable[Finding]) -> list[Finding]:
    """Gravest first; among equals the household's rule leads, then retail, then the inspected plant's."""
    return sorted(findings, key=lambda found: (LEVELS.index(found.level), _regime(found.regime)))


def _regime(name: str) -> int:
    return _REGIMES.index(name) if name in _REGIMES else len(_REGIMES)
