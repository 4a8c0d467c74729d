"""One cook: what was planned, what went in, what happened when, how it came out, what to do next time.

Holds the entry model, its fields and reader, as-made amounts, probe logs, and the lines that logging adds.
May be imported by safety and everything above; knows no recipe, no other entry and no folder.
"""

from __future__ import annotations

from cookbook.journal.model import Entry, EntryPiece, Event, NextTime, Note, slug
from cookbook.journal.reading import read

__all__ = ["Entry", "EntryPiece", "Event", "NextTime", "Note", "read", "slug"]
