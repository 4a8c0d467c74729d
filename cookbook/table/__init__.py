"""Reference rows with their sources: ingredient weights, cuts, safety limits, trade words.

Each table is a CSV file in this folder whose head comments (`#`) name its origin; `sources.csv` is the bibliography.
Any room may import this; it imports nothing of the package and computes nothing.
"""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path
from typing import NamedTuple

_FOLDER = Path(__file__).parent


class Source(NamedTuple):
    """A line of the bibliography; `memory` marks what was written down from memory and not checked."""

    key: str
    title: str
    detail: str
    memory: bool


@cache
def rows(name: str) -> tuple[dict[str, str], ...]:
    """All rows of table `name`, as text by column; lines that begin with `#` are the table's head."""
    with (_FOLDER / f"{name}.csv").open(encoding="utf-8", newline="") as lines:
        read = csv.reader(line for line in lines if not line.startswith("#"))
        head = next(read)
        return tuple(dict(zip(head, row, strict=True)) for row in read)


@cache
def _sources() -> dict[str, Source]:
    return {
        row["key"]: Source(row["key"], row["title"], row["detail"], row["memory"] == "true")
        for row in rows("sources")
    }


def source(key: str) -> Source:
    """The bibliography's line for `key`; KeyError where a table names a source that is not in it."""
    return _sources()[key]


def sources() -> tuple[Source, ...]:
    """The whole bibliography, in file order."""
    return tuple(_sources().values())
