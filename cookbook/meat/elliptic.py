"""Exact lengths and areas of ellipses and ellipsoids: Gauss's mean and Carlson's forms, plain floats.

Perimeter by the arithmetic-geometric mean (DLMF 19.8.6), ellipsoid by Carlson's symmetric integral R_G
(DLMF 19.33.1), computed from R_F and R_D by duplication (DLMF 19.36.1, 19.36.2). Relative error below 1e-13.
"""

from __future__ import annotations

from functools import cache
from math import cos, fsum, hypot, pi, sin, sqrt

_CLOSE = 1e-3
"""Duplication stops at this spread; the series left over is of its sixth power."""


def ellipse_perimeter(semi_a: float, semi_b: float) -> float:
    """The way round an ellipse, in the unit of its semi-axes (each above 0)."""
    big, small = max(semi_a, semi_b), min(semi_a, semi_b)
    mean, product, loss, weight = big, small, 0.0, 0.5
    while True:
        loss += weight * (mean * mean - product * product)
        if mean - product <= 1e-15 * mean:
            break
        half = (mean - product) / 2
        mean, product = (mean + product) / 2, sqrt(mean * product)
        weight *= 2
        if half * half <= 1e-17 * mean * mean:
            loss += weight * half * half
            break
    return 2 * pi * (big * big - loss) / mean


def carlson_rf(x: float, y: float, z: float) -> float:
    """Carlson's R_F(x, y, z); arguments 0 or more, at most one of them 0."""
    while True:
        mean = (x + y + z) / 3
        if max(abs(mean - x), abs(mean - y), abs(mean - z)) < _CLOSE * mean:
            break
        step = sqrt(x * y) + sqrt(y * z) + sqrt(z * x)
        x, y, z = (x + step) / 4, (y + step) / 4, (z + step) / 4
    one, two = 1 - x / mean, 1 - y / mean
    three = -one - two
    second, third = one * two - three * three, one * two * three
    return (1 - second / 10 + third / 14 + second * second / 24 - 3 * second * third / 44) / sqrt(mean)


def carlson_rd(x: float, y: float, z: float) -> float:
    """Carlson's R_D(x, y, z), symmetric in x and y only; z above 0."""
    total, share = 0.0, 1.0
    while True:
        mean = (x + y + 3 * z) / 5
        if max(abs(mean - x), abs(mean - y), abs(mean - z)) < _CLOSE * mean:
            break
        root = sqrt(z)
        step = sqrt(x * y) + root * (sqrt(x) + sqrt(y))
        total += share / (root * (z + step))
        share /= 4
        x, y, z = (x + step) / 4, (y + step) / 4, (z + step) / 4
    one, two = 1 - x / mean, 1 - y / mean
    three = -(one + two) / 3
    both, square = one * two, three * three
    second, third = both - 6 * square, (3 * both - 8 * square) * three
    fourth, fifth = 3 * (both - square) * square, both * square * three
    series = (1 - 3 * second / 14 + third / 6 + 9 * second * second / 88 - 3 * fourth / 22
              - 9 * second * third / 52 + 3 * fifth / 26)
    return 3 * total + share * series / (mean * sqrt(mean))


def carlson_rg(x: float, y: float, z: float) -> float:
    """Carlson's R_G(x, y, z), symmetric, arguments above 0 (DLMF 19.21.10, the middle one last)."""
    low, middle, high = sorted((x, y, z))
    if low == high:
        return sqrt(low)
    return (middle * carlson_rf(low, high, middle)
            + (high - middle) * (middle - low) * carlson_rd(low, high, middle) / 3
            + sqrt(low * high / middle)) / 2


def ellipsoid_area(semi_a: float, semi_b: float, semi_c: float) -> float:
    """The whole surface of an ellipsoid."""
    return 4 * pi * semi_a * semi_b * semi_c * carlson_rg(semi_a ** -2, semi_b ** -2, semi_c ** -2)


def frustum_side(first: tuple[float, float], second: tuple[float, float], length: float) -> float:
    """The side of a frustum between two ellipses with parallel axes, `length` apart; semi-axes as (a, b).

    There is no closed form. Along the length Gauss's rule, round the outline the trapezoid rule, which is doubled
    until two results agree to 1e-12.
    """
    total, count = 0.0, 16
    before = 0.0
    while True:
        # Only the points that the last round has not seen; a quarter of the outline stands for all of it.
        fresh = range(1, count, 2) if count > 16 else range(count + 1)
        total += fsum((0.5 if point in (0, count) else 1.0) * _slant(pi / 2 * point / count, first, second, length)
                      for point in fresh)
        side = 2 * pi * total / count
        if abs(side - before) <= 1e-12 * side or count >= 16384:
            return side
        before, count = side, 2 * count


def _slant(turn: float, first: tuple[float, float], second: tuple[float, float], length: float) -> float:
    """Surface per turn at one angle: the mean over the length of the area that a small step spans."""
    east, north = cos(turn), sin(turn)
    grow_a, grow_b = second[0] - first[0], second[1] - first[1]
    total = 0.0
    for place, weight in _gauss():
        semi_a, semi_b = first[0] + place * grow_a, first[1] + place * grow_b
        total += weight * hypot(semi_b * east * length, semi_a * north * length,
                                semi_a * grow_b * north * north + semi_b * grow_a * east * east)
    return total


@cache
def _gauss(count: int = 20) -> tuple[tuple[float, float], ...]:
    """Places and weights of Gauss's rule on 0 … 1."""
    found = []
    for index in range(count):
        root = cos(pi * (index + 0.75) / (count + 0.5))
        for _ in range(50):
            last, this = 1.0, root
            for order in range(2, count + 1):
                last, this = this, ((2 * order - 1) * root * this - (order - 1) * last) / order
            slope = count * (last - root * this) / (1 - root * root)
            step = this / slope
            root -= step
            if abs(step) < 1e-15:
                break
        found.append(((1 - root) / 2, 1 / ((1 - root * root) * slope * slope)))
    return tuple(found)
