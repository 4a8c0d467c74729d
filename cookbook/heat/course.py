"""Runs of a roast through its course: many members on coarse cells, the middle one on fine cells beside them.

The coarse grid's error is the same for all members to within a fraction of a per cent, so the ratio of the two middle
runs corrects every member's times.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from cookbook.heat.body import Array
from cookbook.heat.phase import Members, Phase, Run
from cookbook.heat.roast import COARSE_M, FINE_M, LOOSE_M, Cells, Roast, cells_of
from cookbook.heat.simulate import Simulation

LONGEST_H = 40.0
_STEPS_TO_PULL = 150
_PATIENCE = 2.5
_ENOUGH = 0.92


class Course(NamedTuple):
    """What happens to the roast: phases, which one ends with the pull, seconds before the fire, the pit's air."""

    phases: tuple[Phase, ...]
    pulled: int
    before_s: float
    program_s: Array
    program_c: Array


def run(cells: Cells, roast: Roast, members: Members, course: Course, *, longest_s: float | None = None,
        step_s: float = 60.0, deep: bool = False, enough: float = 1.0,
        by_probe: bool = False, pulls_c: Array | None = None) -> Run:
    """One run of all members; times count from the start of the first phase.

    Of each member one branches off to rest at each of `pulls_c` (ascending): the run's columns are these branches,
    member by member.
    """
    simulation = Simulation(cells.graph, cells.skin, roast.matter, members, course.phases,
                            program_s=course.program_s + course.before_s, program_c=course.program_c, step_s=step_s,
                            deep=cells.graph.line if deep or by_probe else None, by_probe=by_probe,
                            pulls=None if pulls_c is None else (course.pulled, pulls_c))
    return simulation.run(longest_s if longest_s is not None else LONGEST_H * 3600.0, enough)


def step_for(roast: Roast) -> float:
    """A time step short against the cook: thin pieces are quick."""
    thin = 2 * min(roast.body.sizes_m)
    guess_s = thin ** 2 / 1.3e-7 / 4.0
    return float(np.clip(guess_s / _STEPS_TO_PULL * 1.5, 5.0, 120.0))


class Spread(NamedTuple):
    """The ensemble's run on coarse cells, the middle's on fine ones, and what corrects the coarse times."""

    coarse: Run
    fine: Run
    coarse_cells: Cells
    fine_cells: Cells
    correction: float


def middle_of(members: Members) -> Members:
    """The first member alone."""
    return Members(*(values[:1] for values in members))


def ensemble(roast: Roast, members: Members, course: Course, *, deep: bool = False) -> Spread:
    """All members coarse, the first one fine as well; coarser still where a hot side doubles the cells, which leaves
    every time and moves zones by a point at most."""
    step = step_for(roast)
    coarse_cells, fine_cells = cells_of(roast, LOOSE_M if roast.side_k else COARSE_M), cells_of(roast, FINE_M)
    fine = run(fine_cells, roast, middle_of(members), course, step_s=step, deep=deep)
    middle_s = float(fine.ended_s[course.pulled, 0])
    longest = _PATIENCE * fine.time_s[-1] if np.isfinite(middle_s) else None
    coarse = run(coarse_cells, roast, members, course, step_s=step, deep=deep, longest_s=longest, enough=_ENOUGH)
    ratio = middle_s / float(coarse.ended_s[course.pulled, 0])
    return Spread(coarse, fine, coarse_cells, fine_cells, ratio if np.isfinite(ratio) else 1.0)


def pull_minutes(run_: Run, course: Course, correction: float = 1.0) -> Array:
    """Minutes from meat on the fire to pull; infinite where a member never gets there."""
    ended = (run_.ended_s[course.pulled] - course.before_s) / 60.0 * correction
    return np.where(np.isfinite(ended), ended, np.inf)


def core_after(run_: Run, course: Course, minutes: float, members: Sequence[int] | None = None) -> Array:
    """Core of each member `minutes` after its own pull."""
    chosen = range(run_.core_c.shape[1]) if members is None else members
    at = run_.ended_s[course.pulled] + 60.0 * minutes
    return np.array([np.interp(at[i], run_.time_s, run_.core_c[:, i]) if np.isfinite(at[i]) else np.nan
                     for i in chosen])
