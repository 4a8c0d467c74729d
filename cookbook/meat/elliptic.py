"""Complete elliptic integrals in Carlson's symmetric forms, by duplication, and what shapes need of them.

Sources: B. C. Carlson, Numerical Algorithms 10 (1995) 13-26 (the duplication algorithms); NIST DLMF 19.30.5 (the
perimeter of an ellipse by R_G) and 19.33.1 (the surface of an ellipsoid by R_G).
"""

from __future__ import annotations

from math import pi, sqrt

_CLOSE = 1e-3


def rf(x: float, y: float, z: float) -> float:
    """R_F(x, y, z) for x, y, z ≥ 0, at most one of them 0."""
    while True:
        mean = (x + y + z) / 3
        dx, dy, dz = (mean - x) / mean, (mean - y) / mean, (mean - z) / mean
        if max(abs(dx), abs(dy), abs(dz)) < _CLOSE:
            break
        shift = sqrt(x * y) + sqrt(y * z) + sqrt(z * x)
        x, y, z = (x + shift) / 4, (y + shift) / 4, (z + shift) / 4
    e2, e3 = dx * dy - dz * dz, dx * dy * dz
    return (1 - e2 / 10 + e3 / 14 + e2 * e2 / 24 - 3 * e2 * e3 / 44) / sqrt(mean)


def rd(x: float, y: float, z: float) -> float:
    """R_D(x, y, z) for z > 0 and x, y ≥ 0, at most one of them 0."""
    total, power = 0.0, 1.0
    while True:
        mean = (x + y + 3 * z) / 5
        dx, dy, dz = (mean - x) / mean, (mean - y) / mean, (mean - z) / mean
        if max(abs(dx), abs(dy), abs(dz)) < _CLOSE:
            break
        root = sqrt(z)
        shift = sqrt(x * y) + sqrt(y * z) + sqrt(z * x)
        total += power / (root * (z + shift))
        power /= 4
        x, y, z = (x + shift) / 4, (y + shift) / 4, (z + shift) / 4
    a, b = dx * dy, dz * dz
    c, d, e = a - b, a - 6 * b, a - 6 * b + 2 * (a - b)
    series = (1 + d * (-3 / 14 + 9 * d / 88 - 9 * dz * e / 52) + dz * (e / 6 + dz * (-9 * c / 22 + dz * 3 * a / 26)))
    return 3 * total + power * series / (mean * sqrt(mean))


def rg(x: float, y: float, z: float) -> float:
    """R_G(x, y, z) for x, y, z ≥ 0, at most one of them 0."""
    x, y, z = sorted((x, y, z))
    # z is the largest, so nothing is divided by 0 and both differences have their sign.
    return (z * rf(x, y, z) - (x - z) * (y - z) * rd(x, y, z) / 3 + sqrt(x * y / z)) / 2


def ellipse_perimeter(a: float, b: float) -> float:
    """Once round an ellipse with semi-axes a and b."""
    return 8 * rg(0.0, a * a, b * b)


def ellipsoid_area(a: float, b: float, c: float) -> float:
    """The surface of an ellipsoid with semi-axes a, b and c."""
    return 4 * pi * a * b * c * rg(a ** -2, b ** -2, c ** -2)
