"""Solids that stand for pieces of meat: exact area, volume and the area of every face, in cm, cm² and cm³.

Sizes are outer ones. Sources: Steiner's formula for the rounded box; `cookbook.meat.elliptic` for ellipses.
"""

from __future__ import annotations

from functools import cache
from math import cos, pi, sin, sqrt
from typing import NamedTuple

from cookbook.meat.elliptic import ellipse_perimeter, ellipsoid_area


def _check(solid: tuple[float, ...], names: tuple[str, ...]) -> None:
    for name, value in zip(names, solid, strict=True):
        if not 0 < value < 1e6:
            raise ValueError(f"{name} is {value}; a size must be above 0")


class Box(NamedTuple):
    """A block with square edges."""

    length_cm: float
    width_cm: float
    height_cm: float

    @property
    def faces(self) -> dict[str, float]:
        """top, bottom, two sides, two ends."""
        length, width, height = self
        return {"top": length * width, "bottom": length * width, "left side": length * height,
                "right side": length * height, "first end": width * height, "second end": width * height}

    @property
    def area_cm2(self) -> float:
        """The whole surface."""
        return sum(self.faces.values())

    @property
    def volume_cm3(self) -> float:
        """What it holds."""
        return self.length_cm * self.width_cm * self.height_cm


class RoundedBox(NamedTuple):
    """A block whose edges are rounded with a radius; its outer sizes include the rounding."""

    length_cm: float
    width_cm: float
    height_cm: float
    radius_cm: float

    @property
    def _inner(self) -> tuple[float, float, float]:
        r = self.radius_cm
        return self.length_cm - 2 * r, self.width_cm - 2 * r, self.height_cm - 2 * r

    @property
    def faces(self) -> dict[str, float]:
        """top and bottom (flat part), and the edge with all roundings."""
        a, b, c = self._inner
        r = self.radius_cm
        edge = 2 * (a + b) * c + 2 * pi * r * (a + b + c) + 4 * pi * r * r
        return {"top": a * b, "bottom": a * b, "edge": edge}

    @property
    def area_cm2(self) -> float:
        """The whole surface, by Steiner's formula."""
        return sum(self.faces.values())

    @property
    def volume_cm3(self) -> float:
        """What it holds, by Steiner's formula."""
        a, b, c = self._inner
        r = self.radius_cm
        return a * b * c + 2 * r * (a * b + b * c + c * a) + pi * r * r * (a + b + c) + 4 * pi * r ** 3 / 3


class EllipticCylinder(NamedTuple):
    """A prism with an elliptic section."""

    semi_a_cm: float
    semi_b_cm: float
    length_cm: float

    @property
    def faces(self) -> dict[str, float]:
        """The side all round, and two ends."""
        a, b, length = self
        return {"side": ellipse_perimeter(a, b) * length, "first end": pi * a * b, "second end": pi * a * b}

    @property
    def area_cm2(self) -> float:
        """The whole surface."""
        return sum(self.faces.values())

    @property
    def volume_cm3(self) -> float:
        """What it holds."""
        return pi * self.semi_a_cm * self.semi_b_cm * self.length_cm


class HalfEllipsePrism(NamedTuple):
    """Half an elliptic cylinder lying on its flat side, as a rib roast lies on its bones."""

    width_cm: float
    height_cm: float
    length_cm: float

    @property
    def faces(self) -> dict[str, float]:
        """The round side, the flat side, and two ends."""
        width, height, length = self
        section = pi * width * height / 4
        return {"round side": ellipse_perimeter(width / 2, height) / 2 * length, "flat side": width * length,
                "first end": section, "second end": section}

    @property
    def area_cm2(self) -> float:
        """The whole surface."""
        return sum(self.faces.values())

    @property
    def volume_cm3(self) -> float:
        """What it holds."""
        return pi * self.width_cm * self.height_cm / 4 * self.length_cm


class StadiumPrism(NamedTuple):
    """A prism whose section is a rectangle with a half circle at both ends."""

    straight_cm: float
    radius_cm: float
    length_cm: float

    @property
    def faces(self) -> dict[str, float]:
        """The side all round, and two ends."""
        straight, r, length = self
        section = 2 * r * straight + pi * r * r
        return {"side": (2 * straight + 2 * pi * r) * length, "first end": section, "second end": section}

    @property
    def area_cm2(self) -> float:
        """The whole surface."""
        return sum(self.faces.values())

    @property
    def volume_cm3(self) -> float:
        """What it holds."""
        return self.faces["first end"] * self.length_cm


class Ellipsoid(NamedTuple):
    """An ellipsoid by its three semi-axes."""

    semi_a_cm: float
    semi_b_cm: float
    semi_c_cm: float

    @property
    def faces(self) -> dict[str, float]:
        """One face all round."""
        return {"outside": ellipsoid_area(*self)}

    @property
    def area_cm2(self) -> float:
        """The whole surface."""
        return ellipsoid_area(*self)

    @property
    def volume_cm3(self) -> float:
        """What it holds."""
        return 4 * pi / 3 * self.semi_a_cm * self.semi_b_cm * self.semi_c_cm


class HalfEllipsoid(NamedTuple):
    """The upper half of an ellipsoid on its flat base; `height_cm` is the semi-axis that stands up."""

    semi_a_cm: float
    semi_b_cm: float
    height_cm: float

    @property
    def faces(self) -> dict[str, float]:
        """The dome and the base."""
        return {"dome": ellipsoid_area(*self) / 2, "base": pi * self.semi_a_cm * self.semi_b_cm}

    @property
    def area_cm2(self) -> float:
        """The whole surface."""
        return sum(self.faces.values())

    @property
    def volume_cm3(self) -> float:
        """What it holds."""
        return 2 * pi / 3 * self.semi_a_cm * self.semi_b_cm * self.height_cm


class Frustum(NamedTuple):
    """A cone cut off, with two round ends, as a leg tapers."""

    radius_1_cm: float
    radius_2_cm: float
    length_cm: float

    @property
    def faces(self) -> dict[str, float]:
        """The side, the first end (radius 1) and the second."""
        one, two, length = self
        side = pi * (one + two) * sqrt(length * length + (one - two) ** 2)
        return {"side": side, "first end": pi * one * one, "second end": pi * two * two}

    @property
    def area_cm2(self) -> float:
        """The whole surface."""
        return sum(self.faces.values())

    @property
    def volume_cm3(self) -> float:
        """What it holds."""
        one, two, length = self
        return pi * length / 3 * (one * one + one * two + two * two)


class EllipticFrustum(NamedTuple):
    """A taper between two ellipses whose semi-axes change evenly along the length."""

    semi_a_1_cm: float
    semi_b_1_cm: float
    semi_a_2_cm: float
    semi_b_2_cm: float
    length_cm: float

    @property
    def faces(self) -> dict[str, float]:
        """The side, the first end and the second."""
        a, b, c, d, _ = self
        return {"side": _taper(*self), "first end": pi * a * b, "second end": pi * c * d}

    @property
    def area_cm2(self) -> float:
        """The whole surface."""
        return sum(self.faces.values())

    @property
    def volume_cm3(self) -> float:
        """What it holds."""
        a, b, c, d, length = self
        return pi * length / 6 * (2 * a * b + a * d + b * c + 2 * c * d)


Shape = (Box | RoundedBox | EllipticCylinder | HalfEllipsePrism | StadiumPrism | Ellipsoid | HalfEllipsoid | Frustum
         | EllipticFrustum)
"""Any of the solids of this module."""

_NODES = (0.9739065285171717, 0.8650633666889845, 0.6794095682990244, 0.4333953941292472, 0.1488743389816312)
_WEIGHTS = (0.0666713443086881, 0.1494513491505806, 0.2190863625159820, 0.2692667193099964, 0.2955242247147529)


@cache
def _taper(a: float, b: float, c: float, d: float, length: float) -> float:
    """The side of an elliptic frustum: no closed form; evenly spaced angles (exact for smooth periodic functions to
    rounding) and Gauss's ten points along the length."""
    turns, rise_a, rise_b = 96, c - a, d - b
    total = 0.0
    for node, weight in [(sign * node, weight) for node, weight in zip(_NODES, _WEIGHTS, strict=True) for sign in (-1, 1)]:
        s = (1 + node) / 2
        at_a, at_b = a + rise_a * s, b + rise_b * s
        for turn in range(turns):
            t = 2 * pi * turn / turns
            cosine, sine = cos(t), sin(t)
            across = at_a * rise_b * sine * sine + at_b * rise_a * cosine * cosine
            total += weight * sqrt((at_b * cosine * length) ** 2 + (at_a * sine * length) ** 2 + across ** 2)
    return total * pi / turns


def checked(shape: Shape) -> Shape:
    """The shape, where all its sizes are above 0 (and a rounding is at most half the smallest side); ValueError else."""
    _check(tuple(shape), shape._fields)
    if isinstance(shape, RoundedBox) and 2 * shape.radius_cm > min(shape.length_cm, shape.width_cm, shape.height_cm):
        raise ValueError(f"a rounding of {shape.radius_cm} cm is more than half of the smallest side")
    return shape
