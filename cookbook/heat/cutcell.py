"""Cutting cells: what is left of each Cartesian cell inside a body, by nested quadrature.

Cells are fitted to the outer sizes and refined twice; volumes and openings come from Gauss points along lines that
end at the surface, the surface from the openings' difference, its distance from the divergence theorem.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from cookbook.heat.body import Array, Body

_FINE = 2
_GAUSS = np.array([-np.sqrt(0.6), 0.0, np.sqrt(0.6)]) / 2 + 0.5
_WEIGHT = np.array([5.0, 8.0, 5.0]) / 18.0


class Cut(NamedTuple):
    """Coarse arrays of one part: volume, first moments, openings per axis, surface area, its vector and offset.

    The offset is the sum of x . n dA over the surface, what the divergence theorem leaves of three times the volume.
    """

    volume: Array
    moment: Array
    opening: tuple[Array, Array, Array]
    surface: Array
    surface_vector: Array
    surface_offset: Array


def _points(edges: Array, limit: Array | float) -> tuple[Array, Array]:
    """Gauss points and weights in each interval of `edges` cut at `limit` (broadcast in front)."""
    low = edges[:-1]
    span = np.clip(np.minimum(edges[1:], np.asarray(limit)[..., None]) - low, 0.0, None)
    points = low[:, None] + span[..., None] * _GAUSS
    weights = span[..., None] * _WEIGHT
    return points, np.broadcast_to(weights, points.shape)


def _overlap(edges: Array, reach: Array) -> Array:
    return np.asarray(np.clip(reach[..., None] - edges[:-1], 0.0, np.diff(edges)))


def _volumes(body: Body, xs: Array, ys: Array, zs: Array) -> tuple[Array, Array]:
    """Volume and first moments of each fine cell."""
    x, wx = _points(xs, body.sizes_m[0])
    y, wy = _points(ys, body.y_of_x(x))
    reach = body.z_of_xy(x[..., None, None], y)
    depth = _overlap(zs, reach)
    weight = wx[..., None, None] * wy
    part = weight[..., None] * depth
    volume = part.sum(axis=(1, 3))
    moment = np.stack([
        (part * x[..., None, None, None]).sum(axis=(1, 3)),
        (part * y[..., None]).sum(axis=(1, 3)),
        (part * (zs[:-1] + depth / 2)).sum(axis=(1, 3)),
    ])
    return volume, moment


def _openings(body: Body, xs: Array, ys: Array, zs: Array) -> tuple[Array, Array, Array]:
    """Open area of each fine cell face, for faces across x, y and z."""
    y, w = _points(ys, body.y_of_x(xs))
    across_x = (w[..., None] * _overlap(zs, body.z_of_xy(xs[:, None, None], y))).sum(axis=2)
    x, w = _points(xs, body.x_of_y(ys))
    across_y = (w[..., None] * _overlap(zs, body.z_of_xy(x, ys[:, None, None] + 0.0 * x))).sum(axis=2)
    y, w = _points(ys, body.y_of_z(zs))
    across_z = (w[..., None] * _overlap(xs, body.x_of_yz(y, zs[:, None, None] + 0.0 * y))).sum(axis=2)
    return across_x, across_y.transpose(1, 0, 2), across_z.transpose(2, 1, 0)


def _coarse(values: Array, axes: tuple[bool, bool, bool], m: int) -> Array:
    """Sums of m fine values to one along the axes marked; along the others every m-th."""
    for axis, summed in enumerate(axes):
        if summed:
            shape = (*values.shape[:axis], values.shape[axis] // m, m, *values.shape[axis + 1:])
            values = values.reshape(shape).sum(axis=axis + 1)
        else:
            values = np.take(values, range(0, values.shape[axis], m), axis=axis)
    return values


def cut(body: Body, counts: tuple[int, int, int]) -> Cut:
    """The part of the body that lies in each of so many cells along its axes."""
    m = _FINE
    xs, ys, zs = (np.linspace(0.0, size, n * m + 1) for size, n in zip(body.sizes_m, counts, strict=True))
    volume, moment = _volumes(body, xs, ys, zs)
    ax, ay, az = _openings(body, xs, ys, zs)
    vector = np.stack([-np.diff(ax, axis=0), -np.diff(ay, axis=1), -np.diff(az, axis=2)])
    size = np.sqrt((vector ** 2).sum(axis=0))
    size[size < 1e-9 * size.max()] = 0.0
    through = [np.diff(a * edges.reshape(np.roll([-1, 1, 1], k)), axis=k)
               for k, (a, edges) in enumerate(((ax, xs), (ay, ys), (az, zs)))]
    whole = (True, True, True)
    return Cut(
        _coarse(volume, whole, m),
        np.stack([_coarse(part, whole, m) for part in moment]),
        (_coarse(ax, (False, True, True), m), _coarse(ay, (True, False, True), m),
         _coarse(az, (True, True, False), m)),
        _coarse(size, whole, m),
        np.stack([_coarse(part, whole, m) for part in vector]),
        _coarse(3.0 * volume - sum(through), whole, m),
    )


def unfolded(half: Cut, axis: int) -> Cut:
    """The same with the part beyond the origin of `axis` added, for a body whose two sides differ there."""

    def both(values: Array, sign: float = 1.0) -> Array:
        return np.concatenate([sign * np.flip(values, axis), values], axis=axis)

    def parts(values: Array) -> Array:
        return np.stack([both(part, -1.0 if k == axis else 1.0) for k, part in enumerate(values)])

    def opening(k: int) -> Array:
        values = half.opening[k]
        if k != axis:
            return both(values)
        mirrored = np.flip(np.delete(values, 0, axis), axis)
        return np.concatenate([mirrored, values], axis=axis)

    return Cut(both(half.volume), parts(half.moment), (opening(0), opening(1), opening(2)),
               both(half.surface), parts(half.surface_vector), both(half.surface_offset))
