"""What raw meat of a cut is made of, and what is left of it after cooking: rows of the tables, typed."""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from cookbook.table import rows


class Composition(NamedTuple):
    """Shares of raw meat without bone as fractions, together about 1; `memory` where no table row was found.

    `row` is the description of the nutrient table's row and `ndb` its number, both empty where from memory.
    """

    water: float
    protein: float
    fat: float
    ash: float
    row: str = ""
    ndb: str = ""
    memory: bool = False


class Yield(NamedTuple):
    """Cooked weight as a share of raw weight, bone and all; a range where the source gives one."""

    method: str
    share: float
    low: float | None
    high: float | None
    note: str
    source: str


@cache
def composition(cut: str) -> Composition | None:
    """The composition of a reference cut, None where there is no row."""
    for row in rows("cut_compositions"):
        if row["cut"] == cut:
            water, protein, fat, ash = (float(row[part]) / 100 for part in ("water", "protein", "fat", "ash"))
            return Composition(water, protein, fat, ash, row["row"], row["ndb"], row["memory"] == "true")
    return None


@cache
def yields(cut: str) -> tuple[Yield, ...]:
    """Every yield known of a reference cut."""
    return tuple(
        Yield(row["method"], float(row["percent"]) / 100, _share(row["low"]), _share(row["high"]), row["note"],
              row["source"])
        for row in rows("cut_yields") if row["cut"] == cut)


def _share(percent: str) -> float | None:
    return float(percent) / 100 if percent else None
