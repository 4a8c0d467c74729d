"""Readings: those logged one by one as events, and the CSV files beside the entry, in one list by time.

Such a file is ours and plain: a header with `at` (RFC 3339) and columns named like `core °C`, `pit °C`, `surface °F`,
or `core left °C` where a probe has a name; an empty cell is no reading, one that `core mark` marks is not counted.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import NamedTuple

from cookbook.errors import ERROR, Place, Problem
from cookbook.journal.field import moment
from cookbook.journal.model import Entry
from cookbook.journal.probe import PROBES
from cookbook.quantity import Temperature


class Reading(NamedTuple):
    """Temperatures in °C at one moment; None where that probe wasn't read. `probe` is the name of one of several,
    `depth_cm` how deep below the surface it sat where somebody said so."""

    at: datetime
    core_c: float | None = None
    surface_c: float | None = None
    pit_c: float | None = None
    piece: str | None = None
    probe: str | None = None
    depth_cm: float | None = None


class _Column(NamedTuple):
    """A column with temperatures: its place, whose they are, their scale, and the place of its marks."""

    place: int
    role: str
    name: str | None
    scale: str
    mark: int | None


def logged(entry: Entry) -> list[Reading]:
    """The readings that were logged one by one, by time."""
    found = [
        Reading(
            event.at,
            _c(event.core),
            _c(event.surface),
            _c(event.pit),
            event.piece,
            event.probe,
            event.depth,
        )
        for event in entry.events
        if any(getattr(event, probe) is not None for probe in PROBES)
    ]
    return in_order(found)


def of(entry: Entry, sidecar: bytes | None = None, shown: str = "readings") -> tuple[list[Reading], list[Problem]]:
    """All readings of an entry by time, and what could not be read in the file beside it."""
    more, problems = read_csv(sidecar, shown) if sidecar is not None else ([], [])
    return in_order([*logged(entry), *more]), problems


def in_order(readings: Sequence[Reading]) -> list[Reading]:
    """Readings by time."""
    return sorted(readings, key=lambda reading: reading.at)


def of_one_core(readings: Sequence[Reading]) -> list[Reading]:
    """The readings of one core where several probes were in: those without a name, else those of the probe that was
    the coldest at the end, since that one decides. A probe at a said depth is another place and never the core."""
    cores = [reading for reading in readings if reading.core_c is not None and reading.depth_cm is None]
    last = {reading.probe: reading for reading in cores}
    if len(last) < 2:
        return cores
    chosen = None if None in last else min(last, key=lambda name: last[name].core_c or 0.0)
    return [reading for reading in cores if reading.probe == chosen]


def _c(value: Temperature | None) -> float | None:
    return value.c if value is not None else None


def read_csv(data: bytes, shown: str) -> tuple[list[Reading], list[Problem]]:
    """Readings of a CSV file; every line that can't be read is a problem, the others count."""
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return [], [Problem(ERROR, "not-utf-8", "the readings are not UTF-8 text", Place(shown, 1, 1))]
    lines = csv.reader(io.StringIO(text, newline=""))
    rows = _rows(lines)
    head = [cell.strip() for cell in next(rows, [])]
    columns = _columns(head)
    if "at" not in head or not columns:
        message = f"the first line is '{','.join(head)}'"
        mend = "write it like: at,core °C,pit °C; or let `cookbook log import` read the file"
        return [], [Problem(ERROR, "readings-header", message, Place(shown, 1, 1), mend)]
    found: list[Reading] = []
    problems = []
    for row in rows:
        if not any(cell.strip() for cell in row):
            continue
        try:
            found += _row(row, head, columns)
        except (ValueError, IndexError) as fault:
            place = Place(shown, lines.line_num, 1, 1, ",".join(row))
            mend = "write it like: 2026-11-21T11:05:00+01:00,48.5,121"
            problems.append(Problem(ERROR, "reading", f"this line can't be read: {fault}", place, mend))
    return found, problems


def _rows(lines: Iterator[list[str]]) -> Iterator[list[str]]:
    """The cells of every line; of one that is no CSV, what is wrong with it, which no reader takes for a reading."""
    while True:
        try:
            yield next(lines)
        except StopIteration:
            return
        except csv.Error as fault:
            yield [str(fault)]


def _columns(head: Sequence[str]) -> list[_Column]:
    """The columns that hold temperatures; none where one of them can't be understood."""
    found = []
    for place, title in enumerate(head):
        role, _, rest = title.partition(" ")
        name, _, scale = rest.rpartition(" ")
        if role not in PROBES or rest.split(" ")[-1] == "mark":
            continue
        if scale.removeprefix("°") not in ("C", "F"):
            return []
        mark = f"{role} {name}".strip() + " mark"
        found.append(_Column(place, role, name or None, scale, head.index(mark) if mark in head else None))
    return found


def _row(row: Sequence[str], head: Sequence[str], columns: Sequence[_Column]) -> list[Reading]:
    """One reading for every probe name of a row. Raises ValueError, IndexError."""
    at = moment(row[head.index("at")])
    piece = row[head.index("piece")].strip() or None if "piece" in head else None
    values: dict[str | None, dict[str, float]] = {}
    for column in columns:
        cell = row[column.place].strip() if column.place < len(row) else ""
        marked = column.mark is not None and column.mark < len(row) and row[column.mark].strip()
        if cell and not marked:
            degrees = Temperature.parse(f"{cell} {column.scale}").c
            values.setdefault(column.name, {})[column.role] = degrees
    return [
        Reading(at, one.get("core"), one.get("surface"), one.get("pit"), piece, name) for name, one in values.items()
    ] or [Reading(at, piece=piece)]
