"""Was it better, and how do you know: outcomes of versions, recipes or conditions side by side, with their doubt.

Holds the groups, the differences with their intervals, the closed forms behind them, blind tastings, and the charts.
May be imported by publish, the command line and the page; it prints nothing.
"""

from __future__ import annotations

from cookbook.compare.cook import Expectation
from cookbook.compare.difference import Difference
from cookbook.compare.groups import (
    Choice,
    Comparison,
    Group,
    compare_by,
    compare_entries,
    compare_recipes,
    compare_versions,
)

__all__ = [
    "Choice",
    "Comparison",
    "Difference",
    "Expectation",
    "Group",
    "compare_by",
    "compare_entries",
    "compare_recipes",
    "compare_versions",
]
