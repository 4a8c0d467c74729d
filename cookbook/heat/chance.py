"""Percentiles beside the three that a forecast prints: between and beyond them each half is taken as log-normal."""

from __future__ import annotations

from math import exp, log
from statistics import NormalDist

from cookbook.errors import RequestError
from cookbook.heat.outlook import Range

LEAST, MOST = 0.01, 0.99


def within(minutes: Range, chance: float) -> float | None:
    """Minutes within which it is done with this `chance` (0.01 to 0.99); None where so much of what may be true never
    gets there.

    At 0.1, 0.5 and 0.9 it is the forecast's own percentile; it rises with the chance. Raises RequestError.
    """
    if not LEAST <= chance <= MOST:
        raise RequestError(f"a chance of {chance:.0%}", mend=f"give one from {LEAST:.0%} to {MOST:.0%}")
    end = minutes.p90 if chance > 0.5 else minutes.p10
    if minutes.p50 is None or (end is None and chance != 0.5):
        return None
    if chance == 0.5 or end is None:
        return minutes.p50
    reach = NormalDist().inv_cdf(chance) / NormalDist().inv_cdf(0.9 if chance > 0.5 else 0.1)
    return exp(log(minutes.p50) + reach * (log(end) - log(minutes.p50)))
