"""Exact series for constant-property bodies in air of constant temperature (Carslaw and Jaeger), by scipy's roots.

theta = (T_air - T) / (T_air - T_start) at the centre; finite bodies are products of one-coordinate solutions.
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from scipy.optimize import brentq
from scipy.special import j0, j1, jn_zeros

_TERMS = 40


def slab(half_m: float, h_over_k: float, alpha: float, time_s: float) -> float:
    """Centre of a slab."""
    biot, total = half_m * h_over_k, 0.0
    for n in range(_TERMS):
        x = brentq(lambda x: x * np.sin(x) - biot * np.cos(x), n * np.pi + 1e-9, n * np.pi + np.pi / 2 - 1e-12)
        total += 4 * np.sin(x) / (2 * x + np.sin(2 * x)) * np.exp(-x * x * alpha * time_s / half_m ** 2)
    return float(total)


def cylinder(radius_m: float, h_over_k: float, alpha: float, time_s: float) -> float:
    """Axis of a long cylinder."""
    biot, total = radius_m * h_over_k, 0.0
    zeros = np.concatenate([[0.0], jn_zeros(1, _TERMS)])
    for n in range(_TERMS):
        x = brentq(lambda x: x * j1(x) - biot * j0(x), zeros[n] + 1e-9, zeros[n + 1] - 1e-9)
        total += 2 * j1(x) / (x * (j0(x) ** 2 + j1(x) ** 2)) * np.exp(-x * x * alpha * time_s / radius_m ** 2)
    return float(total)


def sphere(radius_m: float, h_over_k: float, alpha: float, time_s: float) -> float:
    """Centre of a sphere."""
    biot, total = radius_m * h_over_k, 0.0
    for n in range(_TERMS):
        x = brentq(lambda x: (1 - biot) * np.sin(x) - x * np.cos(x), n * np.pi + 1e-9, (n + 1) * np.pi - 1e-9)
        total += (4 * (np.sin(x) - x * np.cos(x)) / (2 * x - np.sin(2 * x))
                  * np.exp(-x * x * alpha * time_s / radius_m ** 2))
    return float(total)


def exact(shape: str, size_m: tuple[float, ...], h_over_k: float, alpha: float) -> Callable[[float], float]:
    """theta at the centre over time of the bodies that `conduction` knows, sizes as it takes them."""
    half = [size / 2 for size in size_m]

    def theta(time_s: float) -> float:
        if shape == "Slab":
            return slab(half[0], h_over_k, alpha, time_s)
        if shape == "Cylinder":
            return cylinder(half[0], h_over_k, alpha, time_s)
        if shape == "Sphere":
            return sphere(half[0], h_over_k, alpha, time_s)
        if shape == "FiniteCylinder":
            return cylinder(half[0], h_over_k, alpha, time_s) * slab(half[1], h_over_k, alpha, time_s)
        return float(np.prod([slab(part, h_over_k, alpha, time_s) for part in half]))

    return theta


def time_to(theta: Callable[[float], float], level: float, low_s: float = 60.0, high_s: float = 1e6) -> float:
    """When theta falls to `level`."""
    return float(brentq(lambda time_s: theta(time_s) - level, low_s, high_s, xtol=1e-3))
