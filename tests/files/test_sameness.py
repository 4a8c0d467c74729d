"""The judge of every edit: only the old tree with exactly the one change passes, whatever the splice did."""

from __future__ import annotations

import pytest

from cookbook.files import Node, Value, parse
from cookbook.files.sameness import ADDED, DROPPED, TEXT, Change, Matches, follows

OLD = "a: 1\nb: [x, y]\nc:\nd: {e: f}\n"


def root(text: str) -> Node:
    found = parse(text.encode(), "page").root
    assert found is not None
    return found


def passes(new: str, what: str, where: str, index: int = 0, value: Value = "", key: str | None = None) -> bool:
    old = root(OLD)
    node = old.get(where) if where else old
    assert node is not None
    return follows(old, root(new), Change(what, node, index, value, key), {})


@pytest.mark.parametrize(("new", "verdict"), [
    ("a: 2\nb: [x, y]\nc:\nd: {e: f}\n", True),
    ("a: 1\nb: [x, y]\nc:\nd: {e: f}\n", False),
    ("a: 3\nb: [x, y]\nc:\nd: {e: f}\n", False),
    ("a: [2]\nb: [x, y]\nc:\nd: {e: f}\n", False),
    ("a: 2\nb: [x, z]\nc:\nd: {e: f}\n", False),
    ("a: 2\nb: [x, y]\nc: ''\nd: {e: f}\n", False),
    ("a: 2\nb: [x, y]\nc:\nd: {g: f}\n", False),
    ("a: 2\nb: [x, y]\nc:\nd: [e, f]\n", False),
    ("a: 2\nb: [x, y]\nd: {e: f}\nc:\n", False),
    ("a: 2\nb: [x, y]\nc:\nd: {e: f}\ng: h\n", False),
])
def test_a_new_text_must_be_the_one_difference(new: str, verdict: bool) -> None:
    assert passes(new, TEXT, "a", value="2") is verdict


@pytest.mark.parametrize(("new", "verdict"), [
    ("a: 1\nb: [x, z, y]\nc:\nd: {e: f}\n", True),
    ("a: 1\nb: [x, y, z]\nc:\nd: {e: f}\n", False),
    ("a: 1\nb: [x, w, y]\nc:\nd: {e: f}\n", False),
    ("a: 1\nb: [x, z, y, z]\nc:\nd: {e: f}\n", False),
    ("a: 1\nb: [x, y]\nc:\nd: {e: f}\n", False),
    ("a: 1\nb: {x: z}\nc:\nd: {e: f}\n", False),
])
def test_an_added_item_must_be_the_one_difference(new: str, verdict: bool) -> None:
    assert passes(new, ADDED, "b", 1, "z") is verdict


@pytest.mark.parametrize(("new", "verdict"), [
    ("a: 1\nb: [x, y]\nc:\nd: {e: f, g: {h: i, j: [k]}}\n", True),
    ("a: 1\nb: [x, y]\nc:\nd: {e: f, g: {j: [k], h: i}}\n", False),
    ("a: 1\nb: [x, y]\nc:\nd: {e: f, g: {h: i, j: [k, k]}}\n", False),
    ("a: 1\nb: [x, y]\nc:\nd: {e: f, l: {h: i, j: [k]}}\n", False),
    ("a: 1\nb: [x, y]\nc:\nd: {g: {h: i, j: [k]}, e: f}\n", False),
])
def test_an_added_key_must_be_the_one_difference(new: str, verdict: bool) -> None:
    assert passes(new, ADDED, "d", 1, {"h": "i", "j": ["k"]}, "g") is verdict


@pytest.mark.parametrize(("new", "verdict"), [
    ("a: 1\nb: [y]\nc:\nd: {e: f}\n", True),
    ("a: 1\nb: [x]\nc:\nd: {e: f}\n", False),
    ("a: 1\nb: [x, y]\nc:\nd: {e: f}\n", False),
    ("a: 1\nb: []\nc:\nd: {e: f}\n", False),
    ("a: 1\nb: [y]\nc:\nd: {}\n", False),
])
def test_a_removed_item_must_be_the_one_difference(new: str, verdict: bool) -> None:
    assert passes(new, DROPPED, "b", 0) is verdict


def test_the_judge_tells_which_node_became_which() -> None:
    old, new = root("a: 1\nb: [x, y]\n"), root("a: 1\nb: [y]\n")
    held = old.get("b")
    assert held is not None
    matches: Matches = {}
    assert follows(old, new, Change(DROPPED, held, 0), matches)
    kept = matches[id(held.items[1])]
    assert (kept.text, kept.line, kept.column) == ("y", 2, 5)
    assert id(held.items[0]) not in matches
