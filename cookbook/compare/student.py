"""Student's t in closed form: distribution and quantile, for few cooks and no heavy library.

Source: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.1 (the distribution by the incomplete beta
function) and 26.5.8 (its continued fraction).
"""

from __future__ import annotations

from math import exp, lgamma, log


def cdf(t: float, freedom: float) -> float:
    """Chance that Student's t with `freedom` degrees of freedom is at most `t`."""
    square = t * t
    if square < freedom:
        inner = 0.5 * incomplete_beta(0.5, freedom / 2, square / (freedom + square))
        return 0.5 + inner if t > 0 else 0.5 - inner
    tail = 0.5 * incomplete_beta(freedom / 2, 0.5, freedom / (freedom + square))
    return 1 - tail if t > 0 else tail


def quantile(chance: float, freedom: float) -> float:
    """The t below which `chance` lies (0 < chance < 1), by bisection to 1e-12."""
    low, high = -1.0, 1.0
    while cdf(low, freedom) > chance:
        low *= 2
    while cdf(high, freedom) < chance:
        high *= 2
    while high - low > 1e-12 * max(1.0, abs(low)):
        middle = (low + high) / 2
        low, high = (middle, high) if cdf(middle, freedom) < chance else (low, middle)
    return (low + high) / 2


def incomplete_beta(a: float, b: float, x: float) -> float:
    """The regularized incomplete beta function I_x(a, b)."""
    if x <= 0:
        return 0.0
    if x >= 1:
        return 1.0
    front = exp(lgamma(a + b) - lgamma(a) - lgamma(b) + a * log(x) + b * log(1 - x))
    if x < (a + 1) / (a + b + 2):
        return front * _fraction(a, b, x) / a
    return 1 - front * _fraction(b, a, 1 - x) / b


def _fraction(a: float, b: float, x: float) -> float:
    """The continued fraction of 26.5.8, evaluated from the front."""
    tiny = 1e-300
    c, d = 1.0, 1 - (a + b) * x / (a + 1)
    d = 1 / (d if abs(d) > tiny else tiny)
    value = d
    for m in range(1, 500):
        for numerator in (
            m * (b - m) * x / ((a + 2 * m - 1) * (a + 2 * m)),
            -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1)),
        ):
            d = 1 + numerator * d
            d = 1 / (d if abs(d) > tiny else tiny)
            c = 1 + numerator / c
            c = c if abs(c) > tiny else tiny
            value *= c * d
        if abs(c * d - 1) < 1e-14:
            break
    return value
