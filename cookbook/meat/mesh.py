"""Triangles of a scan: area and volume, welding, which side is out, pieces that hang together, holes, smoothing.

Plain numpy, in whatever unit the points are. Only a scan loads this.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

Points = NDArray[np.float64]
Index = NDArray[np.int64]


class Mesh(NamedTuple):
    """Corners as points, and three of them for each triangle."""

    points: Points
    faces: Index


class Hole(NamedTuple):
    """A rim of open edges: triangles to its middle, their area, how far it leaves its plane, the plane's normal."""

    corners: Points
    area: float
    unevenness: float
    normal: Points


def corners(mesh: Mesh) -> tuple[Points, Points, Points]:
    """The three corners of every triangle."""
    first, second, third = (mesh.points[mesh.faces[:, place]] for place in range(3))
    return first, second, third


def face_areas(mesh: Mesh) -> Points:
    """Area of every triangle."""
    first, second, third = corners(mesh)
    return np.asarray(np.sqrt((_cross(second - first, third - first) ** 2).sum(axis=1)) / 2)


def area_and_volume(mesh: Mesh) -> tuple[float, float]:
    """Surface, and signed volume inside it, taken about the middle of the points so that a small gap costs little."""
    first, second, third = corners(mesh)
    normals = _cross(second - first, third - first)
    middle = mesh.points.mean(axis=0)
    area = float(np.sqrt(np.einsum("ij,ij->i", normals, normals)).sum() / 2)
    return area, float(np.einsum("ij,ij->", first - middle, normals) / 6)


def _cross(one: Points, two: Points) -> Points:
    out = np.empty_like(one)
    for x, y, z in ((0, 1, 2), (1, 2, 0), (2, 0, 1)):
        out[:, x] = one[:, y] * two[:, z] - one[:, z] * two[:, y]
    return out


def welded(mesh: Mesh) -> tuple[Mesh, int]:
    """The mesh with equal points made one and broken triangles gone, and how many triangles were there twice."""
    sound = np.asarray(np.isfinite(mesh.points).all(axis=1))
    faces = mesh.faces[sound[mesh.faces].all(axis=1)]
    points = np.where(sound[:, None], mesh.points, 0.0)
    grid = np.round((points - points.min(axis=0)) / (np.ptp(points, axis=0).max() or 1.0) * 2e6).astype(np.int64)
    code = (grid[:, 0] << 42) | (grid[:, 1] << 21) | grid[:, 2]
    _, keep, where = np.unique(code, return_index=True, return_inverse=True)
    faces = where[faces]
    faces = faces[(faces[:, 0] != faces[:, 1]) & (faces[:, 1] != faces[:, 2]) & (faces[:, 2] != faces[:, 0])]
    _, once = np.unique(np.sort(faces, axis=1), axis=0, return_index=True)
    return Mesh(points[keep], faces[np.sort(once)]), len(faces) - len(once)


class Edges(NamedTuple):
    """Edges that two triangles share (`left`, `right`; `against` where both run it the same way), and open ones."""

    left: Index
    right: Index
    against: NDArray[np.bool_]
    rim: Index


def edges(mesh: Mesh) -> Edges:
    """How the triangles meet. An edge of three or more triangles joins none of them."""
    faces = mesh.faces
    start = faces.ravel()
    end = faces[:, [1, 2, 0]].ravel()
    owner = np.repeat(np.arange(len(faces)), 3)
    low, high = np.minimum(start, end), np.maximum(start, end)
    order = np.argsort(low * len(mesh.points) + high, kind="stable")
    code = (low * len(mesh.points) + high)[order]
    begins = np.flatnonzero(np.r_[True, code[1:] != code[:-1]])
    count = np.diff(np.r_[begins, len(code)])
    one, two = order[begins[count == 2]], order[begins[count == 2] + 1]
    rim = order[begins[count == 1]]
    return Edges(owner[one], owner[two], start[one] == start[two], np.column_stack([start[rim], end[rim]]))


def labels(count: int, one: Index, two: Index) -> Index:
    """For `count` things of which `one` and `two` hang together, the smallest number in each one's group."""
    found = np.arange(count)
    while True:
        least = np.minimum(found[one], found[two])
        np.minimum.at(found, found[one], least)
        np.minimum.at(found, found[two], least)
        while True:
            jumped = found[found]
            if (jumped == found).all():
                break
            found = jumped
        if (found[one] == found[two]).all():
            return np.asarray(found)


def turned_out(mesh: Mesh, met: Edges) -> tuple[Mesh, Index, int]:
    """The mesh with every group of triangles facing one way, outwards; each triangle's group; how many were turned.

    Every triangle stands twice, once for each side; what is joined on one side is one skin.
    """
    count = len(mesh.faces)
    here, there = np.r_[met.left, met.left + count], np.r_[met.right, met.right + count]
    across = np.r_[met.against, met.against]
    there = np.where(across, (there + count) % (2 * count), there)
    side = labels(2 * count, here, there)
    group = np.minimum(side[:count], side[count:])
    faces = mesh.faces.copy()
    inward = side[count:] < side[:count]
    faces[inward] = faces[inward][:, ::-1]
    volumes = np.bincount(group, _about(Mesh(mesh.points, faces), group), minlength=count)
    backward = volumes[group] < 0
    faces[backward] = faces[backward][:, ::-1]
    odd = int((inward != backward).sum())
    return Mesh(mesh.points, faces), group, min(odd, count - odd)


def _about(mesh: Mesh, group: Index) -> Points:
    """Signed volume of each triangle with the middle of its own group."""
    first, second, third = corners(mesh)
    size = np.maximum(np.bincount(group, minlength=len(group)), 1)
    middle = np.column_stack([np.bincount(group, first[:, place], minlength=len(group)) / size for place in range(3)])
    return np.asarray(np.einsum("ij,ij->i", first - middle[group], _cross(second - first, third - first)) / 6)


def part(mesh: Mesh, chosen: NDArray[np.bool_]) -> Mesh:
    """Only the chosen triangles, with the points they use."""
    used, faces = np.unique(mesh.faces[chosen], return_inverse=True)
    return Mesh(mesh.points[used], faces.reshape(-1, 3))


def holes(mesh: Mesh, rim: Index) -> list[Hole]:
    """Every ring of open edges, the largest first, with the triangles that would close it."""
    if not len(rim):
        return []
    ring = labels(len(mesh.points), rim[:, 0], rim[:, 1])[rim[:, 0]]
    found = []
    for one in np.unique(ring):
        start, end = mesh.points[rim[ring == one, 0]], mesh.points[rim[ring == one, 1]]
        middle = start.mean(axis=0)
        fan = np.stack([end, start, np.broadcast_to(middle, start.shape)], axis=1)
        crossed = _cross(start - end, middle - end)
        normal = crossed.sum(axis=0)
        length = float(np.linalg.norm(normal)) or 1.0
        away = np.abs((start - middle) @ (normal / length)).max()
        area = float(np.sqrt((crossed ** 2).sum(axis=1)).sum() / 2)
        found.append(Hole(fan, area, float(away) / (area ** 0.5 or 1.0), normal / length))
    return sorted(found, key=lambda hole: -hole.area)


def closed(mesh: Mesh, caps: list[Hole]) -> Mesh:
    """The mesh with these holes closed."""
    extra = [hole.corners.reshape(-1, 3) for hole in caps]
    points = np.concatenate([mesh.points, *extra])
    first = len(mesh.points)
    return Mesh(points, np.concatenate([mesh.faces, np.arange(first, len(points)).reshape(-1, 3)]))


def smoothed(mesh: Mesh, rim: Index, rounds: int) -> Mesh:
    """Noise taken out by Taubin's rule: each point half way to its neighbours, then a little more back; rims stay."""
    faces = mesh.faces
    pairs = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    pairs = np.unique(np.sort(pairs, axis=1), axis=0)
    here, there = np.r_[pairs[:, 0], pairs[:, 1]], np.r_[pairs[:, 1], pairs[:, 0]]
    order = np.argsort(here, kind="stable")
    there = there[order]
    count = np.bincount(here, minlength=len(mesh.points))
    begins = np.r_[0, np.cumsum(count)[:-1]]
    free = np.ones((len(mesh.points), 1))
    free[np.unique(rim)] = 0
    points = mesh.points
    for _ in range(rounds):
        for step in (0.5, -0.53):
            towards = np.add.reduceat(points[there], begins) / count[:, None] - points
            points = points + step * free * towards
    return Mesh(points, faces)


def area_below(mesh: Mesh, heights: Points, level: float) -> float:
    """Surface below a plane; `heights` are the points' distances along its normal."""
    low, middle, high = np.sort(heights[mesh.faces], axis=1).T
    with np.errstate(divide="ignore", invalid="ignore"):
        lower = (level - low) ** 2 / ((middle - low) * (high - low))
        upper = 1 - (high - level) ** 2 / ((high - middle) * (high - low))
    share = np.select([level <= low, level >= high, level < middle], [0.0, 1.0, lower], upper)
    return float((face_areas(mesh) * share).sum())
