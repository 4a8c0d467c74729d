"""What finished cooks teach: parameters per cooker, and per cut and treatment, shrunk to the shipped priors.

A cook's log gives each parameter a posterior; its own prior is divided out, and what is left counts as a noisy
sighting of the cooker's (or the cut's) own value. Readings of the rest count too: up to the pull hot air over a surface
that takes little heat looks like the contrary, and the rise tells them apart. A log that the model follows badly is
believed less. Seven tenths of a prior's variance are taken to be the cooker's or cut's own, three tenths differ from
cook to cook and stay (an assumption).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from cookbook.errors import RequestError
from cookbook.heat.outlook import Setup, setup
from cookbook.heat.prior import NAMES, Prior, priors
from cookbook.heat.setting import Cooker

if TYPE_CHECKING:
    from cookbook.heat.update import Conditioned

OF_COOKER = ("pit_k", "h", "vapour")
OF_CUT = ("kappa", "wet", "crust", "feed", "melt", "hold_s", "fade")
_OWN = 0.7
_LEAST_GAIN = 0.02


class Sighting(NamedTuple):
    """One parameter in one cook, on the scale it is drawn in: what the cook's log said of it, and how surely."""

    value: float
    variance: float


class Lesson(NamedTuple):
    """What one finished cook says: where it was cooked, what, how treated, and the sightings by parameter."""

    cooker: str
    place: str
    cut: str
    treatment: str
    sightings: dict[str, Sighting]

    def json(self) -> dict[str, object]:
        """A plain record, for keeping."""
        plain = {name: [one.value, one.variance] for name, one in self.sightings.items()}
        return {"cooker": self.cooker, "place": self.place, "cut": self.cut, "treatment": self.treatment,
                "sightings": plain}

    @staticmethod
    def read(plain: Mapping[str, Any]) -> Lesson:
        """The lesson that `json` wrote."""
        found = {name: Sighting(float(pair[0]), float(pair[1])) for name, pair in plain["sightings"].items()}
        return Lesson(plain["cooker"], plain["place"], plain["cut"], plain["treatment"], found)


def _middle(prior: Prior) -> float:
    """A prior's middle on the scale it is drawn in."""
    return float(np.log(prior.middle)) if prior.scale == "log" else prior.middle


def lesson_of(plan: Setup, done: Conditioned, treatment: str) -> Lesson:
    """The lesson in an ensemble moved to all of a cook's readings."""
    from cookbook.heat.update import usual_residual_k

    doubt = max(1.0, done.residual_k / usual_residual_k(plan)) ** 2
    found: dict[str, Sighting] = {}
    for name in (*OF_COOKER, *OF_CUT):
        prior = plan.priors[name]
        z = done.deviates[NAMES.index(name)]
        variance = float(np.clip(z.var(ddof=1), 1e-3, None))
        precision = 1.0 / variance - 1.0
        if precision < _LEAST_GAIN or prior.spread <= 0:
            continue
        value = float(z.mean()) / variance / precision
        found[name] = Sighting(_middle(prior) + prior.spread * value, doubt * prior.spread ** 2 / precision)
    cooker = plan.cooker.name or plan.cooker.kind
    return Lesson(cooker, plan.cooker.place, plan.roast.name, treatment, found)


def lesson(piece: Any, readings: Sequence[Any], *, pit_c: float, pull_c: float, treatment: str = "bare",
           members: int = 100, seed: int = 0, **said: Any) -> Lesson:
    """The lesson of a finished cook from all its readings; keywords as for `forecast`.

    With `pulled_min` among them the readings of the rest teach as well.
    """
    from cookbook.heat.update import conditioned

    if not readings:
        raise RequestError("a cook without a reading teaches nothing", mend="log at least one core temperature")
    plan = setup(piece, pit_c=pit_c, pull_c=pull_c, now_min=float(readings[-1][0]), **said)
    return lesson_of(plan, conditioned(plan, readings, members=members, seed=seed), treatment)


def _shrunk(prior: Prior, seen: Sequence[Sighting]) -> tuple[float, float]:
    """Middle and spread of the next cook's parameter after sightings, on the parameter's own scale."""
    own, daily = _OWN * prior.spread ** 2, (1.0 - _OWN) * prior.spread ** 2
    precision, pull = 1.0 / own, _middle(prior) / own
    for one in seen:
        weight = 1.0 / (daily + one.variance)
        precision += weight
        pull += weight * one.value
    middle = pull / precision
    spread = float(np.sqrt(1.0 / precision + daily))
    return (float(np.exp(middle)) if prior.scale == "log" else middle), spread


def learned_priors(lessons: Iterable[Lesson], *, cooker: Cooker, cut: str,
                   treatment: str = "bare") -> tuple[dict[str, tuple[float, float]], int]:
    """Priors for the next cook, as `forecast(priors=...)` takes them, and how many cooks they were learned from.

    The cooker's parameters come from cooks on it with the probe at the same place, the meat's from cooks of the same
    cut and treatment; without any the shipped priors stay.
    """
    from cookbook.heat.setting import offset_spread_k

    known = priors()
    known["pit_k"] = known["pit_k"]._replace(middle=cooker.offset_k, spread=offset_spread_k(cooker))
    all_lessons = list(lessons)
    name = cooker.name or cooker.kind
    of_cooker = [one for one in all_lessons if one.cooker == name and one.place == cooker.place]
    of_cut = [one for one in all_lessons if one.cut == cut and one.treatment == treatment]
    changes: dict[str, tuple[float, float]] = {}
    for names, group in ((OF_COOKER, of_cooker), (OF_CUT, of_cut)):
        for parameter in names:
            seen = [one.sightings[parameter] for one in group if parameter in one.sightings]
            if seen:
                changes[parameter] = _shrunk(known[parameter], seen)
    return changes, len({id(one) for one in (*of_cooker, *of_cut)})
