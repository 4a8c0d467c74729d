"""Where things begin and end in a document's text: what a splice needs to know and parser marks do not tell."""

from __future__ import annotations

import re

from cookbook.files.node import BREAK, LIST, MAP, SCALAR, Document, Node

_GAP = re.compile(r"[ \t]*(?:#[^\r\n]*)?(?:\r\n|\n|\r)")
_BLANKS = re.compile(r"[ \t]*")


def content_end(text: str, node: Node) -> int:
    """The offset behind the last character of `node`'s own content, before any comment that follows."""
    if node.kind == SCALAR:
        return _text_block_end(text, node) if node.style in ("|", ">") else node.end
    if node.flow:
        return node.end
    return content_end(text, node.pairs[-1][1] if node.kind == MAP else node.items[-1])


def _text_block_end(text: str, node: Node) -> int:
    """Before the last line break of a text block; blank lines behind it belong to it only where it keeps them."""
    raw = text[node.start:node.end]
    if not raw.endswith(("\n", "\r")):
        return node.end
    header = re.match(r"[|>][-+0-9]*", raw)
    keeps = header is not None and "+" in header.group()
    ends_blank = node.text.rstrip("\n") != node.text.rstrip()
    if keeps or ends_blank:
        return node.end - (2 if raw.endswith("\r\n") else 1)
    return node.start + len(raw.rstrip())


def line_start(text: str, offset: int) -> int:
    """The offset at which the line of `offset` begins."""
    return max(text.rfind("\n", 0, offset), text.rfind("\r", 0, offset)) + 1


def line_end(text: str, offset: int) -> int:
    """The offset of the line break that ends the line of `offset`, or of the text's end."""
    found = BREAK.search(text, offset)
    return found.start() if found else len(text)


def behind_break(text: str, offset: int) -> int:
    """Behind the line break at `offset`; the same offset at the text's end."""
    found = BREAK.match(text, offset)
    return found.end() if found else offset


def break_at(document: Document, offset: int) -> str:
    """The line break to use beside `offset`: that of its own line, the file's where the line is the last."""
    found = BREAK.search(document.text, offset)
    return found.group() if found else document.newline


def only_blanks(text: str, start: int, end: int) -> bool:
    """Nothing but blanks and tabs between the two offsets."""
    return _BLANKS.fullmatch(text, start, end) is not None


def member_start(text: str, holder: Node, index: int) -> int:
    """Where the pair or item at `index` begins: its key, its dash, or in brackets its own first character."""
    if holder.kind == MAP:
        return holder.pairs[index][0].start
    if holder.flow:
        item = holder.items[index]
        return item.start
    if index == 0:
        return holder.start
    offset = content_end(text, holder.items[index - 1])
    while found := _GAP.match(text, offset):
        offset = found.end()
    blanks = _BLANKS.match(text, offset)
    return blanks.end() if blanks else offset


def member_end(text: str, holder: Node, index: int) -> int:
    """Behind the content of the pair or item at `index`."""
    return content_end(text, holder.pairs[index][1] if holder.kind == MAP else holder.items[index])


def size(holder: Node) -> int:
    """How many pairs or items."""
    return len(holder.items if holder.kind == LIST else holder.pairs)
