"""Bodies as the solver sees them: how far they reach along each axis, and which planes are mirrors.

x is the width, y the length, z the height. Each body is described where x, y, z >= 0: a body with three mirror
planes is solved there; where a plane through the origin is a real face (a half shape, the thick end of a frustum) it
is exposed instead. All lengths in metres. The outer sizes come from the shapes of `meat`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from cookbook.errors import RequestError

Array = NDArray[Any]
Reach1 = Callable[[Array], Array]
Reach2 = Callable[[Array, Array], Array]


class Body(NamedTuple):
    """A convex body in the positive octant. `exposed` names the origin planes that are faces, not mirrors."""

    kind: str
    sizes_m: tuple[float, float, float]
    x_of_y: Reach1
    y_of_x: Reach1
    y_of_z: Reach1
    z_of_xy: Reach2
    x_of_yz: Reach2
    volume_m3: float
    exposed: tuple[str, ...] = ()

    @property
    def copies(self) -> int:
        """How many such parts make the whole body."""
        return int(2 ** (3 - len(self.exposed)))


def _root(value: Array) -> Array:
    return np.sqrt(np.maximum(value, 0.0))


def prism(semi_x_m: float, semi_z_m: float, length_m: float, power: float = 2.0,
          exposed: tuple[str, ...] = ()) -> Body:
    """|x/a|^p + |z/b|^p <= 1 along y with flat ends; p = 2 is an ellipse, a large p a brick."""
    a, b, c, p = semi_x_m, semi_z_m, length_m / 2, power

    def other(value: Array, here: float, there: float) -> Array:
        inside = np.maximum(1.0 - np.minimum(value / here, 1.0) ** p, 0.0)
        return there * np.asarray(inside ** (1.0 / p), dtype=np.float64)

    return Body(
        "prism", (a, c, b),
        lambda y: np.full_like(y, a),
        lambda x: np.full_like(x, c),
        lambda z: np.full_like(z, c),
        lambda x, y: other(x, a, b) + 0.0 * y,
        lambda y, z: other(z, b, a) + 0.0 * y,
        _superellipse_area(p) * a * b * c / 4.0, exposed)


def _superellipse_area(power: float) -> float:
    """Area of |x|^p + |y|^p <= 1: 4 Gamma(1 + 1/p)^2 / Gamma(1 + 2/p)."""
    from math import gamma

    return float(4.0 * gamma(1 + 1 / power) ** 2 / gamma(1 + 2 / power))


def box(width_m: float, length_m: float, height_m: float, exposed: tuple[str, ...] = ()) -> Body:
    """A brick."""
    a, c, b = width_m / 2, length_m / 2, height_m / 2
    return Body(
        "box", (a, c, b),
        lambda y: np.full_like(y, a), lambda x: np.full_like(x, c), lambda z: np.full_like(z, c),
        lambda x, y: np.full(np.broadcast(x, y).shape, b), lambda y, z: np.full(np.broadcast(y, z).shape, a),
        a * b * c, exposed)


def ellipsoid(semi_x_m: float, semi_y_m: float, semi_z_m: float, exposed: tuple[str, ...] = ()) -> Body:
    """An ellipsoid, or half of one where z is exposed."""
    a, c, b = semi_x_m, semi_y_m, semi_z_m
    return Body(
        "ellipsoid", (a, c, b),
        lambda y: a * _root(1 - (y / c) ** 2),
        lambda x: c * _root(1 - (x / a) ** 2),
        lambda z: c * _root(1 - (z / b) ** 2),
        lambda x, y: b * _root(1 - (x / a) ** 2 - (y / c) ** 2),
        lambda y, z: a * _root(1 - (y / c) ** 2 - (z / b) ** 2),
        np.pi * a * b * c / 6.0, exposed)


def rounded_box(width_m: float, length_m: float, height_m: float, radius_m: float) -> Body:
    """A smaller box dilated by a ball of `radius_m`."""
    r = radius_m
    i, j, k = width_m / 2 - r, length_m / 2 - r, height_m / 2 - r

    def beyond(value: Array, inner: float) -> Array:
        return np.maximum(value - inner, 0.0)

    def reach(inner: float, *others: Array) -> Array:
        total = sum((other ** 2 for other in others), np.zeros(()))
        return inner + _root(r * r - total)

    volume = i * j * k + r * (i * j + j * k + k * i) + np.pi * r * r * (i + j + k) / 4 + np.pi * r ** 3 / 6
    return Body(
        "rounded box", (i + r, j + r, k + r),
        lambda y: reach(i, beyond(y, j)), lambda x: reach(j, beyond(x, i)), lambda z: reach(j, beyond(z, k)),
        lambda x, y: reach(k, beyond(x, i), beyond(y, j)), lambda y, z: reach(i, beyond(y, j), beyond(z, k)),
        float(volume))


def stadium(straight_m: float, radius_m: float, length_m: float) -> Body:
    """A prism along y whose section is a rectangle with half a circle at both ends of its width."""
    r, flat, c = radius_m, straight_m / 2, length_m / 2
    return Body(
        "stadium prism", (flat + r, c, r),
        lambda y: np.full_like(y, flat + r), lambda x: np.full_like(x, c), lambda z: np.full_like(z, c),
        lambda x, y: _root(r * r - np.maximum(x - flat, 0.0) ** 2) + 0.0 * y,
        lambda y, z: flat + _root(r * r - z ** 2) + 0.0 * y,
        (flat * r + np.pi * r * r / 4) * c)


def frustum(base_m: tuple[float, float], top_m: tuple[float, float], length_m: float) -> Body:
    """An elliptic frustum along y, its thick end at y = 0 (a face); semi-axes (x, z) go over linearly."""
    base, top = (base_m, top_m) if base_m[0] * base_m[1] >= top_m[0] * top_m[1] else (top_m, base_m)
    semi = [(max(p, q), min(p, q)) if p >= q else ((p + q) / 2, (p + q) / 2) for p, q in zip(base, top, strict=True)]
    (a0, a1), (b0, b1) = semi

    def at(y: Array, start: float, end: float) -> Array:
        return start + (end - start) * y / length_m

    def along(value: Array, start: float, end: float) -> Array:
        if start == end:
            return np.full_like(value, length_m)
        return np.minimum(np.maximum((start - value) / (start - end), 0.0), 1.0) * length_m

    whole = np.pi * length_m * (2 * a0 * b0 + 2 * a1 * b1 + a0 * b1 + a1 * b0) / 6
    return Body(
        "frustum", (a0, length_m, b0),
        lambda y: at(y, a0, a1), lambda x: along(x, a0, a1), lambda z: along(z, b0, b1),
        lambda x, y: at(y, b0, b1) * _root(1 - (x / at(y, a0, a1)) ** 2),
        lambda y, z: at(y, a0, a1) * _root(1 - (z / at(y, b0, b1)) ** 2),
        float(whole / 4), ("y",))


def body_of(shape: object) -> Body:
    """The solver's body for one of meat's shapes; a scan or an unknown shape cooks as the ellipsoid of its sizes."""
    name = type(shape).__name__
    maker = _MAKERS.get(name)
    if maker is None:
        raise RequestError(f"heat knows no body for the shape '{name}'", mend="use one of meat's shapes")
    return maker(shape)


def _metres(shape: object, *names: str) -> list[float]:
    return [float(getattr(shape, name)) / 100.0 for name in names]


def _box(shape: object) -> Body:
    width, length, height = _metres(shape, "width_cm", "length_cm", "height_cm")
    return box(width, length, height)


def _rounded(shape: object) -> Body:
    return rounded_box(*_metres(shape, "width_cm", "length_cm", "height_cm", "radius_cm"))


def _cylinder(shape: object) -> Body:
    a, b, length = _metres(shape, "semi_a_cm", "semi_b_cm", "length_cm")
    return prism(a, b, length)


def _half_prism(shape: object) -> Body:
    width, height, length = _metres(shape, "width_cm", "height_cm", "length_cm")
    return prism(width / 2, height, length, exposed=("z",))


def _ellipsoid(shape: object) -> Body:
    a, b, c = _metres(shape, "semi_a_cm", "semi_b_cm", "semi_c_cm")
    return ellipsoid(b, a, c)


def _frustum(shape: object) -> Body:
    first, second, length = _metres(shape, "radius_1_cm", "radius_2_cm", "length_cm")
    return frustum((first, first), (second, second), length)


def _stadium(shape: object) -> Body:
    straight, radius, length = _metres(shape, "straight_cm", "radius_cm", "length_cm")
    return stadium(straight, radius, length)


def _dome(shape: object) -> Body:
    a, b, height = _metres(shape, "semi_a_cm", "semi_b_cm", "height_cm")
    return ellipsoid(b, a, height, exposed=("z",))


def _elliptic_frustum(shape: object) -> Body:
    a, b, c, d, length = _metres(shape, "semi_a_1_cm", "semi_b_1_cm", "semi_a_2_cm", "semi_b_2_cm", "length_cm")
    return frustum((a, b), (c, d), length)


_MAKERS: dict[str, Callable[[object], Body]] = {
    "Box": _box,
    "RoundedBox": _rounded,
    "EllipticCylinder": _cylinder,
    "HalfEllipsePrism": _half_prism,
    "Ellipsoid": _ellipsoid,
    "Frustum": _frustum,
    "StadiumPrism": _stadium,
    "HalfEllipsoid": _dome,
    "EllipticFrustum": _elliptic_frustum,
}
