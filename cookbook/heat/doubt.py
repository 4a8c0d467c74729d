"""How far a table of times may be off: quantiles of an ensemble for every length, scale, pull and cooker of it.

All members are run for the card's own piece, few for the others. What a member did there and its parameters tell by a
linear fit how all members would do elsewhere, and the few, how far the fit is to be trusted. How sure the size of a
piece is differs from piece to piece: it stays out of these runs, and each member's size is made good by the table.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np

from cookbook.heat import course as running
from cookbook.heat.body import Array
from cookbook.heat.outlook import Setup, setup
from cookbook.heat.phase import Members
from cookbook.heat.prior import NAMES, draw, members_of
from cookbook.heat.roast import Cells, Roast, cells_of
from cookbook.heat.setting import Cooker, cooker_row

GRID_M = 0.02
"""Cells of these runs: coarse, since the card's own forecast on finer ones moves the table to what it says."""

MEMBERS = 200
"""Members of the ensembles."""

FEW = 48
"""So many of them are run for pieces and cookers that are not the card's own."""

ENDLESS = 4.0
"""A member that takes so many times the middle one's time counts as one that never gets there."""

_RIDGE, _ENOUGH = 0.3, 0.99
_AS_ONE = 3
"""So many neighbours in rank are read as one: of one to nine tried on seven cuts the steadiest over all quantiles."""
_STRIDE, _FINER = 2.0, 0.65
"""Steps so many times as long as a forecast's: members against their middle differ by less than 0.7 % for it."""
_LEVELS = (90, 50, 10)

Quantiles = tuple[tuple[tuple[tuple[float | None, ...], ...], ...], ...]
"""By quantile (tenth, fiftieth, ninetieth), length, scale and pull: logarithms of factors of the middle's minutes."""


class Doubt(NamedTuple):
    """Quantiles by cooker for a piece of sure size and for one whose size has `size` as one sigma of its logarithm;
    `shift` (logarithms) and `rise_k` (K) move them to the card's own forecast."""

    sure: Mapping[str, Quantiles]
    sized: Mapping[str, Quantiles]
    size: float
    shift: tuple[float, float, float]
    rise_k: tuple[float, float, float]


def coarse(roast: Roast) -> Cells:
    """The roast on the cells of these runs, finer where it is far shorter than thick."""
    wide, long, high = roast.body.sizes_m  # halves of width and length
    return cells_of(roast, GRID_M * min(1.0, max(2.2 * long / min(wide, high), _FINER)))


def alike(cooker: Cooker) -> tuple[Any, ...]:
    """What two cookers have in common that cook alike."""
    row = cooker_row(cooker.kind)
    return row["h"], row["vapour_pa"], cooker.offset_k


def on_cookers(members: Sequence[Members], cookers: Sequence[Cooker]) -> Members:
    """The members of several cookers as members of one run on the first of them."""
    own, *_ = rows = [cooker_row(cooker.kind) for cooker in cookers]
    changed = [one._replace(fire=one.fire * (float(row["h"]) / float(own["h"])),
                            vapour=one.vapour * (float(row["vapour_pa"]) / float(own["vapour_pa"])))
               for one, row in zip(members, rows, strict=True)]
    return Members(*(np.concatenate(parts) for parts in zip(*changed, strict=True)))


def minutes_of(piece: Any, scale: float, pulls_c: Sequence[float], cookers: Sequence[Cooker],
               said: Mapping[str, Any], few: int | None = None, longest_min: float | None = None) -> Array:
    """Minutes by pull, cooker and member for a piece of sure size; infinite for never.

    `few` are so many of the members, the first of them.
    """
    z = draw(MEMBERS, 0)[:, :few]
    z[NAMES.index("size")] = 0.0
    plans = [setup(piece, pull_c=max(pulls_c), cooker=cooker, **said) for cooker in cookers]
    members = on_cookers([members_of(z, plan.priors) for plan in plans], cookers)
    run = _to_the_pull(plans[0], members._replace(size=members.size * scale), longest_min)
    times = np.array([_crossed(run.time_s / 60.0, run.core_c, pull) for pull in pulls_c])
    return times.reshape(len(pulls_c), len(cookers), -1)


def _to_the_pull(plan: Setup, members: Members, longest_min: float | None) -> Any:
    course = plan.course._replace(phases=plan.course.phases[:plan.course.pulled + 1])
    longest = running.LONGEST_H * 60.0 if longest_min is None else min(longest_min, running.LONGEST_H * 60.0)
    return running.run(coarse(plan.roast), plan.roast, members, course, longest_s=60.0 * longest,
                       step_s=_STRIDE * running.step_for(plan.roast), enough=_ENOUGH)


def _crossed(minutes: Array, core_c: Array, pull_c: float) -> Array:
    """When each member (columns) first reaches the pull."""
    there = core_c >= pull_c
    place, column = np.argmax(there, axis=0), np.arange(core_c.shape[1])
    before = core_c[np.maximum(place - 1, 0), column]
    share = (pull_c - before) / np.maximum(core_c[place, column] - before, 1e-9)
    early, late = minutes[np.maximum(place - 1, 0)], minutes[place]
    return np.where(there.any(axis=0), early + share * (late - early), np.inf)


class Known:
    """The ensemble of the card's own piece, by which few members elsewhere tell of all."""

    def __init__(self, minutes: Array) -> None:
        """`minutes` by pull and member."""
        rates = _rates(minutes)
        deviation = rates.std(axis=1)
        useful = deviation > 1e-6
        told = (rates[useful] - rates[useful].mean(axis=1, keepdims=True)) / deviation[useful, None]
        z = draw(MEMBERS, 0)[:, :minutes.shape[1]]
        self.size_z = z[NAMES.index("size")]
        named = [row for row, name in enumerate(NAMES) if name not in ("size", "depth")]
        self.features = np.vstack([np.ones(minutes.shape[1]), told, z[named]]).T

    def answers(self, minutes: Array) -> Answers:
        """What all members do where the first few took `minutes` (by pull, cooker and member): linear in their rates,
        in which never is nought."""
        few = minutes.shape[-1]
        rates = _rates(minutes.reshape(-1, few))
        own = self.features[:few]
        square = own.T @ own + _RIDGE * np.diag([0.0, *np.ones(own.shape[1] - 1)])
        return Answers(self.features @ np.linalg.solve(square, own.T @ rates.T), minutes[..., 0], rates.T)


class Answers(NamedTuple):
    """Rates against the middle's by member, and pull and cooker: `told` of all by the fit, and of the `few` that were
    run; `middle` are the middle's minutes by pull and cooker."""

    told: Array
    middle: Array
    few: Array

    def quantiles(self, longer: Array | None = None, faster: Array | None = None) -> Array:
        """Logarithms of the quantiles over the middle's minutes, by pull, cooker and quantile. A member's own size
        makes the middle `longer` (by pull, cooker and member) and the member by so much `faster` against it."""
        number = self.few.shape[0]
        told, few = (self.told, self.few) if faster is None else (self.told + faster, self.few + faster[:number])
        if longer is not None:
            slower = longer.reshape(-1, longer.shape[-1]).T
            told, few = told / slower, few / slower[:number]
        rates = np.percentile(_as_they_did(told, few), _LEVELS, axis=0)
        found = -np.log(np.clip(rates, 1.0 / ENDLESS, ENDLESS))
        found[:, ~np.isfinite(self.middle.ravel())] = 0.0
        return np.sort(found.T, axis=-1).reshape(*self.middle.shape, len(_LEVELS))


def _as_they_did(told: Array, few: Array) -> Array:
    """What is `told` of all members (rows), moved as the first of them did otherwise: rank by rank, `_AS_ONE`
    neighbours as one, beyond the ends by as much as there. A line alone would not know that some stall and some
    don't."""
    found = np.empty_like(told)
    for column, (line, did) in enumerate(zip(told.T, few.T, strict=True)):
        known, true = ([float(part.mean()) for part in np.array_split(np.sort(one), max(1, did.size // _AS_ONE))]
                       for one in (line[:did.size], did))
        found[:, column] = np.interp(line, known, true) + (line - np.clip(line, known[0], known[-1]))
    return found


def faster(answers: Sequence[Answers], scales: Sequence[float], scale: float, sizes: Array) -> Array:
    """By how much members' rates against the middle's are others at their own `sizes` (logarithms) than at the
    `scale`: from what they did at the scales, straight between their logarithms and beyond them."""
    if len(scales) == 1:
        return np.zeros_like(answers[0].told)
    knots, told = np.log(scales), np.array([one.told for one in answers])

    def at(where: Array) -> Array:
        place = np.clip(np.searchsorted(knots, where, side="right") - 1, 0, knots.size - 2)
        share = ((where - knots[place]) / (knots[place + 1] - knots[place]))[:, None]
        member = np.arange(where.size)
        return np.asarray((1.0 - share) * told[place, member] + share * told[place + 1, member])

    return at(np.log(scale) + sizes) - at(np.full(sizes.size, np.log(scale)))


def _rates(minutes: Array) -> Array:
    """The middle's minutes over each member's, by row; nought where either never gets there."""
    middle = minutes[:, :1]
    return np.asarray(np.where(np.isfinite(middle), middle, 0.0) / minutes)
