"""What a core curve adds up to: conformance with a dwell table, and the forecast figure of an integrated reduction.

Conformance counts each moment by the printed row at or below it, adds the parts of the row's dwell, and gives nothing
below the table. The forecast figure runs straight in the logarithm between rows and is no verdict.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise
from math import exp, expm1, floor, fsum, isfinite, log
from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.safety.curve import Curve, to_f
from cookbook.safety.dwell import Dwell, dwell_table

LOW_HOLD_F = 135
"""Below this a hold that agrees with the table was not seen to do the same in meat (McMinn 2018)."""

_WHOLE = 1 - 1e-9


class Lethality(NamedTuple):
    """The integrated reduction (a forecast figure, log10) and whether the curve conforms with the table."""

    log10_reduction: float
    conforms: bool


class Conformance(NamedTuple):
    """How a curve stands to a dwell table.

    `fraction` is the sum of the parts of each row's dwell; `how` is `instant`, `one hold`, `parts` or `none`;
    `row_f` the row that the instant or the one hold is on; `low` says that it rests on time below 135 °F.
    """

    conforms: bool
    fraction: float
    how: str
    row_f: int | None
    low: bool


def lethality(times_s: Sequence[float], core_c: Sequence[float], product: str, log10: float | None = None,
              fat_percent: float | None = None) -> Lethality:
    """(log10 reduction, conforms) of a measured core: times [s] never falling, core [°C], straight in between.

    Tables as in `required_dwell_s`. Raises RequestError that names the fault of the readings, UnknownName.

    >>> lethality([0, 3600, 7200], [5, 60, 60], "pork").conforms
    True
    """
    curve, table = Curve.of(times_s, core_c), dwell_table(product, log10, fat_percent)
    return Lethality(table_log10(curve, table), conformance(table, curve).conforms)


def conformance(table: Dwell, *curves: Curve) -> Conformance:
    """Whether the stretches of a curve conform together with a table by its floor rows, and what that rests on."""
    parts = {row: seconds / table.seconds_at(row) for row, seconds in row_seconds(table, *curves).items()}
    fraction = fsum(parts.values())
    above_low = fsum(part for row, part in parts.items() if row >= LOW_HOLD_F)
    if any(max(curve.core_f) >= table.instant_f for curve in curves):
        return Conformance(True, fraction, "instant", table.instant_f, False)
    if fraction < _WHOLE:
        return Conformance(False, fraction, "none", None, False)
    held = ((row, max(curve.longest_above_s(row) for curve in curves)) for row in reversed(table.rows_f))
    one = next((row for row, seconds in held if 0 < table.seconds_at(row) * _WHOLE <= seconds), None)
    return Conformance(True, fraction, "parts" if one is None else "one hold", one, above_low < _WHOLE)


def row_seconds(table: Dwell, *curves: Curve) -> dict[int, float]:
    """Seconds that the curves spent in each row with a dwell: at or above it and below the next."""
    spent: dict[int, float] = {}
    last = table.instant_f - 1
    for begin, end, first, then in (segment for curve in curves for segment in curve.segments()):
        low, high = min(first, then), max(first, then)
        if high < table.first_f:
            continue
        if low == high:
            row = min(floor(low), last)
            spent[row] = spent.get(row, 0.0) + end - begin
            continue
        for row in range(min(max(floor(low), table.first_f), last), min(floor(high), last) + 1):
            top = high if row == last else min(high, row + 1)
            share = (top - max(low, row)) / (high - low)
            spent[row] = spent.get(row, 0.0) + (end - begin) * share
    return spent


def table_log10(curve: Curve, table: Dwell) -> float:
    """The integrated reduction, log10: between rows straight in the logarithm, none below the first, no faster than
    the last row with a dwell."""
    return fsum(_segment_log10(begin, end, first, then, table) for begin, end, first, then in curve.segments())


def integrated_log10(times_s: Sequence[float], core_c: Sequence[float], *, d_s: float, at_c: float,
                     z_c: float) -> float:
    """The reduction of a curve by one decimal reduction time `d_s` [s] at `at_c` [°C] and one slope `z_c` [°C].

    Closed form on each straight stretch; for comparison with published D and z, never for a verdict.
    """
    for value, what in ((d_s, "decimal reduction time"), (z_c, "slope")):
        if not (isfinite(value) and value > 0):
            raise RequestError(f"{value} is no {what}", mend="give a number above 0")
    curve = Curve.of(times_s, core_c)
    at_f, z_f = to_f(at_c), z_c * 1.8
    return fsum(
        (end - begin) / d_s * 10 ** ((first - at_f) / z_f) * _growth((then - first) * log(10) / z_f)
        for begin, end, first, then in curve.segments()
    )


def _segment_log10(begin: float, end: float, first: float, then: float, table: Dwell) -> float:
    low, high = min(first, then), max(first, then)
    if low == high:
        return (end - begin) * _rate(low, table)
    cuts = [low, *(row for row in range(floor(low) + 1, floor(high) + 1) if row < high), high]
    total = 0.0
    for cold, hot in pairwise(cuts):
        slope = log(_rate(hot, table) / _rate(cold, table)) if _rate(cold, table) else 0.0
        total += (end - begin) * (hot - cold) / (high - low) * _rate(cold, table) * _growth(slope)
    return total


def _rate(core_f: float, table: Dwell) -> float:
    """log10 per second at a temperature."""
    if core_f < table.first_f:
        return 0.0
    at = bisect_right(table.rows_f, core_f) - 1
    last = table.rows_f.index(table.instant_f) - 1
    if at >= last:
        return table.log10 / table.seconds[last]
    share = core_f - table.rows_f[at]
    return table.log10 / exp((1 - share) * log(table.seconds[at]) + share * log(table.seconds[at + 1]))


def _growth(exponent: float) -> float:
    """The mean of e^x over 0 to `exponent`."""
    return expm1(exponent) / exponent if exponent else 1.0
