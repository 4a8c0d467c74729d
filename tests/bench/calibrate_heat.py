"""Fits the forecast's constants: kappa, wetness, crust, feed and fade, one set for every cut and cooker.

Fitted on the dimensioned rows D1, D3, D8, D10 and every second row known by weight alone, with the rises and losses
that those rows give and common practice for ribs, briskets and hot ovens as soft bounds. What all these leave open
goes to the set under which a long cook depends least on what nobody can know of it, since a forecast that a few
degrees of fire throw over by hours helps nobody. A seeded random search that narrows.

Run it: python -m tests.bench.calibrate_heat [rounds] [sets]; it prints the constants and writes nothing. What coarse
cells are off by is taken at the shipped constants, so that a second run ends near the first, not upon it.
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
from cookbook.heat.roast import COARSE_M, FINE_M, Cells, Roast, cells_of, roast_of_piece
from cookbook.heat.setting import Cooker, Rest, Wrap, phases_of
from cookbook.meat import Cut
from tests.bench.heat_cases import Case, by_weight, dimensioned
from tests.bench.heat_twins import LONG, Kind, nominal

BOUNDS = {"kappa": (1.08, 1.32), "wet": (0.20, 0.38), "crust": (1.2, 3.2), "feed": (0.3, 0.9), "fade": (2.0, 6.0)}
START = {"kappa": (1.06, 0.07), "wet": (0.27, 0.3)}
"""Where the study of the model came out, and its doubt: what the rows leave open stays near it."""

_RIDGE = 0.001
_INSIDE = 0.02
"""How far inside its band practice is to end."""
_SIZED = 2.0
"""Weight of a row with its sizes against one of which only the weight is known."""
_KEPT = 12
_HELD = 6.0
"""Weight of a line of practice, which is to be met, not only neared."""
_HOT = 0.05
"""Weight of a squared kelvin by which a roast from a hot oven rises too little or too much."""
_UNSURE, _UNSURE_MIN = 0.02, 165.0
"""Weight of ten minutes, squared, by which a long cook's time strays more than this from its middle."""
_COOKS = 10


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

HOT = (("rib roast, bone in", 5700.0, 232.0, 49.0), ("rib roast, bone in", 3600.0, 204.0, 52.0),
       ("rib roast, boneless", 2500.0, 204.0, 52.0), ("leg of lamb, bone in", 2700.0, 204.0, 57.0),
       ("pork loin, boneless", 1800.0, 204.0, 60.0), ("top round roast", 2000.0, 204.0, 52.0),
       ("beef tenderloin", 1800.0, 218.0, 52.0))
"""Roasts from a hot oven: cut, grams, pit and pull. Practice (memory): they rise 5 to 11 K; read off after 20 min."""
HOTTER = (("rib roast, bone in", 2300.0, 232.0, 52.0), ("rib roast, boneless", 4000.0, 232.0, 49.0),
          ("leg of lamb, boneless", 1500.0, 232.0, 54.0), ("pork loin, boneless", 2500.0, 218.0, 60.0),
          ("top round roast", 1200.0, 218.0, 50.0), ("beef tenderloin", 1200.0, 204.0, 52.0),
          ("beef tenderloin", 1800.0, 232.0, 50.0))
"""Others, small, hotter or pulled earlier: not fitted, some rise further."""
RISE_K = (5.2, 10.8)
"""The same, a little inside."""


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


class Practised:
    """A line of practice with what its coarse cells are off by, which all members share to within a fraction."""

    def __init__(self, one: Practice) -> None:
        self.one = one
        self.roast = roast_of_piece(Cut.named(one.cut).piece(mass_g=one.mass_g))
        self.cells = cells_of(self.roast, COARSE_M)
        middle = members_of(np.zeros((len(NAMES), 1)), priors())
        fine, coarse = self._run(cells_of(self.roast, FINE_M), middle), self._run(self.cells, middle)
        self.times = float(fine.minutes[0] / coarse.minutes[0])
        self.more_k = float(fine.risen_k[0] - coarse.risen_k[0])

    def _run(self, cells: Cells, members: Members) -> Result:
        one = self.one
        return cook(self.roast, cells, members, "oven" if one.pull_c < 80 else "offset", one.pit_c, one.pull_c, 4.4,
                    wrap=one.wrap)

    def cooked(self, members: Members) -> Result:
        """The roast under every set of constants, as fine cells would have it."""
        done = self._run(self.cells, members)
        return done._replace(minutes=done.minutes * self.times, risen_k=done.risen_k + self.more_k)


class Rows:
    """Everything the fit looks at, with its cells built once."""

    def __init__(self) -> None:
        self.cases = [case for case in (*dimensioned(), *by_weight()) if case.fitted]
        self.cells = [cells_of(case.roast, COARSE_M) for case in self.cases]
        self.practice = [Practised(one) for one in PRACTICE]
        self.hot = [Practised(Practice(*one, 0.0, np.inf, rise=RISE_K)) for one in HOT]
        self.long = [(kind, nominal(kind)) for kind in LONG]
        self.long_cells = [cells_of(roast, COARSE_M) for _, roast in self.long]

    def cost(self, members: Members) -> Array:
        """Mean square errors of ln(time), rise (1 K) and loss (3 points) plus practice and doubt, for each member."""
        total: Array = np.zeros(members.number)
        for name, (usual, doubt) in START.items():
            total += _RIDGE * (np.log(getattr(members, name) / usual) / doubt) ** 2
        for case, cells in zip(self.cases, self.cells, strict=True):
            total += self._case(case, cells, members) / len(self.cases)
        for line in self.practice:
            one, done = line.one, line.cooked(members)
            total += _HELD * _squared(done.minutes, one.low_min * (1 + _INSIDE), one.high_min * (1 - _INSIDE))
            if one.rise is not None:
                total += 0.005 * outside(done.risen_k, *one.rise) ** 2
        for line in self.hot:
            total += _HOT * outside(line.cooked(members).risen_k, *RISE_K) ** 2
        strays = [_strays_min(kind, roast, cells, members)
                  for (kind, roast), cells in zip(self.long, self.long_cells, strict=True)]
        total += _UNSURE * (np.maximum(np.mean(strays, axis=0) - _UNSURE_MIN, 0.0) / 10.0) ** 2
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


def _strays_min(kind: Kind, roast: Roast, cells: Cells, members: Members, seed: int = 11) -> Array:
    """How many minutes a long cook lies from each member's middle, in the mean, as meat and fire are not as said."""
    generator = np.random.default_rng(seed)
    drawn = {name: 1.0 + generator.uniform(-share, share, _COOKS)
             for name, share in (("wet", 0.4), ("crust", 0.4), ("h", 0.25))}
    drawn |= {name: np.exp(sigma * generator.standard_normal(_COOKS))
              for name, sigma in (("kappa", 0.07), ("size", 0.04))}
    every = Members(*(np.repeat(values, _COOKS + 1) for values in members))
    alike = {name: getattr(every, name) * np.tile([1.0, *values], members.number) for name, values in drawn.items()}
    pit_k = np.tile([0.0, *(4.0 * generator.standard_normal(_COOKS) - 2.0)], members.number)
    melt = np.tile([0.5, *generator.integers(2, size=_COOKS)], members.number)
    feed = np.tile([0.0, *(0.12 * generator.standard_normal(_COOKS))], members.number)
    every = every._replace(**alike, pit_k=pit_k, melt=melt, feed=np.clip(every.feed + feed, 0.2, 1.0))
    done = cook(roast, cells, every, "offset", kind.pit_c, kind.pull_c, 4.4, rise_min=0.0)
    minutes = np.minimum(done.minutes, 2160.0).reshape(members.number, _COOKS + 1)
    return np.asarray(np.abs(minutes[:, 1:] - minutes[:, :1]).mean(axis=1))


def _squared(minutes: Array, low: float, high: float) -> Array:
    return outside(np.log(np.minimum(minutes, 2400.0)), float(np.log(low)), float(np.log(high))) ** 2


def members_at(sets: dict[str, Array]) -> Members:
    """Members that differ in the fitted constants alone."""
    count = len(sets["kappa"])
    middle = members_of(np.zeros((len(NAMES), count)), priors())
    return middle._replace(depth=np.zeros(count), **sets)


def search(rounds: int = 14, count: int = 24, seed: int = 3) -> tuple[dict[str, float], float]:
    """The constants and their cost; each round draws around the best of all so far, as they lie."""
    generator = np.random.default_rng(seed)
    rows = Rows()
    low = np.array([bound[0] for bound in BOUNDS.values()])
    high = np.array([bound[1] for bound in BOUNDS.values()])
    points, costs = np.zeros((0, low.size)), np.zeros(0)
    middle, spread = (low + high) / 2, np.diag((0.18 * (high - low)) ** 2)
    for turn in range(rounds):
        fresh = np.clip(generator.multivariate_normal(middle, spread, count), low, high)
        found = rows.cost(members_at({name: fresh[:, k] for k, name in enumerate(BOUNDS)}))
        points, costs = np.concatenate([points, fresh]), np.concatenate([costs, found])
        best = points[np.argsort(costs)[:_KEPT]]
        middle, spread = best.mean(axis=0), 1.3 * np.cov(best.T) + np.diag((0.01 * (high - low)) ** 2)
        shown = dict(zip(BOUNDS, np.round(best[0], 3).tolist(), strict=True))
        print(f"round {turn + 1}: cost {costs.min():.4f}", shown, flush=True)
    return dict(zip(BOUNDS, points[np.argmin(costs)].tolist(), strict=True)), float(costs.min())


if __name__ == "__main__":
    numbers = [int(word) for word in sys.argv[1:3]]
    search(*numbers)
