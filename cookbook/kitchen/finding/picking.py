"""Which entries are worth reading for a question: by a look at each text, or by the index where there are many."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from cookbook.files import MAX_BYTES, plain_bytes
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.listing import more_than

MANY = 300
"""With more entries than this, asking the index takes less time than looking at all of them."""


def picked(kitchen: Kitchen, naming: Sequence[str], cut: str | None, open_lines: bool) -> list[Path]:
    """At least every entry that cooked one of the recipes `naming` or `cut` (all without both), oldest name first.

    With `open_lines`, of those at least every one with a `next_time` line that nobody has ticked.
    """
    if more_than(str(kitchen.root / "journal"), MANY):
        return _by_index(kitchen, naming, cut, open_lines)
    wanted = [name.encode() for name in naming] if naming and cut is None else [b""]
    line = b"next_time" if open_lines else b""
    texts = ((path, _text(path)) for path in kitchen.entry_paths())
    return [path for path, text in texts if line in text and any(name in text for name in wanted)]


def _text(path: Path) -> bytes:
    """The file's bytes, none where it can't be read: `check` says why."""
    try:
        return plain_bytes(path, MAX_BYTES)
    except OSError:
        return b""


def _by_index(kitchen: Kitchen, naming: Sequence[str], cut: str | None, open_lines: bool) -> list[Path]:
    from cookbook.kitchen.finding.index import CUT

    either = [f"e.id IN (SELECT entry FROM used WHERE recipe IN ({', '.join('?' * len(naming))}))"] if naming else []
    either += [f"({CUT} = ? OR {CUT} IS NULL)"] if cut is not None else []
    where = ["e.next_time > 0"] if open_lines else []
    where += [f"({' OR '.join(either)})"] if either else []
    found = kitchen.index.ask(
        f"SELECT path FROM file WHERE id IN (SELECT e.id FROM entry e WHERE {' AND '.join(where)})",
        (*naming, *([cut] if cut is not None else [])),
    )
    return sorted(kitchen.root / path for (path,) in found)
