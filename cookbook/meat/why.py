"""A piece in words, and where its numbers come from: shape, growth, what was measured, what is assumed, sources."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cookbook.meat.cut import GROWTHS, SHAPES
from cookbook.meat.known import measure_text
from cookbook.quantity import Interval
from cookbook.quantity.number import digits
from cookbook.table import source

if TYPE_CHECKING:
    from cookbook.meat.piece import Piece

_FORMULAS = {
    "HalfEllipsePrism": "half an oval outline × length, the flat side × length, two sections π·width·height/4",
    "EllipticCylinder": "oval outline × length and two sections π·a·b",
    "EllipticFrustum": "the slanting side by quadrature and two sections π·a·b",
    "Frustum": "π(R + r)·slant, πR² and πr²",
    "RoundedBox": "2(ab + bc + ca) + 2πr(a + b + c) + 4πr² of the inner box a × b × c",
    "HalfEllipsoid": "half of 4πabc·R_G(a⁻², b⁻², c⁻²) and the flat side πab",
    "Ellipsoid": "4πabc·R_G(a⁻², b⁻², c⁻²)",
    "Bird": "skin = K·grams^(2/3), by the mass law of birds",
    "Scan": "the triangles of the scan, added up",
}
_ASSUMED = {
    "length_cm": "length in cm", "width_cm": "width in cm", "height_cm": "thickness in cm",
    "density": "density in g/cm³", "bone_share": "share of bone", "area": "real surface over the shape's",
    "rib_pitch_cm": "cm for each rib",
    "shaft_cm2": "section of a bare shaft in cm²",
}


def facts(piece: Piece) -> list[str]:
    """The piece in words: what it is and weighs, its sizes, its surface, where they come from, what to note."""
    length, width, height = (piece.dimensions_cm[name].mid for name in ("length", "width", "height"))
    mass, area = piece.mass_g.scaled(0.001), piece.area_cm2
    said = [
        f"{piece.cut.name}, {digits(mass.mid, 3)} kg"
        + (f" ({digits(mass.low, 3)} to {digits(mass.high, 3)})" if mass.low != mass.high else ""),
        f"{length:.0f} × {width:.0f} × {height:.0f} cm, {piece.volume_cm3.mid:.0f} cm³",
        f"surface {area.mid:.0f} cm² ({area.low:.0f} to {area.high:.0f}), coated {piece.coated_cm2.mid:.0f} cm²",
        piece.method,
    ]
    if piece.shaft_g.mid:
        shafts = digits(piece.shaft_g.mid, 2)
        said.append(f"bare shafts of about {shafts} g are in the weight, in neither the coat nor what is salted")
    return said + [f"note: {note}" for note in piece.notes]


def lines(piece: Piece) -> list[str]:
    """One line a fact, in the order of the reckoning."""
    cut = piece.cut
    size = " × ".join(f"{piece.dimensions_cm[word].mid:.1f}" for word in ("length", "width", "height"))
    if piece.outline is not None:
        size = " × ".join(f"{one:.1f}" for one in piece.shape.outer_cm)
    body = "body in the fire" if piece.outline else "shape"
    said = [f"{body}: {SHAPES[cut.shape]}, {size} cm; {cut.name} {GROWTHS[cut.growth]}"]
    said.append(f"surface: {_FORMULAS['Scan' if piece.outline else type(piece.shape).__name__]}")
    measured = [measure_text(word, value) for word, value in piece.known.measured().items()]
    if measured:
        said.append("measured: " + ", ".join(measured) + "; reconciled by weighted least squares on logarithms")
    if piece.outline is not None:
        said.append(f"scanned: {piece.outline.text()}")
    said += [f"assumed: {_ASSUMED[word]} {_range(value)}, 80 %" for word, value in cut.assumptions.items()
             if (piece.outline is None or word in ("density", "bone_share"))
             and (word != "shaft_cm2" or piece.known.frenched_cm)]
    said.append(f"bone: {_range(cut.bone_share.scaled(100))} % of the weight"
                if cut.bone_share.mid and piece.bones != "off" else "bone: none counted")
    composed = cut.composition
    if composed is not None:
        said.append(f"raw meat: {composed.water:.0%} water, {composed.protein:.0%} protein, {composed.fat:.0%} fat ("
                    + ("from memory, not checked" if composed.memory else composed.row) + ")")
    said += [f"source: {found.title}" + (" (from memory)" if found.memory else "")
             for found in map(source, (key for key in cut.sources if key != "kitchen"))]
    return said


def _range(value: Interval) -> str:
    return f"{digits(value.mid, 3)} ({digits(value.low, 3)} to {digits(value.high, 3)})"
