"""Was it better, and how do you know: outcomes of versions or recipes side by side, with their uncertainty.

Holds the groups, the differences with their intervals, and the closed forms behind them.
May be imported by publish, the command line and the page; it prints nothing.
"""

from __future__ import annotations

from cookbook.compare.groups import Comparison, Difference, Group, compare_recipes, compare_versions

__all__ = ["Comparison", "Difference", "Group", "compare_recipes", "compare_versions"]
