"""The five edits, by law: in any handwriting each changes its own spot and leaves every other byte alone."""

from __future__ import annotations

import copy
import re
from typing import Any, NamedTuple

import pytest
from hypothesis import given, reject
from hypothesis import strategies as st

from cookbook.errors import FileError
from cookbook.files import Document, Edit, Node, Value, parse

from .handwriting import BLOCK_TEXTS, FEW, KEYS, WORDS, Page, Path, at, pages

TEXTS = st.sampled_from(WORDS + BLOCK_TEXTS) | st.text("ab -:#,[]\"'\n", max_size=8)
NEW_VALUES: st.SearchStrategy[Value] = TEXTS | st.recursive(
    TEXTS, lambda inner: st.lists(inner, max_size=2) | st.dictionaries(st.sampled_from(KEYS), inner, max_size=2),
    max_leaves=4)


class Task(NamedTuple):
    """An edit drawn for a page: what is done at which node, and the tree that must come out."""

    what: str
    path: Path
    member: str | int | None
    value: Value
    flow: bool


def below(tree: Any, path: Path = ()) -> list[tuple[Path, Any]]:
    """Every part of a tree with its path."""
    found = [(path, tree)]
    pairs = tree.items() if isinstance(tree, dict) else enumerate(tree) if isinstance(tree, list) else ()
    for key, value in pairs:
        found += below(value, (*path, key))
    return found


def reached(tree: Any, path: Path) -> Any:
    for step in path:
        tree = tree[step]
    return tree


def tasks(page: Page, root: Node) -> list[tuple[str, Path, str | int | None]]:
    """All edits that can be made on this page."""
    found: list[tuple[str, Path, str | int | None]] = []
    for path, part in below(page.tree):
        if isinstance(part, str):
            found.append(("fill" if at(root, path).empty else "replace", path, None))
            if at(root, path).empty:
                found += [("add_key", path, None), ("add_item", path, None)]
        elif isinstance(part, dict):
            found += [("add_key", path, None), *(("add_key", path, key) for key in part)]
            found += [("remove", path, key) for key in part]
        else:
            found += [("add_item", path, None), *(("remove", path, index) for index in range(len(part)))]
    return found


@st.composite
def edited_pages(draw: st.DrawFn) -> tuple[Page, Document, Task]:
    page = draw(pages())
    document = parse(page.data, "page.yaml")
    assert document.root is not None
    what, path, member = draw(st.sampled_from(tasks(page, document.root)))
    value: Value = draw(TEXTS if what in ("fill", "replace") else NEW_VALUES)
    return page, document, Task(what, path, member, value, draw(st.booleans()))


def make(edit: Edit, task: Task) -> None:
    node = at(edit.document.root, task.path)
    if task.what in ("replace", "fill"):
        assert isinstance(task.value, str)
        (edit.replace if task.what == "replace" else edit.fill)(node, task.value)
    elif task.what == "add_key":
        assert task.member is None or isinstance(task.member, str)
        edit.add_key(node, "new key", task.value, after=task.member, flow=task.flow)
    elif task.what == "add_item":
        edit.add_item(node, task.value, flow=task.flow)
    else:
        assert task.member is not None
        edit.remove(node, task.member)


def done(document: Document, task: Task) -> Document:
    edit = Edit(document)
    make(edit, task)
    assert edit.bytes() == edit.document.data
    return edit.document


def expected(tree: Any, task: Task) -> Any:
    """The tree after the task, made on plain dicts and lists."""
    tree = copy.deepcopy(tree)
    part = reached(tree, task.path)
    if task.what == "remove":
        del part[task.member]
        return tree
    new: Any = task.value
    if task.what == "add_key":
        pairs = list(part.items()) if part else []
        index = [key for key, _ in pairs].index(task.member) + 1 if task.member is not None else len(pairs)
        new = dict([*pairs[:index], ("new key", task.value), *pairs[index:]])
    elif task.what == "add_item":
        new = [*part, task.value] if part else [task.value]
    if not task.path:
        return new
    holder = reached(tree, task.path[:-1])
    holder[task.path[-1]] = new
    return tree


def same_order(left: Any, right: Any) -> bool:
    """Equal, order of keys included."""
    return repr(left) == repr(right)


def first_difference(old: str, new: str) -> int:
    return next((i for i, (a, b) in enumerate(zip(old, new, strict=False)) if a != b), min(len(old), len(new)))


def is_insertion(old: str, new: str) -> bool:
    """`new` is `old` with one piece put in."""
    cut = first_difference(old, new)
    return len(new) > len(old) and new.endswith(old[cut:])


def lost_comments(page: Page, new: str) -> set[str]:
    return {comment.words for comment in page.comments if f"#{comment.words}" not in new
            and f"# {comment.words}" not in new}


def own_comments(page: Page, member: Path) -> set[str]:
    """Comments on a member's own lines: beside it and inside it, not those above it."""
    return {c.words for c in page.comments if (c.path == member and not c.own) or (
        len(c.path) > len(member) and c.path[:len(member)] == member)}


def crowded(document: Document, task: Task) -> bool:
    """The member begins on its holder's dash line, and a comment of its younger sibling stands right below it."""
    holder = at(document.root, task.path)
    if task.what != "remove" or holder.flow or not task.path or len(holder.items) + len(holder.pairs) < 2:
        return False
    first = holder.pairs[0][0] if holder.pairs else holder
    before = re.split(r"[\r\n]", document.text[:first.start])[-1]
    return bool(before.strip()) and task.member in (0, next(iter(holder.keys()), None))


@FEW
@given(edited_pages())
def test_an_edit_changes_the_tree_as_asked_and_the_file_nowhere_else(case: tuple[Page, Document, Task]) -> None:
    page, document, task = case
    try:
        after = done(document, task)
    except FileError as refusal:
        if refusal.code == "edit" and crowded(document, task):
            reject()
        raise
    assert after.root is not None
    assert same_order(after.root.data(), expected(page.tree, task))
    _check_bytes(page, document, after)
    _check_place(page, document, after, task)


def _check_bytes(page: Page, document: Document, after: Document) -> None:
    """Mark, line breaks and last byte are as they were."""
    assert after.bom == page.bom
    assert after.data.startswith(b"\xef\xbb\xbf") == page.bom
    if "\r\n" in page.text:
        assert re.search(r"(?<!\r)\n|\r(?!\n)", after.text) is None
    elif "\n" in page.text:
        assert "\r" not in after.text
    assert after.text.endswith(("\n", "\r")) == document.text.endswith(("\n", "\r"))


def _check_place(page: Page, document: Document, after: Document, task: Task) -> None:
    """Every other character stands as it did."""
    old, new, node = document.text, after.text, at(document.root, task.path)
    if task.what == "remove":
        member: Path = (*task.path, task.member) if task.member is not None else task.path
        assert lost_comments(page, new) == own_comments(page, member)
        if len(node.items) + len(node.pairs) > 1:
            assert is_insertion(new, old)
        return
    assert lost_comments(page, new) == set()
    if task.what == "replace":
        assert new.startswith(old[:node.start])
        assert new.endswith(old[node.end:])
    elif task.what == "fill":
        assert new.startswith(old[:node.start] + " ")
        assert new.endswith(old[node.end:])
    elif node.kind != "scalar" and not node.items and not node.pairs:
        assert new.startswith(old[:node.start].rstrip(" "))
        assert new.endswith(old[node.end:].partition("\n")[2])
    else:
        assert is_insertion(old, new)


@FEW
@given(edited_pages(), st.data())
def test_edits_follow_each_other_with_nodes_of_the_first_reading(case: tuple[Page, Document, Task],
                                                                data: st.DataObject) -> None:
    page, document, task = case
    root = document.root
    assert root is not None
    fills = [path for path, part in below(page.tree) if isinstance(part, str)
             and path[:len(task.path)] != task.path and path != task.path]
    path = data.draw(st.sampled_from(fills)) if fills else None
    edit = Edit(document)
    try:
        if path is not None:
            edit.replace(at(root, path), "first")
        edit.add_key(root, "last key", ["a"])
        edit.replace(edit.document.root.get("last key").items[0], "b")  # type: ignore[union-attr]  # it was just made
    except FileError as error:
        pytest.fail(error.message)
    wanted = copy.deepcopy(page.tree)
    assert isinstance(wanted, dict)
    if path is not None:
        reached(wanted, path[:-1])[path[-1]] = "first"
    wanted["last key"] = ["b"]
    assert edit.document.root is not None
    assert same_order(edit.document.root.data(), wanted)
