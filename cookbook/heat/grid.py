"""Cut cells: a body's part becomes a graph of cells, edges between them and faces to the air.

Cells keep their true volume, openings and surface; those of which little is left join a neighbour. A body whose top
and bottom differ is solved as a quarter, with the part below z = 0; one whose left and right differ likewise.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from cookbook.heat.body import Array, Body
from cookbook.heat.cutcell import Cut, cut, unfolded

_SMALL = 0.6
_SKIN_M = 0.02
Ints = Array


class Graph(NamedTuple):
    """Cells with volume and centroid, edges with opening over distance, faces with area and depth of their cell."""

    volume_m3: Array
    centre_m: Array
    edge: Ints
    edge_m: Array
    face_cell: Ints
    face_m2: Array
    face_depth_m: Array
    face_tag: tuple[str, ...]
    copies: int
    core: Array
    line: Array
    line_m: Array
    half_m: float
    length_m: float
    pitch_m: float

    @property
    def cells(self) -> int:
        """How many cells there are."""
        return len(self.volume_m3)

    @property
    def area_m2(self) -> float:
        """Surface of the whole body."""
        return float(self.face_m2.sum()) * self.copies


def counts_for(body: Body, step_m: float, least: int = 4) -> tuple[int, int, int]:
    """Cells along each axis for a wanted step; at least `least` across the smallest size."""
    x, y, z = (max(least, round(size / step_m)) for size in body.sizes_m)
    return x, y, z


class _Raw(NamedTuple):
    """Faces and edges before small cells are merged."""

    edge: list[Ints]
    opening: list[Array]
    cell: list[Ints]
    area: list[Array]
    vector: list[Array]
    offset: list[Array]
    tag: list[str]


def _raw(cells: Cut, body: Body, counts: tuple[int, int, int], whole: str) -> _Raw:
    """Edges along the three axes; faces on the outer planes, the exposed origin planes and the curved surface."""
    number = np.arange(int(np.prod(counts))).reshape(counts)
    raw = _Raw([], [], [], [], [], [], [])

    def face(cells: Ints, area: Array, vector: Array, offset: Array, tag: str) -> None:
        keep = area > 1e-12
        if keep.any():
            raw.cell.append(cells[keep])
            raw.area.append(area[keep])
            raw.vector.append(vector[:, keep])
            raw.offset.append(offset[keep])
            raw.tag.append(tag)

    for axis, name in enumerate("xyz"):
        here, opening = np.moveaxis(number, axis, 0), np.moveaxis(cells.opening[axis], axis, 0)
        inner = opening[1:-1].ravel()
        keep = inner > 0
        raw.edge.append(np.stack([here[:-1].ravel(), here[1:].ravel()])[:, keep])
        raw.opening.append(inner[keep])
        outwards = np.eye(3)[:, axis:axis + 1]
        outer = opening[-1].ravel()
        face(here[-1].ravel(), outer, outwards * outer, body.sizes_m[axis] * outer, f"{name}+")
        flat = opening[0].ravel()
        if name in body.exposed:
            face(here[0].ravel(), flat, -outwards * flat, 0.0 * flat, f"{name}0")
        elif name in whole:
            face(here[0].ravel(), flat, -outwards * flat, body.sizes_m[axis] * flat, f"{name}-")
    middle = counts[2] // 2 if "z" in whole else 0
    for part, tag in ((slice(middle, None), "curved"), (slice(0, middle), "curved below")):
        face(number[:, :, part].ravel(), cells.surface[:, :, part].ravel(),
             cells.surface_vector[:, :, :, part].reshape(3, -1), cells.surface_offset[:, :, part].ravel(), tag)
    return raw


def _owners(volume: Array, raw: _Raw, limit: float) -> Ints:
    """For each cell the cell that holds it: itself, or the best connected neighbour where too little is left."""
    owner = np.arange(volume.size)
    first = np.concatenate([edge[0] for edge in raw.edge])
    second = np.concatenate([edge[1] for edge in raw.edge])
    opening = np.concatenate(raw.opening)
    held = volume.copy()
    for cell in np.argsort(volume, kind="stable"):
        if not 0 < volume[cell] < limit or held[cell] >= limit:
            continue
        near = np.concatenate([second[first == cell], first[second == cell]])
        wide = np.concatenate([opening[first == cell], opening[second == cell]])
        if near.size == 0:
            continue
        target = int(near[np.argmax(wide * (volume[near] > volume[cell]) + 1e-9 * wide)])
        while owner[target] != target:
            target = int(owner[target])
        if target != cell:
            owner[cell] = target
            held[target] += held[cell]
    for cell in np.flatnonzero(owner != np.arange(volume.size)):
        root = int(owner[cell])
        while owner[root] != root:
            root = int(owner[root])
        owner[cell] = root
    return owner


def graph_of(body: Body, step_m: float = 0.008, least: int = 4, core_at: float | None = None,
             whole: str = "") -> Graph:
    """The graph of a body on cells of about `step_m`.

    `core_at` is where the slowest point lies along the exposed axis, as a share of the size; found when not given.
    `whole` names the axes whose two sides may differ: "z" adds the part below z = 0, so that top and bottom may be
    covered differently, "x" the part left of x = 0.
    """
    whole = "".join(name for name in whole if name not in body.exposed)
    if body.exposed and core_at is None:
        core_at = _slowest(body)
    counts = counts_for(body, step_m, least)
    full = float(np.prod([size / n for size, n in zip(body.sizes_m, counts, strict=True)]))
    cells = cut(body, counts)
    for name in whole:
        cells = unfolded(cells, "xyz".index(name))
    x, y, z = (count * (2 if name in whole else 1) for count, name in zip(counts, "xyz", strict=True))
    counts = (x, y, z)
    times = 2 ** len(whole)
    raw = _raw(cells, body, counts, whole)
    volume, moment = cells.volume.ravel(), cells.moment.reshape(3, -1)
    owner = _owners(volume, raw, _SMALL * full)
    lives = (owner == np.arange(volume.size)) & (volume > 0)
    index = np.cumsum(lives) - 1
    to = index[owner]
    total = np.bincount(to[volume > 0], volume[volume > 0], int(lives.sum()))
    centre = np.stack([np.bincount(to[volume > 0], part[volume > 0], total.size) for part in moment]) / total
    edge, strength = _edges(raw, to, centre)
    cell, area, depth, tag = _faces(raw, to, centre)
    scale = body.volume_m3 * times / float(total.sum())
    thin = _probe_axis(body)
    where = to.reshape(counts)[:, :, counts[2] // 2 if "z" in whole else 0:]
    right = where[counts[0] // 2 if "x" in whole else 0:]
    core, line, line_m = _lines(body, right, centre, thin, core_at)
    if "x" in whole:
        left = where[counts[0] // 2 - 1::-1]
        core, line = ((one + other) / 2 for one, other in zip((core, line), _lines(body, left, centre, thin, core_at),
                                                               strict=False))
    pitch = body.sizes_m[1] / counts[1]
    return Graph(total * scale, centre.T.copy(), edge, strength, cell, area, depth, tag,
                 body.copies // times, core, line, line_m,
                 body.sizes_m[thin], body.sizes_m[1], pitch)


def _edges(raw: _Raw, to: Ints, centre: Array) -> tuple[Ints, Array]:
    """Edges between the cells that stay, openings between the same two added up."""
    first, second = to[np.concatenate(raw.edge, axis=1)]
    opening = np.concatenate(raw.opening)
    keep = first != second
    first, second, opening = first[keep], second[keep], opening[keep]
    distance = np.sqrt(((centre[:, second] - centre[:, first]) ** 2).sum(axis=0))
    low, high = np.minimum(first, second), np.maximum(first, second)
    unique, inverse = np.unique(low * centre.shape[1] + high, return_inverse=True)
    strength = np.bincount(inverse, opening / distance)
    return np.stack([unique // centre.shape[1], unique % centre.shape[1]]), strength


def _faces(raw: _Raw, to: Ints, centre: Array) -> tuple[Ints, Array, Array, tuple[str, ...]]:
    """Faces of the cells that stay, those of one cell and kind added up; depth is the centroid's mean distance."""
    cells, areas, depths, tags = [], [], [], []
    for cell, area, vector, offset, tag in zip(raw.cell, raw.area, raw.vector, raw.offset, raw.tag, strict=True):
        unique, inverse = np.unique(to[cell], return_inverse=True)
        total = np.bincount(inverse, area)
        beyond = np.bincount(inverse, offset - (vector * centre[:, to[cell]]).sum(axis=0))
        cells.append(unique)
        areas.append(total)
        depths.append(beyond / total)
        tags.extend([tag] * unique.size)
    return np.concatenate(cells), np.concatenate(areas), np.concatenate(depths), tuple(tags)


def _probe_axis(body: Body) -> int:
    """The shortest axis with a mirror: the way in for a probe from the nearest side."""
    mirrored = [axis for axis, name in enumerate("xyz") if name not in body.exposed]
    return min(mirrored, key=lambda axis: body.sizes_m[axis])


def _on_axis(where: Ints, axis: int, place: int, cells: int) -> Array:
    """Weights for the temperature on an axis at the height of cell `place`: a parabola across the other two."""
    weights = np.zeros(cells)
    at = [0, 0, 0]
    at[axis] = place
    here = where[tuple(at)]
    weights[here] += 1.0
    for other in {0, 1, 2} - {axis}:
        beside = list(at)
        beside[other] = 1
        weights[here] += 1.0 / 8.0
        weights[where[tuple(beside)]] -= 1.0 / 8.0
    return weights


def _lines(body: Body, where: Ints, centre: Array, thin: int, core_at: float | None) -> tuple[Array, Array, Array]:
    """Weights of the core, and of points from the core outwards along the probe's axis with their distance."""
    cells = centre.shape[1]
    if core_at is None:
        rows = [_on_axis(where, thin, place, cells) for place in range(where.shape[thin])]
        places = [centre[thin, where[tuple(place if k == thin else 0 for k in range(3))]]
                  for place in range(where.shape[thin])]
        core = rows[0] + (rows[0] - rows[1]) / 8.0
        return core, np.array([core, *rows]), np.array([0.0, *places])
    axis = "xyz".index(body.exposed[0])
    pitch = body.sizes_m[axis] / where.shape[axis]
    low = int(np.clip(core_at * body.sizes_m[axis] / pitch - 0.5, 0, where.shape[axis] - 2))
    share = core_at * body.sizes_m[axis] / pitch - 0.5 - low
    core = (1 - share) * _on_axis(where, axis, low, cells) + share * _on_axis(where, axis, low + 1, cells)
    rows, places = [core], [0.0]
    for step in range(1, where.shape[thin]):
        row = np.zeros(cells)
        at = [0, 0, 0]
        at[thin] = step
        for offset, part in ((0, 1 - share), (1, share)):
            at[axis] = low + offset
            row[where[tuple(at)]] += part
        rows.append(row)
        places.append((step + 0.5) * body.sizes_m[thin] / where.shape[thin])
    return core, np.array(rows), np.array(places)


def _slowest(body: Body) -> float:
    """Where along its exposed axis a body warms last: the peak of evenly heated meat that loses heat at its faces."""
    graph = graph_of(body, max(body.sizes_m) / 12, core_at=0.5)
    matrix = np.zeros((graph.cells, graph.cells))
    first, second = graph.edge
    matrix[first, second] -= graph.edge_m
    matrix[second, first] -= graph.edge_m
    np.fill_diagonal(matrix, -matrix.sum(axis=1))
    np.add.at(matrix, (graph.face_cell, graph.face_cell), graph.face_m2 / (graph.face_depth_m + _SKIN_M))
    warmth = np.linalg.solve(matrix, graph.volume_m3)
    axis = "xyz".index(body.exposed[0])
    others = [k for k in range(3) if k != axis]
    pitch = np.array(body.sizes_m) / np.array(counts_for(body, max(body.sizes_m) / 12, 4))
    near = np.flatnonzero((graph.centre_m[:, others] < pitch[others]).all(axis=1))
    order = near[np.argsort(graph.centre_m[near, axis])]
    along, value = graph.centre_m[order, axis], warmth[order]
    top = int(np.clip(np.argmax(value), 1, value.size - 2))
    c, b, _ = np.polyfit(along[top - 1:top + 2], value[top - 1:top + 2], 2)
    return float(np.clip(-b / (2 * c) / body.sizes_m[axis], 0.1, 0.9))
