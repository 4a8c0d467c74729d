"""Fits the forecast's constants: kappa, wetness, crust, feed and fade, one set for every cut and cooker.

Fitted on the dimensioned rows D1, D3, D8, D10 and every second row known by weight alone, with the rises and losses
that those rows give and common practice for ribs and briskets as soft bounds. A seeded random search that narrows.

Run it: python -m tests.bench.calibrate_heat [rounds] [sets]; it prints the constants and writes nothing.
"""

from __future__ import annotations

import sys
from typing import NamedTuple

import numpy as np

from cookbook.heat.body import Array
from cookbook.heat.course import Course, core_after, pull_minutes, run, step_for
from cookbook.heat.fire import program
from cookbook.heat.phase import Members
from cookbook.heat.prior import NAMES, members_of, priors
from cookbook.heat.roast import COARSE_M, Cells, Roast, cells_of, roast_of_piece
from cookbook.heat.setting import Cooker, Rest, Wrap, phases_of
from cookbook.meat import Cut
from tests.bench.heat_cases import Case, by_weight, dimensioned

BOUNDS = {"kappa": (1.12, 1.25), "wet": (0.27, 0.33), "crust": (2.0, 2.6), "feed": (0.4, 0.8), "fade": (2.8, 4.0)}
"""Where a wider search came out."""
START = {"kappa": (1.06, 0.07), "wet": (0.27, 0.3)}
"""Where an earlier fit came out, and its doubt: what the rows leave open stays near it."""

_RIDGE = 0.001
_INSIDE = 0.05
"""How far inside its band practice is to end, since it is fitted on coarse cells."""
_SIZED = 2.0
"""Weight of a row with its sizes against one of which only the weight is known."""
_KEPT = 8


class Practice(NamedTuple):
    """Common practice: a cut of a mass in a pit to a core takes so many minutes, and rises so much in 20 minutes."""

    cut: str
    mass_g: float
    pit_c: float
    pull_c: float
    low_min: float
    high_min: float
    wrap: Wrap | None = None
    rise: tuple[float, float] | None = None


PRACTICE = (
    Practice("rib roast, bone in", 5700.0, 121.0, 49.0, 180.0, 240.0, rise=(2.0, 5.0)),
    Practice("brisket, whole", 5500.0, 107.0, 93.0, 13 * 60.0, 18 * 60.0),
    Practice("brisket, whole", 5500.0, 121.0, 93.0, 10 * 60.0, 14 * 60.0),
    Practice("brisket, whole", 5500.0, 114.0, 93.0, 8 * 60.0, 11 * 60.0, Wrap("foil", 70.0)),
    Practice("brisket, whole", 5500.0, 121.0, 93.0, 8 * 60.0, 11 * 60.0, Wrap("foil", 70.0)),
)


def outside(value: Array, low: float, high: float) -> Array:
    """How far a value is outside a band; zero within."""
    return np.where(value < low, value - low, np.where(value > high, value - high, 0.0))


class Result(NamedTuple):
    """One roast under every set of constants: minutes to the pull, core some minutes later, loss in per cent."""

    minutes: Array
    risen_k: Array
    loss: Array


def cook(roast: Roast, cells: Cells, members: Members, cooker: str, pit_c: float, pull_c: float, start_c: float, *,
         rise_min: float = 20.0, wrap: Wrap | None = None) -> Result:
    """Runs one roast for all members."""
    phases, pulled, before = phases_of(Cooker(cooker), pull_c, wrap=wrap, rest=Rest(rise_min + 2.0))
    course = Course(phases, pulled, before, *program(pit_c))
    own = members._replace(start_c=np.full(members.number, start_c))
    done = run(cells, roast, own, course, step_s=step_for(roast))
    rise = core_after(done, course, rise_min) - pull_c
    return Result(pull_minutes(done, course), rise, 100 * done.loss_end[pulled])


class Rows:
    """Everything the fit looks at, with its cells built once."""

    def __init__(self) -> None:
        self.cases = [case for case in (*dimensioned(), *by_weight()) if case.fitted]
        self.cells = [cells_of(case.roast, COARSE_M) for case in self.cases]
        self.practice = [(one, roast_of_piece(Cut.named(one.cut).piece(mass_g=one.mass_g))) for one in PRACTICE]
        self.practice_cells = [cells_of(roast, COARSE_M) for _, roast in self.practice]

    def cost(self, members: Members) -> Array:
        """Mean square errors of ln(time), rise (1 K) and loss (3 points) plus practice, for each member."""
        total = np.zeros(members.number)
        for name, (usual, doubt) in START.items():
            total += _RIDGE * (np.log(getattr(members, name) / usual) / doubt) ** 2
        for case, cells in zip(self.cases, self.cells, strict=True):
            total += self._case(case, cells, members) / len(self.cases)
        for (one, roast), cells in zip(self.practice, self.practice_cells, strict=True):
            cooker = "oven" if one.pull_c < 80 else "offset"
            done = cook(roast, cells, members, cooker, one.pit_c, one.pull_c, 4.4, wrap=one.wrap)
            total += _squared(done.minutes, one.low_min * (1 + _INSIDE), one.high_min * (1 - _INSIDE))
            if one.rise is not None:
                total += 0.005 * outside(done.risen_k, *one.rise) ** 2
        return total

    def _case(self, case: Case, cells: Cells, members: Members) -> Array:
        rise_min = case.rise[0] if case.rise else 2.0
        done = cook(case.roast, cells, members, case.cooker, case.pit_c, case.pull_c, case.start_c, rise_min=rise_min)
        if case.name.startswith("D"):
            cost = _SIZED * np.log(np.minimum(done.minutes, 2400.0) / case.middle_min) ** 2
        else:
            cost = _squared(done.minutes, case.low_min, case.high_min)
        if case.rise is not None:
            cost = cost + 0.05 * outside(done.risen_k, case.rise[1], case.rise[2]) ** 2
        if case.loss is not None:
            cost = cost + 0.05 * (outside(done.loss, *case.loss) / 3.0) ** 2
        return cost


def _squared(minutes: Array, low: float, high: float) -> Array:
    return outside(np.log(np.minimum(minutes, 2400.0)), float(np.log(low)), float(np.log(high))) ** 2


def members_at(sets: dict[str, Array]) -> Members:
    """Members that differ in the fitted constants alone."""
    count = len(sets["kappa"])
    middle = members_of(np.zeros((len(NAMES), count)), priors())
    return middle._replace(depth=np.zeros(count), **sets)


def search(rounds: int = 4, count: int = 24, seed: int = 5) -> tuple[dict[str, float], float]:
    """The constants and their cost; each round draws around the best of all so far."""
    generator = np.random.default_rng(seed)
    rows = Rows()
    low = np.array([bound[0] for bound in BOUNDS.values()])
    high = np.array([bound[1] for bound in BOUNDS.values()])
    points, costs = np.zeros((0, low.size)), np.zeros(0)
    for turn in range(rounds):
        if turn == 0:
            fresh = low + (high - low) * generator.random((count, low.size))
        else:
            best = points[np.argsort(costs)[:_KEPT]]
            spread = best.std(axis=0) + 0.02 * (high - low)
            step = 1.2 * spread * generator.standard_normal((count, low.size))
            fresh = np.clip(best.mean(axis=0) + step, low, high)
        found = rows.cost(members_at({name: fresh[:, k] for k, name in enumerate(BOUNDS)}))
        points, costs = np.concatenate([points, fresh]), np.concatenate([costs, found])
        first = points[np.argmin(costs)]
        shown = dict(zip(BOUNDS, np.round(first, 3).tolist(), strict=True))
        print(f"round {turn + 1}: cost {costs.min():.4f}", shown)
    return dict(zip(BOUNDS, points[np.argmin(costs)].tolist(), strict=True)), float(costs.min())


if __name__ == "__main__":
    numbers = [int(word) for word in sys.argv[1:3]]
    search(*numbers)
