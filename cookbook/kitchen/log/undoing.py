"""Taking back what was logged last: of each step, where it changed the file and what stood there before."""

from __future__ import annotations

import json
import time
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any, NamedTuple

from cookbook.errors import Conflict, RequestError
from cookbook.files import lock, save
from cookbook.journal import Entry
from cookbook.kitchen import listing
from cookbook.kitchen.cache import cache_folder, keep
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.probes import bytes_of


class Copy(NamedTuple):
    """A file put beside an entry: its name, the digest of its bytes, and the file that it is a copy of; '' where it
    is made from another one beside it."""

    name: str
    sha256: str
    source: str = ""


STEPS = 50
"""How many steps of an entry are remembered."""


def undo(kitchen: Kitchen, entry: Entry) -> str:
    """Take back what was logged last to the entry, in the end the entry itself; says what it was.

    A copy that came with it goes too, where it is unchanged, is to be had elsewhere and no entry beside it names it.
    Raises Conflict where the file was changed since by hand, or while the cache could not be written; RequestError
    where nothing is remembered.
    """
    path = kitchen.entry_path(entry)
    memory = _memory(kitchen, path)
    with lock(kitchen.root):
        steps = _steps(memory)
        if not steps:
            raise RequestError(
                f"nothing that was logged to {entry.name} is remembered here",
                mend="take the line out of the file by hand",
                code="nothing-to-undo",
            )
        last = steps.pop()
        if "adopted" in last:
            raise RequestError(
                f"{last['adopted']} was adopted from {entry.name} since; undo changes no recipe",
                mend="write the earlier amounts into the recipe by hand (`cookbook versions` shows them), and take "
                "`adopted:` out of the entry",
                code="adopted-since",
            )
        now = path.read_bytes()
        if steps and sha256(now) == steps[-1].get("after"):
            last = steps.pop()
        before = taken_back(last, now)
        if sha256(now) != last["after"]:
            raise Conflict(
                kitchen.shown(path),
                now,
                before,
                how="was changed since the last step that is remembered, by hand or while none could be remembered",
                mend="take what is to go out of the file by hand",
            )
        if before:
            save(path, before, expected_sha256=last["after"], name=kitchen.shown(path))
        else:
            path.unlink()
        removed = [one[0] for one in last.get("copies", ()) if _removed(path.parent, Copy(*one))]
        _keep(memory, steps)
    return str(last["words"]) + (f"; {' and '.join(removed)} removed" if removed else "")


def _removed(folder: Path, copy: Copy) -> bool:
    there = folder / copy.name
    try:
        held = [there, Path(copy.source)] if copy.source else [there]
        if any(sha256(bytes_of(path)) != copy.sha256 for path in held):
            return False
        if any(copy.name.encode() in Path(entry).read_bytes() for entry in listing.files(str(folder))):
            return False
        there.unlink()
    except OSError:
        return False
    return True


def last_written(kitchen: Kitchen) -> str | None:
    """The name of the entry that was begun or logged to last, finished or not; None where nothing is remembered."""
    there = {path.stem for path in kitchen.entry_paths()}
    found = [
        (steps[-1].get("time", 0), memory.stem)
        for memory in (cache_folder(kitchen.root) / "undo").glob("*.json")
        if (steps := _steps(memory)) and memory.stem in there
    ]
    return max(found)[1] if found else None


def remember(
    kitchen: Kitchen, path: Path, before: bytes, after: bytes, words: str, copies: Sequence[Copy] = ()
) -> None:
    """Keep what undo needs; of an entry that is begun only that."""
    memory = _memory(kitchen, path)
    earlier = _steps(memory)[1 - STEPS :] if before else []
    more = {"copies": copies} if copies else {}
    _keep(memory, [*earlier, {**step(before, after, words), **more, "time": time.time_ns()}])


def remember_adopted(kitchen: Kitchen, path: Path, words: str) -> None:
    """Where undo stops: what was logged before has gone into a recipe, which `words` name, by now."""
    memory = _memory(kitchen, path)
    steps = _steps(memory)
    if steps:
        _keep(memory, [*steps[1 - STEPS :], {"adopted": words, "time": time.time_ns()}])


def _memory(kitchen: Kitchen, path: Path) -> Path:
    return cache_folder(kitchen.root) / "undo" / f"{path.stem}.json"


def _steps(memory: Path) -> list[dict[str, Any]]:
    try:
        steps: list[dict[str, Any]] = json.loads(memory.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return []
    return steps


def _keep(memory: Path, steps: Sequence[Mapping[str, Any]]) -> None:
    """Where the cache can't be written there is no undo, and logging goes on."""
    keep(memory, json.dumps(steps))


def step(before: bytes, after: bytes, words: str) -> dict[str, Any]:
    """What is needed to get from `after` back to `before`; `words` say what was logged."""
    begin = _alike(before, after)
    while 0 < begin < len(before) and _inside_a_letter(before[begin]):
        begin -= 1
    rest = _alike(before[begin:][::-1], after[begin:][::-1])
    while rest and _inside_a_letter(before[len(before) - rest]):
        rest -= 1
    return {
        "from": begin,
        "to": len(after) - rest,
        "was": before[begin : len(before) - rest].decode(),
        "after": sha256(after),
        "words": words,
    }


def taken_back(done: dict[str, Any], now: bytes) -> bytes:
    """The text before `done`, from the one after it."""
    return now[: done["from"]] + str(done["was"]).encode() + now[done["to"] :]


def sha256(data: bytes) -> str:
    """The digest by which a text is known again."""
    import hashlib

    return hashlib.sha256(data).hexdigest()


def _inside_a_letter(byte: int) -> bool:
    """Whether a byte goes on a letter of UTF-8 instead of beginning one."""
    return byte & 0xC0 == 0x80


def _alike(one: bytes, two: bytes) -> int:
    """How many bytes both begin with."""
    low, high = 0, min(len(one), len(two))
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if one[low:middle] == two[low:middle] else (low, middle - 1)
    return low
