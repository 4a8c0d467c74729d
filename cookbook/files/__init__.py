"""Files in the cook's own writing: nodes that know their place, edits that change nothing else, writing that is safe.

In it: reading (bytes to nodes and problems), editing (five edits by splicing), how values are written, saving (temp
file and rename), one lock per kitchen. Rooms from floor 2 up may import it; it knows nothing of the trade.
"""

from cookbook.files.editing import Edit
from cookbook.files.locking import LOCK_NAME, lock
from cookbook.files.node import LIST, MAP, SCALAR, Document, Node
from cookbook.files.reading import MAX_BYTES, parse, read
from cookbook.files.saving import create, save, stale_temp_files, sweep
from cookbook.files.written import Inline, Value, plain_yaml, quote

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
    "lock",
    "parse",
    "plain_yaml",
    "quote",
    "read",
    "save",
    "stale_temp_files",
    "sweep",
]
