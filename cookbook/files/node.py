"""What a file holds once read: nodes that know their place, and the document they stand in."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from os import PathLike

from cookbook.errors import Place, Problem

MAP, LIST, SCALAR = "map", "list", "scalar"

BREAK = re.compile(r"\r\n|\n|\r")

_SHOWN = 500

Pair = tuple["Node", "Node"]
Data = str | dict[str, "Data"] | list["Data"]


class Node:
    """A map, a list or a scalar with the span it takes in its document's text.

    `line` and `column` count from 1, `start` and `end` are offsets into `Document.text`. A scalar's value is always
    text; `style` is '' for plain, else the sign it begins with (one of `" ' | >`). An empty value is a plain scalar
    without text that stands right behind its key's colon or its item's dash. `end` of a map or list in block form
    reaches only to its first sign: what it holds lies in its children.
    """

    __slots__ = ("column", "end", "flow", "items", "kind", "line", "pairs", "start", "style", "text")

    def __init__(self, kind: str, line: int, column: int, start: int, end: int, *, text: str = "", style: str = "",
                 flow: bool = False, pairs: Sequence[Pair] = (), items: Sequence[Node] = ()) -> None:
        self.kind = kind
        self.line = line
        self.column = column
        self.start = start
        self.end = end
        self.text = text
        self.style = style
        self.flow = flow
        self.pairs = pairs
        self.items = items

    @property
    def plain(self) -> bool:
        """A scalar written without quotes and not as a block of lines."""
        return self.kind == SCALAR and self.style == ""

    @property
    def empty(self) -> bool:
        """Nothing was written: `key:` alone, or a dash alone."""
        return self.kind == SCALAR and self.style == "" and self.text == ""

    def get(self, key: str) -> Node | None:
        """The value of `key` in a map, None where there is none (or where this is no map)."""
        for name, value in self.pairs:
            if name.text == key:
                return value
        return None

    def keys(self) -> list[str]:
        """The keys of a map as written, in order; a key that stands twice is listed twice."""
        return [name.text for name, _ in self.pairs]

    def children(self) -> Iterator[Node]:
        """Keys and values of a map in order, items of a list, nothing for a scalar."""
        for name, value in self.pairs:
            yield name
            yield value
        yield from self.items

    def data(self) -> Data:
        """The same without places: text, dict or list; of a key that stands twice the last wins."""
        if self.kind == MAP:
            return {name.text: value.data() for name, value in self.pairs}
        if self.kind == LIST:
            return [item.data() for item in self.items]
        return self.text

    def __repr__(self) -> str:
        return f"<{self.kind} at {self.line}:{self.column} {self.data()!r}>"


class Document:
    """One file as read: its bytes, its text without a byte order mark, the tree, and every fault found.

    `root` is None where there is nothing to build on (empty, or a fault of the writing itself).
    """

    __slots__ = ("_lines", "_sha256", "bom", "data", "name", "path", "problems", "root", "text")

    def __init__(self, name: str, data: bytes, text: str, *, bom: bool = False,
                 path: str | PathLike[str] | None = None) -> None:
        self.name = name
        self.path = path
        self.data = data
        self.text = text
        self.bom = bom
        self.root: Node | None = None
        self.problems: list[Problem] = []
        self._sha256: str | None = None
        self._lines: list[int] | None = None

    @property
    def sha256(self) -> str:
        """Hex digest of the bytes as read: what a save is guarded by."""
        if self._sha256 is None:
            from hashlib import sha256

            self._sha256 = sha256(self.data).hexdigest()
        return self._sha256

    @property
    def newline(self) -> str:
        """The file's own line break: the first one in it, a line feed where it has none."""
        found = BREAK.search(self.text)
        return found.group() if found else "\n"

    def _line_offsets(self) -> list[int]:
        if self._lines is None:
            self._lines = [0, *(found.end() for found in BREAK.finditer(self.text))]
        return self._lines

    def line_offset(self, line: int) -> int:
        """Where `line` (from 1) begins in `text`; the text's length for lines behind its end."""
        offsets = self._line_offsets()
        return offsets[line - 1] if line <= len(offsets) else len(self.text)

    def line_and_column(self, offset: int) -> tuple[int, int]:
        """Both from 1, of a position in `text`."""
        from bisect import bisect_right

        offsets = self._line_offsets()
        line = bisect_right(offsets, offset)
        return line, offset - offsets[line - 1] + 1

    def place_at(self, offset: int, width: int = 1) -> Place:
        """The place of `width` characters from `offset` on, cut at the line's end; an endless line is not shown."""
        line, column = self.line_and_column(offset)
        begin = offset - column + 1
        found = BREAK.search(self.text, offset)
        end = found.start() if found else len(self.text)
        source = self.text[begin:end] if end - begin <= _SHOWN else ""
        return Place(self.name, line, column, max(1, min(width, end - offset)), source)

    def place(self, node: Node, offset: int = 0, length: int | None = None) -> Place:
        """Where `node` stands; with `offset` and `length`, that part of a scalar's text where it is written as is."""
        written = self.text[node.start:node.end]
        inner = written if node.plain else written[1:-1]
        if node.kind == SCALAR and inner == node.text and (offset or length is not None):
            begin = node.start + (0 if node.plain else 1) + offset
            return self.place_at(begin, len(node.text) - offset if length is None else length)
        return self.place_at(node.start, node.end - node.start)
