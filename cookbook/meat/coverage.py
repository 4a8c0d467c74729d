"""What this cook's own hand puts on: coverage over past cooks, and what stays in the bowl and on the board.

Plain records from plain numbers; whoever keeps the journal gathers them.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt
from typing import NamedTuple


class Learned(NamedTuple):
    """Mean and standard deviation of a number over past cooks; the spread is None of a single one."""

    mean: float
    spread: float | None
    cooks: int


class Weighing(NamedTuple):
    """One bowl of the past: grams made, grams left in it afterwards, grams that fell on the board."""

    made_g: float
    left_g: float
    board_g: float = 0.0

    @property
    def spare(self) -> float:
        """The share that did not go on the meat."""
        return (self.left_g + self.board_g) / self.made_g


def learned(values: Sequence[float]) -> Learned | None:
    """Mean and spread of past numbers, None without any."""
    if not values:
        return None
    mean = sum(values) / len(values)
    if len(values) < 2:
        return Learned(mean, None, 1)
    return Learned(mean, sqrt(sum((value - mean) ** 2 for value in values) / (len(values) - 1)), len(values))


def spare(weighings: Sequence[Weighing]) -> Learned | None:
    """The share of a bowl that stays behind, over past cooks."""
    return learned([one.spare for one in weighings if one.made_g > 0])


def with_spare(needed_g: float, spare_share: float) -> float:
    """Grams to make so that `needed_g` reach the meat when a share (0 or more, below 1) stays behind."""
    return needed_g / (1 - spare_share)


def own_hand(recipe_g_per_cm2: float, own: Learned | None) -> str | None:
    """A sentence where this cook's own coverage differs from the recipe's, else None.

    With two cooks or more it differs when the recipe lies beyond the mean's own doubt (two standard errors) and by
    more than a tenth; with one, or none, it can't be told.
    """
    if own is None or own.spread is None:
        return None
    doubt = 2 * own.spread / sqrt(own.cooks)
    gap = own.mean - recipe_g_per_cm2
    if abs(gap) <= max(doubt, 0.1 * recipe_g_per_cm2):
        return None
    more = "more" if gap > 0 else "less"
    return (f"your own {own.cooks} cooks put on {1000 * own.mean:.0f} mg on each cm² (give or take "
            f"{1000 * own.spread:.0f}), {abs(gap) / recipe_g_per_cm2:.0%} {more} than the recipe's "
            f"{1000 * recipe_g_per_cm2:.0f} mg")
