"""Thawing: how long a frozen piece takes in the refrigerator or in cold water, and what is never done."""

from __future__ import annotations

from math import isfinite
from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.safety.oven import POUND_G
from cookbook.table import rows


class Thaw(NamedTuple):
    """Hours from and to, what to heed, the key of the source."""

    low_h: float
    high_h: float
    rule: str
    source: str
    memory: bool


def thaw(mass_g: float, method: str = "refrigerator") -> Thaw:
    """Hours that a frozen piece takes. `method` is `refrigerator` or `cold water`.

    Source: FSIS, 24 h per 5 to 4 lb in the refrigerator, 30 min per lb in cold water; a small package a day.
    Raises RequestError for a weight that is none, and for methods that give no time or are not safe.
    """
    pounds = _pounds(mass_g)
    mine = [row for row in rows("safety_thawing") if row["method"] == method]
    rates = [row for row in mine if row["per_lb"] == "true"]
    if not rates:
        raise RequestError(*_refusal(method, mine))
    small = [row for row in mine if row["item"] == "small package" and pounds <= float(row["to_lb"])]
    if small and small[0]["low_h"]:
        return _read(small[0])
    return _read(rates[0], pounds)


def thaw_band(mass_g: float, item: str = "turkey", method: str = "refrigerator") -> Thaw | None:
    """The printed band for a bird of this weight, its lower edge in it; None outside the bands."""
    pounds = _pounds(mass_g)
    for row in rows("safety_thawing"):
        if (row["method"], row["item"]) != (method, item):
            continue
        if float(row["from_lb"]) <= pounds < float(row["to_lb"]):
            return _read(row)
    return None


def _read(row: dict[str, str], times: float = 1.0) -> Thaw:
    return Thaw(float(row["low_h"]) * times, float(row["high_h"]) * times, row["rule"], row["source"],
                row["memory"] == "true")


def _pounds(mass_g: float) -> float:
    if not (isfinite(mass_g) and mass_g > 0):
        raise RequestError(f"{mass_g} g is no weight", mend="give the frozen piece's weight")
    return round(mass_g / POUND_G, 6)


def _refusal(method: str, mine: list[dict[str, str]]) -> tuple[str]:
    if not mine:
        return (f"'{method}' is no way of thawing known here: refrigerator or cold water",)
    return (f"no time is given for thawing by {method}: {mine[0]['rule']}",)
