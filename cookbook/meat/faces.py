"""Which faces of a piece are coated: `all`, `no-bone`, `no-ends`, `cap`, or names with commas."""

from __future__ import annotations

from typing import NamedTuple

from cookbook.errors import PieceError
from cookbook.meat.cut import Cut, FacePart
from cookbook.quantity import Interval

_PLACES = {
    "top": "top", "cap": "top", "fat cap": "top", "fat side": "top", "upper side": "top",
    "bottom": "bottom", "underside": "bottom", "lower side": "bottom", "flat side": "bottom",
    "ends": "end", "both ends": "end", "edges": "edge",
}


class Face(NamedTuple):
    """One face of a piece: area, whether it is coated, and whether it lies sheltered under bones tied back."""

    name: str
    area_cm2: Interval
    coated: bool
    sheltered: bool = False

    def json(self) -> dict[str, object]:
        """As `piece --json` lists it."""
        shelter = {"sheltered": True} if self.sheltered else {}
        return {"name": self.name, "area_cm2": self.area_cm2.json(), "coated": self.coated, **shelter}


def chosen(cut: Cut, spec: str | None, bones: str | None) -> tuple[frozenset[str], list[str]]:
    """Names of the coated faces, and notes on what was asked for and isn't there.

    Without `spec` what is usually coated: of bones on, not the bone side; of bones tied back or off, all round.
    Raises PieceError for a face that the cut doesn't have.
    """
    if spec is None or not spec.strip():
        bare = () if bones in ("tied", "off") else cut.bare
        return frozenset(name for name in cut.faces if name not in bare), []
    parts = cut.face_parts
    words = [" ".join(word.replace("_", " ").split()).casefold() for word in spec.split(",") if word.strip()]
    taken = {part.name for part in parts} if all(word.startswith("no-") or word == "all" for word in words) else set()
    notes = []
    for word in words:
        if word == "all":
            continue
        if word.startswith("no-"):
            gone = _without(cut, word)
            if not gone:
                notes.append(f"{cut.name} has no {'bone side' if word == 'no-bone' else word[3:]} to leave bare")
            taken -= gone
        else:
            taken |= _named(cut, parts, word)
    return frozenset(taken), notes


def _without(cut: Cut, word: str) -> set[str]:
    if word == "no-bone":
        return {part.name for part in cut.face_parts if part.bone}
    if word == "no-ends":
        return {part.name for part in cut.face_parts if part.role == "end"}
    return _named(cut, cut.face_parts, word.removeprefix("no-"))


def _named(cut: Cut, parts: tuple[FacePart, ...], word: str) -> set[str]:
    """The faces that a word means: a face's own name first, then its place."""
    found = {part.name for part in parts if part.name == word}
    if not found and word == "one end":
        found = {part.name for part in parts if part.role == "end"} and {
            next(part.name for part in parts if part.role == "end")}
    if not found and word == "bone side":
        found = {part.name for part in parts if part.bone}
    if not found:
        found = {part.name for part in parts if part.role == _PLACES.get(word)}
    if not found:
        raise PieceError(f"{cut.name} has no face '{word}'", measurement="faces",
                         mend="its faces are " + ", ".join(cut.faces) + "; or say all, no-bone, no-ends, cap or ends")
    return found
