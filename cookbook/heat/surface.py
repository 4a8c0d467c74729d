"""The surface balance: conduction from within, convection, radiation and evaporation meet at one temperature.

Evaporation is the potential of a partly wet surface, limited by a crust that grows with what has dried and fed by the
juice that heat expels. Under the crust the meat is wet and gets no hotter than boiling water: heat beyond that boils
off. What has dried lies between air and meat. Vapour that leaves drives itself on, twice as strong at 95 °C as the
difference of pressures alone: Stefan's flow, P ln((P - p_a) / (P - p_s)) in place of p_s - p_a (memory). Lewis
relation for the mass coefficient (memory); saturation pressure after Antoine (memory).
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from cookbook.heat.body import Array

LATENT_J_KG = 2.35e6
STEFAN_BOLTZMANN = 5.670374e-8
MASS_PER_HEAT = 0.622 / (1007.0 * 0.87)
KELVIN = 273.15
ATMOSPHERE_PA = 101325.0
_NEAREST_PA = 500.0
"""How near to the atmosphere the vapour's pressure comes before boiling takes over."""
BOILING_C = 100.0
CRUST_M2K_W_KG = 0.003
"""Heat resistance of what a kilogram of dried water leaves on a square metre: 0.6 mm of solids at 0.2 W/(m K)."""
_A = float(np.log(10.0) * 8.07131 + np.log(133.322368))
_B, _C = float(np.log(10.0) * 1730.63), 233.426


def saturation_pa(temp_c: Array) -> Array:
    """Vapour pressure over water, Antoine (1 to 100 °C within 0.5 %; above it is an extrapolation)."""
    return np.asarray(np.exp(_A - _B / (_C + temp_c)))


class Air(NamedTuple):
    """What surrounds each member now: air and wall °C, h W/(m2 K), emissivity, share of evaporation, vapour Pa."""

    air_c: Array
    h: Array
    emissivity: Array
    evaporation: Array
    vapour_pa: Array


class Flux(NamedTuple):
    """Surface temperature °C, heat into the cells W/m2 and water leaving kg/(m2 s)."""

    surface_c: Array
    heat: Array
    water: Array


def let_through(dried: Array, surface_c: Array, air: Air) -> Array:
    """Share of the air's heat that gets through the crust of faces that have lost `dried` kg/m2 of water."""
    between = (air.air_c + surface_c) / 2.0 + KELVIN
    radiated = 4.0 * STEFAN_BOLTZMANN * air.emissivity * between * between * between
    return np.asarray(1.0 / (1.0 + (air.h + radiated) * CRUST_M2K_W_KG * dried))


def balance(cell_c: Array, guess_c: Array, inward: Array, wet: Array, skin: Array, juice: Array, heat: Array, *,
            air: Air, rounds: int, boiling_c: float = BOILING_C) -> Flux:
    """Newton steps on the surface temperature of each face and member.

    `inward` is the conductance from face to cell W/(m2 K), `wet` the share of the face that can evaporate times the
    wetness, `skin` the crust's share of the potential that still passes, `juice` the flux that feeds it kg/(m2 s),
    `heat` the share of the air's heat that gets through the crust; what holds no water has no `boiling_c`.
    """
    surface = guess_c
    mass = MASS_PER_HEAT * air.h * wet
    wall = (air.air_c + KELVIN) ** 2
    radiated = heat * (air.emissivity * STEFAN_BOLTZMANN)
    fixed = heat * (air.h * air.air_c + air.emissivity * STEFAN_BOLTZMANN * wall * wall) + inward * cell_c
    linear = heat * air.h + inward
    for turn in range(rounds):
        last = turn == rounds - 1
        over = _C + surface
        pressure = saturation_pa(surface)
        left = np.maximum(ATMOSPHERE_PA - pressure, _NEAREST_PA)
        potential = mass * np.log((ATMOSPHERE_PA - air.vapour_pa) / left)
        through = juice + potential * skin
        limited = through < potential
        water = np.minimum(through, potential)
        slope = mass * (pressure / left) * (_B / (over * over)) * np.where(limited, skin, 1.0)
        kelvin = surface + KELVIN
        square = kelvin * kelvin
        excess = fixed - linear * surface - radiated * square * square - LATENT_J_KG * water
        step = excess / (linear + 4.0 * radiated * square * kelvin + LATENT_J_KG * slope)
        surface = surface + step
        if last:
            water = water + slope * step
    boils = surface > boiling_c
    if boils.any():
        hot = boiling_c + KELVIN
        surplus = (fixed - linear * boiling_c - radiated * hot ** 4) / LATENT_J_KG
        surface, water = np.where(boils, boiling_c, surface), np.where(boils, np.maximum(surplus, 0.0), water)
    return Flux(surface, inward * (surface - cell_c), water)
