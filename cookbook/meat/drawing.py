"""A piece to scale, face by face, coated ones hatched; and a cut's sizes as a chart. Marks only: `picture` draws."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, pi, sin
from typing import NamedTuple

from cookbook.meat.faces import Face
from cookbook.meat.known import weight_text
from cookbook.meat.piece import Piece
from cookbook.meat.shapes import FIRST, LOWER, SECOND, UPPER, EllipticFrustum, Frustum, RoundedBox, Shape
from cookbook.meat.size_table import Size
from cookbook.picture import Chart, Drawing, Line, Outline, Panel, Table

Points = tuple[tuple[float, float], ...]

_FROM = {
    "top": "from above", UPPER: "from above", "round side": "from above", "skin": "from above",
    "bottom": "from below", LOWER: "from below", "flat side": "from below", "front": "from the side",
    "back": "from the side", FIRST: "cut across", SECOND: "cut across",
}
_ROWS = (("top", UPPER, "round side", "skin", FIRST, "front"), ("bottom", LOWER, "flat side", SECOND, "back"))
_SEEN = (FIRST, SECOND, "back", "front", "bottom", LOWER, "flat side", "top", UPPER, "round side", "skin")
RIB_CM = 1.4
"""How wide a rib is drawn."""


class _View(NamedTuple):
    """One face as it shows: its outline in cm within a width and a height."""

    points: Points
    width: float
    height: float


def drawing(piece: Piece) -> Drawing:
    """The faces of a piece side by side at one scale, labelled with area and whether they are coated."""
    # A face of several parts shows the one that the cook sees most of: its long side.
    views = {max(made.parts, key=_SEEN.index): face
             for face, made in zip(piece.faces, piece.cut.face_parts, strict=True)}
    rows = [tuple(_panel(piece, views[part], part) for part in parts if part in views) for parts in _ROWS]
    size = " × ".join(f"{piece.dimensions_cm[word].mid:.0f}" for word in ("length", "width", "height"))
    ribs = f", {piece.ribs} rib{'' if piece.ribs == 1 else 's'}" if piece.ribs else ""
    return Drawing(
        f"{piece.cut.name}, {weight_text(piece.mass_g.mid)}{ribs}",
        f"{size} cm; {piece.coated_cm2.mid:.0f} of {piece.area_cm2.mid:.0f} cm² coated, hatched.",
        tuple(row for row in rows if row), _table(piece.faces), "cm")


def _panel(piece: Piece, face: Face, part: str) -> Panel:
    view = _view(piece.shape, part) if piece.outline is None else _scanned(piece, part)
    marks = [Outline(view.points, face.coated)]
    if part == "flat side" and piece.ribs and piece.bones in ("on", "tied") and not face.coated:
        marks += _ribs(piece.ribs, view)
    state = "coated, under the bones" if face.coated and face.sheltered else "coated" if face.coated else "bare"
    return Panel((f"{face.name}, {_FROM[part]}", f"{face.area_cm2.mid:.0f} cm², {state}"), view.width, view.height,
                 tuple(marks))


def _ribs(count: int, view: _View) -> list[Outline]:
    pitch = view.width / count
    half = min(RIB_CM, pitch * 0.6) / 2
    middles = [(place + 0.5) * pitch for place in range(count)]
    return [Outline(((x - half, 0.0), (x + half, 0.0), (x + half, view.height), (x - half, view.height)))
            for x in middles]


def _view(shape: Shape, part: str) -> _View:
    length, width, height = shape.outer_cm
    if part in (FIRST, SECOND):
        return _section(shape, part)
    if part in ("front", "back"):
        radius = shape.radius_cm if isinstance(shape, RoundedBox) else 0.0
        return _View(_rounded(length, height, radius), length, height)
    if isinstance(shape, RoundedBox):
        return _View(_rounded(length, width, shape.radius_cm), length, width)
    if isinstance(shape, Frustum | EllipticFrustum):
        return _View(_tapered(shape, length, width), length, width)
    if FIRST in shape.faces:
        return _View(_rounded(length, width, 0.0), length, width)
    return _View(_oval(length, width), length, width)


def _scanned(piece: Piece, part: str) -> _View:
    """A scan from above, and what it lies on to its own area: ovals, or squarer than an oval, rectangles."""
    length, width = (piece.dimensions_cm[word].mid for word in ("length", "width"))
    under = piece.face("underside").area_cm2.mid
    oval = under <= length * width * pi / 4
    share = min(1.0, under / (length * width * (pi / 4 if oval else 1.0))) ** 0.5 if part == LOWER else 1.0
    length, width = share * length, share * width
    return _View(_oval(length, width) if oval else _rounded(length, width, 0.0), length, width)


def _section(shape: Shape, part: str) -> _View:
    """The cut across, at one end."""
    _, width, height = shape.outer_cm
    if isinstance(shape, RoundedBox):
        return _View(_rounded(width, height, shape.radius_cm), width, height)
    if isinstance(shape, Frustum):
        width = height = 2 * (shape.radius_1_cm if part == FIRST else shape.radius_2_cm)
    if isinstance(shape, EllipticFrustum):
        width, height = ((2 * shape.semi_a_1_cm, 2 * shape.semi_b_1_cm) if part == FIRST
                         else (2 * shape.semi_a_2_cm, 2 * shape.semi_b_2_cm))
    if "flat side" in shape.faces:
        arc = tuple((width / 2 * (1 - cos(turn)), height * (1 - sin(turn))) for turn in _turns(pi))
        return _View(arc, width, height)
    return _View(_oval(width, height), width, height)


def _tapered(shape: Frustum | EllipticFrustum, length: float, width: float) -> Points:
    first, second = ((shape.radius_1_cm, shape.radius_2_cm) if isinstance(shape, Frustum)
                     else (shape.semi_a_1_cm, shape.semi_a_2_cm))
    middle = width / 2
    return ((0.0, middle - first), (length, middle - second), (length, middle + second), (0.0, middle + first))


def _oval(width: float, height: float) -> Points:
    return tuple((width / 2 * (1 - cos(turn)), height / 2 * (1 - sin(turn))) for turn in _turns(2 * pi))


def _rounded(width: float, height: float, radius: float) -> Points:
    if not radius:
        return ((0.0, 0.0), (width, 0.0), (width, height), (0.0, height))
    corners = ((width - radius, radius, -pi / 2), (width - radius, height - radius, 0.0),
               (radius, height - radius, pi / 2), (radius, radius, pi))
    return tuple((x + radius * cos(start + turn), y + radius * sin(start + turn))
                 for x, y, start in corners for turn in _turns(pi / 2, 8))


def _turns(whole: float, count: int = 48) -> list[float]:
    return [whole * place / count for place in range(count + 1)]


def _table(faces: Sequence[Face]) -> Table:
    return Table(("face", "cm²", "from", "to", "coated"), tuple(
        (face.name, *(f"{one:.0f}" for one in (face.area_cm2.mid, face.area_cm2.low, face.area_cm2.high)),
         "yes" if face.coated else "no") for face in faces))


def chart(sizes: Sequence[Size]) -> Chart:
    """How weight misleads: the factor by surface and the factor by weight over the sizes of one cut."""
    cut = sizes[0].piece.cut
    by_ribs = all(size.piece.ribs for size in sizes)
    places = [float(size.piece.ribs or 0) if by_ribs else size.piece.mass_g.mid / 1000 for size in sizes]
    lines = (Line("by surface", tuple(zip(places, (size.by_surface for size in sizes), strict=True))),
             Line("by weight", tuple(zip(places, (size.by_weight for size in sizes), strict=True)), dashed=True))
    last = sizes[-1]
    return Chart(
        f"{cut.name}: what coats it, by surface and by weight",
        f"From {sizes[0].label} to {last.label} the coated surface grows {last.by_surface:.2f} times, the weight "
        f"{last.by_weight:.2f} times.", "ribs" if by_ribs else "weight, kg", "times the smallest", lines,
        size_rows(sizes))


def size_rows(sizes: Sequence[Size]) -> Table:
    """The sizes as a table of text."""
    return Table(("size", "weight", "coated cm²", "by surface", "by weight", "weight rule makes"), tuple(
        (size.label, weight_text(size.piece.mass_g.mid), f"{size.piece.coated_cm2.mid:.0f}", f"{size.by_surface:.2f}",
         f"{size.by_weight:.2f}", f"{size.excess_percent:+.0f} %") for size in sizes))
