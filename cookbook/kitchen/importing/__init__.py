"""A recipe from elsewhere made one of ours: a loose text, or schema.org's JSON-LD.

What can't be read is kept in its notes and told line by line. `importing.py` is the door, the others read.
May be imported by the command line.
"""

from __future__ import annotations

from cookbook.kitchen.importing.importing import Imported, all_made_of, made_of, made_of_words, write

__all__ = ["Imported", "all_made_of", "made_of", "made_of_words", "write"]
