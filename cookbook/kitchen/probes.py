"""The readings of an entry: those logged one by one, and the file of readings beside it."""

from __future__ import annotations

from pathlib import Path

from cookbook.errors import ERROR, Problem
from cookbook.journal import Entry, readings
from cookbook.journal.readings import Reading
from cookbook.kitchen.kitchen import Kitchen


def readings_of(kitchen: Kitchen, entry: Entry) -> tuple[list[Reading], list[Problem]]:
    """All readings of an entry by time, with every line of the file beside it that can't be read."""
    if entry.readings is None:
        return readings.of(entry)
    if Path(entry.readings).name != entry.readings:
        message = f"'{entry.readings}' is no file beside the entry"
        return readings.of(entry)[0], [_problem(entry, message, "name a file in the entry's own folder")]
    path = kitchen.entry_path(entry).parent / entry.readings
    try:
        data = path.read_bytes()
    except OSError as fault:
        message = f"{entry.readings} could not be read: {fault.strerror}"
        return readings.of(entry)[0], [_problem(entry, message, "bring the file back, or take the line out")]
    return readings.of(entry, data, kitchen.shown(path))


def _problem(entry: Entry, message: str, mend: str) -> Problem:
    return Problem(ERROR, "readings", message, entry.document.place(entry.fields.nodes["readings"]), mend)
