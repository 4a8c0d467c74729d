"""Days in the refrigerator, garlic and fresh herbs in oil, and the acid line that only a measurement can draw."""

from __future__ import annotations

from math import isfinite

from cookbook.errors import RequestError, UnknownName
from cookbook.safety.finding import HOUSEHOLD, NOTE, RETAIL, STOP, WARN, Finding
from cookbook.table import rows

ACID_PH = 4.6
DRY_AW = 0.85


def oil_days() -> tuple[float, float]:
    """Days that garlic or fresh herbs in oil keep in the refrigerator: what cards say, and after which it stops."""
    pages = rows("safety_oil_keeping")
    return (min(float(page["low_days"]) for page in pages),
            max(float(page["high_days"]) for page in pages if page["stops"] == "true"))


def oil_keeping_finding(days: float, refrigerated: bool = True, frozen: bool = False, ph: float | None = None,
                        aw: float | None = None) -> Finding:
    """How long garlic or fresh herbs in oil have been kept, in days since they were put together.

    `frozen` says that it was frozen in time; `refrigerated` is False where it stood at room temperature, whatever
    came after.
    A *measured* pH or water activity past the acid line takes the day limit off; an ingredient never does.
    """
    _days(days)
    advised, end = oil_days()
    if (ph is not None or aw is not None) and acid_line(ph, aw) != "low-acid":
        return Finding("acid line", NOTE, ph if ph is not None else aw, ACID_PH if ph is not None else DRY_AW,
                       "regulation", "cfr-21-114-3", "pH" if ph is not None else "aw",
                       "garlic or fresh herbs in oil: measured past the line under which spores don't grow; the day "
                       "limit does not apply")
    if not refrigerated:
        return _oil(STOP, days, 0.0, "kept at room temperature: throw it away without tasting")
    if frozen:
        return _oil(NOTE, days, end, "frozen, it keeps for months; use it within 2 days of thawing")
    if days > end:
        return _oil(STOP, days, end, f"older than {end:g} days: throw it away without tasting")
    if days > advised:
        return _oil(WARN, days, advised, f"past the {advised:g} days of the strictest page; {_conflict()}")
    return _oil(NOTE, days, advised, f"use within {advised:g} days, refrigerated, or freeze it; {_conflict()}")


def acid_line(ph: float | None, aw: float | None = None) -> str:
    """`acid`, `dry` or `low-acid` of a measured equilibrium pH and water activity (21 CFR 114.3).

    pH up to 4.6 is acid or acidified; above it, water activity up to 0.85 is dry; everything else is low-acid.
    """
    if ph is None and aw is None:
        raise RequestError("neither a pH nor a water activity was measured",
                           mend="measure one; vinegar or citrus among the ingredients proves nothing")
    if ph is not None and not (isfinite(ph) and 0 <= ph <= 14):
        raise RequestError(f"{ph} is no pH", mend="a pH is from 0 to 14")
    if aw is not None and not (isfinite(aw) and 0 <= aw <= 1):
        raise RequestError(f"{aw} is no water activity", mend="a water activity is from 0 to 1")
    if ph is not None and ph <= ACID_PH:
        return "acid"
    return "dry" if aw is not None and aw <= DRY_AW else "low-acid"


def keeping_finding(what: str, days: float) -> Finding:
    """Days that something has been refrigerated: a note, a warning past the strictest, a stop past the longest.

    `what` is `leftovers`, `raw poultry`, `raw ground meat`, `raw seafood`, `raw meat` or `ready to eat, retail`.
    """
    _days(days)
    table = {row["what"]: row for row in rows("safety_keeping")}
    if what not in table:
        raise UnknownName("thing to keep", what, sorted(table))
    row = table[what]
    low, high = float(row["low_days"]), float(row["high_days"])
    level, limit = (STOP, high) if days > high else (WARN, low) if days > low else (NOTE, low)
    span = f"{low:g} days" if low == high else f"{low:g} to {high:g} days"
    said = {STOP: "longer than that: throw it away", WARN: "use or freeze it now", NOTE: "within it"}[level]
    return Finding(f"keeping, {what}", level, days, limit, RETAIL if what.endswith("retail") else HOUSEHOLD,
                   row["source"], "days",
                   f"{what} {'keep' if what.endswith('s') else 'keeps'} {span} at or below 40 °F (4.4 °C); "
                   f"{days:g} days is {said}")


def keeping_days(what: str) -> tuple[float, float, str]:
    """Days that something keeps refrigerated, by the strictest and the longest page, and the source's key."""
    row = next(row for row in rows("safety_keeping") if row["what"] == what)
    return float(row["low_days"]), float(row["high_days"]), row["source"]


def raw_for(species: str, ground: bool = False) -> str:
    """The row of raw keeping for a species: poultry and ground meat keep shorter than whole cuts."""
    if species in ("chicken", "turkey", "duck", "goose"):
        return "raw poultry"
    if species in ("fish", "shellfish"):
        return "raw seafood"
    return "raw ground meat" if ground else "raw meat"


def raw_contact_finding(what: str, served: bool, boiled: bool = False) -> Finding:
    """A marinade, brush or paste that touched raw meat: a note while it is left over, a stop once served unboiled."""
    said = (f"{what} touched raw meat and was boiled" if boiled else
            f"{what} touched raw meat: boil it, or throw it away; only what was set aside before is served")
    return Finding("raw contact", STOP if served and not boiled else NOTE, "boiled" if boiled else "raw",
                   "boiled or set aside", HOUSEHOLD, "usda-raw-meat", "", said)


def _oil(level: str, days: float, limit: float, said: str) -> Finding:
    return Finding("garlic in oil", level, days, limit, HOUSEHOLD, "pnw-664", "days",
                   f"garlic or fresh herbs in oil: {said}")


def _conflict() -> str:
    said = (f"{page['who']} {page['low_days']}" + (f"-{page['high_days']}" if page["high_days"] != page["low_days"]
            else "") + (" (from memory)" if page["memory"] == "true" else "") for page in rows("safety_oil_keeping"))
    return "published days differ: " + ", ".join(said)


def _days(days: float) -> None:
    if not (isfinite(days) and days >= 0):
        raise RequestError(f"{days} is no number of days", mend="count from 0, the day it was made")
