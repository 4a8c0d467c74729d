"""From parser events to nodes, without recursion, and every fault of structure met on the way."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any

from cookbook.errors import ERROR, Problem
from cookbook.files.node import LIST, MAP, SCALAR, Document, Node

MAX_DEPTH = 40
MAX_PROBLEMS = 100

_COLON = re.compile(r"[ \t]*:")
_UNUSABLE = re.compile("[\x00\ud800-\udfff]")
_NON_FINITE = re.compile(r"[-+]?\.(?:inf|Inf|INF)|\.(?:nan|NaN|NAN)")


class _Full(Exception):
    """Nothing more of this file is worth reading."""


class _Frame:
    """A map or list that is still open."""

    __slots__ = ("items", "key", "node", "pairs", "seen")

    def __init__(self, node: Node) -> None:
        self.node = node
        self.key: Node | None = None
        self.pairs: list[tuple[Node, Node]] = []
        self.items: list[Node] = []
        self.seen: dict[str, Node] = {}
        node.pairs = self.pairs
        node.items = self.items


class Builder:
    """Takes events of one document; afterwards `root`, `problems` and the `last` scalar hold what there was."""

    def __init__(self, document: Document) -> None:
        self._document = document
        self._text = document.text
        self._open: list[_Frame] = []
        self._documents = 0
        self.root: Node | None = None
        self.last: Node | None = None
        self.problems: list[Problem] = []

    @property
    def unclosed(self) -> Node | None:
        """The innermost bracket or brace that is still open."""
        nodes = (frame.node for frame in reversed(self._open))
        return next((node for node in nodes if node.flow and node.end > node.start), None)

    def take(self, events: Iterable[Any]) -> None:
        """Build from all `events`; what the parser raises passes through, its events so far have been taken."""
        from ruamel.yaml import events as kinds

        scalar, map_start, list_start = kinds.ScalarEvent, kinds.MappingStartEvent, kinds.SequenceStartEvent
        ends = (kinds.MappingEndEvent, kinds.SequenceEndEvent)
        alias, begin = kinds.AliasEvent, kinds.DocumentStartEvent
        try:
            for event in events:
                kind = type(event)
                if kind is scalar:
                    self._scalar(event)
                elif kind is map_start:
                    self._begin(event, MAP)
                elif kind is list_start:
                    self._begin(event, LIST)
                elif kind in ends:
                    self._finish(event)
                elif kind is alias:
                    self._alias(event)
                elif kind is begin:
                    self._document_start(event)
        except _Full:
            self.root = None

    def _scalar(self, event: Any) -> None:
        mark, end, text, style = event.start_mark, event.end_mark, event.value, event.style or ""
        if event.anchor is not None or event.ctag is not None:
            self._refuse_extras(event)
        if "." in text and not style and _NON_FINITE.fullmatch(text):
            self._problem("non-finite", f"'{text}' is read as infinity or as no number at all", mark.index, len(text),
                          "write a number, or put double quotes around it if it is meant as words")
        if style == '"' and _UNUSABLE.search(text):
            self._problem("escape", "a backslash escape in this text stands for no character that can be kept",
                          mark.index, end.index - mark.index, "write the character itself, or leave it out")
        stop = min(end.index, len(self._text))
        node = Node(SCALAR, mark.line + 1, mark.column + 1, mark.index, stop, text=text, style=style)
        if not style and not text and mark.index == end.index:
            self._move_behind_colon(node)
        self.last = node
        self._put(node)

    def _move_behind_colon(self, node: Node) -> None:
        """Parsers place an empty value at the colon or at whatever comes next; here it stands at the colon."""
        key = self._open[-1].key if self._open else None
        if key is None or key.kind != SCALAR:
            return
        found = _COLON.match(self._text, key.end)
        if found:
            node.line, node.column = key.line, key.column + found.end() - key.start
            node.start = node.end = found.end()

    def _begin(self, event: Any, kind: str) -> None:
        mark = event.start_mark
        if event.anchor is not None or event.ctag is not None:
            self._refuse_extras(event)
        node = Node(kind, mark.line + 1, mark.column + 1, mark.index, event.end_mark.index, flow=event.flow_style)
        if len(self._open) >= MAX_DEPTH:
            self._problem("too-deep", f"lists and maps are nested more than {MAX_DEPTH} deep here", mark.index, 1,
                          "a recipe needs four or five levels: look for a bracket that is never closed")
            raise _Full
        self._open.append(_Frame(node))

    def _finish(self, event: Any) -> None:
        frame = self._open.pop()
        if frame.node.flow:
            frame.node.end = event.end_mark.index
        self._put(frame.node)

    def _alias(self, event: Any) -> None:
        mark, end = event.start_mark, event.end_mark
        written = self._text[mark.index:end.index]
        self._problem("alias", f"'{written}' stands for something written elsewhere in the file; "
                      "here every value is written where it is used", mark.index, end.index - mark.index,
                      "write the value out here, or put double quotes around it if the star belongs to the words")
        self._put(Node(SCALAR, mark.line + 1, mark.column + 1, mark.index, end.index, text=written))

    def _document_start(self, event: Any) -> None:
        self._documents += 1
        if self._documents > 1:
            self._problem("second-document", "a second text begins here; a file holds one recipe or one entry",
                          event.start_mark.index, 3, "take the '---' away, or move what follows into its own file")
            raise _Full

    def _refuse_extras(self, event: Any) -> None:
        at = event.start_mark.index
        if event.anchor is not None:
            self._problem("anchor", f"'&{event.anchor}' gives a name to this value; nothing here uses such names", at,
                          len(event.anchor) + 1, "take it away, or put double quotes around the text")
        if event.ctag is not None:
            tag = re.match(r"\S*", self._text[at:])
            written = tag.group() if tag else ""
            self._problem("tag", f"'{written}' names a type for this value; here every field knows its own type", at,
                          len(written), "take it away, or put double quotes around the text")

    def _put(self, node: Node) -> None:
        if not self._open:
            self.root = node
            return
        frame = self._open[-1]
        if frame.node.kind == LIST:
            frame.items.append(node)
        elif frame.key is None:
            self._key(frame, node)
        else:
            frame.pairs.append((frame.key, node))
            frame.key = None

    def _key(self, frame: _Frame, node: Node) -> None:
        frame.key = node
        width = node.end - node.start
        if node.kind != SCALAR:
            self._problem("key-not-text", f"a {node.kind} stands where the name of a field is expected", node.start,
                          width, "write a word and a colon; put double quotes around words that begin with [ or {")
            return
        if node.style == "" and node.text == "<<":
            self._problem("merge-key", "'<<' would pull in fields written elsewhere in the file", node.start, width,
                          "write those fields out here")
        if node.style == "" and node.text.endswith(":") and frame.node.flow:
            self._problem("colon", f"'{node.text}' has a colon with no blank behind it", node.start, width,
                          "put a blank after the colon")
        if node.style == "" and frame.node.flow and self._text[node.start - 1] == "?":
            self._problem("sign", f"'?{node.text}' begins with a question mark, which would be lost inside brackets",
                          node.start - 1, width + 1, "put double quotes around the text")
        first = frame.seen.setdefault(node.text, node)
        if first is not node:
            self._problem("duplicate-key", f"'{node.text}' stands twice: on line {first.line} and again on line "
                          f"{node.line}", node.start, width, "keep one of the two")

    def _problem(self, code: str, message: str, offset: int, width: int, mend: str) -> None:
        place = self._document.place_at(offset, width)
        if len(self.problems) >= MAX_PROBLEMS:
            self.problems.append(Problem(ERROR, "too-many", f"more than {MAX_PROBLEMS} faults; the rest of the file "
                                         "was not looked at", place, "mend the first ones and look again"))
            raise _Full
        self.problems.append(Problem(ERROR, code, message, place, mend))
