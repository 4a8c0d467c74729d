"""Thawing: how long a frozen piece takes in the refrigerator or in cold water, and what is never done."""

from __future__ import annotations

from math import isfinite
from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.safety.finding import HOUSEHOLD, NOTE, STOP, WARN, Finding
from cookbook.safety.oven import POUND_G
from cookbook.table import rows

COUNTER_H = 2.0


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


def thawing_finding(mass_g: float | None, method: str | None, hours: float | None, species: str) -> Finding:
    """How a piece was thawed against what thaws it: `method` as in the table, None where nobody said it.

    The counter is a stop past two hours; too short a time is a warning, since the middle may still be frozen.
    """
    mine = [row for row in rows("safety_thawing") if row["method"] == method]
    if not mine:
        return Finding("thawing", NOTE, hours and round(hours, 1), None, HOUSEHOLD, "usda-thawing", "h",
                       "thawed, nobody wrote down how: in the refrigerator, in cold water changed every 30 minutes, "
                       "or in the microwave and cooked at once; never on the counter")
    row, took = mine[0], f"{hours:.1f} h" if hours is not None else "nobody wrote down how long"
    shown = None if hours is None else round(hours, 1)
    if method == "counter":
        long = hours is not None and hours > COUNTER_H
        return Finding("thawing", STOP if long else WARN, shown, COUNTER_H, HOUSEHOLD, row["source"], "h",
                       f"thawed on the counter ({took}): no safe way, the outside grows warm, the middle is frozen"
                       + ("; longer than 2 h: throw it away" if long else ""))
    if method not in ("refrigerator", "cold water"):
        said = f"thawed by {method}: {row['rule']}"
        return Finding("thawing", NOTE, shown, None, HOUSEHOLD, row["source"], "h", said)
    return _timed(mass_g, method, hours, species, took, row["source"])


def _timed(mass_g: float | None, method: str, hours: float | None, species: str, took: str, where: str) -> Finding:
    asks = None
    if mass_g is not None:
        asks = (thaw_band(mass_g, method=method) if species == "turkey" else None) or thaw(mass_g, method)
    short = asks is not None and hours is not None and hours < asks.low_h
    at_once = "; what thawed in water is cooked at once" if method == "cold water" else ""
    if asks is None:
        needs = "nobody weighed it, so what it takes can't be said"
    else:
        needs = (f"a piece of this weight takes about {asks.low_h:.0f} h" if round(asks.low_h) == round(asks.high_h)
                 else f"a piece of this weight takes {asks.low_h:.0f} to {asks.high_h:.0f} h")
    said = "; its middle may still have been frozen, and then its cook takes longer" if short else ""
    return Finding("thawing", WARN if short else NOTE, None if hours is None else round(hours, 1),
                   None if asks is None else round(asks.low_h, 1), HOUSEHOLD, asks.source if asks else where, "h",
                   f"thawed in {'the ' if method == 'refrigerator' else ''}{method}, {took}; {needs}{said}{at_once}")


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
