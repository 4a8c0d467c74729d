"""The ensemble conditioned on readings: parameters are moved, the members run again, the rest is a regression.

An ensemble smoother with repeated assimilation: each pass uses the readings with their error widened, so that the
passes together use them once. The last pass moves the outcomes themselves. Reference: Emerick and Reynolds, "Ensemble
smoother with multiple data assimilation", Computers and Geosciences 55 (2013) 3-15 (memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

import numpy as np

from cookbook.heat import course as running
from cookbook.heat.body import Array
from cookbook.heat.outlook import Forecast, Setup, spread_of, told
from cookbook.heat.phase import Run
from cookbook.heat.prior import NAMES, draw, members_of
from cookbook.heat.reading import PROBE_K, Reading, error_covariance, read, shown, sorted_out, thinned
from cookbook.heat.roast import COARSE_M, Cells, cells_of

_LONG_C, _LONG_M = 80.0, 0.016
_PASSES = 2
_MOST_MEMBERS, _MOST_LONG = 90, 70
_WORDS = {
    "size": ("the piece is smaller than measured", "the piece is bigger than measured"),
    "kappa": ("the meat conducts heat worse than thought", "the meat conducts heat better than thought"),
    "wet": ("the surface evaporates less than thought", "the surface evaporates more than thought"),
    "crust": ("a crust closes sooner", "the surface stays moist longer"),
    "feed": ("less juice reaches the surface", "more juice reaches the surface"),
    "melt": ("less heat goes into the fat", "more heat goes into the fat"),
    "h": ("the air moves less", "the air moves more"),
    "pit_k": ("the air at the meat is colder than the pit says", "the air at the meat is hotter than the pit says"),
    "vapour": ("the pit is drier", "the pit is more humid"),
    "start_c": ("it started colder", "it started warmer"),
}


class Conditioned(NamedTuple):
    """The forecast after the readings, the members behind it and their deviates, the estimate before."""

    forecast: Forecast
    deviates: Array
    before_min: float
    residual_k: float


def model_error(plan: Setup) -> tuple[float, float]:
    """Size K and memory minutes of the model's own error: larger and longer for long cooks."""
    return (1.9, 90.0) if plan.pull_c >= _LONG_C else (0.5, 40.0)


def usual_residual_k(plan: Setup) -> float:
    """How far readings are usually off what the moved members show: the probe's noise and the model's own error."""
    return float(np.hypot(PROBE_K, model_error(plan)[0]))


def _gain(moved: Array, expected: Array, covariance: Array) -> Array:
    """Kalman gain from ensemble covariances; rows of `moved`, columns of readings."""
    count = expected.shape[1] - 1
    there = expected - expected.mean(axis=1, keepdims=True)
    here = moved - moved.mean(axis=1, keepdims=True)
    return np.asarray(np.linalg.solve(there @ there.T / count + covariance, there @ here.T / count).T)


class _Smoother:
    """One conditioning: the plan, its cells, what was read and how it is weighed."""

    def __init__(self, plan: Setup, given: Sequence[Any], members: int, seed: int) -> None:
        hottest = float(plan.course.program_c.max())
        self.plan = plan
        self.readings = thinned(read(given, hottest, plan.start_c))
        self.cells: Cells = cells_of(plan.roast, _LONG_M if plan.pull_c >= _LONG_C else COARSE_M)
        self.generator = np.random.default_rng(seed + 1)
        self.z = draw(members, seed)
        self.step = running.step_for(plan.roast)
        self.last_s = 60.0 * self.readings[-1].minute + plan.course.before_s
        self.notes: list[str] = []

    def run(self, whole: bool, longest_s: float | None = None) -> tuple[Run, Array]:
        """The present members' run to the last reading or to the end, and what they would have shown."""
        drawn = members_of(self.z, self.plan.priors)
        until = longest_s if whole else self.last_s + 2 * self.step
        run = running.run(self.cells, self.plan.roast, drawn, self.plan.course, deep=True, by_probe=True,
                          step_s=self.step, longest_s=until, enough=0.92 if whole else 1.0)
        return run, shown(run, self.cells.graph, drawn, self.readings, self.plan.course.before_s)

    def weigh(self, expected: Array) -> None:
        """Leaves out what jumps and sets up the errors of the rest."""
        keep, sitting, self.notes = sorted_out(self.readings, np.median(expected, axis=1))
        self.keep = keep
        self.readings_kept: list[Reading] = [self.readings[k] for k in keep]
        self.measured = np.array([one.temp_c for one in self.readings_kept])
        self.covariance = error_covariance(self.readings_kept, sitting, *model_error(self.plan))
        self.root = np.linalg.cholesky(self.covariance)

    def innovation(self, expected: Array, widened: float) -> Array:
        """Readings with drawn errors less what is expected."""
        noise = self.root @ self.generator.standard_normal(expected.shape)
        noise -= noise.mean(axis=1, keepdims=True)
        return np.asarray(self.measured[:, None] + np.sqrt(widened) * noise - expected)

    def move(self, expected: Array, widened: float) -> None:
        """One pass on the parameters."""
        expected = expected[self.keep]
        self.z = self.z + _gain(self.z, expected, widened * self.covariance) @ self.innovation(expected, widened)


def conditioned(plan: Setup, given: Sequence[Any], *, members: int = 100, seed: int = 0,
                learned_from: int = 0) -> Conditioned:
    """The forecast given the readings so far; minutes stay counted from the meat going on."""
    most = _MOST_LONG if plan.pull_c >= _LONG_C else _MOST_MEMBERS
    smoother = _Smoother(plan, given, min(members, most), seed)
    _, expected = smoother.run(whole=False)
    smoother.weigh(expected)
    for turn in range(_PASSES - 1):
        if turn:
            _, expected = smoother.run(whole=False)
        smoother.move(expected, float(_PASSES))
    middle = members_of(np.zeros((len(NAMES), 1)), plan.priors)
    alone = running.run(smoother.cells, plan.roast, middle, plan.course, step_s=smoother.step)
    before = float(running.pull_minutes(alone, plan.course)[0])
    run, expected = smoother.run(whole=True, longest_s=2.5 * float(alone.time_s[-1]))
    spread = running.Spread(run, alone, smoother.cells, smoother.cells, 1.0)
    minutes, residual = _last_pass(smoother, run, expected[smoother.keep])
    result = told(plan, spread, learned_from, minutes=minutes)
    return Conditioned(_explained(result, smoother, before, minutes), smoother.z, before, residual)


def _last_pass(smoother: _Smoother, run: Run, expected: Array) -> tuple[Array, float]:
    """The members' minutes to the pull moved by what the readings still say about the logarithm of the rest.

    The grid's error needs no mending here: parameters fitted on these cells have taken it up.
    """
    plan = smoother.plan
    minutes = running.pull_minutes(run, plan.course)
    residual = float(np.sqrt(np.mean((smoother.measured - expected.mean(axis=1)) ** 2)))
    now = smoother.readings[-1].minute
    alive = np.isfinite(minutes)
    if alive.sum() < 20 or plan.course.phases[plan.course.pulled].until_min is not None:
        return minutes, residual
    left = np.log(np.maximum(minutes[alive] - now, 1.0))
    gain = _gain(left[None, :], expected[:, alive], _PASSES * smoother.covariance)
    moved = left + (gain @ smoother.innovation(expected, float(_PASSES))[:, alive])[0]
    result = minutes.copy()
    result[alive] = now + np.exp(np.clip(moved, left.min() - 1.0, left.max() + 1.0))
    return result, residual


def _explained(result: Forecast, smoother: _Smoother, before: float, minutes: Array) -> Forecast:
    """The forecast with sentences on how the estimate moved and why."""
    after = spread_of(minutes).p50
    notes = list(smoother.notes)
    if after is not None and np.isfinite(before):
        moved = after - before
        way = "later" if moved > 0 else "earlier"
        shift = smoother.z.mean(axis=1)
        order = sorted((name for name in NAMES if name in _WORDS), key=lambda name: -abs(shift[NAMES.index(name)]))
        why = [_WORDS[name][int(shift[NAMES.index(name)] > 0)] for name in order[:2]
               if abs(shift[NAMES.index(name)]) > 0.3]
        reason = f"; the readings fit best if {' and '.join(why)}" if why else ""
        notes.append(f"the readings move the pull by {abs(moved):.0f} minutes {way} than before them{reason}")
    return result._replace(notes=[*result.notes, *notes])
