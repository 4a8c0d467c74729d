"""One cook as its entry tells it: plain records, each with the nodes its values were written in."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from typing import TYPE_CHECKING, NamedTuple

from cookbook.meat import Cut, Piece
from cookbook.meat.field import piece_from
from cookbook.quantity import Amount, Temperature

if TYPE_CHECKING:
    from cookbook.files import Document
    from cookbook.files.record import Fields

SIZES = ("weight", "ribs", "length", "girth", "girth_ends", "width", "thickness", "scan")
LONE = ""
"""The name of a piece where there is only one."""


class EntryPiece(NamedTuple):
    """One piece of the entry, as it was described."""

    name: str
    cut: str | None
    known: Mapping[str, object]
    fields: Fields
    cuts: tuple[Cut, ...] = ()

    @property
    def sized(self) -> bool:
        """Whether anything says how big it is."""
        return any(self.known.get(word) is not None for word in SIZES)

    def piece(self, cut: str | None, faces: str | None = None) -> Piece | None:
        """The piece of meat, or None where nobody said which cut. Raises UnknownName, PieceError."""
        found = self.cut or cut
        return piece_from(found, self.known, faces, self.name or None, self.cuts) if found else None


class Event(NamedTuple):
    """Something that happened, or was read off a probe, at a moment."""

    at: datetime
    did: str | None = None
    core: Temperature | None = None
    surface: Temperature | None = None
    pit: Temperature | None = None
    piece: str | None = None
    probe: str | None = None
    note: str | None = None
    depth: float | None = None


class Note(NamedTuple):
    """Words that were kept; `unread` where they were meant as something the program could not read."""

    text: str
    at: datetime | None = None
    unread: bool = False


class NextTime(NamedTuple):
    """A line for next time; open until it is ticked."""

    line: str
    done: date | None = None


class Entry(NamedTuple):
    """A cook. `recipe` and `version` are None where it began without a recipe, under a working title."""

    name: str
    date: date
    recipe: str | None
    version: str | None
    uses: Mapping[str, str]
    title: str | None
    kind: str | None
    memory: bool
    pieces: tuple[EntryPiece, ...]
    sheet: Mapping[str, Mapping[str, Amount]]
    as_made: Mapping[str, tuple[Fields, ...]]
    events: tuple[Event, ...]
    notes: tuple[Note, ...]
    next_time: tuple[NextTime, ...]
    deviations: tuple[str, ...]
    scores: Mapping[str, Mapping[str, float]]
    outcome: Fields | None
    readings: tuple[str, ...]
    adopted: str | None
    finished: datetime | None
    document: Document
    fields: Fields

    @property
    def versions(self) -> Mapping[str, str]:
        """The version of every recipe that went into this cook, by recipe."""
        own = {self.recipe: self.version} if self.recipe and self.version else {}
        return {**own, **self.uses}

    @property
    def open(self) -> bool:
        """Whether it can still be logged to without naming it."""
        return self.finished is None and not self.memory

    def __repr__(self) -> str:
        state = "remembered" if self.memory else "open" if self.open else "finished"
        return f"<Entry {self.name}: {self.shown_title()}, {state}>"

    def written_sheet(self) -> dict[str, dict[str, str]]:
        """The day's sheet by recipe and item as the file says it, in spoons and cups that a cook has."""
        sheet = self.document.root.get("sheet") if self.document.root is not None else None
        if sheet is None:
            return {}
        return {
            recipe.text: {item.text: amount.text for item, amount in items.pairs}
            for recipe, items in sheet.pairs
            if items.pairs
        }

    def shown_title(self) -> str:
        """What people call it."""
        return self.title or self.recipe or self.name

    def working_name(self) -> str:
        """The recipe's name, or the one the working title would get."""
        return self.recipe or slug(self.title or self.name)


def slug(title: str) -> str:
    """A title as a file's name: small letters, digits, single hyphens."""
    import unicodedata

    plain = unicodedata.normalize("NFKD", title).encode("ascii", "ignore").decode().casefold()
    return "-".join("".join(letter if letter.isalnum() else " " for letter in plain).split()) or "untitled"
