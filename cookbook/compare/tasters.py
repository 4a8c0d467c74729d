"""Scores of several tasters as one number for each cook: a hard marker is not a worse cook.

The additive model score = cook + taster + chance, by least squares, both effects fixed: what a taster gives less than
the others *to the same cooks* is taken off as that taster's hand. Nothing is taken off between cooks that no chain of
common tasters connects; `parts` tells them apart. Where every taster scored every cook this is the plain mean.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import NamedTuple

from cookbook.compare.linear import inverse

Scores = Mapping[str, float]
"""One cook's scores by taster."""


class Evened(NamedTuple):
    """Each cook's score with the tasters' hands taken off; each taster's hand (points above the others, on the
    average nought); which cooks hang together by common tasters (the same number); all in the order given."""

    cooks: tuple[float, ...]
    hands: Mapping[str, float]
    parts: tuple[int, ...]


def evened(cooks: Sequence[Scores]) -> Evened:
    """Evens out the tasters. Every cook needs one score at least."""
    tasters = sorted({taster for scores in cooks for taster in scores})
    parts = _parts(cooks)
    hands = _hands(cooks, tasters, parts)
    values = tuple(sum(score - hands[taster] for taster, score in scores.items()) / len(scores) for scores in cooks)
    return Evened(values, hands, parts)


def _parts(cooks: Sequence[Scores]) -> tuple[int, ...]:
    parts = list(range(len(cooks)))
    for one, scores in enumerate(cooks):
        for two in range(one):
            if parts[one] != parts[two] and scores.keys() & cooks[two].keys():
                old, new = parts[one], parts[two]
                parts = [new if part == old else part for part in parts]
    return tuple(parts)


def _hands(cooks: Sequence[Scores], tasters: Sequence[str], parts: Sequence[int]) -> dict[str, float]:
    """Solves the normal equations with the cooks' effects eliminated, every connected part summing to nought."""
    index = {taster: place for place, taster in enumerate(tasters)}
    square = [[0.0] * len(tasters) for _ in tasters]
    right = [0.0] * len(tasters)
    for scores in cooks:
        mean, share = sum(scores.values()) / len(scores), 1 / len(scores)
        for taster, score in scores.items():
            row = index[taster]
            right[row] += score - mean
            square[row][row] += 1.0
            for other in scores:
                square[row][index[other]] -= share
    counts = [sum(taster in scores for scores in cooks) for taster in tasters]
    for part in dict.fromkeys(parts):
        within = {index[t] for scores, own in zip(cooks, parts, strict=True) if own == part for t in scores}
        for one in within:
            for two in within:
                square[one][two] += counts[one] * counts[two]
    solved = inverse(square)
    if solved is None:  # cannot be: each connected part has full rank once its sum is set
        raise ArithmeticError("the tasters' equations have no solution")
    return {
        taster: sum(a * b for a, b in zip(row, right, strict=True))
        for taster, row in zip(tasters, solved, strict=True)
    }
