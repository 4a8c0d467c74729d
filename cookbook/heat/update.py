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
from cookbook.heat.outlook import Forecast, Setup, told
from cookbook.heat.phase import Run
from cookbook.heat.prior import NAMES, draw, members_of
from cookbook.heat.reading import PROBE_K, Reading, error_covariance, read, shown, sorted_out, thinned
from cookbook.heat.roast import COARSE_M, LOOSE_M, Cells, cells_of

_LONG_C = 80.0
_PASSES = 2
_FEWEST = 20
_MOST_MEMBERS, _MOST_LONG = 90, 70
_ODD = 3.0
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


class Evidence(NamedTuple):
    """What readings say of the deviates, linear about the moved members: information, and it times the value."""

    information: Array
    weighed: Array


class Conditioned(NamedTuple):
    """The forecast after the readings, the deviates of the members behind it, the estimate before, the evidence."""

    forecast: Forecast
    deviates: Array
    before_min: float
    residual_k: float
    evidence: Evidence


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


def evidence_of(z: Array, expected: Array, measured: Array, covariance: Array) -> Evidence:
    """What readings say of the deviates, by how what is `expected` of the members (columns) hangs on theirs."""
    middle, shown_c = z.mean(axis=1), expected.mean(axis=1)
    slope = np.linalg.lstsq((z - middle[:, None]).T, (expected - shown_c[:, None]).T, rcond=1e-6)[0].T
    sure = np.linalg.solve(covariance, slope)
    return Evidence(slope.T @ sure, sure.T @ (measured - shown_c + slope @ middle))


class _Smoother:
    """One conditioning: the plan, its cells, what was read and how it is weighed."""

    def __init__(self, plan: Setup, given: Sequence[Any], members: int, seed: int) -> None:
        hottest = float(plan.course.program_c.max())
        self.plan = plan
        self.readings = thinned(read(given, hottest, plan.start_c))
        self.cells: Cells = cells_of(plan.roast, LOOSE_M if plan.pull_c >= _LONG_C else COARSE_M)
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
    expected = expected[smoother.keep]
    residual = float(np.sqrt(np.mean((smoother.measured - expected.mean(axis=1)) ** 2)))
    evidence = evidence_of(smoother.z, expected, smoother.measured, smoother.covariance)
    last = _LastPass(smoother, expected)
    minutes = last.minutes(run)
    sharper = spread._replace(coarse=run._replace(peak_c=last.moved(run.peak_c)))
    slicing = last.moved(running.core_after(run, plan.course, plan.rest.minutes))
    result = told(plan, sharper, learned_from, minutes=minutes, slicing_c=slicing)
    smoother.z = last.z
    if residual > _ODD * usual_residual_k(plan):
        smoother.notes.append(f"the readings lie {residual:.0f} K off any cook of this piece in this pit: check "
                              "where the probe sits, the depth that was said, and the pit")
    explained = _explained(result, smoother, before, float(alone.peak_c[0]))
    return Conditioned(explained, last.z, before, residual, evidence)


class _LastPass:
    """Outcomes moved by what the readings still say of them, and the deviates for whoever runs the members again.

    The grid's error needs no mending here: parameters fitted on these cells have taken it up.
    """

    def __init__(self, smoother: _Smoother, expected: Array) -> None:
        self.plan, self.now, self.expected = smoother.plan, smoother.readings[-1].minute, expected
        self.covariance = _PASSES * smoother.covariance
        self.innovation = smoother.innovation(expected, float(_PASSES))
        self.z = smoother.z + _gain(smoother.z, expected, self.covariance) @ self.innovation

    def moved(self, values: Array, beyond: float = 3.0) -> Array:
        """The members' `values`, moved no further than `beyond` their range; those that are not finite stay."""
        alive = np.isfinite(values)
        if alive.sum() < _FEWEST:
            return values
        known, result = values[alive], values.copy()
        gain = _gain(known[None, :], self.expected[:, alive], self.covariance)
        step = (gain @ self.innovation[:, alive])[0]
        result[alive] = np.clip(known + step, known.min() - beyond, known.max() + beyond)
        return result

    def minutes(self, run: Run) -> Array:
        """Minutes to the pull, moved in the logarithm of what is left; a pull that has been stays."""
        minutes = running.pull_minutes(run, self.plan.course)
        if self.plan.pulled or np.isfinite(minutes).sum() < _FEWEST:
            return minutes
        return np.asarray(self.now + np.exp(self.moved(np.log(np.maximum(minutes - self.now, 1.0)), 1.0)))


def _explained(result: Forecast, smoother: _Smoother, before_min: float, before_c: float) -> Forecast:
    """With sentences on how the estimate moved and why: that of the pull, once it is pulled that of the peak."""
    if smoother.plan.pulled:
        what, unit, later, sooner = "peak", "K", "higher", "lower"
        moved = (result.peak_c.p50 or np.nan) - before_c
    else:
        what, unit, later, sooner = "pull", "minutes", "later", "earlier"
        moved = (result.minutes_to_pull.p50 or np.nan) - before_min
    notes = list(smoother.notes)
    if np.isfinite(moved):
        shift = smoother.plan.priors.deviates(smoother.z).mean(axis=1)
        order = sorted((name for name in NAMES if name in _WORDS), key=lambda name: -abs(shift[NAMES.index(name)]))
        why = [_WORDS[name][int(shift[NAMES.index(name)] > 0)] for name in order[:2]
               if abs(shift[NAMES.index(name)]) > 0.3]
        reason = f"; the readings fit best if {' and '.join(why)}" if why else ""
        notes.append(f"the readings move the {what} by {abs(moved):.0f} {unit} {later if moved > 0 else sooner} "
                     f"than before them{reason}")
    return result._replace(notes=[*result.notes, *notes])
