"""A long file read short: of many items that take one plain line each, all but the last few are set aside.

What a line like `  - {at: "2026-11-21T14:05:00+01:00", core: 48 °C}` means depends on nothing but that a list with
its dash in that column is open, and it leaves the reader where it was. So where the first line that is kept is read
as an item of such a list, the lines set aside before it are items of the same list; an edit of the short text that
leaves that item where it is, is the same edit of the whole. Anything out of the ordinary, and the file is read whole.
"""

from __future__ import annotations

import re
from os import PathLike
from typing import TYPE_CHECKING, NamedTuple

from cookbook.files import spans
from cookbook.files.node import LIST, Document, Node
from cookbook.files.reading import BOM, MAX_BYTES, parse

if TYPE_CHECKING:
    from cookbook.files.editing import Edit

LONG = 64
"""With fewer lines in a row than this, reading them all costs less than setting them aside."""
KEPT = 8

_KEY = r"[a-z_]++"
_WORDS = r"[^\W_](?:[\w.+()/%°½¼¾-]|[ ](?=[\w.+()/%°½¼¾-]))*+"
_QUOTED = r'"[^"\\\x00-\x1f\x7f-\xa0\u2028\u2029\ufeff\ufffe\uffff]*+"'
_PAIR = rf"{_KEY}: (?:{_WORDS}|{_QUOTED})"
_ITEM = rf"- \{{{_PAIR}(?:, {_PAIR})*+\}}\r?\n"
_RUN = re.compile(rf"^(?P<indent> *+)(?:{_ITEM})(?:(?P=indent)(?:{_ITEM})){{{LONG - 1},}}+", re.M)


class Aside(NamedTuple):
    """Lines that were set aside, and the item of the short document before whose line they belong."""

    text: str
    before: Node
    lead: str


class Short(NamedTuple):
    """The short document, and what was set aside of it."""

    document: Document
    aside: tuple[Aside, ...]

    def whole(self, edit: Edit) -> bytes | None:
        """The whole file after `edit` of the short document; None where that has moved an item that lines hang on."""
        text = edit.document.text
        places = []
        for lines, before, lead in self.aside:
            here = edit.standing(before).start
            at = here - len(lead)
            if at != spans.line_start(text, here) or text[at:here] != lead:
                return None
            places.append((at, lines))
        for at, lines in reversed(places):
            text = text[:at] + lines + text[at:]
        data = (BOM if edit.document.bom else b"") + text.encode("utf-8")
        return data if len(data) <= MAX_BYTES else None


def short(data: bytes, name: str, path: str | PathLike[str] | None = None) -> Short | None:
    """`data` without what can be set aside; None where that is nothing, or where anything in it is at fault.

    Places in the document are those of the short text: only for finding and editing, never to be shown.
    """
    if len(data) > MAX_BYTES:
        return None
    bom = BOM if data.startswith(BOM) else b""
    try:
        text = data[len(bom) :].decode("utf-8")
    except UnicodeDecodeError:
        return None
    kept: list[str] = []
    asides: list[tuple[int, str, str]] = []
    behind = length = 0
    for run in _RUN.finditer(text):
        stop = run.end()
        for _ in range(KEPT):
            stop = text.rindex("\n", 0, stop - 1) + 1
        kept.append(text[behind : run.start()])
        length += len(kept[-1])
        asides.append((length, text[run.start() : stop], f"{run['indent']}- "))
        behind = stop
    if not asides:
        return None
    document = parse(bom + "".join([*kept, text[behind:]]).encode("utf-8"), name, path)
    if document.problems or document.root is None:
        return None
    items = _items(document.root)
    found = [Aside(lines, items[at, lead], lead) for at, lines, lead in asides if (at, lead) in items]
    return Short(document, tuple(found)) if len(found) == len(asides) else None


def _items(root: Node) -> dict[tuple[int, str], Node]:
    """Every item of a list in block form, by where its line begins and what stands there before it."""
    found: dict[tuple[int, str], Node] = {}
    waiting = [root]
    for node in waiting:
        if node.kind == LIST and not node.flow:
            lead = " " * (node.column - 1) + "- "
            found |= {(item.start - len(lead), lead): item for item in node.items}
        waiting += node.items
        waiting += (value for _, value in node.pairs)
    return found
