"""Advice from the model: pull and rest for a wanted temperature, when to slice, what the time hangs on most."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from cookbook.errors import RequestError
from cookbook.heat import course as running
from cookbook.heat.body import Array
from cookbook.heat.outlook import Range, Setup, setup, spread_of
from cookbook.heat.prior import NAMES, Priors, draw, members_of
from cookbook.heat.roast import COARSE_M, cells_of
from cookbook.heat.setting import Rest
from cookbook.quantity.interval import NORMAL_80
from cookbook.quantity.number import tenth

if TYPE_CHECKING:
    from cookbook.heat.roast import Roast
    from cookbook.meat import Piece

_LONGEST_REST_MIN = 120.0
_MEMBERS = 24
COVERS = ("bare", "tented", "foil", "box")
_CAUSES = {
    "size": "how thick it is", "kappa": "how well it conducts heat", "wet": "how much it evaporates",
    "crust": "how soon a crust closes", "feed": "how much juice comes out", "fade": "how the crust closes",
    "melt": "heat taken up by the fat", "hold_s": "how fast juice leaves", "h": "how fast the air moves",
    "pit_k": "how true the pit probe is", "vapour": "how humid the pit is",
    "start_c": "the temperature it starts at",
}
_MEASURES = {
    "size": ("measure the thickness and the width", 0.015),
    "start_c": ("take the core's temperature before it goes on", 0.5),
    "pit_k": ("clip a probe to the grate beside the meat", 1.5),
}


class PullPair(NamedTuple):
    """Pull at `pull_c`, after `minutes_to_pull`, and rest `rest_min`: `served_c` is what comes to the board."""

    pull_c: float
    rest_min: float
    served_c: Range
    minutes_to_pull: float

    def sentence(self) -> str:
        """The pair in words."""
        return f"pull at {tenth(self.pull_c)} °C and rest {self.rest_min:.0f} min"


class Sensitivity(NamedTuple):
    """A bar of the tornado: minutes to the pull with one thing at its tenth and ninetieth percentile."""

    name: str
    cause: str
    low_min: float
    high_min: float

    @property
    def width_min(self) -> float:
        """How much the time moves."""
        return abs(self.high_min - self.low_min)


class Measurement(NamedTuple):
    """One measurement and what it does to the range from P10 to P90, in minutes."""

    what: str
    from_min: float
    to_min: float

    def sentence(self) -> str:
        """The gain in words."""
        return f"{self.what}: the range shrinks from {self.from_min:.0f} to {self.to_min:.0f} minutes"


class Slicing(NamedTuple):
    """When to slice, in minutes after the pull, what slicing now means, how long it keeps in each cover (minutes)."""

    slice_after_min: float | None
    slice_between_min: Range
    now_c: Range
    waits_min: dict[str, float]
    sentence: str

    def json(self) -> dict[str, object]:
        """As `forecast --json` gives it for a roast that rests."""
        plain = self._asdict()
        return {**plain, "slice_between_min": self.slice_between_min.json(), "now_c": self.now_c.json()}


def _narrow(plan: Setup, members: int, seed: int) -> running.Spread:
    """The run of a small ensemble."""
    return running.ensemble(plan.roast, members_of(draw(members, seed), plan.priors), plan.course)


def pull_advice(piece: Piece | Roast, *, serve_c: float, pit_c: float, start_c: float = 4.0, rest: Rest | None = None,
                steps: Sequence[float] = (1.0, 2.0, 3.0, 4.0, 6.0, 8.0, 11.0), seed: int = 0,
                **said: Any) -> list[PullPair]:
    """Pairs of pull temperature and rest that bring the core to `serve_c` on the board, shortest rest first.

    A pull from which the rest never gets there is left out; with a slow fire only small steps remain.
    """
    cover = (rest or Rest()).cover
    pairs = []
    for below in steps:
        pull_c = serve_c - below
        if pull_c <= start_c + 5.0:
            continue
        plan = setup(piece, pit_c=pit_c, pull_c=pull_c, start_c=start_c, rest=Rest(_LONGEST_REST_MIN, cover), **said)
        spread = _narrow(plan, _MEMBERS, seed)
        run = spread.fine
        after = _after_pull(run, plan, 0)
        if after[1].max() < serve_c:
            continue
        rest_min = float(np.interp(serve_c, *_rising(after[1], after[0])))
        served = running.core_after(spread.coarse, plan.course, rest_min)
        minutes = float(running.pull_minutes(run, plan.course)[0])
        pairs.append(PullPair(round(pull_c, 1), round(rest_min, 1), spread_of(served[np.isfinite(served)]), minutes))
    return pairs


def _after_pull(run: Any, plan: Setup, member: int) -> tuple[Array, Array]:
    """Minutes since the pull and core temperature of one member."""
    pulled = run.ended_s[plan.course.pulled, member]
    later = run.time_s >= pulled
    minutes = np.concatenate([[0.0], (run.time_s[later] - pulled) / 60.0])
    core = np.concatenate([[run.core_end_c[plan.course.pulled, member]], run.core_c[later, member]])
    return minutes, core


def _rising(core: Array, minutes: Array) -> tuple[Array, Array]:
    """The stretch up to the peak, as interpolation wants it."""
    top = int(np.argmax(core)) + 1
    return np.maximum.accumulate(core[:top]), minutes[:top]


def slicing(piece: Piece | Roast, *, serve_c: float, pit_c: float, pull_c: float, now_min: float = 0.0,
            start_c: float = 4.0, within_k: float = 3.0, readings: Sequence[Any] = (), seed: int = 0,
            **said: Any) -> Slicing:
    """When to slice for `serve_c`, what slicing `now_min` after the pull means, and how long it can wait in what.

    `readings` of the cook and of the rest so far sharpen all three.
    """
    waits: dict[str, float] = {}
    chosen = (said.pop("rest", None) or Rest()).cover

    def laid(cover: str) -> Setup:
        return setup(piece, pit_c=pit_c, pull_c=pull_c, start_c=start_c, rest=Rest(2 * _LONGEST_REST_MIN, cover),
                     **said)

    z = informed(laid(chosen), readings, seed)
    for cover in dict.fromkeys((chosen, *COVERS)):
        plan = laid(cover)
        drawn = members_of(z if cover == chosen else z[:, :2], plan.priors)
        spread = running.ensemble(plan.roast, drawn, plan.course)
        minutes, core = _after_pull(spread.fine, plan, 0)
        fine = minutes[core >= serve_c - within_k]
        waits[cover] = float(fine.max()) if fine.size else 0.0
        if cover == chosen:
            when = float(np.interp(serve_c, *_rising(core, minutes))) if core.max() >= serve_c else None
            between = spread_of(np.array([_reached(*_after_pull(spread.coarse, plan, member), serve_c)
                                          for member in range(z.shape[1])]))
            served = running.core_after(spread.coarse, plan.course, now_min)
            now = spread_of(served[np.isfinite(served)])
    wait = ", ".join(f"{cover} {waits[cover]:.0f} min" for cover in COVERS)
    mean = f"; slicing now means {now.p50:.0f} °C" if now.p50 is not None else ""
    ordered = {cover: waits[cover] for cover in COVERS}
    return Slicing(when, between, now, ordered, f"{_when(when, between, serve_c)}{mean}; "
                   f"it stays within {within_k:g} K of that or above for: {wait}")


def informed(plan: Setup, readings: Sequence[Any], seed: int) -> Array:
    """Deviates of a small ensemble, its middle first; moved to the readings where there are any."""
    if not readings:
        return draw(_MEMBERS, seed)
    from cookbook.heat.update import conditioned

    z = conditioned(plan, readings, members=3 * _MEMBERS, seed=seed).deviates
    return np.concatenate([z.mean(axis=1, keepdims=True), z[:, 1:_MEMBERS]], axis=1)


def _reached(minutes: Array, core: Array, wanted_c: float) -> float:
    """When a rest comes to a temperature; infinite where it never does."""
    return float(np.interp(wanted_c, *_rising(core, minutes))) if core.max() >= wanted_c else np.inf


def _when(when: float | None, between: Range, serve_c: float) -> str:
    if when is None:
        return f"the rest does not carry the core to {tenth(serve_c)} °C"
    if between.p10 is None or between.p90 is None:
        return f"slice {when:.0f} min after the pull for {tenth(serve_c)} °C, if the rest carries it there"
    return f"slice from {between.p10:.0f} to {between.p90:.0f} min after the pull for {tenth(serve_c)} °C"


def sensitivity(piece: Piece | Roast, *, pit_c: float, pull_c: float, start_c: float = 4.0,
                **said: Any) -> list[Sensitivity]:
    """How far the time to the pull moves with each thing not known, the widest first (the bars of a tornado)."""
    plan = setup(piece, pit_c=pit_c, pull_c=pull_c, start_c=start_c, **said)
    names = [name for name in NAMES if name in _CAUSES]
    z = np.zeros((len(NAMES), 1 + 2 * len(names)))
    for number, name in enumerate(names):
        z[NAMES.index(name), 1 + 2 * number] = -NORMAL_80
        z[NAMES.index(name), 2 + 2 * number] = NORMAL_80
    run = running.run(cells_of(plan.roast, COARSE_M), plan.roast, members_of(z, Priors(plan.priors)), plan.course,
                      step_s=running.step_for(plan.roast))
    minutes = running.pull_minutes(run, plan.course)
    if not np.isfinite(minutes[0]):
        raise RequestError(f"the core never reaches {tenth(pull_c)} °C in a pit of {tenth(pit_c)} °C",
                           mend="run the pit hotter or pull earlier")
    bars = [Sensitivity(name, _CAUSES[name], float(minutes[1 + 2 * k]), float(minutes[2 + 2 * k]))
            for k, name in enumerate(names)]
    return sorted(bars, key=lambda bar: -bar.width_min)


def most_useful(piece: Piece | Roast, *, pit_c: float, pull_c: float, start_c: float = 4.0,
                **said: Any) -> list[Measurement]:
    """What each measurement would do to the range, the most useful first; widths add up as independent parts."""
    plan = setup(piece, pit_c=pit_c, pull_c=pull_c, start_c=start_c, **said)
    bars = {bar.name: bar.width_min for bar in sensitivity(piece, pit_c=pit_c, pull_c=pull_c, start_c=start_c, **said)
            if np.isfinite(bar.width_min)}
    total = float(np.sqrt(sum(width ** 2 for width in bars.values())))
    found = []
    for name, (what, spread) in _MEASURES.items():
        share = min(1.0, spread / max(plan.priors[name].spread, 1e-9))
        width = bars.get(name, 0.0)
        left = float(np.sqrt(max(total ** 2 - width ** 2 * (1 - share ** 2), 0.0)))
        found.append(Measurement(what, total, left))
    return sorted(found, key=lambda one: one.to_min)
