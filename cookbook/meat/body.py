"""From a cut and its sizes to the shape that stands for it."""

from __future__ import annotations

from cookbook.meat.cut import Cut
from cookbook.meat.shapes import (
    Bird,
    Ellipsoid,
    EllipticCylinder,
    EllipticFrustum,
    Frustum,
    HalfEllipsePrism,
    HalfEllipsoid,
    RoundedBox,
    Shape,
)

_SAME = 1e-9


def body(cut: Cut, length: float, width: float, height: float, taper: float) -> Shape:
    """The shape of these outer sizes (cm); `taper` is the second end's size over the first's.

    Width and height of a tapering body are those of its larger end. A bird is the egg of its outer sizes here: its
    skin needs its mass (`bird`).
    """
    if cut.shape in ("frustum", "elliptic cylinder"):
        return _long(length, width, height, taper)
    if cut.shape == "half-ellipse prism":
        return HalfEllipsePrism(width, height, length)
    if cut.shape == "half ellipsoid":
        return HalfEllipsoid(length / 2, width / 2, height)
    if cut.shape in ("ellipsoid", "bird"):
        return Ellipsoid(length / 2, width / 2, height / 2)
    return RoundedBox(length, width, height, min(cut.radius_share * height, min(length, width, height) / 2))


def _long(length: float, width: float, height: float, taper: float) -> Shape:
    if abs(taper - 1) < _SAME:
        return EllipticCylinder(width / 2, height / 2, length)
    if abs(height / width - 1) < _SAME:
        return Frustum(width / 2, taper * width / 2, length)
    return EllipticFrustum(width / 2, height / 2, taper * width / 2, taper * height / 2, length)


def bird(cut: Cut, outer: Shape, mass_g: float) -> Bird:
    """A bird of these outer sizes and this mass."""
    length, width, height = outer.outer_cm
    return Bird(mass_g, cut.skin_k or 0.0, length, width, height)
