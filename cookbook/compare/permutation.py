"""The exact permutation test of two small groups: how often chance alone would part the cooks so far or farther.

Source: Fisher, The Design of Experiments (1935), section 21; the statistic is the difference of means.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from math import comb

MOST = 20_000
"""Splits that are counted one by one; beyond, there are cooks enough for Student's t to stand alone."""


def splits(one: int, two: int) -> int:
    """In how many ways so many cooks fall into two groups."""
    return comb(one + two, one)


def permutation(one: Sequence[float], two: Sequence[float]) -> tuple[float, float] | None:
    """The share of splits whose difference of means (two minus one) is at least, and at most, the one seen.

    None beyond `MOST` splits. The split that happened counts itself, so neither share is ever nought.
    """
    if splits(len(one), len(two)) > MOST:
        return None
    everything = [*one, *two]
    seen = sum(two)
    slack = 1e-9 * max(1.0, max(map(abs, everything)))
    above = below = total = 0
    for chosen in combinations(everything, len(two)):
        whole = sum(chosen)
        above += whole >= seen - slack
        below += whole <= seen + slack
        total += 1
    return above / total, below / total
