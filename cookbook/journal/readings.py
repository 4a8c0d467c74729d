"""Readings: those logged one by one as events, and a CSV file beside the entry, in one list by time.

The file is ours and plain: a header with `at` (RFC 3339) and columns named like `core °C`, `pit °C`, `surface °F`;
an empty cell is no reading.
"""

from __future__ import annotations

import csv
import io
from datetime import datetime
from typing import NamedTuple

from cookbook.errors import ERROR, Place, Problem
from cookbook.journal.field import moment
from cookbook.journal.model import Entry
from cookbook.journal.probe import PROBES
from cookbook.quantity import Temperature


class Reading(NamedTuple):
    """Temperatures in °C at one moment; None where that probe wasn't read."""

    at: datetime
    core_c: float | None = None
    surface_c: float | None = None
    pit_c: float | None = None
    piece: str | None = None


def of(entry: Entry, sidecar: bytes | None = None, shown: str = "readings") -> tuple[list[Reading], list[Problem]]:
    """All readings of an entry by time, and what could not be read in the file beside it."""
    found = [
        Reading(event.at, _c(event.core), _c(event.surface), _c(event.pit), event.piece)
        for event in entry.events
        if any(getattr(event, probe) is not None for probe in PROBES)
    ]
    problems: list[Problem] = []
    if sidecar is not None:
        more, problems = read_csv(sidecar, shown)
        found += more
    return sorted(found, key=lambda reading: reading.at), problems


def _c(value: Temperature | None) -> float | None:
    return value.c if value is not None else None


def read_csv(data: bytes, shown: str) -> tuple[list[Reading], list[Problem]]:
    """Readings of a CSV file; every line that can't be read is a problem, the others count."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return [], [Problem(ERROR, "not-utf-8", "the readings are not UTF-8 text", Place(shown, 1, 1))]
    rows = csv.reader(io.StringIO(text))
    head = [cell.strip() for cell in next(rows, [])]
    columns = {
        probe: (place, cell.rpartition(" ")[2])
        for place, cell in enumerate(head)
        for probe in PROBES
        if cell.partition(" ")[0] == probe
    }
    if "at" not in head or not columns or any(scale not in ("°C", "°F", "C", "F") for _, scale in columns.values()):
        return [], [
            Problem(
                ERROR,
                "readings-header",
                f"the first line is '{','.join(head)}'",
                Place(shown, 1, 1),
                "write it like: at,core °C,pit °C",
            )
        ]
    found, problems = [], []
    for number, row in enumerate(rows, 2):
        if not any(cell.strip() for cell in row):
            continue
        try:
            values = {
                probe: Temperature.parse(f"{row[place]} {scale}").c
                for probe, (place, scale) in columns.items()
                if place < len(row) and row[place].strip()
            }
            found.append(
                Reading(moment(row[head.index("at")]), values.get("core"), values.get("surface"), values.get("pit"))
            )
        except (ValueError, IndexError) as fault:
            problems.append(
                Problem(
                    ERROR,
                    "reading",
                    f"this line can't be read: {fault}",
                    Place(shown, number, 1, 1, ",".join(row)),
                    "write it like: 2026-11-21T11:05:00+01:00,48.5,121",
                )
            )
    return found, problems
