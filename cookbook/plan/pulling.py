"""Which pull serves most people best: the same roast pulled earlier and later, and who gets what they wish then."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from cookbook.errors import CookbookError
from cookbook.heat import within
from cookbook.heat.zone import POULTRY
from cookbook.kitchen.forecasting.outlook import told_by
from cookbook.plan.dish import Dish
from cookbook.plan.eater import Eater
from cookbook.plan.serving import serve, wished
from cookbook.safety import household_minimum

STEPS_K = (-8.0, -4.0, 0.0, 4.0, 8.0)
MEMBERS = 24
"""A quick look is enough to rank pulls; the plan itself rests on the whole ensemble."""
_COOKED_THROUGH = ("pork", *POULTRY)


class Pull(NamedTuple):
    """One pull: core on the board °C, wishes met as cut, met on the heat again, and who misses theirs."""

    pull_c: float
    served_c: float
    fit: int
    back: int
    missed: tuple[str, ...]
    minutes: float
    planned: bool = False

    def json(self) -> dict[str, object]:
        """As `plan --json` lists it."""
        return {**self._asdict(), "missed": list(self.missed)}


def pulls(dish: Dish, eaters: Sequence[Eater], edible_g: float) -> list[Pull]:
    """The planned pull among some beside it, coldest first; nothing where nobody wishes anything or it is to shred.

    Pulls that would leave pork or poultry under its household line are left out.
    """
    if dish.falls_apart or not any(wished(one, dish.piece.cut.species)[0] for one in eaters):
        return []
    found = []
    for step in STEPS_K:
        pull_c = round(dish.found.pull_c + step, 1)
        other = dish if not step else _pulled(dish, pull_c)
        if other is None or not _safe_enough(other):
            continue
        served = serve(other, eaters, edible_g)
        missed = tuple(one.name for one in served.missed)
        minutes = within(other.found.minutes_to_pull, 0.5) or 0.0
        core_c = other.found.core_at_slicing_c.p50 or pull_c
        found.append(Pull(pull_c, core_c, served.fit, served.back, missed, minutes, not step))
    return found


def best(found: Sequence[Pull]) -> Pull | None:
    """The pull that misses the fewest, then meets the most as cut, then is nearest to the planned one."""
    planned = next((one for one in found if one.planned), None)
    if planned is None:
        return None
    return min(found, key=lambda one: (len(one.missed), -one.fit, abs(one.pull_c - planned.pull_c)))


def _pulled(dish: Dish, pull_c: float) -> Dish | None:
    wanted = dish.wanted._replace(pull_c=pull_c, readings=(), pulled_min=None)
    try:
        found = told_by(wanted, dish.known, MEMBERS)
    except CookbookError:
        return None
    return dish._replace(wanted=wanted, found=found) if found.reaches else None


def _safe_enough(dish: Dish) -> bool:
    cut = dish.piece.cut
    peak = dish.found.peak_c.p50
    if cut.species not in _COOKED_THROUGH or peak is None:
        return True
    return peak >= household_minimum(cut.species, cut.name).core_c
