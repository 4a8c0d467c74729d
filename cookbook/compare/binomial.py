"""The binomial distribution, exactly: tails, the number that is beyond chance, power, and a limit for a share.

Sources: Clopper and Pearson, Biometrika 26 (1934) 404-413 (the limits); the tails are sums of exact fractions.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import cache
from math import comb

LEVEL = Fraction(1, 20)
"""How often chance alone may pass for a finding."""


def at_least(hits: int, tries: int, chance: float | Fraction) -> float:
    """Chance of so many hits or more, each try hitting with `chance`."""
    if isinstance(chance, Fraction):
        miss = 1 - chance
        return float(
            sum((comb(tries, k) * chance**k * miss ** (tries - k) for k in range(hits, tries + 1)), Fraction())
        )
    return sum(comb(tries, k) * chance**k * (1 - chance) ** (tries - k) for k in range(hits, tries + 1))


@cache
def critical(tries: int, chance: Fraction, level: Fraction = LEVEL, sides: int = 1) -> int | None:
    """The least number of hits that chance alone reaches at most with `level` (`level` / 2 for two sides).

    None where not even all hits would be beyond chance.
    """
    hit, miss = chance.numerator, chance.denominator - chance.numerator
    most = level * chance.denominator**tries / sides
    tail = 0
    for hits in range(tries, -1, -1):
        tail += comb(tries, hits) * hit**hits * miss ** (tries - hits)
        if tail > most:
            return None if hits == tries else hits + 1
    return 0


def power(tries: int, chance: Fraction, true: float, level: Fraction = LEVEL, sides: int = 1) -> float:
    """Chance to reach the critical number when the true chance of a hit is `true`; on its own side for two."""
    needed = critical(tries, chance, level, sides)
    return 0.0 if needed is None else at_least(needed, tries, true)


def limits(hits: int, tries: int, level: Fraction = LEVEL) -> tuple[float, float]:
    """The exact two-sided interval for the true chance of a hit, of confidence 1 - `level`."""
    low = 0.0 if hits == 0 else _where(lambda p: at_least(hits, tries, p) >= level / 2)
    high = 1.0 if hits == tries else _where(lambda p: 1 - at_least(hits + 1, tries, p) <= level / 2)
    return low, high


def _where(reached: Callable[[float], bool]) -> float:
    """The share from which on `reached` holds, by bisection to 1e-9."""
    low, high = 0.0, 1.0
    while high - low > 1e-9:
        middle = (low + high) / 2
        low, high = (low, middle) if reached(middle) else (middle, high)
    return (low + high) / 2
