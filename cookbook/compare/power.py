"""What it would take to tell: the chance that a 95 % interval leaves out nought when the difference is real.

Sources: the power of the two-sample t test by the noncentral t distribution, as an integral over the distribution of
the sample's standard deviation (Johnson and Kotz, Continuous Univariate Distributions 2, chapter 31).
"""

from __future__ import annotations

from functools import cache
from math import erfc, exp, lgamma, log, sqrt

from cookbook.compare.student import quantile

SURE = 0.8
"""The power that counts as being able to tell; common practice."""
LEAST, MOST = 3, 60
"""Cooks a side: below the first no order of the scores is beyond chance, above the second nobody cooks so often."""


def noncentral_above(t: float, freedom: float, shift: float) -> float:
    """Chance that noncentral t (`freedom`, noncentrality `shift`) exceeds `t`; Simpson's rule, within 1e-6."""
    # T = (Z + shift) / S with S² = chi²/freedom: average P(Z > t·S - shift) over the density of S.
    width = 9 / sqrt(2 * freedom)
    low, high = max(1e-9, 1 - width), 1 + width
    steps = 400
    step = (high - low) / steps
    constant = log(2) + freedom / 2 * log(freedom / 2) - lgamma(freedom / 2)
    total = 0.0
    for place in range(steps + 1):
        s = low + place * step
        density = exp(constant + (freedom - 1) * log(s) - freedom * s * s / 2)
        weight = 1 if place in (0, steps) else 4 if place % 2 else 2
        total += weight * density * 0.5 * erfc((t * s - shift) / sqrt(2))
    return total * step / 3


@cache
def power(cooks: int, gap: float) -> float:
    """Chance to find a true gap of `gap` standard deviations, in its own direction, with so many cooks a side."""
    freedom = 2 * cooks - 2
    return noncentral_above(quantile(0.975, freedom), freedom, gap * sqrt(cooks / 2))


@cache
def _cooks(gap: float) -> int | None:
    """By bisection: power grows with the cooks."""
    if power(MOST, gap) < SURE:
        return None
    low, high = LEAST - 1, MOST
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if power(middle, gap) >= SURE else (middle, high)
    return high


def cooks_to_tell(gap: float, spread: float) -> int | None:
    """Cooks a side that find a true difference of `gap` four times in five, when cooks scatter by `spread`.

    None beyond `MOST` a side.
    """
    return LEAST if spread <= 0 else _cooks(round(abs(gap) / spread, 2))
