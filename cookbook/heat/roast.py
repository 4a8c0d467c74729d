"""A piece as the solver takes it: body, properties, how much of its skin is open, how sure its sizes are.

A bird cooks as the ellipsoid of its flesh and bone, a scan as the body fitted to it; `cooked_as` says which.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from cookbook.errors import PieceError, UnknownName
from cookbook.heat.body import Array, Body, body_of
from cookbook.heat.grid import Graph, graph_of
from cookbook.heat.matter import COMPONENTS, Matter, matter_of
from cookbook.heat.phase import Skin, skin_of
from cookbook.meat.shapes import Bird
from cookbook.quantity.interval import NORMAL_80
from cookbook.table import rows

if TYPE_CHECKING:
    from cookbook.meat import Piece

FINE_M, COARSE_M, LOOSE_M = 0.008, 0.0125, 0.016
_BONE_J_M3K = 2.5e6
SUREST, LOOSEST = 0.015, 0.2
"""One sigma of ln(size) is never taken for less, or for more."""
_BONE_FACE_WET = 0.15
_PLAIN_MEAT = {"water": 0.66, "protein": 0.19, "fat": 0.14, "ash": 0.01}
_LIGHTEST_G, _HEAVIEST_G = 100.0, 40_000.0
_SIDES = {"top": ("curved", "z+"), "bottom": ("curved below", "z-", "z0"), "sides": ("x+",), "ends": ("y+", "y0")}


class Roast(NamedTuple):
    """What is cooked: the body, its matter, the share of each face that evaporates, one sigma of ln(size).

    `side_k` is by how much the fire is hotter along one long side than along the other.
    """

    name: str
    species: str
    body: Body
    matter: Matter
    wet: dict[str, float]
    size_spread: float
    measured: tuple[str, ...]
    cooked_as: str
    side_k: float = 0.0

    @property
    def length_cm(self) -> float:
        """Length along which slices are cut."""
        return self.body.sizes_m[1] * 100 * (1 if "y" in self.body.exposed else 2)


def wet_share(cut: str) -> float:
    """Share of a cut's outside that can evaporate; 0.75 for a cut the table does not name."""
    for row in rows("heat_surfaces"):
        if row["cut"] == cut:
            return float(row["wet"])
    return 0.75


def with_bone(matter: Matter, share: float) -> Matter:
    """Meat with bone in it: bone holds less heat (2.5 MJ/(m3 K), memory), gives up no juice and does not melt."""
    meat = 1.0 - share
    water, protein, fat, ash = matter.fractions
    return matter._replace(
        fractions=(water * meat, protein, fat, ash),
        capacity_j_m3k=matter.capacity_j_m3k * meat + _BONE_J_M3K * share,
        melting_j_m3k=matter.melting_j_m3k * meat)


def roast_of(shape: object, composition: Mapping[str, float], *, name: str = "meat", species: str = "beef",
             bone_share: float = 0.0, wet: float | None = None, size_spread: float = 0.04,
             covered: Mapping[str, float] | None = None, measured: tuple[str, ...] = ()) -> Roast:
    """A roast of a given shape (of meat's shapes, or a body) and composition.

    `covered` gives the share that evaporates of "top", "bottom", "sides" or "ends" where it is not the cut's own.
    """
    body = shape if isinstance(shape, Body) else body_of(shape)
    matter = with_bone(matter_of(composition), bone_share)
    share = wet_share(name) if wet is None else wet
    faces = {"": share}
    for side, part in (covered or {}).items():
        if side not in _SIDES:
            raise UnknownName("side of a roast", side, sorted(_SIDES))
        faces.update(dict.fromkeys(_SIDES[side], float(part)))
    return Roast(name, species, body, matter, faces, size_spread, measured, body.kind)


def roast_of_piece(piece: Piece) -> Roast:
    """The roast of a piece of `meat`; refused below 100 g and above 40 kg."""
    grams = float(piece.mass_g.mid)
    if not _LIGHTEST_G <= grams <= _HEAVIEST_G:
        weight = f"{grams:g} g" if grams < 1000 else f"{grams / 1000:g} kg"
        raise PieceError(f"a piece of {weight}: forecasts are for {_LIGHTEST_G:g} g to {_HEAVIEST_G / 1000:g} kg",
                         measurement="weight", mend="check the weight and its unit")
    cut = piece.cut
    bone = 0.0 if piece.bones == "off" else float(cut.bone_share.mid)
    on_bone = bone > 0 and any(part.bone and part.role == "bottom" for part in cut.face_parts)
    shape = piece.shape.flesh if isinstance(piece.shape, Bird) else piece.shape
    composition = cut.composition._asdict() if cut.composition is not None else _PLAIN_MEAT
    roast = roast_of(shape, {name: composition[name] for name in COMPONENTS}, name=cut.name, species=cut.species,
                     bone_share=bone, covered={"bottom": _BONE_FACE_WET} if on_bone else None,
                     size_spread=size_spread(piece))
    return roast._replace(measured=_measured(piece), cooked_as=_sentence(piece, roast.body))


def size_spread(piece: Piece) -> float:
    """One sigma of ln(size) from the interval of the smallest dimension, which rules the time."""
    thin = min(piece.dimensions_cm.values(), key=lambda interval: interval.mid)
    half = (thin.high - thin.low) / 2 / thin.mid / NORMAL_80
    return float(np.clip(half, SUREST, LOOSEST))


def _measured(piece: Piece) -> tuple[str, ...]:
    return tuple(name for name, interval in piece.dimensions_cm.items()
                 if (interval.high - interval.low) / interval.mid < 0.12)


def _sentence(piece: Piece, body: Body) -> str:
    x, y, z = (200 * size for size in body.sizes_m)
    if "y" in body.exposed:
        y /= 2
    if "z" in body.exposed:
        z /= 2
    kind = "half " + body.kind if "z" in body.exposed else body.kind
    return f"{piece.cut.name} as a {kind}, {y:.1f} x {x:.1f} x {z:.1f} cm"


class Cells(NamedTuple):
    """A roast on one grid."""

    graph: Graph
    skin: Skin


def cells_of(roast: Roast, step_m: float) -> Cells:
    """The roast's cells of about `step_m`, with the share of each face that evaporates."""
    below = {roast.wet.get(tag) for tag in _SIDES["bottom"]}
    above = {roast.wet.get(tag) for tag in _SIDES["top"]}
    graph = graph_of(roast.body, step_m, whole=("x" if roast.side_k else "") + ("z" if above != below else ""))
    wet: Array = np.array([roast.wet.get(tag, roast.wet[""]) for tag in graph.face_tag])
    return Cells(graph, skin_of(graph, wet, roast.side_k))
