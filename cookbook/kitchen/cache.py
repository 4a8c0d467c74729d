"""Where a kitchen's index, learned numbers and undo steps lie: in the user's cache folder, all safe to delete."""

from __future__ import annotations

import os
import sys
import zlib
from _thread import get_ident
from contextlib import suppress
from pathlib import Path

SAME_TICK_NS = 2_000_000_000
"""A file that changed less than this before it was read may change again without its times showing it."""

READERS = (
    *("files", "quantity", "meat", "recipe", "journal", "table"),
    *("kitchen", "kitchen/finding", "kitchen/learning"),
)
"""The folders of the code that files are read with."""


def cache_base() -> Path:
    """The folder of what can be deleted at any time, whatever the kitchen; it may not be there yet."""
    if sys.platform == "darwin":
        base = Path.home() / "Library" / "Caches"
    else:
        base = Path(os.environ.get("XDG_CACHE_HOME") or os.environ.get("LOCALAPPDATA") or Path.home() / ".cache")
    return base / "carryover-cookbook"


def cache_folder(root: Path) -> Path:
    """The part of it that belongs to the kitchen at `root`."""
    return cache_base() / checksum(str(root.resolve()))


def keep(file: Path, text: str) -> None:
    """Put `text` into the cache, whole or not at all; where nothing can be written, nothing is."""
    part = file.with_suffix(f".{os.getpid()}-{get_ident()}.part")
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        part.write_text(text, encoding="utf-8")
        part.replace(file)
    except OSError:
        with suppress(OSError):
            part.unlink()


def checksum(text: str) -> str:
    """A short name for a text, against accidents alone: two checksums, whose module loads in no time."""
    data = text.encode("utf-8", "surrogateescape")
    return f"{zlib.crc32(data):08x}{zlib.adler32(data):08x}"


def rules(*rooms: str) -> str:
    """Names the code and tables of these rooms, those that files are read with where none is named, so that a changed
    program reads everything again."""
    home = Path(__file__).resolve().parent.parent
    told = []
    for room in rooms or READERS:
        with suppress(OSError), os.scandir(home / room) as found:
            told += [
                f"{room}/{one.name} {one.stat().st_size} {one.stat().st_mtime_ns}"
                for one in found
                if one.name.endswith((".py", ".csv"))
            ]
    return checksum("\n".join(sorted(told)))
