"""The nutrition panel of a jar: sums of USDA's rows, rounded as the Code of Federal Regulations asks.

Rounding after 21 CFR 101.9(c) by FDA's Food Labeling Guide, appendix H (2009): halves go up. What USDA doesn't know
of one ingredient is not known of the jar: its line is named as missing, never given as zero.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import ROUND_HALF_UP, Decimal
from types import MappingProxyType
from typing import NamedTuple

from cookbook.publish import wording
from cookbook.quantity import lookup
from cookbook.quantity.salt import is_salt
from cookbook.quantity.weight import SALT_PER_SODIUM
from cookbook.table import rows

DAILY = {"fat_g": 78, "sodium_mg": 2300, "carbohydrate_g": 275, "fibre_g": 28}
"""Daily values in g (sodium in mg) by secondary sources on 21 CFR 101.9(c)(9)."""
NAMES = {
    "energy_kcal": "Calories",
    "fat_g": "Total fat",
    "sodium_mg": "Sodium",
    "carbohydrate_g": "Total carbohydrate",
    "fibre_g": "Dietary fibre",
    "sugars_g": "Total sugars",
    "protein_g": "Protein",
}
NOT_GIVEN = ("saturated fat", "trans fat", "cholesterol", "added sugars", "vitamin D", "calcium", "iron", "potassium")
"""Lines of the panel that USDA's rows here don't give."""


class Line(NamedTuple):
    """One line of the panel: what, how much as it is declared, percent of the daily value ('' without one)."""

    what: str
    declared: str
    percent: str


class Panel(NamedTuple):
    """The panel for a serving in g; `missing` names each line that can't be told, and why."""

    serving_g: float
    lines: tuple[Line, ...]
    missing: tuple[str, ...]


def declared(nutrient: str, value: float) -> str:
    """A value per serving as the panel declares it."""
    exact = Decimal(repr(value))
    if nutrient == "energy_kcal":
        return "0" if exact < 5 else str(_nearest(exact, 5 if exact <= 50 else 10))
    if nutrient == "sodium_mg":
        return "0 mg" if exact < 5 else f"{_nearest(exact, 5 if exact <= 140 else 10)} mg"
    if nutrient == "fat_g":
        if exact < Decimal("0.5"):
            return "0 g"
        return f"{_nearest(exact, Decimal('0.5') if exact < 5 else 1)} g"
    if exact < Decimal("0.5"):
        return "0 g"
    return "less than 1 g" if exact < 1 else f"{_nearest(exact, 1)} g"


def percent(nutrient: str, value: float) -> str:
    """Percent of the daily value, halves up; '' where there is none."""
    if nutrient not in DAILY:
        return ""
    return f"{_nearest(Decimal(repr(value)) / DAILY[nutrient] * 100, 1)} %"


def _nearest(value: Decimal, step: Decimal | int) -> Decimal:
    return (value / step).quantize(Decimal(1), ROUND_HALF_UP) * step


def panel(items: Sequence[tuple[str, float]], serving_g: float, called: Mapping[str, str] = MappingProxyType({})
          ) -> Panel:
    """The panel of a jar that holds these items in g; `called` is what to call those that may not be named."""
    table = {row["id"]: row for row in rows("nutrients")}
    total = sum(grams for _, grams in items)
    lines: list[Line] = []
    missing: dict[str, list[str]] = {}
    for nutrient, name in NAMES.items():
        known = [(item, grams, _per_g(item, nutrient, table)) for item, grams in items]
        unknown = dict.fromkeys(called.get(item, item) for item, _, value in known if value is None)
        if unknown or not total:
            missing.setdefault(wording.row(list(unknown)), []).append(name)
            continue
        value = sum(grams * (each or 0.0) for _, grams, each in known) / total * serving_g
        lines.append(Line(name, declared(nutrient, value), percent(nutrient, value)))
    told = [f"{', '.join(names)}: not known of {items}" for items, names in missing.items()]
    return Panel(serving_g, tuple(lines), (*told, f"not in these tables: {', '.join(NOT_GIVEN)}"))


def _per_g(item: str, nutrient: str, table: Mapping[str, Mapping[str, str]]) -> float | None:
    if is_salt(item):
        return 1000 / SALT_PER_SODIUM if nutrient == "sodium_mg" else 0.0
    row = lookup(item)
    cell = table.get(row.id, {}).get(nutrient, "") if row is not None else ""
    return float(cell) / 100 if cell else None
