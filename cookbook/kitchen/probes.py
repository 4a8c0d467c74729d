"""The readings of an entry: those logged one by one, and those in the files beside it."""

from __future__ import annotations

import errno
from pathlib import Path

from cookbook.errors import ERROR, Problem
from cookbook.files import Node, plain_bytes
from cookbook.journal import Entry, readings
from cookbook.journal.readings import Reading
from cookbook.kitchen.kitchen import Kitchen

MOST_BYTES = 64 * 1024 * 1024
"""Days of readings every second are less; what is bigger is no probe's log."""


def bytes_of(path: Path) -> bytes:
    """What a file of readings holds. Raises OSError, for a pipe and for what is too big too."""
    data = plain_bytes(path, MOST_BYTES)
    if len(data) > MOST_BYTES:
        raise OSError(errno.EFBIG, f"it is bigger than {MOST_BYTES >> 20} MB")
    return data


def readings_of(kitchen: Kitchen, entry: Entry) -> tuple[list[Reading], list[Problem]]:
    """All readings of an entry by time: those logged one by one and those in the files beside it; and every line of
    these that can't be read."""
    found = readings.logged(entry)
    problems: list[Problem] = []
    node = entry.fields.nodes.get("readings")
    for name, where in zip(entry.readings, (node.items or [node]) if node is not None else (), strict=True):
        data, fault = _beside(kitchen, entry, name, where, "readings")
        if data is None:
            problems += fault
            continue
        more, faults = readings.read_csv(data, kitchen.shown(kitchen.entry_path(entry).parent / name))
        found += more
        problems += faults
    return readings.in_order(found), problems


def _beside(kitchen: Kitchen, entry: Entry, name: str, where: Node, code: str) -> tuple[bytes | None, list[Problem]]:
    """The bytes of a file beside the entry, or why there are none."""
    place = entry.document.place(where)
    if Path(name).name != name:
        message, mend = f"'{name}' is no file beside the entry", "name a file in the entry's own folder"
        return None, [Problem(ERROR, code, message, place, mend)]
    try:
        return bytes_of(kitchen.entry_path(entry).parent / name), []
    except OSError as fault:
        message = f"{name} could not be read: {fault.strerror}"
        return None, [Problem(ERROR, code, message, place, "bring the file back, or take the line out")]
