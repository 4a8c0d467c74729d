"""Files in the cook's own writing: nodes that know their place, edits that change nothing else, writing that is safe.

In it: reading (bytes to nodes and problems), records (fields typed, and their schema), editing (five edits by
splicing), shortening (all that an edit needs of a long list), saving (temp file and rename), one lock per kitchen.
Floor 2 and up may import it; it knows no trade.
"""

from typing import TYPE_CHECKING

from cookbook.files.node import LIST, MAP, SCALAR, Document, Node
from cookbook.files.reading import MAX_BYTES, parse, plain_bytes, read, read_bytes

if TYPE_CHECKING:
    from cookbook.files.editing import Edit
    from cookbook.files.locking import LOCK_NAME, lock
    from cookbook.files.saving import create, hand_out, save, stale_temp_files, sweep
    from cookbook.files.shortening import short
    from cookbook.files.written import Inline, Value, plain_yaml, quote

_WRITING = {
    "Edit": "editing",
    "Inline": "written",
    "LOCK_NAME": "locking",
    "Value": "written",
    "create": "saving",
    "hand_out": "saving",
    "lock": "locking",
    "plain_yaml": "written",
    "quote": "written",
    "save": "saving",
    "short": "shortening",
    "stale_temp_files": "saving",
    "sweep": "saving",
}

__all__ = [
    "LIST",
    "LOCK_NAME",
    "MAP",
    "MAX_BYTES",
    "SCALAR",
    "Document",
    "Edit",
    "Inline",
    "Node",
    "Value",
    "create",
    "hand_out",
    "lock",
    "parse",
    "plain_bytes",
    "plain_yaml",
    "quote",
    "read",
    "read_bytes",
    "save",
    "short",
    "stale_temp_files",
    "sweep",
]


def __getattr__(name: str) -> object:
    """What only a writer needs is loaded when it is first asked for: a command that reads starts faster."""
    if name not in _WRITING:
        raise AttributeError(f"cookbook.files has no {name!r}")
    from importlib import import_module

    value: object = getattr(import_module(f"cookbook.files.{_WRITING[name]}"), name)
    globals()[name] = value
    return value
