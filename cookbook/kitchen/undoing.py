"""One step of undo: where a log line changed the file, and what stood there before."""

from __future__ import annotations

from typing import Any


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
