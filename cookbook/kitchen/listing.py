"""What lies in a kitchen's folders, asked of the disk in as few calls as can be."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from itertools import islice

PARTS = ("recipes", "journal", "shared")
"""The folders of a kitchen."""
ENDING = ".yaml"
MISSPELT = ".yml"
_UNSAYABLE = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\ud800-\udfff]")
"""What no line can hold: line breaks and other control characters, and bytes that are not UTF-8."""


def folders(top: str) -> Iterator[tuple[str, list[os.DirEntry[str]]]]:
    """Every folder at and below `top` with its entries, folders that are links not entered; nothing without `top`.

    What has a name that no line can hold is left out: `unsayable` finds it.
    """
    for folder, entries in _everything(top):
        yield folder, [one for one in entries if one.name.isprintable() or not _UNSAYABLE.search(one.name)]


def unsayable(top: str) -> Iterator[str]:
    """The path of every YAML file and folder at and below `top` whose name no line can hold."""
    for _, entries in _everything(top):
        yield from (
            one.path for one in entries
            if _UNSAYABLE.search(one.name) and (one.name.endswith(ENDING) or one.is_dir(follow_symlinks=False))
        )


def _everything(top: str) -> Iterator[tuple[str, list[os.DirEntry[str]]]]:
    todo = [top]
    while todo:
        folder = todo.pop()
        try:
            with os.scandir(folder) as found:
                entries = list(found)
        except (FileNotFoundError, NotADirectoryError):
            continue
        yield folder, entries
        todo += [
            one.path for one in entries
            if not one.name.endswith(ENDING) and not _UNSAYABLE.search(one.name) and one.is_dir(follow_symlinks=False)
        ]


def files(top: str) -> Iterator[str]:
    """The path of every YAML file at and below `top`, in no order."""
    for _, entries in folders(top):
        for entry in entries:
            if _called_so(entry) and _is_file(entry):
                yield entry.path


def strangers(top: str, below: bool) -> Iterator[tuple[str, str]]:
    """The path of everything in `top` that is called like a YAML file and can't be read as one, and why."""
    for _, entries in folders(top):
        for entry in entries:
            if _called_so(entry) and not _is_file(entry):
                yield entry.path, _what(entry)
            elif entry.name.endswith(MISSPELT) and entry.name[0] != ".":
                yield entry.path, f"its name ends in {MISSPELT}, and only {ENDING} is read"
        if not below:
            return


def _called_so(entry: os.DirEntry[str]) -> bool:
    """Hidden files are a system's or an editor's own."""
    return entry.name.endswith(ENDING) and entry.name[0] != "."


def _what(entry: os.DirEntry[str]) -> str:
    if entry.is_dir():
        return "it is a folder"
    try:
        entry.stat()
    except OSError:
        return "it is a link that leads nowhere"
    return "it is no plain file"


def _is_file(entry: os.DirEntry[str]) -> bool:
    """Whether a file lies there, or a link that leads to one or goes in a ring."""
    try:
        return entry.is_file()
    except OSError:
        return True


def names(folder: str) -> list[str]:
    """The YAML files right in `folder`, without their ending, by name."""
    found = next(folders(folder), (folder, []))[1]
    return sorted(
        entry.name.removesuffix(ENDING) for entry in found if _called_so(entry) and _is_file(entry)
    )


def more_than(top: str, number: int) -> bool:
    """Whether more YAML files than `number` lie at and below `top`."""
    return next(islice(files(top), number, None), None) is not None


def stamps(top: str, below: bool) -> Iterator[tuple[str, str]]:
    """Every folder with one line a YAML file: name, size, time of its content, time of its record, in nanoseconds.

    `below` goes on into the folders inside. Two equal texts mean that nothing in the folder has changed.
    """
    for folder, entries in folders(top):
        lines = []
        for entry in entries:
            if _called_so(entry):
                try:
                    told = entry.stat()
                except OSError:
                    continue
                lines.append(f"{entry.name}\0{told.st_size}\0{told.st_mtime_ns}\0{told.st_ctime_ns}")
        yield folder, "\n".join(lines)
        if not below:
            return


def stamp_lines(text: str) -> dict[str, str]:
    """The line of each file in a folder's stamps, by name."""
    return {line.partition("\0")[0]: line for line in text.split("\n")} if text else {}


def newest_ns(text: str) -> int:
    """When the newest of a folder's files changed; 0 for a folder without files."""
    return max(map(changed_at_ns, text.split("\n"))) if text else 0


def changed_at_ns(line: str) -> int:
    """When the file's content or record last changed, by its stamp."""
    return max(map(int, line.split("\0")[2:]))
