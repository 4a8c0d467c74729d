"""The whole kitchen as one file, to be put away elsewhere: its recipes, journal and shared tables, nothing else."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from pathlib import Path
from typing import IO

from cookbook.errors import RequestError
from cookbook.kitchen import listing

PARTS = ("recipes", "journal", "shared")
MOST_BYTES = 2 << 30
"""A kitchen with more in it is copied as the folder it is."""
_PACKED = (".jpg", ".jpeg", ".png", ".webp", ".gif", ".heic", ".mp4", ".zip")


def pack(root: Path, into: IO[bytes], most_bytes: int = MOST_BYTES) -> None:
    """Write the kitchen at `root` into a zip file under its folder's name, links and hidden files left out.

    Every file is as it stands at that moment: each is written whole or not at all, so none is half a file.
    Raises RequestError over `most_bytes`, OSError where a file can't be read.
    """
    left = most_bytes
    with zipfile.ZipFile(into, "w", strict_timestamps=False) as packed:
        for path in _files(root):
            left -= path.stat().st_size
            if left < 0:
                raise RequestError(
                    f"the kitchen holds more than {most_bytes / (1 << 30):.3g} GiB", mend="copy the folder itself"
                )
            how = zipfile.ZIP_STORED if path.suffix.casefold() in _PACKED else zipfile.ZIP_DEFLATED
            packed.write(path, Path(root.resolve().name, path.relative_to(root)), how)


def _files(root: Path) -> Iterator[Path]:
    """What belongs to the kitchen, folder by folder."""
    for part in PARTS:
        if (root / part).is_symlink():
            continue
        for folder, entries in listing.folders(str(root / part)):
            yield from (
                Path(folder, one.name)
                for one in sorted(entries, key=lambda one: one.name)
                if one.is_file(follow_symlinks=False) and not one.name.startswith(".")
            )


def packed_name(root: Path, day: str) -> str:
    """What the file is called: `my-kitchen-2026-11-28.zip`."""
    return f"{''.join(sign if sign.isalnum() else '-' for sign in root.name) or 'kitchen'}-{day}.zip"
