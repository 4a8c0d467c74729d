"""One actual piece: its solid, surface, faces and weights, from whatever is known of it, with its doubt."""

from __future__ import annotations

from math import exp, log, pi, sqrt
from typing import NamedTuple

from cookbook.errors import PieceError, UnknownName
from cookbook.meat import estimate as sizes
from cookbook.meat.cut import Cut
from cookbook.meat.elliptic import ellipse_perimeter
from cookbook.meat.estimate import Estimate, Line, Vector
from cookbook.meat.shapes import (
    Ellipsoid,
    EllipticCylinder,
    EllipticFrustum,
    Frustum,
    HalfEllipsePrism,
    HalfEllipsoid,
    RoundedBox,
    Shape,
)
from cookbook.quantity import Interval

EIGHTY = 1.2815515655446004
"""Standard deviations either side of the middle that hold 80 %."""

LEAST_G, MOST_G = 100.0, 60_000.0
FAR_OFF = 3.0
"""Standard deviations from the rest at which a measurement is doubted."""

SHAFT_CM2, SHAFT_DOUBT = 3.0, 0.4
"""Section of a bare bone shaft, and its doubt: an assumption, nobody has measured it."""
BONE_DENSITY = 1.25
BIRD_DOUBT, OTHER_BIRD_DOUBT = 0.08, 0.15
"""Doubt of the area law for the animal it was measured on, and for its relatives."""


class Known(NamedTuple):
    """What was said of a piece; None where nothing."""

    mass_g: float | None = None
    ribs: int | None = None
    length_cm: float | None = None
    girth_cm: float | None = None
    width_cm: float | None = None
    thickness_cm: float | None = None
    bones: str | None = None
    frenched_cm: float | None = None


class Face(NamedTuple):
    """One side of a piece."""

    name: str
    area_cm2: Interval
    coated: bool


class Piece(NamedTuple):
    """A piece of `cut`. Weights in g, areas in cm², sizes in cm, each with its 80 % interval.

    `mass_g` is as weighed; `salted_mass_g` without bare bone shafts; `boneless_mass_g` the meat alone. `shape` is the
    solid of the middle sizes.
    """

    cut: Cut
    name: str | None
    mass_g: Interval
    salted_mass_g: Interval
    boneless_mass_g: Interval
    area_cm2: Interval
    coated_cm2: Interval
    volume_cm3: Interval
    dimensions_cm: dict[str, Interval]
    faces: tuple[Face, ...]
    ribs: int | None
    bones: str | None
    method: str
    notes: tuple[str, ...]
    shape: Shape

    def json(self) -> dict[str, object]:
        """The piece as `piece --json` gives it."""
        return {
            "cut": self.cut.name, "mass_g": self.mass_g.json(), "area_cm2": self.area_cm2.json(),
            "coated_cm2": self.coated_cm2.json(), "volume_cm3": self.volume_cm3.json(),
            "dimensions_cm": {name: size.json() for name, size in self.dimensions_cm.items()},
            "faces": [{"name": face.name, "area_cm2": face.area_cm2.json(), "coated": face.coated} for face in self.faces],
            "ribs": self.ribs, "bones": self.bones, "method": self.method, "notes": list(self.notes),
        }


def solid(cut: Cut, size: Vector) -> Shape:
    """The solid of a cut at these outer sizes."""
    length, width, height = size
    form = cut.form or 0.0
    if cut.shape == "half ellipse prism":
        return HalfEllipsePrism(width, height, length)
    if cut.shape == "elliptic cylinder":
        return EllipticCylinder(width / 2, height / 2, length)
    if cut.shape == "rounded box":
        # The rounding keeps its share of the usual thickness.
        return RoundedBox(length, width, height, min(form / cut.sizes[2] * height, length / 2, width / 2))
    if cut.shape == "half ellipsoid":
        return HalfEllipsoid(length / 2, width / 2, height)
    if cut.shape == "bird":
        return Ellipsoid(length / 2, width / 2, height / 2)
    if abs(log(width / height)) < 1e-3:
        radius = sqrt(width * height) / 2
        return Frustum(radius, radius * form, length)
    return EllipticFrustum(width / 2, height / 2, width / 2 * form, height / 2 * form, length)


def girth(shape: Shape) -> float:
    """The tape once round the middle, in cm."""
    if isinstance(shape, HalfEllipsePrism):
        return ellipse_perimeter(shape.width_cm / 2, shape.height_cm) / 2 + shape.width_cm
    if isinstance(shape, RoundedBox):
        return 2 * (shape.width_cm + shape.height_cm) - (8 - 2 * pi) * shape.radius_cm
    if isinstance(shape, Frustum):
        return pi * (shape.radius_1_cm + shape.radius_2_cm)
    if isinstance(shape, EllipticFrustum):
        return ellipse_perimeter((shape.semi_a_1_cm + shape.semi_a_2_cm) / 2, (shape.semi_b_1_cm + shape.semi_b_2_cm) / 2)
    if isinstance(shape, HalfEllipsoid):
        return ellipse_perimeter(shape.semi_b_cm, shape.height_cm) / 2 + 2 * shape.semi_b_cm
    if isinstance(shape, Ellipsoid):
        return ellipse_perimeter(shape.semi_b_cm, shape.semi_c_cm)
    assert isinstance(shape, EllipticCylinder)
    return ellipse_perimeter(shape.semi_a_cm, shape.semi_b_cm)


def piece_of(cut: Cut, known: Known, faces: str | None = None, name: str | None = None) -> Piece:
    """The piece of `cut` that `known` describes. Raises PieceError naming the measurement at fault."""
    _refuse(cut, known)
    shafts = _shafts(cut, known)
    lines = _lines(cut, known, shafts.mid)
    if not lines:
        raise PieceError(f"how big is the {cut.name}?", measurement="weight", mend="say it with a weight, ribs or a tape measure")
    found = sizes.estimate(cut, lines)
    shape = solid(cut, found.sizes)
    notes = [*_contradictions(cut, known, found, shape), *_unusual(cut, known, found, shape)]
    mass = _mass(cut, known, found, shape, shafts)
    salted = Interval(*(max(0.0, one - shafts.mid) for one in mass))
    share = 0.0 if known.bones == "off" else cut.bone_share
    sides = _faces(cut, known, found, shape, faces, mass)
    area = _whole(cut, found, shape, mass)
    return Piece(
        cut=cut, name=name, mass_g=mass, salted_mass_g=salted, boneless_mass_g=salted.scaled(1 - share), area_cm2=area,
        coated_cm2=_coated(cut, found, shape, sides, area),
        volume_cm3=_spread(shape.volume_cm3, hypot3(found.doubt(lambda x: solid(cut, x).volume_cm3), sizes.FORM)),
        dimensions_cm=_dimensions(found), faces=sides, ribs=known.ribs, bones=known.bones or ("on" if cut.has_ribs else None),
        method=_method(cut, known), notes=tuple(notes), shape=shape)


def hypot3(one: float, two: float, three: float = 0.0) -> float:
    """The root of the sum of squares."""
    return sqrt(one * one + two * two + three * three)


def _spread(middle: float, doubt: float) -> Interval:
    return Interval(middle * exp(-EIGHTY * doubt), middle, middle * exp(EIGHTY * doubt))


def _refuse(cut: Cut, known: Known) -> None:
    if known.mass_g is not None and not LEAST_G <= known.mass_g <= MOST_G:
        raise PieceError(f"{known.mass_g / 1000:g} kg is no weight of a {cut.name}: it must be between 100 g and 60 kg",
                         measurement="weight", mend="write it like `2.2 kg` or `5 lb`")
    if not cut.has_ribs:
        for word, said in (("ribs", known.ribs), ("frenched", known.frenched_cm), ("bones", known.bones)):
            if said is not None and not (word == "bones" and (said == "off" or cut.bone_share)):
                raise PieceError(f"{cut.name} has no ribs, so `{word}` says nothing of it", measurement=word,
                                 mend="give its weight or its length")
    if known.ribs is not None and not 1 <= known.ribs <= max(cut.most_ribs, 1):
        raise PieceError(f"a {cut.name} has 1 to {cut.most_ribs} ribs, not {known.ribs}", measurement="ribs")
    for word, value in (("length", known.length_cm), ("girth", known.girth_cm), ("width", known.width_cm),
                        ("thickness", known.thickness_cm), ("frenched", known.frenched_cm)):
        if value is not None and not 0 < value <= 200:
            raise PieceError(f"{value:g} cm is no {word} of a piece of meat", measurement=word, mend="write it like `34 cm`")


def _shafts(cut: Cut, known: Known) -> Interval:
    """The weight of bare bone shafts in g: they count on the scale and nowhere else."""
    if known.frenched_cm is None or known.bones in ("off", "tied"):
        return Interval.exact(0.0)
    ribs = known.ribs
    if ribs is None and known.length_cm is not None and cut.pitch_cm is not None:
        ribs = max(1, round(known.length_cm / cut.pitch_cm))
    if ribs is None:
        raise PieceError("bare bone shafts of how many ribs?", measurement="frenched", mend="say it with `ribs`")
    grams = ribs * SHAFT_CM2 * known.frenched_cm * BONE_DENSITY
    if known.mass_g is not None and grams > 0.5 * known.mass_g:
        raise PieceError(f"{ribs} bare shafts of {known.frenched_cm:g} cm would be more than half of the piece",
                         measurement="frenched")
    return _spread(grams, SHAFT_DOUBT)


def _lines(cut: Cut, known: Known, shaft_g: float) -> list[Line]:
    lines = []
    for word, place, value in (("length", 0, known.length_cm), ("width", 1, known.width_cm), ("thickness", 2, known.thickness_cm)):
        if value is not None:
            lines.append(Line(word, lambda x, place=place: x[place], log(value), sizes.TAPE))  # type: ignore[misc] # mypy loses the default argument
    if known.girth_cm is not None:
        lines.append(Line("girth", lambda x: log(girth(solid(cut, _exp(x)))), log(known.girth_cm), sizes.TAPE))
    if known.ribs is not None and cut.pitch_cm is not None:
        lines.append(Line("ribs", lambda x: x[0], log(known.ribs * cut.pitch_cm), sizes.PITCH))
    if known.mass_g is not None:
        body = log(known.mass_g - shaft_g)
        doubt = hypot3(sizes.SCALE, sizes.DENSITY, sizes.FORM)
        lines.append(Line("weight", lambda x: log(solid(cut, _exp(x)).volume_cm3 * cut.density), body, doubt))
    return lines


def _exp(x: Vector) -> Vector:
    return exp(x[0]), exp(x[1]), exp(x[2])


def _contradictions(cut: Cut, known: Known, found: Estimate, shape: Shape) -> list[str]:
    """Sentences on measurements that lie far from what the others say; the farthest speaks."""
    far = {name: strain for name, strain in found.strain.items() if abs(strain) > FAR_OFF}
    if not far or len(found.strain) < 2:
        return []
    grams = shape.volume_cm3 * cut.density
    said = []
    if "weight" in far and known.mass_g is not None:
        rest = f"{known.ribs} ribs" if known.ribs else "these measurements"
        usual = _without_weight(cut, known)
        said.append(f"{rest} at {known.mass_g / 1000:.3g} kg: is the weight right? By everything else it would be about "
                    f"{usual / 1000:.2g} kg" if usual else f"{rest} at {known.mass_g / 1000:.3g} kg: is the weight right?")
    elif far:
        worst = max(far, key=lambda name: abs(far[name]))
        more = "bigger" if far[worst] > 0 else "smaller"
        said.append(f"the {worst} is {more} than the rest says: is it right? The weight would be about {grams / 1000:.2g} kg")
    return said


def _without_weight(cut: Cut, known: Known) -> float | None:
    lines = _lines(cut, known._replace(mass_g=None), 0.0)
    return solid(cut, sizes.estimate(cut, lines).sizes).volume_cm3 * cut.density if lines else None


def _unusual(cut: Cut, known: Known, found: Estimate, shape: Shape) -> list[str]:
    del found
    kilos = (known.mass_g or shape.volume_cm3 * cut.density) / 1000
    low, high = cut.usual_kg
    notes = []
    if not low <= kilos <= high:
        notes.append(f"{kilos:.3g} kg is unusual for {cut.name}: {low:g} to {high:g} kg is usual")
    return notes


def _mass(cut: Cut, known: Known, found: Estimate, shape: Shape, shafts: Interval) -> Interval:
    if known.mass_g is not None:
        return Interval.exact(known.mass_g)
    doubt = hypot3(found.doubt(lambda x: solid(cut, x).volume_cm3), sizes.DENSITY, sizes.FORM)
    body = _spread(shape.volume_cm3 * cut.density, doubt)
    return Interval(body.low + shafts.low, body.mid + shafts.mid, body.high + shafts.high)


def _dimensions(found: Estimate) -> dict[str, Interval]:
    names = ("length", "width", "height")
    return {name: _spread(found.sizes[place], sqrt(found.covariance[place][place])) for place, name in enumerate(names)}


def _bird_area(cut: Cut, mass: Interval) -> Interval:
    """Skin by the mass law A = K m^(2/3) (Meeh), cm² and g."""
    assert cut.form is not None
    doubt = BIRD_DOUBT if cut.species == "chicken" else OTHER_BIRD_DOUBT
    middle = _spread(cut.form * mass.mid ** (2 / 3), doubt)
    return Interval(middle.low * (mass.low / mass.mid) ** (2 / 3), middle.mid, middle.high * (mass.high / mass.mid) ** (2 / 3))


def _whole(cut: Cut, found: Estimate, shape: Shape, mass: Interval) -> Interval:
    if cut.shape == "bird":
        return _bird_area(cut, mass)
    return _spread(shape.area_cm2, hypot3(found.doubt(lambda x: solid(cut, x).area_cm2), sizes.FORM))


def _faces(cut: Cut, known: Known, found: Estimate, shape: Shape, wanted: str | None, mass: Interval) -> tuple[Face, ...]:
    if cut.shape == "bird":
        _coated_names(["skin"], wanted, ())
        return (Face("skin", _bird_area(cut, mass), True),)
    names = {part: cut.face_names.get(part, part) for part in shape.faces}
    bare = () if known.bones in ("tied", "off") else cut.bare
    coated = _coated_names(list(names.values()), wanted, bare)
    return tuple(
        Face(names[part], _spread(area, hypot3(found.doubt(lambda x, part=part: solid(cut, x).faces[part]), sizes.FORM)),  # type: ignore[misc] # mypy loses the default argument
             names[part] in coated)
        for part, area in shape.faces.items())


def _coated(cut: Cut, found: Estimate, shape: Shape, sides: tuple[Face, ...], area: Interval) -> Interval:
    """The coated faces together; what is doubtful in several at once is not counted twice."""
    if all(side.coated for side in sides):
        return area
    if not any(side.coated for side in sides):
        return Interval.exact(0.0)
    parts = [part for part, side in zip(shape.faces, sides, strict=True) if side.coated]

    def together(x: Vector) -> float:
        areas = solid(cut, x).faces
        return sum(areas[part] for part in parts)
    return _spread(together(found.sizes), hypot3(found.doubt(together), sizes.FORM))


def _coated_names(names: list[str], wanted: str | None, bare: tuple[str, ...]) -> set[str]:
    """The faces that `all`, `no-bone`, `no-ends` or a list of names mean; without a word, all but the bare ones."""
    if wanted is None:
        return set(names) - set(bare)
    found: set[str] = set(names) if wanted.split(",")[0].strip() in ("all", "no-bone", "no-ends") else set()
    for word in (word.strip().casefold() for word in wanted.split(",")):
        if word == "all":
            continue
        if word == "no-bone":
            found -= {name for name in names if "bone" in name}
        elif word == "no-ends":
            found -= {name for name in names if name.endswith("end")}
        elif word in ("ends", "both ends"):
            found |= {name for name in names if name.endswith("end")}
        elif word in names:
            found.add(word)
        else:
            from difflib import get_close_matches

            raise UnknownName("face", word, get_close_matches(word, names, 2, 0.4),
                              mend=f"its faces are {', '.join(names)}; `all`, `no-bone` and `no-ends` are understood too")
    return found


def _method(cut: Cut, known: Known) -> str:
    """How the sizes came about, in one sentence."""
    said = [word for word, value in (("the weight", known.mass_g), ("the ribs", known.ribs), ("the length", known.length_cm),
                                     ("the girth", known.girth_cm), ("the width", known.width_cm),
                                     ("the thickness", known.thickness_cm)) if value is not None]
    grows = {"longer": "longer at a fixed section", "bigger": "bigger all over", "wider": "wider at a fixed thickness"}[cut.growth]
    solid_name = "skin by the mass law of birds" if cut.shape == "bird" else f"a {cut.shape}"
    assumed = f"; {cut.assumed}: an assumption" if cut.assumed else ""
    return f"{solid_name} that grows {grows}, from {', '.join(said)}{assumed}"


