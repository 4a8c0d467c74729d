"""The lines that logging adds to an entry: spliced into what the cook wrote, nothing else touched."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Any

from cookbook.files import Edit, Inline, plain_yaml
from cookbook.journal.field import entry_record

if TYPE_CHECKING:
    from cookbook.files import Node


def stamp(at: datetime) -> str:
    """A moment as the program writes it: RFC 3339 with seconds and zone."""
    return at.replace(microsecond=0).isoformat()


def new_entry(head: Mapping[str, Any]) -> bytes:
    """The text of a new entry: keys in the order of the fields, what is None or empty left out."""
    ordered = {key: head[key] for key in entry_record().fields if head.get(key)}
    return plain_yaml(ordered).encode()


def append(edit: Edit, path: Sequence[str], item: str | dict[str, Any]) -> Edit:
    """Put `item` at the end of the list at `path`; keys that are not there yet are added. Mappings take one line."""
    value = Inline(item) if isinstance(item, dict) else item
    node = _at(edit, path)
    if node is not None and (node.kind == "list" or node.empty):
        return edit.add_item(node, value)
    return _add(edit, path, [value])


def put(edit: Edit, path: Sequence[str], value: str | list[str] | dict[str, Any]) -> Edit:
    """Put a value at `path`: a scalar is replaced or filled in, a key that is not there is added."""
    node = _at(edit, path)
    if node is not None and node.kind == "scalar" and isinstance(value, str):
        return edit.fill(node, value) if node.empty else edit.replace(node, value)
    if node is not None and node.kind == "map" and isinstance(value, dict):
        for key, inner in value.items():
            edit = put(edit, [*path, key], inner)
        return edit
    return _add(edit, path, value)


def _add(edit: Edit, path: Sequence[str], value: Any) -> Edit:
    parent = edit.document.root if len(path) == 1 else _at(edit, path[:-1])
    if parent is None:
        return _add(edit, path[:-1], {path[-1]: value})
    return edit.add_key(parent, path[-1], value, after=_elder(parent, path))


def _at(edit: Edit, path: Sequence[str]) -> Node | None:
    node = edit.document.root
    for key in path:
        node = node.get(key) if node is not None else None
    return node


def _elder(parent: Node, path: Sequence[str]) -> str | None:
    """The key below which a new one goes: the last of those that come before it in the order of the fields."""
    keys = parent.keys()
    if len(path) > 1:
        return keys[-1] if keys else None
    order = list(entry_record().fields)
    place = order.index(path[0])
    before = [key for key in keys if key in order and order.index(key) < place]
    return before[-1] if before else None
