"""A cut: a kind of piece, with its shape, how it grows, its bones and faces, what is measured of it and what assumed.

Rows come from the reference table `cuts`, or from a kitchen's own. Lengths in cm, densities in g/cm³, shares as
fractions; every interval is 80 %.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from cookbook.quantity import Interval
from cookbook.table import rows

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from cookbook.meat.composition import Composition, Yield
    from cookbook.meat.outline import Outline
    from cookbook.meat.piece import Piece
    from cookbook.meat.size_table import Size

GROWTHS = {
    "longer": "grows longer at a fixed section",
    "bigger": "grows in every direction",
    "wider": "grows in length and width at a fixed thickness",
}
SHAPES = {
    "rounded box": "a rounded box", "elliptic cylinder": "an oval cylinder",
    "half-ellipse prism": "half an oval on its flat side", "ellipsoid": "an egg",
    "half ellipsoid": "a dome on its flat side", "frustum": "a blunt cone", "bird": "a bird by its mass law",
}
BONE_DENSITY = 1.25
"""g/cm³; limb bones measured 1.24 to 1.71, ribs are lighter: an assumption of 1.2 to 1.3."""


class FacePart(NamedTuple):
    """One face by the trade's name: the shape's faces it is made of, its place, and whether bone lies there."""

    name: str
    parts: tuple[str, ...]
    role: str
    bone: bool


class Ribs(NamedTuple):
    """Ribs of a cut: cm from one to the next, how many there can be, section of a bare shaft in cm²."""

    pitch_cm: Interval
    most: int
    shaft_cm2: Interval


class Cut(NamedTuple):
    """A kind of piece of meat. Find one with `Cut.named`, make a piece of it with `.piece`."""

    name: str
    species: str
    part: str
    boneless: bool
    shape: str
    growth: str
    length_cm: Interval
    width_cm: Interval
    height_cm: Interval
    radius_share: float
    taper: float
    area_spread: float
    density: Interval
    bone_share: Interval
    ribs: Ribs | None
    usual_kg: tuple[float, float]
    face_parts: tuple[FacePart, ...]
    bare: tuple[str, ...]
    skin_k: float | None
    composition_key: str
    assumed: tuple[str, ...]
    sources: tuple[str, ...]
    own_names: tuple[str, ...] | None = None
    said_as: str = ""
    asks: str = ""

    @property
    def synonyms(self) -> tuple[str, ...]:
        """Other names: a kitchen's own cut has its own, one of the table the table's."""
        from cookbook.meat.naming import synonyms

        return synonyms(self.name) if self.own_names is None else self.own_names

    @property
    def faces(self) -> tuple[str, ...]:
        """Names of the faces, in order."""
        return tuple(part.name for part in self.face_parts)

    def __repr__(self) -> str:
        size = " × ".join(f"{one.mid:.0f}" for one in (self.length_cm, self.width_cm, self.height_cm))
        return f"<Cut {self.name}: {self.species}, usually {size} cm, grows {self.growth}>"

    @property
    def coated_by_default(self) -> tuple[str, ...]:
        """Names of the faces that are usually coated (common practice)."""
        return tuple(name for name in self.faces if name not in self.bare)

    @property
    def has_ribs(self) -> bool:
        """Whether it is counted in ribs."""
        return self.ribs is not None

    @property
    def most_ribs(self) -> int:
        """How many ribs there can be, 0 where it has none."""
        return self.ribs.most if self.ribs is not None else 0

    @property
    def has_bones_option(self) -> bool:
        """Whether its bones may be on, cut off and tied back, or off: rib and loin cuts with their bones."""
        return self.part in ("rib", "loin") and not self.boneless

    @property
    def composition(self) -> Composition | None:
        """Water, protein, fat and ash of its raw meat without bone; None for a shape that nobody composed."""
        from cookbook.meat.composition import composition

        return composition(self.composition_key)

    @property
    def yields(self) -> tuple[Yield, ...]:
        """Cooked weight as a share of raw, by method, with sources."""
        from cookbook.meat.composition import yields

        return yields(self.composition_key)

    @property
    def assumptions(self) -> dict[str, Interval]:
        """What nobody has measured, with the interval it is assumed in."""
        return {name: value for name, value in self._numbers().items() if name in self.assumed}

    def _numbers(self) -> dict[str, Interval]:
        known = {"length_cm": self.length_cm, "width_cm": self.width_cm, "height_cm": self.height_cm,
                 "density": self.density, "bone_share": self.bone_share,
                 "area": Interval(1 / (1 + self.area_spread), 1.0, 1 + self.area_spread)}
        if self.ribs is not None:
            known |= {"rib_pitch_cm": self.ribs.pitch_cm, "shaft_cm2": self.ribs.shaft_cm2}
        return known

    def piece(self, mass_g: float | None = None, ribs: int | None = None, length_cm: float | None = None,
              girth_cm: float | None = None, width_cm: float | None = None, thickness_cm: float | None = None,
              bones: str | None = None, frenched_cm: float | None = None, faces: str | None = None,
              scan: str | Path | Outline | None = None, name: str | None = None, *,
              girth_ends_cm: tuple[float, float] | None = None, grade: str | None = None,
              supplier: str | None = None, aged: str | None = None, thawed: str | None = None) -> Piece:
        """One piece from whatever is known of it; weight in g as on the scale, lengths in cm.

        `girth_ends_cm` are two more turns of the tape, a hand's width from each end. `faces` names what is coated:
        all, no-bone, no-ends, cap, or names with commas. `scan` is a PLY, STL, OBJ or GLB file, or what one
        told. `grade`, `supplier`, `aged` and `thawed` are kept as words. Raises PieceError, naming the measurement,
        for what cannot be.

        >>> Cut.named("rib roast, bone in").piece(ribs=3)
        <Piece rib roast, bone in, 3.98 kg, 1096 cm² coated>
        """
        from cookbook.meat.known import Known
        from cookbook.meat.piece import made

        known = Known(mass_g, ribs, length_cm, girth_cm, width_cm, thickness_cm, bones, frenched_cm, girth_ends_cm)
        words = {"grade": grade, "supplier": supplier, "aged": aged, "thawed": thawed}
        free = {key: word for key, word in words.items() if word}
        if scan is not None:
            from cookbook.meat.outline import Outline, outlined

            if isinstance(scan, Outline):
                return outlined(self, scan, known, faces, name, free)
            from cookbook.meat.scan import scanned

            return scanned(self, scan, known, faces, name, free)
        return made(self, known, faces, name, free)

    def table(self, ribs: Sequence[int] | None = None, masses_g: Sequence[float] | None = None,
              bones: str | None = None, faces: str | None = None) -> list[Size]:
        """The cut in several sizes, by surface and by weight; the usual ones where none are named."""
        from cookbook.meat.size_table import size_table

        return size_table(self, ribs, masses_g, bones, faces)

    @classmethod
    def named(cls, name: str, extra: Iterable[Cut] | None = None) -> Cut:
        """The cut that a butcher calls `name`; a kitchen's own cuts (`extra`) win over the table's.

        Raises UnknownName with the nearest names, also where a name means two cuts.
        """
        from cookbook.meat.naming import find

        return find(name, tuple(extra or ()))

    @classmethod
    def names(cls) -> tuple[str, ...]:
        """Names of the reference table's cuts, in its order."""
        return tuple(row["name"] for row in rows("cuts"))


@cache
def from_table(name: str) -> Cut:
    """The reference row `name`, typed. KeyError where there is none."""
    for row in rows("cuts"):
        if row["name"] == name:
            return _typed(row)
    raise KeyError(name)


def around(middle: float, percent: float) -> Interval:
    """An interval from a middle and plus or minus so many percent, as a ratio both ways."""
    return Interval(middle / (1 + percent / 100), middle, middle * (1 + percent / 100))


def _typed(row: Mapping[str, str]) -> Cut:
    def number(column: str) -> float:
        return float(row[column] or 0)

    height = number("height_cm")
    return Cut(
        row["name"], row["species"], row["part"], row["boneless"] == "true", row["shape"], row["growth"],
        around(number("length_cm"), number("length_pm")), around(number("width_cm"), number("width_pm")),
        around(height, number("height_pm")), number("radius_cm") / height, number("taper") or 1.0,
        number("area_pm") / 100, around(number("density"), number("density_pm")),
        around(number("bone_percent") / 100, number("bone_pm")), _ribs(row),
        (number("usual_low_kg"), number("usual_high_kg")), face_parts(row["faces"]), split(row["bare"]),
        number("skin_k") or None, row["name"], split(row["assumed"]), split(row["sources"]),
    )


def _ribs(row: Mapping[str, str]) -> Ribs | None:
    if not row["rib_pitch_cm"]:
        return None
    return Ribs(around(float(row["rib_pitch_cm"]), float(row["rib_pitch_pm"])), int(row["ribs_most"]),
                around(float(row["shaft_cm2"]), float(row["shaft_pm"])))


def split(words: str) -> tuple[str, ...]:
    """The parts of a cell, between semicolons."""
    return tuple(word.strip() for word in words.split(";") if word.strip())


_ROLES = {"top": "top", "bottom": "bottom", "upper side": "top", "lower side": "bottom", "round side": "top",
          "flat side": "bottom", "first end": "end", "second end": "end", "front": "edge", "back": "edge",
          "skin": "skin"}


def face_parts(words: str) -> tuple[FacePart, ...]:
    """Faces as the table writes them: `bone side = flat side (bone); edges = front + back`."""
    found = []
    for one in split(words):
        name, _, made_of = one.partition("=")
        bone = made_of.endswith("(bone)")
        parts = tuple(part.strip() for part in made_of.removesuffix("(bone)").split("+"))
        roles = {_ROLES[part] for part in parts}
        found.append(FacePart(name.strip(), parts, roles.pop() if len(roles) == 1 else "edge", bone))
    return tuple(found)
