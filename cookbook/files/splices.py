"""The text of each of the five edits: which span goes, what comes in its place."""

from __future__ import annotations

import re
from typing import NamedTuple

from cookbook.files import spans
from cookbook.files.node import LIST, MAP, Document, Node
from cookbook.files.written import Inline, Value, bare, double_quoted, item_lines, one_line, pair_lines, quote

_SINGLE_FIT = re.compile(r"[ -~\u00a0-\u2027\u202a-\ud7ff\ue000-\ufefe\uff00-\ufffd]*")
_HEADER = re.compile(r"[|>][-+0-9]*")


class Splice(NamedTuple):
    """`text` takes the place of the characters from `start` to `end`."""

    start: int
    end: int
    text: str


class Where(NamedTuple):
    """What holds a node: the map or list, and in a map its key; none for the root."""

    holder: Node | None
    key: Node | None

    @property
    def flow(self) -> bool:
        """Inside `{}` or `[]`."""
        return self.holder is not None and self.holder.flow

    @property
    def under_key(self) -> bool:
        """The value of a key that begins a line of its own or follows a dash."""
        return self.holder is not None and self.holder.kind == MAP and not self.holder.flow


def applied(text: str, splices: list[Splice]) -> str:
    """The text with all splices made; they do not overlap."""
    for splice in sorted(splices, reverse=True):
        text = text[:splice.start] + splice.text + text[splice.end:]
    return text


def replaced(document: Document, node: Node, new: str, flow: bool) -> list[Splice]:
    """A scalar's span with the new text in it; quotes that were there stay, a text block stays one where it can."""
    if node.style in ("|", ">"):
        return _text_block_replaced(document, node, new)
    if node.style == "'" and _SINGLE_FIT.fullmatch(new):
        written = "'" + new.replace("'", "''") + "'"
    elif node.style:
        written = double_quoted(new)
    else:
        written = quote(new, flow=flow)
    return [Splice(node.start, node.end, written)]


def put_in(node: Node, value: Inline) -> list[Splice] | None:
    """A map or list on one line in the place of a scalar on one line; None for an empty one or a text block."""
    return None if node.empty or node.style in ("|", ">") else [Splice(node.start, node.end, one_line(value))]


def _text_block_replaced(document: Document, node: Node, new: str) -> list[Splice]:
    """`|` keeps its header and depth where the new text has the same kind of end; else one quoted line takes over."""
    text = document.text
    end = spans.content_end(text, node)
    header = _HEADER.match(text, node.start)
    header_end = spans.line_end(text, node.start)
    first = spans.behind_break(text, header_end)
    line = text[first:spans.line_end(text, first)]
    depth = len(line) - len(line.lstrip(" "))
    clip = header is not None and header.group() == "|"
    lines = (new.removesuffix("\n") if clip else new).split("\n")
    plain = all(part and part == part.rstrip() and _SINGLE_FIT.fullmatch(part) for part in lines)
    if plain and depth and not lines[0].startswith(" ") and header is not None and (
            (clip and new.endswith("\n")) or header.group() == "|-") and end > header_end:
        newline = spans.break_at(document, header_end)
        return [Splice(first, end, newline.join(" " * depth + part for part in lines))]
    kept = text[header.end() if header else node.start:header_end]
    return [Splice(node.start, end, double_quoted(new) + kept)]


def filled(node: Node, new: str, flow: bool) -> list[Splice]:
    """One blank after the colon or dash at which the empty value stands."""
    return [Splice(node.start, node.start, " " + quote(new, flow=flow))]


def added(document: Document, holder: Node, where: Where, index: int, key: str | None, value: Value,
          flow: bool) -> list[Splice]:
    """A pair (with `key`) or an item that becomes member `index` of `holder`, its value on one line with `flow`."""
    text = document.text
    if flow and not isinstance(value, str):
        value = Inline(bare(value))
    if spans.size(holder) == 0:
        return _first_member(document, holder, where, key, value)
    elder = spans.member_end(text, holder, index - 1)
    if holder.flow:
        comma = " , " if text[elder - 1] == ":" else ", "
        return [Splice(elder, elder, comma + _inline_member(key, value))]
    if key is None:
        lines = item_lines(value, holder.column - 1, _pad(holder))
    else:
        lines = pair_lines(key, value, holder.pairs[index - 1][0].column - 1)
    return [_after_line(document, elder, lines)]


def _inline_member(key: str | None, value: Value) -> str:
    return one_line(value) if key is None else f"{quote(key, flow=True)}: {one_line(value)}"


def _pad(holder: Node) -> int:
    """How far the items of this list stand behind their dashes; two where the last one begins on a line below."""
    last = holder.items[-1]
    return max(2, last.column - holder.column) if not last.empty and last.column - holder.column < 9 else 2


def _after_line(document: Document, offset: int, lines: list[str]) -> Splice:
    """`lines` below the line of `offset`, whatever comment that line ends in, with its own line break."""
    end = spans.line_end(document.text, offset)
    newline = spans.break_at(document, end)
    return Splice(end, end, newline + newline.join(lines))


def _first_member(document: Document, holder: Node, where: Where, key: str | None, value: Value) -> list[Splice]:
    """The first member of an empty value, `[]` or `{}`: a block below its key, else between the brackets."""
    text = document.text
    inner_is_blank = spans.only_blanks(text, holder.start + 1, holder.end - 1)
    if where.under_key and where.key is not None and (holder.empty or inner_is_blank):
        indent = where.key.column + 1
        lines = item_lines(value, indent) if key is None else pair_lines(key, value, indent)
        below = _after_line(document, holder.end, lines)
        if holder.empty:
            return [below]
        blanks = len(text[:holder.start]) - len(text[:holder.start].rstrip(" \t"))
        return [Splice(holder.start - blanks, holder.end, ""), below]
    member = _inline_member(key, value)
    if holder.empty:
        return [Splice(holder.start, holder.start, " [" + member + "]" if key is None else " {" + member + "}")]
    return [Splice(holder.start + 1, holder.start + 1, member)]


def removed(document: Document, holder: Node, where: Where, index: int) -> list[Splice] | None:
    """The member at `index` with the comment on its own lines; None where that would take more with it."""
    count = spans.size(holder)
    if holder.flow:
        return _removed_inline(document.text, holder, index, count)
    text = document.text
    start, end = spans.member_start(text, holder, index), spans.member_end(text, holder, index)
    begin = spans.line_start(text, start)
    alone = spans.only_blanks(text, begin, start)
    if count == 1:
        brackets = "[]" if holder.kind == LIST else "{}"
        if alone and where.key is not None and where.under_key:
            colon = _colon_end(text, where.key)
            return None if colon is None else [Splice(colon, colon, " " + brackets), _whole_lines(text, begin, end)]
        return [Splice(start, spans.line_end(text, end), brackets)]
    if alone:
        return [_whole_lines(text, begin, end)]
    if index + 1 == count:
        return None
    following = spans.member_start(text, holder, index + 1)
    if not spans.only_blanks(text, spans.behind_break(text, spans.line_end(text, end)), following):
        return None
    return [Splice(start, following, "")]


def _colon_end(text: str, key: Node) -> int | None:
    found = re.compile(r"[ \t]*:").match(text, key.end)
    return found.end() if found else None


def _whole_lines(text: str, begin: int, end: int) -> Splice:
    """The lines from `begin` to that of `end`; where the last one has no break, the breaks before them go."""
    stop = spans.line_end(text, end)
    behind = spans.behind_break(text, stop)
    if behind > stop:
        return Splice(begin, behind, "")
    while begin and spans.only_blanks(text, spans.line_start(text, begin), begin):
        begin = spans.line_start(text, begin)
        begin -= 2 if text[:begin].endswith("\r\n") else min(1, begin)
    return Splice(begin, stop, "")


def _removed_inline(text: str, holder: Node, index: int, count: int) -> list[Splice]:
    start, end = spans.member_start(text, holder, index), spans.member_end(text, holder, index)
    begin, stop = spans.line_start(text, start), spans.line_end(text, end)
    rest = re.compile(r"[ \t]*,?[ \t]*(?:#.*)?").fullmatch(text, end, stop)
    if rest and spans.only_blanks(text, begin, start):
        return [_whole_lines(text, begin, end)]
    if index + 1 < count:
        following = spans.member_start(text, holder, index + 1)
        if "#" in text[end:following]:
            following = min(following, stop)
        return [Splice(start, following, "")]
    if index:
        return [Splice(spans.member_end(text, holder, index - 1), end, "")]
    comma = re.compile(r"\s*,").match(text, end)
    return [Splice(start, comma.end() if comma else end, "")]


__all__ = ["MAP", "Splice", "Where", "added", "applied", "filled", "put_in", "removed", "replaced"]
