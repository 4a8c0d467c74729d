"""The files beside an entry: readings of probes, pictures. What they hold, and what is wrong with them."""

from __future__ import annotations

from pathlib import Path

from cookbook.errors import ERROR, WARNING, Problem
from cookbook.files import Node
from cookbook.journal import Entry, readings
from cookbook.journal.readings import Reading
from cookbook.kitchen.kitchen import Kitchen


def folder_of(kitchen: Kitchen, entry: Entry) -> Path:
    """The folder that the entry's own file lies in."""
    return next(path for path in kitchen.entry_paths() if path.stem == entry.name).parent


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
        more, faults = readings.read_csv(data, kitchen.shown(folder_of(kitchen, entry) / name))
        found += more
        problems += faults
    return readings.in_order(found), problems


def photo_faults(kitchen: Kitchen, entry: Entry) -> list[Problem]:
    """Pictures that the entry names and that are missing, or no longer the ones that were logged."""
    from cookbook.kitchen.undoing import sha256

    problems: list[Problem] = []
    node = entry.fields.nodes.get("photos")
    for photo, where in zip(entry.fields.get("photos") or (), node.items if node is not None else (), strict=True):
        path = photo if isinstance(photo, str) else photo["path"]
        digest = None if isinstance(photo, str) else photo.get("digest")
        data, fault = _beside(kitchen, entry, path, where, "photo")
        problems += [one._replace(severity=WARNING) for one in fault]
        if data is not None and digest is not None and sha256(data) != digest:
            message = f"{path} is no longer the picture that was logged"
            mend = "bring the old one back, or take `digest:` away"
            problems.append(Problem(WARNING, "photo", message, entry.document.place(where), mend))
    return problems


def _beside(kitchen: Kitchen, entry: Entry, name: str, where: Node, code: str) -> tuple[bytes | None, list[Problem]]:
    """The bytes of a file beside the entry, or why there are none."""
    place = entry.document.place(where)
    if Path(name).name != name:
        message, mend = f"'{name}' is no file beside the entry", "name a file in the entry's own folder"
        return None, [Problem(ERROR, code, message, place, mend)]
    try:
        return (folder_of(kitchen, entry) / name).read_bytes(), []
    except OSError as fault:
        message = f"{name} could not be read: {fault.strerror}"
        return None, [Problem(ERROR, code, message, place, "bring the file back, or take the line out")]
