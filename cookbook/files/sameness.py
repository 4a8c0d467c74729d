"""Whether a tree equals an older one plus one edit, and which node of the one is which of the other."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from cookbook.files.node import LIST, MAP, SCALAR, Node
from cookbook.files.written import Value, bare

TEXT, ADDED, DROPPED = "text", "added", "dropped"


class Change(NamedTuple):
    """One edit of the tree: `node` gets the text `value`, or the member `at` was added to it or dropped."""

    what: str
    node: Node
    at: int = 0
    value: Value = ""
    key: str | None = None


Matches = dict[int, Node]


def follows(old: Node, new: Node, change: Change, matches: Matches) -> bool:
    """True where `new` is `old` with exactly `change` made; `matches` leads from id(old node) to its new node."""
    matches[id(old)] = new
    if old is change.node:
        if change.what == TEXT:
            return holds(new, change.value)
        return _members_follow(old, new, change, matches)
    if old.kind != new.kind:
        return False
    if old.kind == SCALAR:
        return old.text == new.text and (old.text != "" or old.empty == new.empty)
    return _all_follow(list(old.children()), list(new.children()), change, matches)


def _all_follow(old: list[Node], new: list[Node], change: Change, matches: Matches) -> bool:
    if len(old) != len(new):
        return False
    for before, after in zip(old, new, strict=True):  # noqa: SIM110  # a loop is twice as fast on long entries
        if not follows(before, after, change, matches):
            return False
    return True


def _members_follow(old: Node, new: Node, change: Change, matches: Matches) -> bool:
    kind = old.kind
    if kind == SCALAR:
        kind = LIST if change.key is None else MAP
    if new.kind != kind:
        return False
    width = 2 if kind == MAP else 1
    before, after = list(old.children()), list(new.children())
    at = change.at * width
    if change.what == DROPPED:
        del before[at:at + width]
        return _all_follow(before, after, change, matches)
    added = after[at:at + width]
    del after[at:at + width]
    if len(added) != width or not holds(added[-1], change.value):
        return False
    if width == 2 and added[0].text != change.key:
        return False
    return _all_follow(before, after, change, matches)


def holds(node: Node, value: Value) -> bool:
    """True where `node` says exactly `value`, order of keys included."""
    inner = bare(value)
    if isinstance(inner, str):
        return node.kind == SCALAR and not node.empty and node.text == inner
    if isinstance(inner, Mapping):
        return node.kind == MAP and node.keys() == list(inner) and all(
            holds(held, wanted) for (_, held), wanted in zip(node.pairs, inner.values(), strict=True))
    return node.kind == LIST and len(node.items) == len(inner) and all(
        holds(held, wanted) for held, wanted in zip(node.items, inner, strict=True))
