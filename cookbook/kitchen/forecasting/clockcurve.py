"""The curve of a cook so far by the clock, with the band of its forecast."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime, timedelta

from cookbook.journal import Entry
from cookbook.journal.outcome import moment_of
from cookbook.journal.readings import of_one_core
from cookbook.kitchen.forecasting.standing import Ahead
from cookbook.kitchen.kitchen import Kitchen
from cookbook.picture import Course, Table

_TICKS_MIN = (15, 30, 60, 120, 180, 240, 360)
_MOST_TICKS = 6


def clock_curve(kitchen: Kitchen, entry: Entry, one: Ahead, now: datetime) -> Course | None:
    """Core readings, the band and its middle, the pit dashed, by the clock; None where there is nothing to draw."""
    piece = one.piece or None
    on = moment_of(entry, "on", piece)
    rows = [row for row in kitchen.readings(entry) if piece is None or row.piece in (None, piece)]
    start = on or now
    scale = kitchen.settings.get("temperature") or "C"

    def shown(c: float) -> float:
        return c if scale == "C" else c * 9 / 5 + 32

    def minute(at: datetime) -> float:
        return (at - start).total_seconds() / 60

    cores = of_one_core(rows)
    read = tuple((minute(row.at), shown(row.core_c)) for row in cores if row.core_c is not None and row.at >= start)
    pit = tuple((minute(row.at), shown(row.pit_c)) for row in rows if row.pit_c is not None and row.at >= start)
    points = one.forecast.curve if one.forecast is not None else []
    band = tuple(
        (point.minute, shown(point.core_c.p10), shown(point.core_c.p90))
        for point in points
        if point.core_c.p10 is not None and point.core_c.p90 is not None
    )
    if not band and not read:
        return None
    middle = tuple((point.minute, shown(point.core_c.p50)) for point in points if point.core_c.p50 is not None)
    last = max([x for x, *_ in band] + [x for x, _ in read] + [1.0])
    marks = [(minute(now), "now")] if on is not None else []
    check = one.forecast.check_from_minutes if one.forecast is not None else None
    pulled = moment_of(entry, "pulled", piece)
    if pulled is not None:
        marks.append((minute(pulled), "pulled"))
    elif check is not None:
        marks.append((check, "check"))
    goal = one.forecast.pull_c if one.forecast is not None else None
    return Course(
        "Core and pit over the cook" + (f", {one.piece}" if one.piece else ""),
        "Dots are readings of the core; the hatched band holds eight of ten of what the forecast expects, "
        "the line is its middle; the pit is dashed.",
        f"°{scale}",
        band,
        middle,
        read,
        pit or tuple((point.minute, shown(point.pit_c)) for point in points),
        "pit",
        _clock_ticks(start, last) if on is not None else _hours(last),
        (shown(goal), f"pull {shown(goal):.0f}") if goal is not None else None,
        tuple(marks),
        _table(band, start, on is not None, scale),
    )


def _step(last: float) -> int:
    return next((step for step in _TICKS_MIN if last / step <= _MOST_TICKS), 480)


def _clock_ticks(start: datetime, last: float) -> tuple[tuple[float, str], ...]:
    """Full hours or parts of them by the clock."""
    step = _step(last)
    midnight = start.replace(hour=0, minute=0, second=0, microsecond=0)
    first = int((start - midnight).total_seconds() / 60 // step + 1) * step
    found = []
    for minute in range(first, first + int(last) + step, step):
        at = midnight + timedelta(minutes=minute)
        found.append(((at - start).total_seconds() / 60, f"{at:%H:%M}"))
    return tuple(found)


def _hours(last: float) -> tuple[tuple[float, str], ...]:
    """Hours and minutes from the meat going on."""
    step = _step(last)
    return tuple((float(m), f"{m // 60}:{m % 60:02d}") for m in range(0, int(last) + 1, step))


def _table(band: Sequence[tuple[float, float, float]], start: datetime, clock: bool, scale: str) -> Table:
    rows = tuple(
        (
            f"{start + timedelta(minutes=minute):%H:%M}" if clock else f"{minute:.0f} min",
            f"{low:.0f}",
            f"{high:.0f}",
        )
        for minute, low, high in band[:: max(1, len(band) // 8)]
    )
    return Table(("at", f"core low °{scale}", f"core high °{scale}"), rows)
