"""Size and pit taken out of the cooking time: by the forecast for each piece, else by a plain slope, else not at all.

With a forecast each cook's time is held against its own (100 ln of the ratio, so that percents add). Without one the
logarithm of the time gets slopes in the logarithm of the mass and in the pit, common to all groups: only where these
varied, where enough cooks are left to tell them, and where the slope in the mass lies between 0 (a roast that only
grows longer) and 1. The sentence says which.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import log
from typing import NamedTuple

from cookbook.compare.cook import Cook
from cookbook.compare.judging import hundred_logs
from cookbook.compare.linear import fit

VARIED_MASS, VARIED_PIT_C = 1.1, 10.0
"""Ratio of the largest piece to the smallest, and range of the pit in °C, below which nothing is taken out."""
LEFT = 2
"""Degrees of freedom that must be left when the slopes are told."""


class Sized(NamedTuple):
    """100 ln of each cook's time, what is taken out of each, and a sentence on how."""

    times: tuple[float, ...]
    taken_out: tuple[tuple[float, ...], ...]
    how: str


def sized(cooks: Sequence[Cook], groups: Sequence[int]) -> Sized | str:
    """The times of these cooks (all have one) with size and pit taken out, or a sentence on why that can't be."""
    minutes = [one.value for cook in cooks if (one := cook.measure("time to pull")) is not None]
    forecast = [cook.expectation.minutes if cook.expectation else None for cook in cooks]
    known = [one for one in forecast if one is not None]
    if len(known) == len(cooks):
        times = tuple(hundred_logs(took / said) for took, said in zip(minutes, known, strict=True))
        return Sized(times, ((),) * len(cooks), "time held against the forecast for each piece")
    return _by_slope(cooks, groups, tuple(map(hundred_logs, minutes)))


def _by_slope(cooks: Sequence[Cook], groups: Sequence[int], times: tuple[float, ...]) -> Sized | str:
    masses = [cook.mass_kg for cook in cooks if cook.mass_kg]
    pits = [cook.pit_c for cook in cooks if cook.pit_c is not None]
    if len(masses) < len(cooks):
        return "size is not taken out of the time: not every piece was weighed"
    columns, names = [], []
    if max(masses) / min(masses) >= VARIED_MASS:
        columns.append([log(mass) for mass in masses])
        names.append("mass")
    if len(pits) == len(cooks) and max(pits) - min(pits) >= VARIED_PIT_C:
        columns.append(pits)
        names.append("pit")
    if not columns:
        return Sized(times, ((),) * len(cooks), "all pieces were about one size and one pit: nothing to take out")
    if len(cooks) - len(set(groups)) - len(columns) < LEFT:
        return f"{' and '.join(names)} can't be taken out of the time yet: too few cooks"
    rows = tuple(zip(*columns, strict=True))
    found = fit(
        [[*(float(own == one) for one in sorted(set(groups))), *row] for own, row in zip(groups, rows, strict=True)],
        times,
    )
    if found is None:
        return f"{' and '.join(names)} can't be taken out of the time: it changed along with what is compared"
    slopes = found.coefficients[-len(columns) :]
    if names[0] == "mass" and not 0 <= slopes[0] / 100 <= 1:
        return "mass can't be taken out of the time: heavier pieces did not take longer in proportion"
    return Sized(times, rows, f"{' and '.join(names)} taken out of the time by a slope over {len(cooks)} cooks")
