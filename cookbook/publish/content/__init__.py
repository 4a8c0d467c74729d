"""What a card says, gathered once from the lower floors.

`gathering.py` puts it together, the other files word one part of it each; `record.py` has the records that every form
arranges. May be imported by the forms and the site; it knows no form.
"""

from __future__ import annotations

from cookbook.publish.content.record import (
    Answer,
    Batch,
    Caution,
    Chapter,
    Content,
    Fact,
    Film,
    Grid,
    Item,
    Picture,
    Reference,
    Size,
    Timing,
)

__all__ = [
    "Answer",
    "Batch",
    "Caution",
    "Chapter",
    "Content",
    "Fact",
    "Film",
    "Grid",
    "Item",
    "Picture",
    "Reference",
    "Size",
    "Timing",
]
