"""Trichinella in pork and game: heat and freezing as the old rule printed them. No verdict on Salmonella."""

from __future__ import annotations

from math import isfinite

from cookbook.errors import RequestError
from cookbook.quantity.number import tenth
from cookbook.safety.curve import Curve, floor_row, to_f
from cookbook.safety.finding import NOTE, PLANT, WARN, Finding
from cookbook.table import rows

SOURCE = "cfr-9-318-10"
SPECIES = ("pork", "game")
_GROUP_1_CM, _GROUP_2_CM = 6 * 2.54, 27 * 2.54


def trichinella_heat_s(core_f: float) -> float:
    """Seconds that every part must stay at `core_f` [°F] or above, by the row at or below it; 0 from 144 °F on."""
    row_f = floor_row(core_f)
    fit = [row for row in _of("heat") if float(row["temp_F"]) <= row_f]
    if not fit:
        raise RequestError(f"{core_f:g} °F is outside the table, which begins at 120 °F",
                           mend="only time at 120 °F and above counts")
    return float(fit[-1]["time_s"])


def trichinella_safe(curve: Curve) -> bool:
    """Whether one unbroken hold of a core curve meets a row of the heat table."""
    for row in _of("heat"):
        at, needed = float(row["temp_F"]), float(row["time_s"])
        held = bool(curve.above(at)) or max(curve.core_f) >= at
        if held and curve.longest_above_s(at) >= needed * (1 - 1e-9):
            return True
    return False


def trichinella_freeze_days(air_c: float, thickness_cm: float) -> float:
    """Days in a freezer at `air_c` [°C] or colder for pieces up to 6 in thick, or up to 27. Raises RequestError.

    Source: 9 CFR 318.10, groups 1 and 2; it does not cover the kinds in wild game that stand frost.
    """
    if not (isfinite(thickness_cm) and 0 < thickness_cm <= _GROUP_2_CM):
        raise RequestError(f"{thickness_cm} cm is outside the table, which ends at 27 in ({_GROUP_2_CM:.1f} cm)",
                           mend="give the thickness of the piece or layer")
    group = "1" if thickness_cm <= _GROUP_1_CM else "2"
    return _coldest(air_c, [row for row in _of("freeze") if row["group"] == group]) / 86400


def trichinella_frozen_hours(core_c: float) -> float:
    """Hours for which the inside must be at `core_c` [°C] or colder. Raises RequestError when that is too warm."""
    return _coldest(core_c, _of("freeze_internal")) / 3600


def trichinella_finding(*curves: Curve) -> Finding:
    """The heat table's verdict on the stretches of a core curve of pork or game."""
    safe = any(map(trichinella_safe, curves))
    hottest = max(core for curve in curves for core in curve.core_f)
    said = ("a hold of the Trichinella table was met; that is no verdict on Salmonella" if safe else
            "no hold of the Trichinella table was met (144 °F at once, 140 °F for 1 min, 130 °F for 30 min)")
    return Finding("trichinella", NOTE if safe else WARN, round(hottest, 1), 144.0, PLANT, SOURCE, "°F", said)


def _coldest(temp_c: float, table: list[dict[str, str]]) -> float:
    """Seconds of the coldest row that is still at or above a temperature."""
    temp_f = to_f(temp_c)
    fit = [row for row in table if temp_f <= float(row["temp_F"])]
    if not isfinite(temp_f) or not fit:
        raise RequestError(f"{tenth(temp_c)} °C is warmer than the freezing table's first row, "
                           f"{table[0]['temp_F']} °F",
                           mend="it must be that cold or colder")
    return float(min(fit, key=lambda row: float(row["temp_F"]))["time_s"])


def _of(treatment: str) -> list[dict[str, str]]:
    return [row for row in rows("safety_trichinella") if row["treatment"] == treatment]
