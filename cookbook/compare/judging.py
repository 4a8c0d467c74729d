"""One outcome of two groups of cooks: the gap, its intervals, the chance that it is better, and a plain verdict.

The model: each day's value is its group's mean plus chance, the same scatter in every group of the comparison (so
versions that are not asked about still tell how much cooks scatter), and where size is taken out, a slope common to
all groups. Its intervals are Student's t, in closed form. A verdict also needs the exact permutation test to agree,
and where several outcomes are judged at once the level falls by Holm's rule, so that in a comparison where nothing
changed any "better" at all appears at most once in twenty.

Sources: Gelman and Hill, Data Analysis Using Regression and Multilevel Models (2007), chapter 3; Holm, Scandinavian
Journal of Statistics 6 (1979) 65-70.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, log, sqrt
from typing import NamedTuple

from cookbook.compare.linear import fit
from cookbook.compare.permutation import permutation
from cookbook.compare.power import cooks_to_tell
from cookbook.compare.student import cdf, quantile

FOR_ITS_SIZE = "time for its size"
"""The one outcome whose scatter its unit does not tell: 100 ln of a time over what its piece explains."""
MATTERS = {"points": 0.5, "min": 15.0, "°C": 1.0, "K": 1.0, "%": 2.0, "g": 20.0, "mg/cm²": 10.0, "g/kg": 1.0,
           "% of the meat": 5.0}
"""How big a difference must be to matter at the table; common practice. Of other units a tenth of the mean."""
USUAL = {"points": 0.8, "min": 12.0, "°C": 1.5, "K": 1.5, "%": 2.0, "g": 25.0, "mg/cm²": 12.0, "g/kg": 1.0,
         "% of the meat": 6.0, FOR_ITS_SIZE: 8.0}
"""How much cooks of the same thing usually scatter, used only where nothing was cooked twice; an assumption. Of other
units a tenth of the mean."""
USUAL_FREEDOM = 2
"""How many degrees of freedom that assumption is given."""
FINEST = {"points": 0.5, "min": 1.0, "°C": 0.5, "K": 0.5, "%": 0.2, "g": 1.0, "mg/cm²": 0.5, "g/kg": 0.1,
          "% of the meat": 1.0, FOR_ITS_SIZE: 0.5}
"""The step in which each is written down: cooks never scatter less than such a step rounds (step / √12)."""
ONE_SIDED, ANY_FALSE, BY_ORDER = 0.025, 0.05, 0.05
HOPELESS = 25
"""More cooks than this are not asked for."""
FEWEST = 3
"""Cooks on each side below which there is no verdict."""
BETTER, WORSE, MORE, LESS = "better", "worse", "more", "less"
SAME, UNKNOWN = "no difference that matters", "can't tell yet"


class Day(NamedTuple):
    """One independent value: a day's cook (or the mean of that day's), its group, and what is taken out of it."""

    value: float
    group: int
    taken_out: tuple[float, ...] = ()


class Gap(NamedTuple):
    """Group b minus group a. `spread` is of single cooks; `assumed` where it is the usual one, nothing having been
    repeated; `above` and `below` the shares of the permutation test, None with too many cooks or a slope."""

    estimate: float
    error: float
    freedom: float
    spread: float
    assumed: bool
    cooks: tuple[int, int]
    above: float | None
    below: float | None

    def interval(self, chance: float) -> tuple[float, float]:
        """The central interval that holds the true gap with this chance."""
        reach = quantile((1 + chance) / 2, self.freedom) * self.error
        return self.estimate - reach, self.estimate + reach

    def chance_above(self, floor: float = 0.0) -> float:
        """The chance that the true gap is above `floor`."""
        return cdf((self.estimate - floor) / self.error, self.freedom)


def of_unit(table: dict[str, float], unit: str, values: Sequence[float]) -> float:
    """A unit's number, or a tenth of the mean size of the values."""
    return table.get(unit) or 0.1 * sum(map(abs, values)) / len(values) or 1.0


def gap(days: Sequence[Day], a: int, b: int, unit: str) -> Gap | None:
    """What parts group b from group a, `unit` choosing from the tables above.

    None where one is empty or what is taken out can't be told from the groups.
    """
    counts = tuple(sum(day.group == group for day in days) for group in (a, b))
    if not all(counts):
        return None
    groups = sorted({day.group for day in days})
    found = fit(
        [[*(1.0 if day.group == one else 0.0 for one in groups), *day.taken_out] for day in days],
        [day.value for day in days],
    )
    if found is None:
        return None
    weights = [float((one == b) - (one == a)) for one in groups] + [0.0] * (len(found.coefficients) - len(groups))
    estimate, share = found.contrast(weights)
    values = [day.value for day in days]
    finest = FINEST.get(unit, 0.0) / sqrt(12)
    if found.spread is None:
        spread, freedom, assumed = of_unit(USUAL, unit, values), USUAL_FREEDOM, True
    else:
        spread, freedom, assumed = max(found.spread, finest, 1e-9), found.freedom, False
    one, two = ([day.value for day in days if day.group == group] for group in (a, b))
    order = None if days[0].taken_out else permutation(one, two)
    above, below = order if order is not None else (None, None)
    return Gap(estimate, spread * sqrt(share), freedom, spread, assumed, (counts[0], counts[1]), above, below)


class Asked(NamedTuple):
    """One outcome to judge: its gap, whether more is better (1), less is (-1) or neither (0), what matters, and
    whether the two groups can be held against each other at all."""

    gap: Gap
    better: int
    matters: float
    comparable: bool = True


class Verdict(NamedTuple):
    """The plain word; where it can't be told, why, and about how many more cooks on both sides together would tell a
    difference as large as it looks (None where that is hopeless); and the cooks a side that would tell one point."""

    word: str
    why: str | None
    more: int | None
    cooks_a_side: int | None


def verdicts(asked: Sequence[Asked], one_point: Sequence[float]) -> list[Verdict]:
    """A verdict for each; `one_point` is the difference whose price in cooks is told."""
    up = _beyond_chance([(1, one) for one in asked])
    down = _beyond_chance([(-1, one) for one in asked])
    return [
        _verdict(one, plus, minus, cooks_to_tell(point, one.gap.spread))
        for one, plus, minus, point in zip(asked, up, down, one_point, strict=True)
    ]


def _beyond_chance(sided: Sequence[tuple[int, Asked]]) -> list[bool]:
    """Which gaps are real on that side (better for 1), by Holm's rule over the outcomes that are judged.

    Outcomes without a better side are not multiplied: nothing is claimed good or bad by them.
    """
    chances = []
    for side, one in sided:
        sign = side * (one.better or 1)
        chances.append(1 - one.gap.chance_above() if sign > 0 else one.gap.chance_above())
    judged = sorted((place for place, (_, one) in enumerate(sided) if one.better), key=lambda place: chances[place])
    real = [chances[place] <= ONE_SIDED and not one.better for place, (_, one) in enumerate(sided)]
    for rank, place in enumerate(judged):
        if chances[place] > min(ONE_SIDED, ANY_FALSE / (len(judged) - rank)):
            break
        real[place] = True
    return [
        found and _order_agrees(one, side) and not one.gap.assumed
        for found, (side, one) in zip(real, sided, strict=True)
    ]


def _order_agrees(one: Asked, side: int) -> bool:
    share = one.gap.above if side * (one.better or 1) > 0 else one.gap.below
    return share is None or share <= BY_ORDER


def _verdict(one: Asked, up: bool, down: bool, cooks: int | None) -> Verdict:
    if not one.comparable:
        return Verdict(UNKNOWN, "no taster tasted both", None, cooks)
    enough = min(one.gap.cooks) >= FEWEST
    if enough and (up or down) and abs(one.gap.estimate) >= one.matters:
        words = (BETTER, WORSE) if one.better else (MORE, LESS)
        return Verdict(words[0] if up else words[1], None, None, cooks)
    low, high = one.gap.interval(0.8)
    if enough and -one.matters < low and high < one.matters:
        return Verdict(SAME, None, None, cooks)
    return _open(one, cooks)


def _open(one: Asked, cooks: int | None) -> Verdict:
    needed = cooks_to_tell(max(abs(one.gap.estimate), one.matters), one.gap.spread)
    sides = " and ".join(f"{have}" for have in one.gap.cooks)
    more = sum(max(0, needed - have) for have in one.gap.cooks) if needed is not None else HOPELESS
    if more >= HOPELESS:
        return Verdict(UNKNOWN, f"{sides} cooks; too small a difference to tell with few", None, cooks)
    if not more:
        return Verdict(UNKNOWN, f"{sides} cooks that don't agree", 1, cooks)
    return Verdict(UNKNOWN, f"{sides} cooks; about {more} more would", more, cooks)


def as_percent(hundred_logs: float) -> float:
    """A difference of 100 ln(x) as a difference of x in percent."""
    return 100 * (exp(hundred_logs / 100) - 1)


def hundred_logs(value: float) -> float:
    """100 ln(value)."""
    return 100 * log(value)
