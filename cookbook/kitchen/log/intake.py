"""Files that come to an entry from outside: a probe's log, a picture. The bytes that came are kept as they are."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path

from cookbook.errors import Conflict, RequestError
from cookbook.files import Edit, create, lock
from cookbook.journal import Entry
from cookbook.journal.probelog import ProbeLog
from cookbook.journal.writing import append, put
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.log import logbook
from cookbook.kitchen.log.loglines import photo
from cookbook.kitchen.log.undoing import Copy, sha256
from cookbook.kitchen.probes import bytes_of

FAR = timedelta(days=3)
"""Readings further than this from the day of the cook are surely another's; the longest roasts take two."""


def content(path: str | Path) -> bytes:
    """The bytes of a file that is to be taken in. Raises RequestError."""
    try:
        return bytes_of(Path(path))
    except OSError as fault:
        raise RequestError(f"{path} could not be read: {fault.strerror}", mend="is it the right file?") from None


def far_away(entry: Entry, log: ProbeLog) -> str | None:
    """A sentence where the readings are of other days than the cook."""
    days = [at.date() for at in log.at if at is not None]
    if not days or min(abs(day - entry.date) for day in days) <= FAR:
        return None
    return f"these readings are of {days[0]}, the cook is of {entry.date}; `cookbook log undo` takes them back"


def take_in(
    kitchen: Kitchen, entry: Entry, original: bytes, log: ProbeLog, piece: str | None, source: str | None = None
) -> tuple[Entry, str]:
    """Keep a probe's log beside the entry, its bytes as they came and the cleaned readings; the sidecar's name.

    `source` is the file that it came from: while that is there, undo removes its copy.

    The entry is told last: whoever is stopped before has changed nothing that counts, and may simply begin again.
    """
    cleaned = log.sidecar(piece)
    folder = kitchen.entry_path(entry).parent
    with lock(kitchen.root):
        number = 1
        while True:
            stem = entry.name if number == 1 else f"{entry.name}-{number}"
            if all(_free(folder / f"{stem}{end}", data) for end, data in _pair(original, cleaned)):
                break
            number += 1
        for end, data in _pair(original, cleaned):
            _keep(kitchen, folder / f"{stem}{end}", data)
        name = f"{stem}.csv"
        if name in kitchen.entry(entry.name).readings:
            raise RequestError(f"{name} holds these readings already", mend="nothing was changed")
        copies = [Copy(name, sha256(cleaned))]
        if source is not None:
            copies.append(Copy(f"{stem}.original.csv", sha256(original), str(Path(source).resolve())))
        return logbook.add(kitchen, entry, lambda edit: _named(edit, name), f"readings {name}", copies), name


def take_photo(kitchen: Kitchen, entry: Entry, path: str, caption: str | None) -> tuple[Entry, str]:
    """Keep a picture beside the entry, copied there where it isn't yet; what was logged."""
    data = content(path)
    source = Path(path)
    target = kitchen.entry_path(entry).parent / source.name
    line = photo(source.name, sha256(data), caption)
    with lock(kitchen.root):
        if not _free(target, data):
            raise RequestError(
                f"another picture beside the entry is called {source.name}", mend="give this one another name"
            )
        _keep(kitchen, target, data)
        copies = [Copy(source.name, sha256(data), str(source.resolve()))] if source.resolve() != target else []
        return logbook.add(kitchen, entry, line.change, line.words, copies), line.words


def _pair(original: bytes, cleaned: bytes) -> tuple[tuple[str, bytes], tuple[str, bytes]]:
    return (".original.csv", original), (".csv", cleaned)


def _free(path: Path, data: bytes) -> bool:
    """Whether the name is free, or holds these very bytes."""
    try:
        return not path.is_symlink() and bytes_of(path) == data
    except FileNotFoundError:
        return True
    except OSError:
        return False


def _keep(kitchen: Kitchen, path: Path, data: bytes) -> None:
    try:
        create(path, data, name=kitchen.shown(path))
    except Conflict as taken:
        if taken.theirs != data:
            raise


def _named(edit: Edit, name: str) -> Edit:
    """The sidecar's name in the entry: alone, or behind those that are there."""
    root = edit.document.root
    there = root.get("readings") if root is not None else None
    if there is None or there.empty:
        return put(edit, ["readings"], name)
    if there.kind == "list":
        return append(edit, ["readings"], name)
    beside = edit.document.text[there.end :].partition("\n")[0].strip()
    if beside:
        raise RequestError(
            f"the entry's `readings:` has the remark '{beside}', which would be lost",
            mend=f"make it a list by hand: `readings: [{there.text}, {name}]`",
        )
    assert root is not None
    return put(edit.remove(root, "readings"), ["readings"], [there.text, name])
