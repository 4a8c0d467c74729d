"""Updating on twins: mean error, baselines and coverage at a quarter, half and three quarters of the cook.

Run it: python -m tests.bench.bench_heat_twins [roasts] [long cooks]
"""

from __future__ import annotations

import sys
from typing import NamedTuple

import numpy as np

from cookbook.heat import Cooker, forecast
from tests.bench.heat_twins import LONG, ROASTS, Kind, Twin, exponential, straight_line, twin

SHARES = (0.25, 0.5, 0.75)


class Score(NamedTuple):
    """Errors in minutes of one twin at one share of its cook, and whether the interval held the truth.

    A guess more than fifteen hours from now counts as fifteen hours.
    """

    share: float
    model: float
    line: float
    exponential: float
    unfitted: float
    held: bool
    width: float


def score(cook: Twin, unfitted: float) -> list[Score]:
    """The twin at each share of its cook."""
    found = []
    for share in SHARES:
        now = share * cook.true_min
        log = [point for point in cook.core_log if point[0] <= now]
        pit = [point for point in cook.pit_log if point[0] <= now]
        told = forecast(cook.roast, pit_c=cook.kind.pit_c, pull_c=cook.kind.pull_c, start_c=4.4,
                        cooker=Cooker("offset"), readings=log, pit_log=pit, members=100, seed=1).minutes_to_pull
        limit = now + 900.0
        middle = min(told.p50, limit) if told.p50 is not None else limit
        low, high = told.p10 or 0.0, told.p90 if told.p90 is not None else np.inf
        others = [abs(min(max(guess, now), limit) - cook.true_min) for guess in (
            straight_line(log, cook.kind.pull_c), exponential(log, cook.kind.pull_c, cook.kind.pit_c), unfitted)]
        found.append(Score(share, abs(middle - cook.true_min), others[0], others[1], others[2],
                           low <= cook.true_min <= high, high - low))
    return found


def bench(kinds: tuple[Kind, ...], count: int, seed: int = 100) -> dict[float, list[Score]]:
    """Scores of `count` twins, the kinds in turn, by share of the cook."""
    scores: dict[float, list[Score]] = {share: [] for share in SHARES}
    before: dict[str, float] = {}
    for number in range(count):
        kind = kinds[number % len(kinds)]
        cook = twin(kind, seed + number)
        if kind.name not in before:
            told = forecast(cook.roast, pit_c=kind.pit_c, pull_c=kind.pull_c, start_c=4.4, cooker=Cooker("offset"))
            before[kind.name] = told.minutes_to_pull.p50 or 2400.0
        for one in score(cook, before[kind.name]):
            scores[one.share].append(one)
    return scores


def table(name: str, scores: dict[float, list[Score]]) -> None:
    """Prints the means."""
    print(f"{name}: mean error in minutes of {len(scores[0.5])} cooks")
    for share, found in scores.items():
        mean = {field: float(np.mean([getattr(one, field) for one in found])) for field in Score._fields[1:]}
        best = min(mean["line"], mean["exponential"], mean["unfitted"])
        print(f"  {share:.0%}: model {mean['model']:.1f}  line {mean['line']:.0f}  "
              f"exponential {mean['exponential']:.0f}  unfitted {mean['unfitted']:.1f}  "
              f"better by {100 * (1 - mean['model'] / best):.0f} %  "
              f"interval holds {sum(one.held for one in found)}, mean width {mean['width']:.0f}")


if __name__ == "__main__":
    counts = [int(word) for word in sys.argv[1:3]] or [100, 40]
    table("roasts", bench(ROASTS, counts[0]))
    if len(counts) > 1:
        table("long cooks", bench(LONG, counts[1]))
