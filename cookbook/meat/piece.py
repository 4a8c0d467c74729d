"""One actual piece: sizes, surface face by face, weights with and without bone, each with its doubt."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from math import fsum
from typing import TYPE_CHECKING, NamedTuple

from cookbook.errors import PieceError
from cookbook.meat.body import bird
from cookbook.meat.cut import GROWTHS, SHAPES, Cut
from cookbook.meat.faces import Face, chosen
from cookbook.meat.fitting import WIDTH_80, Point, gradients
from cookbook.meat.known import LEAST_G, MOST_G, Known, measure_text, weight_text
from cookbook.meat.measuring import SCALE_SIGMA, Sized, sized
from cookbook.meat.shapes import Shape
from cookbook.quantity import Interval
from cookbook.quantity.interval import NORMAL_80

if TYPE_CHECKING:
    from cookbook.meat.outline import Outline
    from cookbook.meat.scan import Scan


class Piece(NamedTuple):
    """A piece of meat. Areas in cm², volumes in cm³, weights in g; every interval is 80 %.

    `weighed_g` is what the scale said, None where nobody weighed. `mass_g` is the weight as on the scale, bones and
    bare shafts in; `salted_mass_g` leaves out bare shafts, `boneless_mass_g` (`meat_g`) all bone. Surface, volume and
    `shape` are of the body without bare shafts. Of a scanned piece `cut` has the scan's two faces, `scanned_cut` is
    the cut itself.
    """

    cut: Cut
    name: str | None
    known: Known
    mass_g: Interval
    salted_mass_g: Interval
    boneless_mass_g: Interval
    shaft_g: Interval
    volume_cm3: Interval
    area_cm2: Interval
    coated_cm2: Interval
    dimensions_cm: dict[str, Interval]
    faces: tuple[Face, ...]
    ribs: int | None
    bones: str | None
    method: str
    notes: list[str]
    shape: Shape
    words: Mapping[str, str]
    scanned_cut: Cut | None = None
    outline: Outline | None = None
    scan: Scan | None = None

    @property
    def weighed_g(self) -> float | None:
        """What the scale said."""
        return self.known.mass_g

    @property
    def meat_g(self) -> Interval:
        """Weight without any bone."""
        return self.boneless_mass_g

    def face(self, name: str) -> Face:
        """The face of this name. KeyError where there is none."""
        return {face.name: face for face in self.faces}[name]

    def in_size(self, mass_g: float | None = None, ribs: int | None = None) -> Piece:
        """Another piece of this cut, with its bones and its coated faces alike. Raises PieceError."""
        cut, coated = self.scanned_cut or self.cut, coated_names(self)
        return cut.piece(mass_g=mass_g, ribs=ribs, bones=self.known.bones, frenched_cm=self.known.frenched_cm,
                         faces=",".join(coated))

    def json(self) -> dict[str, object]:
        """As `piece --json` gives it."""
        return {
            "cut": self.cut.name, "species": self.cut.species, "growth": self.cut.growth, "shape": self.cut.shape,
            "ribs": self.ribs, "bones": self.bones, "frenched_cm": self.known.frenched_cm,
            "weighed_g": self.weighed_g, "mass_g": self.mass_g.json(), "salted_mass_g": self.salted_mass_g.json(),
            "boneless_mass_g": self.boneless_mass_g.json(), "shaft_g": self.shaft_g.json(),
            "area_cm2": self.area_cm2.json(), "coated_cm2": self.coated_cm2.json(),
            "volume_cm3": self.volume_cm3.json(),
            "dimensions_cm": {name: size.json() for name, size in self.dimensions_cm.items()},
            "faces": [face.json() for face in self.faces],
            "method": self.method, "notes": list(self.notes), **self.words,
            **({"scan": told.json()} if (told := self.scan or self.outline) is not None else {}),
        }

    def why(self) -> list[str]:
        """Where the numbers come from: the shape and its growth, what was measured, what is assumed, the sources."""
        from cookbook.meat.why import lines

        return lines(self)

    def __repr__(self) -> str:
        name = f"{self.name}: " if self.name else ""
        return f"<Piece {name}{self.cut.name}, {weight_text(self.mass_g.mid)}, {self.coated_cm2.mid:.0f} cm² coated>"

    def _repr_html_(self) -> str:
        from cookbook.meat.drawing import drawing
        from cookbook.meat.why import facts
        from cookbook.picture.notebook import shown

        first, *more = facts(self)
        return shown(first, *more, drawing(self))


def coated_names(piece: Piece) -> list[str]:
    """The faces of the piece's cut that are coated; of a scanned piece those that lie as its coated ones do."""
    coated = [face.name for face in piece.faces if face.coated]
    if piece.scanned_cut is None:
        return coated
    return [one.name for one in piece.scanned_cut.face_parts
            if ("underside" if one.role == "bottom" else "upper side") in coated]


def made(cut: Cut, known: Known, faces: str | None, name: str | None, words: Mapping[str, str]) -> Piece:
    """The piece that `known` describes. Raises PieceError."""
    coated, notes = chosen(cut, faces, known.bones)
    found = sized(cut, known)
    mass = _mass(found)
    if not LEAST_G <= mass.mid <= MOST_G:
        word = next(iter(known.measured()))
        said = measure_text(word, known.measured()[word])
        raise PieceError(f"{said} makes a {cut.name} of {weight_text(mass.mid)}; "
                         "100 g to 60 kg is expected", measurement=word, mend="measure again")
    return _piece(cut, known, found, mass, coated, notes + found.notes, name, words)


def _piece(cut: Cut, known: Known, found: Sized, mass: Interval, coated: frozenset[str], notes: list[str],
           name: str | None, words: Mapping[str, str]) -> Piece:
    model, fit = found.model, found.fit
    area = _areas(cut, found)
    bones = known.bones or ("on" if cut.has_bones_option else None)
    shaft = fit.interval(model.shaft_g) if model.shaft_g(fit.point) else Interval.exact(0.0)
    salted = less(mass, shaft)
    if salted.mid < mass.mid / 4:
        raise PieceError(f"bare shafts of {known.frenched_cm:g} cm would weigh {weight_text(shaft.mid)} of "
                         f"{weight_text(mass.mid)}", measurement="frenched", mend="measure what is bare of one shaft")
    share = Interval.exact(0.0) if bones == "off" else cut.bone_share
    length, width, height = fit.intervals(lambda point: model.shape(point).outer_cm)
    sheltered = {part.name for part in cut.face_parts if part.bone} if bones == "tied" else set()
    listed = tuple(Face(one, area(one), one in coated, one in sheltered) for one in cut.faces)
    return Piece(
        cut, name, known, mass, salted, meat_of(salted, share), shaft,
        fit.interval(lambda point: _shape(cut, found, point).volume_cm3), area(*cut.faces), area(*coated),
        {"length": length, "width": width, "height": height}, listed, known.ribs, bones, _method(cut, known),
        [*notes, *_remarks(cut, mass, bones, sheltered & coated)], _shape(cut, found, fit.point), dict(words),
    )


def _shape(cut: Cut, found: Sized, point: Point) -> Shape:
    outer = found.model.shape(point)
    return bird(cut, outer, found.model.body_g(point)) if cut.shape == "bird" else outer


def _areas(cut: Cut, found: Sized) -> Callable[..., Interval]:
    """Gives the area of the faces of these names together."""
    fit = found.fit
    parts = tuple(part for face in cut.face_parts for part in face.parts)
    owners = tuple(face.name for face in cut.face_parts for _ in face.parts)

    def at(point: Point) -> tuple[float, ...]:
        faces = _shape(cut, found, point).faces
        return tuple(faces[part] for part in parts)

    middle, slopes = at(fit.point), gradients(at, fit.point)

    def area(*names: str) -> Interval:
        mine = [place for place, owner in enumerate(owners) if owner in names]
        total = fsum(middle[place] for place in mine)
        slope = tuple(sum(one[place] for place in mine) / total for one in slopes) if total else ()
        return fit.around(total, slope, cut.area_spread / NORMAL_80)

    return area


def _mass(found: Sized) -> Interval:
    """The weight as on the scale: what was weighed, to the scale's half a percent, else what the sizes make."""
    weighed = found.model.known.mass_g
    if weighed is None:
        return found.fit.interval(found.model.mass_g)
    return _times(float(weighed), 1 + WIDTH_80 * SCALE_SIGMA)


def less(mass: Interval, shaft: Interval) -> Interval:
    """A weight without the bare shafts."""
    if not shaft.mid:
        return mass
    doubt = ((mass.high - mass.mid) ** 2 + (shaft.high - shaft.mid) ** 2) ** 0.5
    middle = mass.mid - shaft.mid
    return _times(middle, 1 + doubt / middle)


def meat_of(salted: Interval, share: Interval) -> Interval:
    """A weight without the bone."""
    middle = salted.mid * (1 - share.mid)
    bone = (share.high - share.mid) / (1 - share.mid) * WIDTH_80 / NORMAL_80
    return _times(middle, 1 + ((salted.high / salted.mid - 1) ** 2 + bone ** 2) ** 0.5)


def _times(middle: float, spread: float) -> Interval:
    return Interval(middle / spread, middle, middle * spread)


def _method(cut: Cut, known: Known) -> str:
    said = [measure_text(word, value) for word, value in known.measured().items()]
    state = {"tied": ", bones cut off and tied back", "off": ", bones off"}.get(known.bones or "", "")
    return f"{SHAPES[cut.shape]} that {GROWTHS[cut.growth]}{state}; from {' and '.join(said)}"


def _remarks(cut: Cut, mass: Interval, bones: str | None, sheltered: frozenset[str] | set[str]) -> list[str]:
    notes = []
    low, high = cut.usual_kg
    if not low * 0.999 <= mass.mid / 1000 <= high * 1.001:
        heavy = "heavy" if mass.mid / 1000 > high else "light"
        notes.append(f"weight: {weight_text(mass.mid)} is {heavy} for {cut.name}; {low:g} to {high:g} kg is usual")
    if bones == "tied" and sheltered:
        notes.append("the meat under the bones is coated, and stays sheltered there in the fire")
    if cut.shape == "bird":
        notes.append("the surface is the skin; the hollow inside is not counted")
    return notes
