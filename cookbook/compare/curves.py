"""Core temperatures of several cooks over each other, clocks set to one moment: on, the pull, or a temperature."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from itertools import pairwise

from cookbook.errors import RequestError
from cookbook.journal import Entry
from cookbook.journal.outcome import moment_of
from cookbook.journal.readings import Reading
from cookbook.kitchen import Kitchen
from cookbook.picture import Chart, Line, Table
from cookbook.quantity import Temperature

ON, PULL = "on", "pull"


def curves(kitchen: Kitchen, entries: Sequence[Entry], align: str = ON) -> Chart:
    """The core of every cook in minutes from the aligning moment; cooks that never reached it are left out.

    `align` is `on`, `pull` or a temperature such as `30C`. Raises RequestError where no curve is left.
    """
    at_c = None if align in (ON, PULL) else Temperature.parse(align).c
    lines: list[Line] = []
    rows: list[tuple[str, ...]] = []
    for entry in entries:
        cores = [(one.at, one.core_c) for one in kitchen.readings(entry) if one.core_c is not None]
        zero = moment(entry, kitchen.readings(entry), align, at_c)
        if zero is None or len(cores) < 2:
            continue
        points = tuple(((at - zero).total_seconds() / 60, core) for at, core in cores)
        number = f"{len(lines) + 1}"
        lines.append(Line(f"{number} {entry.date}", points, dashed=len(lines) % 2 == 1, sign=number[-1]))
        rows.append(
            (number, entry.name, f"{points[0][0]:.0f}", f"{points[-1][0]:.0f}", f"{max(cores_of(points)):.0f}")
        )
    if not lines:
        raise RequestError(
            f"none of these cooks has two core readings and a moment '{align}'",
            mend="curves align at on, at pull, or at a temperature that every core passed: --align 30C",
        )
    said = {ON: "it went on", PULL: "it came off"}.get(align, f"the core passed {align}")
    head = ("number", "entry", "first minute", "last minute", "highest °C")
    told = f"Core temperatures of {len(lines)} cooks, in minutes from the moment {said}."
    return Chart(
        f"core temperatures from the moment {said}",
        told,
        f"minutes from the moment {said}",
        "core, °C",
        tuple(lines),
        Table(head, tuple(rows)),
    )


def cores_of(points: Sequence[tuple[float, float]]) -> list[float]:
    """The temperatures of a curve."""
    return [core for _, core in points]


def moment(entry: Entry, readings: Sequence[Reading], align: str, at_c: float | None) -> datetime | None:
    """The aligning moment of one cook, between two readings by a straight line; None where it never came."""
    if at_c is None:
        return moment_of(entry, "on" if align == ON else "pulled")
    cores = [(one.at, one.core_c) for one in readings if one.core_c is not None]
    for (one, below), (two, above) in pairwise(cores):
        if below < at_c <= above:
            return one + (two - one) * ((at_c - below) / (above - below))
    return None
