"""The records a simulation takes and gives: members, phases, the skin of a grid, the run."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from cookbook.heat.body import Array
from cookbook.heat.grid import Graph


class Members(NamedTuple):
    """Parameters of each member, arrays of one length; scales are relative to the middle estimate."""

    size: Array
    kappa: Array
    wet: Array
    crust: Array
    feed: Array
    melt: Array
    hold_s: Array
    h: Array
    pit_k: Array
    vapour: Array
    start_c: Array
    depth: Array
    fade: Array
    fire: Array
    """The convection of the member's cooker against that of the phases, where no wrap lies between."""

    @property
    def number(self) -> int:
        """How many members there are."""
        return len(self.size)


class Phase(NamedTuple):
    """A stretch with its own surroundings; it ends after `minutes`, at minute `until_min` or at a core of `core_c`.

    `air_c` None means the pit program plus the member's own offset; `pit` says that offset and pit humidity apply;
    `wrapped` meat has the wrap's convection in every cooker; `standing` is what comes after slicing was planned, to
    see how the core goes on.
    """

    name: str
    air_c: float | None
    h: float
    emissivity: float
    evaporation: float
    vapour_pa: float
    minutes: float | None = None
    core_c: float | None = None
    until_min: float | None = None
    pit: bool = True
    wrapped: bool = False
    standing: bool = False


class Skin(NamedTuple):
    """Faces added up by cell: share of the face that evaporates, and by how many K the air there is hotter."""

    cell: Array
    area_m2: Array
    depth_m: Array
    wet: Array
    hotter_k: Array


class Run(NamedTuple):
    """What came out: per step the clock and core, per member the ends of phases, peaks and losses."""

    time_s: Array
    core_c: Array
    surface_c: Array
    deep_c: Array
    ended_s: Array
    core_end_c: Array
    peak_c: Array
    peak_s: Array
    highest_c: Array
    loss_end: Array


def skin_of(graph: Graph, wet: Array, side_k: float = 0.0) -> Skin:
    """One face per cell: areas added, conductances to the cell added, covered shares averaged by area.

    Air is `side_k` hotter at the right edge (the greatest x) than at the left one, evenly between.
    """
    cell, inverse = np.unique(graph.face_cell, return_inverse=True)
    area = np.bincount(inverse, graph.face_m2)
    conductance = np.bincount(inverse, graph.face_m2 / graph.face_depth_m)
    across = graph.centre_m[cell, 0]
    hotter = side_k / 2.0 * across / max(float(np.abs(across).max()), 1e-9)
    return Skin(cell, area, area / conductance, np.bincount(inverse, graph.face_m2 * wet) / area, hotter)
