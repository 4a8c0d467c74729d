"""What can go wrong, and how it is said.

    CookbookError                  anything this package raises on purpose
    ├── RequestError               the call or the command is at fault: change the request
    │   ├── AmountError            a text that is no amount, temperature, time or length
    │   ├── UnknownName            no such cut, recipe, item, unit …; carries the nearest names
    │   └── PieceError             what is said of a piece of meat cannot be
    ├── FileError                  a file is at fault: mend it; carries every problem found
    ├── Conflict                   the file is no longer what was read: look at both, save again
    ├── Busy                       another program holds the kitchen's lock: wait, try again
    └── StorageError               the disk refuses: free space, mend permissions

A problem is a fault in a user's data with its place. It has one printed form and one JSON form, both here.
Any room may import this module; it imports nothing of the package.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

ERROR, WARNING, NOTE = "error", "warning", "note"


class Place(NamedTuple):
    """Where a value stands: shown file name, 1-based line and column, width of the span, the line's own text."""

    file: str
    line: int
    column: int
    width: int = 1
    source: str = ""


class Problem(NamedTuple):
    """One fault: how bad, a stable code, what was read and expected (the message), where, and the likely mend."""

    severity: str
    code: str
    message: str
    place: Place | None = None
    mend: str | None = None

    def json(self) -> dict[str, object]:
        """The problem as `check --json` lists it."""
        place = self.place
        return {
            "severity": self.severity,
            "code": self.code,
            "file": place.file if place else None,
            "line": place.line if place else None,
            "column": place.column if place else None,
            "message": _without_middle(self.message),
            "mend": self.mend,
        }

    def printed(self) -> str:
        """`file:line:column: severity: message`, the line with a caret under the fault, then the mend."""
        place = self.place
        head = f"{self.severity}: {_without_middle(self.message)}"
        if place is None:
            return head + (f"\n  mend: {self.mend}" if self.mend else "")
        lines = [f"{place.file}:{place.line}:{place.column}: {head}"]
        if place.source.strip():
            gutter = f"{place.line:>5} | "
            shown, column = _around(place.source, place.column)
            width = max(1, min(place.width, len(shown) - column + 1))
            lines.append(gutter + shown)
            lines.append(" " * (len(gutter) - 2) + "| " + " " * (column - 1) + "^" * width)
        if self.mend:
            lines.append(f"  mend: {self.mend}")
        return "\n".join(lines)


_WIDE, _BEFORE = 160, 60
"""A line longer than this is shown from so many letters before the fault."""


def _without_middle(message: str) -> str:
    """A message that quotes pages of the file keeps its beginning and what was expected, at its end."""
    return message if len(message) <= 600 else f"{message[:300]} … {message[-200:]}"


def _around(source: str, column: int) -> tuple[str, int]:
    """A line as a terminal may show it, no order to it left in, and where the fault stands in what is shown."""
    orders = (*range(32), *range(0x7F, 0xA0), 0x2028, 0x2029, *range(0x202A, 0x202F), *range(0x2066, 0x206A))
    shown = source.translate({**dict.fromkeys(orders, "\ufffd"), 9: " "})
    if len(shown) <= _WIDE:
        return shown, column
    begin = max(0, column - 1 - _BEFORE)
    end = begin + _WIDE
    before, after = "…" if begin else "", "…" if end < len(shown) else ""
    return before + shown[begin:end] + after, column - begin + len(before)


class CookbookError(Exception):
    """Base of all. `message` says what was read and expected, `mend` what to do, `place` where if in a file."""

    code = "error"

    def __init__(self, message: str, *, mend: str | None = None, place: Place | None = None,
                 code: str | None = None) -> None:
        super().__init__(message)
        self.message = message
        self.mend = mend
        self.place = place
        if code is not None:
            self.code = code

    def problem(self) -> Problem:
        """The same as a problem of severity error."""
        return Problem(ERROR, self.code, self.message, self.place, self.mend)

    def __reduce__(self) -> tuple[object, ...]:
        """With all its parts into another process."""
        return _as_it_was, (type(self), self.args, self.__dict__)


def _as_it_was(kind: type[CookbookError], args: tuple[object, ...], parts: dict[str, object]) -> CookbookError:
    made = kind.__new__(kind, *args)
    made.__dict__.update(parts)
    return made


class RequestError(CookbookError, ValueError):
    """The call is at fault."""

    code = "request"


class AmountError(RequestError):
    """`text` could not be read; the fault begins at `offset` and is `length` characters long."""

    code = "amount"

    def __init__(self, message: str, *, text: str, offset: int = 0, length: int = 1,
                 mend: str | None = None, code: str | None = None) -> None:
        super().__init__(message, mend=mend, code=code)
        self.text = text
        self.offset = offset
        self.length = max(1, length)


class UnknownName(RequestError):
    """No `kind` is called `name`; `nearest` are the closest known names, best first."""

    code = "unknown-name"

    def __init__(self, kind: str, name: str, nearest: Sequence[str] = (), *, mend: str | None = None) -> None:
        self.kind = kind
        self.name = name
        self.nearest = tuple(nearest)
        if mend is None and self.nearest:
            mend = "did you mean " + " or ".join(f"'{near}'" for near in self.nearest[:3]) + "?"
        super().__init__(f"there is no {kind} '{name}'", mend=mend)


class PieceError(RequestError):
    """What is said of a piece cannot be; `measurement` names which (`ribs`, `weight`, `length` …)."""

    code = "piece"

    def __init__(self, message: str, *, measurement: str, mend: str | None = None) -> None:
        super().__init__(message, mend=mend)
        self.measurement = measurement


class FileError(CookbookError):
    """One or more files are at fault; `problems` lists every fault, the first one speaks for all."""

    code = "file"

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = list(problems)
        first = self.problems[0]
        super().__init__(first.message, mend=first.mend, place=first.place, code=first.code)


class Conflict(CookbookError):
    """The file changed since it was read; `theirs` is what it holds now, `ours` what was to be saved.

    `how` says in other words how it changed.
    """

    code = "conflict"

    def __init__(self, file: str, theirs: bytes, ours: bytes, *, how: str = "", mend: str = "") -> None:
        self.file = file
        self.theirs = theirs
        self.ours = ours
        super().__init__(
            f"{file} {how or 'was changed by someone else since it was read'}; nothing was written",
            mend=mend or "look at what it says now, then make the change again",
        )


class Busy(CookbookError):
    """The kitchen's lock was not to be had within the wait."""

    code = "busy"

    def __init__(self, folder: str, waited_s: float) -> None:
        self.folder = folder
        self.waited_s = waited_s
        super().__init__(
            f"another program has been writing in {folder} for more than {waited_s:g} s; nothing was written",
            mend="wait for it to end, or close it, and try again",
        )


class StorageError(CookbookError):
    """The disk would not take it; `reason` is the system's own word.

    With `written` the new content is in place but could not be flushed, so a power cut may still undo it.
    """

    code = "storage"

    def __init__(self, file: str, reason: str, *, written: bool = False, mend: str | None = None) -> None:
        self.file = file
        self.reason = reason
        self.written = written
        super().__init__(
            f"{file} was written, but may not outlast a power cut: {reason}" if written
            else f"{file} could not be written: {reason}; nothing was changed",
            mend=mend or "check free space and permissions of the folder, then try again",
        )
