"""What finished cooks teach: parameters per cooker, and per cut and treatment, shrunk to the shipped priors.

A cook's log says something of all parameters together: a fast cook may mean hotter air or a drier surface, and which
of them only other cooks, or the readings of the rest, can tell. So the lessons are added up as a whole, and what they
leave open stays tied together. A log that the model follows badly is believed less. Seven tenths of a prior's
variance are taken to be the cooker's or cut's own, three tenths differ from cook to cook and stay (an assumption).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from cookbook.errors import RequestError
from cookbook.heat.body import Array
from cookbook.heat.outlook import Setup, setup
from cookbook.heat.prior import NAMES, Learned, Prior, priors
from cookbook.heat.setting import Cooker, offset_spread_k

if TYPE_CHECKING:
    from cookbook.heat.roast import Roast
    from cookbook.heat.update import Conditioned
    from cookbook.meat import Piece

OF_COOKER = ("pit_k", "h", "vapour")
OF_CUT = ("kappa", "wet", "crust", "feed", "melt", "hold_s", "fade")
_OWN = 0.7


class Lesson(NamedTuple):
    """What one finished cook says: where it was cooked, what, how treated, and the evidence on every parameter.

    `information` (one row and column a parameter, in the order of `NAMES`) and `weighed`, it times the value, are on
    the deviates from the shipped priors.
    """

    cooker: str
    place: str
    cut: str
    treatment: str
    information: tuple[tuple[float, ...], ...]
    weighed: tuple[float, ...]

    def json(self) -> dict[str, object]:
        """A plain record, for keeping."""
        return dict(self._asdict())

    @staticmethod
    def read(plain: Mapping[str, Any]) -> Lesson:
        """The lesson that `json` wrote; KeyError, TypeError or ValueError for anything else."""
        rows = tuple(tuple(float(one) for one in row) for row in plain["information"])
        weighed = tuple(float(one) for one in plain["weighed"])
        if [len(row) for row in (*rows, weighed)] != [len(NAMES)] * (len(NAMES) + 1):
            raise ValueError("a lesson on other parameters")
        return Lesson(plain["cooker"], plain["place"], plain["cut"], plain["treatment"], rows, weighed)


def lesson_of(plan: Setup, done: Conditioned, treatment: str) -> Lesson:
    """The lesson in an ensemble moved to all of a cook's readings."""
    from cookbook.heat.update import usual_residual_k

    doubt = max(1.0, done.residual_k / usual_residual_k(plan)) ** 2
    cooker = plan.cooker.name or plan.cooker.kind
    return Lesson(cooker, plan.cooker.place, plan.roast.name, treatment,
                  tuple(tuple((row / doubt).tolist()) for row in done.evidence.information),
                  tuple((done.evidence.weighed / doubt).tolist()))


def lesson(piece: Piece | Roast, readings: Sequence[Any], *, pit_c: float, pull_c: float, treatment: str = "bare",
           members: int = 100, seed: int = 0, **said: Any) -> Lesson:
    """The lesson of a finished cook from all its readings; keywords as for `forecast`.

    With `pulled_min` among them the readings of the rest teach as well.
    """
    from cookbook.heat.update import conditioned

    if not readings:
        raise RequestError("a cook without a reading teaches nothing", mend="log at least one core temperature")
    plan = setup(piece, pit_c=pit_c, pull_c=pull_c, now_min=float(readings[-1][0]), **said)
    return lesson_of(plan, conditioned(plan, readings, members=members, seed=seed), treatment)


def _of_one_cook(one: Lesson) -> tuple[Array, Array]:
    """Information, and it times the value, on the cooker's and the cut's own deviates: the day's are averaged out."""
    rows = [NAMES.index(name) for name in (*OF_COOKER, *OF_CUT)]
    daily = np.ones(len(NAMES))
    daily[rows] = 1.0 - _OWN
    information = np.array(one.information)
    rest = np.eye(len(NAMES)) - information @ np.linalg.inv(information + np.diag(1.0 / daily))
    return (rest @ information)[np.ix_(rows, rows)], (rest @ np.array(one.weighed))[rows]


def _own(lessons: Sequence[Lesson], cooker: tuple[str, ...], cut: tuple[str, ...]) -> tuple[Array, Array]:
    """Mean and covariance of this cooker's and this cut's own deviates, those of others in the lessons beside."""
    blocks: dict[tuple[str, ...], slice] = {}
    size = 0
    for key in (cooker, cut, *(key for one in lessons for key in _keys(one))):
        if key not in blocks:
            blocks[key] = slice(size, size + len(OF_COOKER if key[0] == "cooker" else OF_CUT))
            size = blocks[key].stop
    precision, pull = np.eye(size) / _OWN, np.zeros(size)
    for one in lessons:
        at = np.concatenate([np.arange(size)[blocks[key]] for key in _keys(one)])
        information, weighed = _of_one_cook(one)
        precision[np.ix_(at, at)] += information
        pull[at] += weighed
    here = len(OF_COOKER) + len(OF_CUT)
    covariance = np.linalg.inv(precision)
    return (covariance @ pull)[:here], covariance[:here, :here]


def _keys(one: Lesson) -> tuple[tuple[str, ...], tuple[str, ...]]:
    return ("cooker", one.cooker, one.place), ("cut", one.cut, one.treatment)


def _moved(prior: Prior, shift: float, spread: float) -> tuple[float, float]:
    """Middle and spread of a prior moved by `shift` and narrowed to `spread` of its own sigmas."""
    step = prior.spread * shift
    return float(prior.middle * np.exp(step)) if prior.scale == "log" else prior.middle + step, prior.spread * spread


def learned_priors(lessons: Iterable[Lesson], *, cooker: Cooker, cut: str,
                   treatment: str = "bare") -> tuple[Learned, int]:
    """Priors for the next cook, as `forecast(priors=...)` takes them, and how many cooks they were learned from.

    The cooker's parameters come from cooks on it with the probe at the same place, the meat's from cooks of the same
    cut and treatment; without any the shipped priors stay.
    """
    here, meat = ("cooker", cooker.name or cooker.kind, cooker.place), ("cut", cut, treatment)
    seen = [one for one in lessons if here in _keys(one) or meat in _keys(one)]
    changes = Learned()
    if not seen:
        return changes, 0
    known = priors()
    known["pit_k"] = known["pit_k"]._replace(middle=cooker.offset_k, spread=offset_spread_k(cooker))
    mean, covariance = _own(seen, here, meat)
    covariance = covariance + (1.0 - _OWN) * np.eye(mean.size)
    spread = np.sqrt(np.diag(covariance))
    names = (*OF_COOKER, *OF_CUT)
    for name, shift, wide in zip(names, mean.tolist(), spread.tolist(), strict=True):
        changes[name] = _moved(known[name], shift, wide)
    rows = [NAMES.index(name) for name in names]
    changes.root = np.eye(len(NAMES))
    changes.root[np.ix_(rows, rows)] = np.linalg.cholesky(covariance / np.outer(spread, spread))
    return changes, len(seen)
