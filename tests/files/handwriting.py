"""Documents as cooks may write them: a random tree, each part in a random one of the ways YAML offers.

`pages` gives the text, the tree it means, and where each comment stands, all made without the reader under test.
"""

from __future__ import annotations

import re
from typing import NamedTuple

from hypothesis import settings
from hypothesis import strategies as st

from cookbook.files import Node

Tree = str | dict[str, "Tree"] | list["Tree"]
Path = tuple[str | int, ...]

WORDS = ("garlic", "sage, fresh", "1 1/2 cup", "60 g", "½ tsp", "130 °C", "2026-11-21", "to taste", "no", "1.10",
         "14:05", "it's", 'the "big" one', "a: b", "pork #2", "x # y", "-", "- a", "[a]", "{b}", "%", "@x", "*star*",
         "&", "!no", "null", "~", "a,b", "Rest: 25 min", " edge ", "", "é—ß", "🍖 ribs", "back\\slash", "question?",
         "? q", ": c")
KEYS = ("kind", "item", "amount", "made for", "sage, fresh", "at", "pull_at", "é", "1", "a#b", "x:y")
BLOCK_TEXTS = ("Crush it.\nRest it.\n", "one\n\ntwo\n", "# no comment\n- no item\n", "a: b\n",
               "last line\n  deeper\n")

_PLAIN = re.compile(r"[A-Za-z½é🍖0-9](?:[A-Za-z0-9 ½°éß—/.,%()\"'?🍖#:-]*[A-Za-z0-9½éßC.)?])?")


FEW = settings(max_examples=60, deadline=None)


class Comment(NamedTuple):
    """A comment's own words and the member it belongs to: `own` lines above a member, or `beside` it on its line."""

    words: str
    path: Path
    own: bool


class Page(NamedTuple):
    """A written document, what it means, and its comments."""

    text: str
    tree: Tree
    comments: tuple[Comment, ...]
    bom: bool

    @property
    def data(self) -> bytes:
        return (b"\xef\xbb\xbf" if self.bom else b"") + self.text.encode()


def trees(leaves: st.SearchStrategy[str]) -> st.SearchStrategy[Tree]:
    """Small trees with a map at the top."""
    keys = st.sampled_from(KEYS)
    below: st.SearchStrategy[Tree] = st.recursive(
        leaves,
        lambda inner: st.lists(inner, max_size=3) | st.dictionaries(keys, inner, max_size=3),
        max_leaves=8,
    )
    return st.dictionaries(keys, below, min_size=1, max_size=4)


def scalar(draw: st.DrawFn, text: str, flow: bool) -> str:
    """One way to write `text` on a line: plain where that is surely safe, else in one of the quotes."""
    ways = []
    if _PLAIN.fullmatch(text) and ": " not in text and " #" not in text and not text.endswith(":") and not (
            flow and re.search(r"[,\[\]{}#:]", text)):
        ways.append(text)
    ways.append('"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n") + '"')
    if "\n" not in text:
        ways.append("'" + text.replace("'", "''") + "'")
    return draw(st.sampled_from(ways))


def in_line(draw: st.DrawFn, tree: Tree) -> str:
    """`tree` between brackets, with the blanks and commas that people use or leave out."""
    if isinstance(tree, str):
        return scalar(draw, tree, flow=True)
    comma = draw(st.sampled_from([", ", ",  ", " , "]))
    edge = draw(st.sampled_from(["", " "]))
    last = draw(st.sampled_from(["", ","])) if tree else ""
    if isinstance(tree, dict):
        parts = [f"{scalar(draw, key, flow=True)}: {in_line(draw, value)}" for key, value in tree.items()]
        return "{" + edge + comma.join(parts) + last + edge + "}"
    return "[" + edge + comma.join(in_line(draw, item) for item in tree) + last + edge + "]"


class _Writer:
    """Writes block form and keeps the comments it puts in."""

    def __init__(self, draw: st.DrawFn) -> None:
        self.draw = draw
        self.lines: list[str] = []
        self.comments: list[Comment] = []

    def some(self, *choices: str) -> str:
        return self.draw(st.sampled_from(choices))

    def between(self, path: Path, indent: int) -> None:
        """Blank lines and comment lines above the member at `path`."""
        if self.draw(st.integers(0, 3)) == 0:
            self.lines.append(self.some("", " " * indent))
        if self.draw(st.integers(0, 3)) == 0:
            self.lines.append(" " * indent + "# " + self._comment(path, own=True))

    def beside(self, path: Path) -> str:
        """A comment at a line's end, or blanks, or mostly nothing."""
        roll = self.draw(st.integers(0, 5))
        if roll == 0:
            return self.some(" # ", "   # ", " #") + self._comment(path, own=False)
        return "  " if roll == 1 else ""

    def _comment(self, path: Path, own: bool) -> str:
        words = f"note {len(self.comments)} said" + self.some("", ": x", ' "', " [")
        self.comments.append(Comment(words, path, own))
        return words

    def members(self, tree: dict[str, Tree] | list[Tree], path: Path, indent: int, first: str = "") -> None:
        """Block form; `first` already stands on the line on which the first member begins."""
        pairs = list(tree.items()) if isinstance(tree, dict) else list(enumerate(tree))
        for key, value in pairs:
            here = (*path, key)
            if first:
                start, first = first, ""
            else:
                self.between(here, indent)
                start = " " * indent
            if isinstance(key, str):
                self.value(value, here, indent, start + scalar(self.draw, key, flow=False) + ":", in_map=True)
            else:
                self.value(value, here, indent, start + "-", in_map=False)

    def value(self, value: Tree, path: Path, indent: int, head: str, in_map: bool) -> None:
        """What follows a key's colon or an item's dash."""
        gap = self.some(" ", " ", "  ", "   ")
        if isinstance(value, str):
            self.text(value, path, indent, head, gap)
        elif not value or self.draw(st.integers(0, 2)) == 0:
            self.lines.append(head + gap + in_line(self.draw, value) + self.beside(path))
        elif in_map or self.draw(st.booleans()):
            self.lines.append(head + self.beside(path))
            step = self.draw(st.sampled_from([0, 2, 4] if in_map and isinstance(value, list) else [2, 3]))
            self.members(value, path, indent + step)
        else:
            self.members(value, path, len(head + gap), head + gap)

    def text(self, value: str, path: Path, indent: int, head: str, gap: str) -> None:
        """A scalar: `|` for several lines where drawn so, nothing at all for some empty ones."""
        if value == "" and self.draw(st.booleans()):
            self.lines.append(head + self.beside(path))
        elif value.endswith("\n") and value.strip() and self.draw(st.integers(0, 3)):
            self.lines.append(head + gap + "|" + self.beside(path).rstrip())
            step = self.draw(st.sampled_from([1, 2, 4]))
            self.lines += [" " * (indent + step) + line if line else "" for line in value[:-1].split("\n")]
        else:
            self.lines.append(head + gap + scalar(self.draw, value, flow=False) + self.beside(path))


@st.composite
def pages(draw: st.DrawFn) -> Page:
    """A page in some handwriting: newline style, mark, last byte, indents, quotes and comments all vary."""
    tree = draw(trees(st.sampled_from(WORDS) | st.sampled_from(BLOCK_TEXTS)))
    writer = _Writer(draw)
    if draw(st.integers(0, 7)) == 0:
        writer.lines.append("---")
    assert isinstance(tree, dict)
    writer.members(tree, (), 0)
    writer.between((), 0)
    newline = draw(st.sampled_from(["\n", "\n", "\r\n"]))
    text = newline.join(writer.lines) + draw(st.sampled_from([newline, newline, "", newline * 2]))
    return Page(text, tree, tuple(writer.comments), draw(st.integers(0, 3)) == 0)


def at(root: Node | None, path: Path) -> Node:
    """The node at a path of keys and indices."""
    node = root
    for step in path:
        assert node is not None
        node = node.items[step] if isinstance(step, int) else node.get(step)
    assert node is not None
    return node
