"""Lines that are sent over a net that may drop: logged as at the pit, each once, however often it comes.

Who sends gives each line a name of its own. The names lie in the cache beside the undo steps; the intent is written
before the line, so that a program that stops between both never logs it a second time. Only a power cut in the
moment between a line and its answer can: what is in the cache is not waited for on the disk.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import datetime
from pathlib import Path
from typing import Any, NamedTuple

from cookbook.errors import Busy, Conflict, FileError, RequestError, StorageError
from cookbook.files import lock
from cookbook.journal import Entry
from cookbook.kitchen import listing
from cookbook.kitchen.cache import cache_folder
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.log import logbook, undoing
from cookbook.kitchen.log.loglines import line_of, unread
from cookbook.kitchen.log.undoing import sha256

_DONE = "logged before"


class Logged(NamedTuple):
    """What was logged, in plain words, and what of it is open; `again` where it had come before."""

    entry: str
    words: str
    warnings: tuple[str, ...] = ()
    again: bool = False


def log(
    kitchen: Kitchen, name: str, what: str, said: Mapping[str, Any], at: datetime, ident: str = "",
    *, refuse: bool = False,
) -> Logged:  # fmt: skip
    """Log one line to the entry `name`: `what` and `said` as `line_of` takes them, or `line` with its words.

    Nothing that was said is refused: what can't be read is kept as a note marked unread. With `ident` a line that
    was logged under it before is not logged again; what it said then comes back. `refuse` raises RequestError for
    what can't be read: for a form that still holds it.
    """

    def act() -> Logged:
        entry = _entry(kitchen, name)
        try:
            line = _line(kitchen, entry, what, said, at)
            _keep(kitchen, logbook.add(kitchen, entry, line.change, line.words))
        except (FileError, Conflict, Busy, StorageError):
            raise
        except RequestError as fault:
            if refuse:
                raise
            line = unread(as_typed(what, said), at)
            logbook.add(kitchen, entry, line.change, line.words)
            return Logged(entry.name, line.words, (f"kept as a note: {fault.message}",))
        return Logged(entry.name, line.words, line.doubts)

    def state() -> str:
        return _state(kitchen, name)

    return once(kitchen, name, ident, state, act)


def start(
    kitchen: Kitchen, recipe: str, pieces: Mapping[str, Mapping[str, str]], at: datetime, ident: str = "",
    core: str | None = None, cut: str | None = None,
) -> Logged:  # fmt: skip
    """Begin an entry as `logbook.start` does, once under one `ident`."""
    return _begun(kitchen, recipe, ident, lambda: logbook.start(kitchen, recipe, pieces, at, core, cut))


def start_new(
    kitchen: Kitchen, title: str, kind: str, cut: str, pieces: Mapping[str, Mapping[str, str]], at: datetime,
    ident: str = "", bowl: str | None = None,
) -> Logged:  # fmt: skip
    """Begin an entry without a recipe as `logbook.start_new` does, once under one `ident`."""
    return _begun(kitchen, title, ident, lambda: logbook.start_new(kitchen, title, kind, cut, pieces, at, bowl))


def _begun(kitchen: Kitchen, what: str, ident: str, begin: Callable[[], Entry]) -> Logged:
    def act() -> Logged:
        return Logged(begin().name, "the entry that was begun")

    def state() -> str:
        return sha256("\n".join(sorted(listing.files(str(kitchen.root / "journal")))).encode())

    done = once(kitchen, f"start {what}", ident, state, act)
    return done if done.words != _DONE else done._replace(entry=undoing.last_written(kitchen) or done.entry)


def take_back(kitchen: Kitchen, name: str, ident: str = "") -> Logged:
    """Take back what was logged last to the entry `name`, once under one `ident`."""

    def act() -> Logged:
        words = undoing.undo(kitchen, kitchen.entry(name, short=True))
        return Logged(name, words)

    def state() -> str:
        return _state(kitchen, name)

    return once(kitchen, name, ident, state, act)


def _state(kitchen: Kitchen, name: str) -> str:
    """The digest of an entry's bytes, '' where it is gone."""
    return next((sha256(path.read_bytes()) for path in kitchen.entry_paths() if path.stem == name), "")


def once(kitchen: Kitchen, name: str, ident: str, state: Callable[[], str], act: Callable[[], Logged]) -> Logged:
    """Do `act` under the kitchen's lock unless it was done under `ident`; `state` is what `act` changes.

    Where a program stopped between intent and answer, a changed state says that it was done.
    """
    if not ident:
        return act()
    memory = cache_folder(kitchen.root) / "sent" / f"{sha256(name.encode())[:16]}.jsonl"
    with lock(kitchen.root):
        before = _known(memory, ident)
        if "words" in before:
            return Logged(before["entry"], before["words"], tuple(before["warnings"]), True)
        if "state" in before and before["state"] != state():
            return Logged(name, _DONE, (), True)
        _append(memory, {"id": ident, "state": state()})
        done = act()
        _append(memory, {"id": ident, **done._asdict()})
        return done


class _Latest(NamedTuple):
    """The entry as the last line left it, and what must be the same for it to count."""

    path: Path
    sha256: str
    ways: object
    entry: Entry


_latest: _Latest | None = None


def _entry(kitchen: Kitchen, name: str) -> Entry:
    """The entry as lines need it; from the last one that was logged to it where its file is still the same."""
    last = _latest
    if last is None or last.path.stem != name or kitchen.root not in last.path.parents or not last.path.is_file():
        return kitchen.entry(name, short=True)
    same = last.ways == _ways(kitchen) and last.sha256 == sha256(last.path.read_bytes())
    return last.entry if same else kitchen.entry(name, short=True)


def _keep(kitchen: Kitchen, entry: Entry) -> None:
    global _latest  # one cook is logged at a time, and whoever takes it compares it with the file
    path = kitchen.entry_path(entry)
    _latest = _Latest(path, sha256(path.read_bytes()), _ways(kitchen), entry)


def _ways(kitchen: Kitchen) -> object:
    """What an entry is read by beside its text."""
    return kitchen.settings["measures"], kitchen.cuts


def _line(kitchen: Kitchen, entry: Entry, what: str, said: Mapping[str, Any], at: datetime) -> Any:
    scale = said.get("scale") or kitchen.settings.get("temperature")
    if what == "line":
        from cookbook.kitchen.log.plainlines import plain_line

        return plain_line(entry, " ".join(said["words"]), None, at, scale)
    return line_of(entry, what, said, at, scale, logbook.weights_of(kitchen))


def as_typed(what: str, said: Mapping[str, Any]) -> str:
    """What was said, as near as its parts tell it."""
    words = [] if what == "line" else [what]
    for key, value in said.items():
        parts = value if isinstance(value, list) else [value]
        words += [" by ".join(map(str, filter(None, one))) if isinstance(one, list) else str(one)
                  for one in parts if one not in (None, "", False) and key != "piece"]  # fmt: skip
    return " ".join(words)


def _known(memory: Path, ident: str) -> dict[str, Any]:
    """What is remembered under `ident`, the answer winning over the intent; empty where nothing is."""
    try:
        lines = memory.read_text(encoding="utf-8").splitlines()
    except OSError:
        return {}
    found: dict[str, Any] = {}
    for line in lines:
        if ident in line:
            try:
                known = json.loads(line)
            except ValueError:
                continue
            if known.get("id") == ident:
                found |= known
    return found


def _append(memory: Path, known: Mapping[str, Any]) -> None:
    """Where the cache can't be written nothing is remembered, and logging goes on."""
    line = json.dumps(known) + "\n"
    try:
        if not memory.exists():
            memory.parent.mkdir(parents=True, exist_ok=True)
        with memory.open("a", encoding="utf-8") as file:
            file.write(line)
    except OSError:
        return
