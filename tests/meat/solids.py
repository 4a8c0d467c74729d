"""Any shape of any size, and the hull of points on its surface, for the laws that hold for all of them."""

from __future__ import annotations

from itertools import pairwise
from math import pi

import numpy as np
from hypothesis import strategies as st
from numpy.typing import NDArray
from scipy.spatial import ConvexHull

from cookbook.meat.shapes import (
    Box,
    Ellipsoid,
    EllipticCylinder,
    EllipticFrustum,
    Frustum,
    HalfEllipsePrism,
    HalfEllipsoid,
    RoundedBox,
    Shape,
    StadiumPrism,
)

SIZE = st.floats(1, 60)
LIKE = st.floats(6, 24)
"""Semi-axes of ends that are not too unlike: between very unlike ones the side is a steep saddle, which flat facets
overstate."""
Points = NDArray[np.float64]


@st.composite
def rounded_boxes(draw: st.DrawFn) -> RoundedBox:
    sizes = draw(st.tuples(SIZE, SIZE, SIZE))
    return RoundedBox(*sizes, draw(st.floats(0.05, 1)) * min(sizes) / 2)


SHAPES: st.SearchStrategy[Shape] = st.one_of(
    st.builds(Box, SIZE, SIZE, SIZE), rounded_boxes(), st.builds(EllipticCylinder, SIZE, SIZE, SIZE),
    st.builds(HalfEllipsePrism, SIZE, SIZE, SIZE), st.builds(StadiumPrism, SIZE, SIZE, SIZE),
    st.builds(Ellipsoid, SIZE, SIZE, SIZE), st.builds(HalfEllipsoid, SIZE, SIZE, SIZE),
    st.builds(Frustum, SIZE, SIZE, SIZE), st.builds(EllipticFrustum, LIKE, LIKE, LIKE, LIKE, st.floats(6, 60)))


def hull(shape: Shape, fine: int = 160) -> tuple[float, float]:
    """Area and volume of the hull of points on the surface; every shape that bulges holds it just inside.

    The side of an oval frustum between unlike ovals is a saddle in places, so that one is a mesh instead.
    """
    if isinstance(shape, EllipticFrustum):
        return _meshed(shape, fine)
    found = ConvexHull(surface(shape, fine))
    return float(found.area), float(found.volume)


def surface(shape: Shape, fine: int) -> Points:
    """Points on a shape's surface; `fine` of them round an outline."""
    if isinstance(shape, RoundedBox):
        return _box(shape, fine)
    if isinstance(shape, Ellipsoid):
        return np.asarray(_ball(fine) * np.array([shape.semi_a_cm, shape.semi_b_cm, shape.semi_c_cm]))
    if isinstance(shape, HalfEllipsoid):
        upper = _ball(fine)
        upper = upper[upper[:, 2] >= -1e-12]
        return np.asarray(upper * np.array([shape.semi_a_cm, shape.semi_b_cm, shape.height_cm]))
    return _between(*_ends(shape, fine))


def _ends(shape: Shape, fine: int) -> tuple[Points, Points, float]:
    turn = np.linspace(0, 2 * pi, fine, endpoint=False)
    circle = np.column_stack([np.cos(turn), np.sin(turn)])
    length = shape.outer_cm[0]
    if isinstance(shape, HalfEllipsePrism):
        arc = np.linspace(0, pi, fine)
        half = np.column_stack([shape.width_cm / 2 * np.cos(arc), shape.height_cm * np.sin(arc)])
        return half, half, length
    if isinstance(shape, StadiumPrism):
        stadium = circle * shape.radius_cm
        stadium = np.vstack([stadium + np.array([side * shape.straight_cm / 2, 0]) for side in (-1, 1)])
        return stadium, stadium, length
    if isinstance(shape, Frustum):
        return circle * shape.radius_1_cm, circle * shape.radius_2_cm, length
    if isinstance(shape, EllipticFrustum):
        return (circle * [shape.semi_a_1_cm, shape.semi_b_1_cm], circle * [shape.semi_a_2_cm, shape.semi_b_2_cm],
                length)
    assert isinstance(shape, EllipticCylinder)
    oval = circle * [shape.semi_a_cm, shape.semi_b_cm]
    return oval, oval, length


def _meshed(shape: EllipticFrustum, fine: int) -> tuple[float, float]:
    """Area and volume of a mesh of flat triangles: rings along the length, a fan on each end."""
    first, second, length = _ends(shape, fine)
    rings = [np.column_stack([np.full(fine, place * length), first + place * (second - first)])
             for place in np.linspace(0, 1, 17)]
    faces = [triangle for lower, upper in pairwise(rings) for triangle in _strip(lower, upper)]
    middles = [np.array([0.0, 0.0, 0.0]), np.array([length, 0.0, 0.0])]
    faces += [_fan(rings[0], middles[0]), _fan(rings[-1][::-1], middles[1])]
    corners = np.concatenate(faces)
    normals = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    return float(np.linalg.norm(normals, axis=1).sum() / 2), abs(float((normals * corners[:, 0]).sum() / 6))


def _strip(lower: Points, upper: Points) -> list[Points]:
    one, two = np.roll(lower, -1, axis=0), np.roll(upper, -1, axis=0)
    return [np.stack([lower, upper, one], axis=1), np.stack([one, upper, two], axis=1)]


def _fan(ring: Points, middle: Points) -> Points:
    return np.stack([ring, np.roll(ring, -1, axis=0), np.broadcast_to(middle, ring.shape)], axis=1)


def _between(first: Points, second: Points, length: float) -> Points:
    return np.vstack([np.column_stack([np.zeros(len(first)), first]),
                      np.column_stack([np.full(len(second), length), second])])


def _ball(fine: int) -> Points:
    turn = np.linspace(0, 2 * pi, fine, endpoint=False)
    rise = np.linspace(-pi / 2, pi / 2, fine // 2 + 1)
    one, two = (grid.ravel() for grid in np.meshgrid(turn, rise))
    return np.column_stack([np.cos(one) * np.cos(two), np.sin(one) * np.cos(two), np.sin(two)])


def _box(shape: RoundedBox, fine: int) -> Points:
    inner = np.array([size / 2 - shape.radius_cm for size in (shape.length_cm, shape.width_cm, shape.height_cm)])
    corners = np.array([[x, y, z] for x in (-1, 1) for y in (-1, 1) for z in (-1, 1)])
    if not shape.radius_cm:
        return np.asarray(corners * inner)
    ball = _ball(fine)
    return np.vstack([corner * inner + shape.radius_cm * ball[(ball * corner > -1e-9).all(axis=1)]
                      for corner in corners])
