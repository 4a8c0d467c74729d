"""What sticks to a piece: grams per area, mean thickness, what a vertical face can hold."""

from __future__ import annotations

DENSITY = {"paste": 1.05, "rub": 0.5}
"""g/cm³ of a paste, and of a dry rub as it lies (common practice; from memory)."""


def coat_density(kind: str) -> float:
    """g/cm³ of a coat by the recipe's kind."""
    return DENSITY.get(kind, 1.0)


def thickness_mm(grams: float, area_cm2: float, kind: str) -> float:
    """Mean thickness in mm of so many grams on an area."""
    return 10 * grams / (coat_density(kind) * area_cm2)
