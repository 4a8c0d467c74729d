"""Thermal properties of meat from its composition (Choi and Okos 1986, table `heat_components`).

Mixing: 1/rho = sum x/rho_i, cp = sum x cp_i, k = sum of volume fraction times k_i (parallel model); 0 to 150 °C.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import NamedTuple

import numpy as np

from cookbook.errors import RequestError
from cookbook.heat.body import Array
from cookbook.table import rows

COMPONENTS = ("water", "protein", "fat", "ash")
_FAT_MELTS_C, _FAT_SPREAD_K, _FAT_J_KG = 30.0, 9.0, 70e3
_LOW_C, _HIGH_C, _STEP_C = -20.0, 260.0, 0.5


@cache
def _coefficients() -> dict[tuple[str, str], tuple[float, float, float]]:
    return {(row["component"], row["property"]): (float(row["a"]), float(row["b"]), float(row["c"]))
            for row in rows("heat_components")}


def component(name: str, prop: str, temp_c: float) -> float:
    """`prop` (k W/(m K), rho kg/m3, cp kJ/(kg K)) of one component at `temp_c`."""
    a, b, c = _coefficients()[name, prop]
    return a + b * temp_c + c * temp_c ** 2


class Matter(NamedTuple):
    """What the solver needs of one meat: Kirchhoff polynomial, heat capacity by temperature, water it can lose."""

    fractions: tuple[float, float, float, float]
    density_kg_m3: float
    conductivity: tuple[float, float, float]
    capacity_j_m3k: Array
    melting_j_m3k: Array

    @property
    def water(self) -> float:
        """Mass fraction of water."""
        return self.fractions[0]


def normalised(composition: Mapping[str, float]) -> tuple[float, float, float, float]:
    """Water, protein, fat and ash as fractions that add up to one; refused where they cannot be a meat."""
    parts = [float(composition.get(name, 0.0)) for name in COMPONENTS]
    total = sum(parts)
    if min(parts) < 0 or total <= 0 or parts[0] / total < 0.2:
        raise RequestError(f"a composition of {dict(composition)} is no meat: at least a fifth is water",
                           mend="give water, protein, fat and ash as fractions or per cent of the mass")
    return parts[0] / total, parts[1] / total, parts[2] / total, parts[3] / total


def bulk(fractions: tuple[float, float, float, float], temp_c: float) -> tuple[float, float, float]:
    """Conductivity W/(m K), density kg/m3 and specific heat J/(kg K) of the mixture at `temp_c`."""
    volumes = [x / component(name, "rho", temp_c) for x, name in zip(fractions, COMPONENTS, strict=True)]
    rho = 1.0 / sum(volumes)
    k = sum(v * rho * component(name, "k", temp_c) for v, name in zip(volumes, COMPONENTS, strict=True))
    cp = 1e3 * sum(x * component(name, "cp", temp_c) for x, name in zip(fractions, COMPONENTS, strict=True))
    return k, rho, cp


def matter_of(composition: Mapping[str, float]) -> Matter:
    """The properties of a meat; density is taken at 5 °C, since a piece's mass does not change with its warmth.

    Fat's melting is an extra heat of 70 kJ/kg spread about 30 °C (a guess, scaled by a parameter of the forecast).
    """
    return _matter(normalised(composition))


@cache
def _matter(fractions: tuple[float, float, float, float]) -> Matter:
    density = bulk(fractions, 5.0)[1]
    at = np.arange(0.0, 121.0, 10.0)
    c, b, a = (float(value) for value in np.polyfit(at, [bulk(fractions, float(t))[0] for t in at], 2))
    grid = np.arange(_LOW_C, _HIGH_C + _STEP_C, _STEP_C)
    held = np.clip(grid, 0.0, 150.0)
    cp = np.array([bulk(fractions, float(t))[2] for t in held])
    bell = np.exp(-0.5 * ((grid - _FAT_MELTS_C) / _FAT_SPREAD_K) ** 2) / (_FAT_SPREAD_K * np.sqrt(2 * np.pi))
    return Matter(fractions, density, (a, b, c), cp * density, density * fractions[2] * _FAT_J_KG * bell)


def constant(k: float, rho: float, cp: float) -> Matter:
    """A substance whose properties do not change, for checks against exact solutions."""
    grid = np.arange(_LOW_C, _HIGH_C + _STEP_C, _STEP_C)
    return Matter((0.0, 0.0, 0.0, 0.0), rho, (k, 0.0, 0.0), np.full_like(grid, rho * cp), np.zeros_like(grid))


def table_index(temp_c: Array) -> Array:
    """Where `temp_c` stands in the tables by temperature (whole numbers, nearest half degree)."""
    place = (temp_c - (_LOW_C - _STEP_C / 2)) * (1.0 / _STEP_C)
    return np.clip(place, 0, (_HIGH_C - _LOW_C) / _STEP_C).astype(np.intp)


def kirchhoff(temp_c: Array, conductivity: tuple[float, float, float]) -> Array:
    """Integral of k from 0 °C: its difference over a distance is the heat flux."""
    a, b, c = conductivity
    if b == 0.0 and c == 0.0:
        return a * temp_c
    return temp_c * (a + temp_c * (b / 2 + temp_c * (c / 3)))
