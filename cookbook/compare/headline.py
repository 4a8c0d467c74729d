"""The first line of a comparison, in the cook's words: what came out otherwise, and whether that can be told."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import fmean

from cookbook.compare.difference import Difference
from cookbook.compare.groups import Comparison
from cookbook.compare.judging import BETTER, FOR_ITS_SIZE, MATTERS, SAME, WORSE
from cookbook.quantity.number import digits

MOST = 2
"""Outcomes that are named, the clearest ones."""
_OPEN = "can't tell yet"
_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def headline(comparison: Comparison, pair: tuple[str, str] | None = None) -> str:
    """One line on a pair of groups (the first that was compared when left out)."""
    found = comparison.differences
    if not found:
        return _nothing(comparison)
    a, b = pair or (found[0].a, found[0].b)
    own = [one for one in found if (one.a, one.b) == (a, b)]
    told, judged = _told(own), list(map(_judged, _clearest(own)))
    if judged and told.startswith(_OPEN):
        judged[0] = f"perhaps {judged[0]}"
    return "; ".join([*_time(comparison, own), *judged, told])


def _nothing(comparison: Comparison) -> str:
    cooks = sum(group.cooks for group in comparison.groups)
    if len(comparison.groups) > 1:
        return "nothing was measured on both sides yet: score both, or write down when it was pulled"
    return f"{_count(cooks, 'cook')} of {comparison.groups[0].label}: nothing to hold it against yet"


def _time(comparison: Comparison, own: Sequence[Difference]) -> list[str]:
    """`took 25 min longer than its size explains`, where the 80 % interval leaves out nought."""
    one = next((one for one in own if one.outcome == FOR_ITS_SIZE), None)
    if one is None or one.low <= 0 <= one.high:
        return []
    times = next(table for table in comparison.table.measured if table.outcome == "time to pull")
    group = [group.label for group in comparison.groups].index(one.b)
    minutes = fmean(times.values(group)) * (1 - 1 / (1 + one.estimate / 100))
    if abs(minutes) < 1:
        return []
    way = "longer" if minutes > 0 else "less"
    return [f"took {abs(minutes):.0f} min {way} than its size explains"]


def _clearest(own: Sequence[Difference]) -> list[Difference]:
    shown = [
        one
        for one in own
        if one.probability_better is not None
        and not one.low <= 0 <= one.high
        and abs(one.estimate) >= MATTERS.get(one.unit, 0.0)
    ]
    shown.sort(key=lambda one: -abs((one.probability_better or 0.0) - 0.5))
    return shown[:MOST]


def _judged(one: Difference) -> str:
    better = (one.probability_better or 0.0) > 0.5
    if one.unit == "points":
        return f"{one.outcome} {points(one.estimate)} {'better' if better else 'worse'}"
    way = "more" if one.estimate > 0 else "less"
    return f"{digits(abs(one.estimate), 2)} {one.unit} {way} {one.outcome}"


def points(value: float) -> str:
    """A difference of scores in words, to the half: `two points`, `one and a half points`, `half a point`."""
    halves = round(2 * abs(value))
    whole, rest = divmod(halves, 2)
    if halves == 0:
        return "not even half a point"
    if halves == 1:
        return "half a point"
    return f"{_NUMBERS[whole]}{' and a half' if rest else ''} point{'' if halves == 2 else 's'}"


def _told(own: Sequence[Difference]) -> str:
    """Whether it can be told: what is beyond chance, or how many more cooks would."""
    judged = [one for one in own if one.probability_better is not None] or list(own)
    for word in (BETTER, WORSE):
        names = [one.outcome for one in judged if one.verdict == word]
        if names:
            return f"{' and '.join(names)} {word}, and that is more than chance"
    if all(one.verdict == SAME for one in judged):
        return SAME
    clearest = _clearest(judged) or judged
    more = min((one.more_cooks for one in clearest if one.more_cooks), default=None)
    would = f", about {_count(more, 'more cook')} would" if more else ", and more cooks of this kind hardly would"
    return f"{_OPEN}{would}"


def _count(number: int, word: str) -> str:
    said = _NUMBERS[number] if number < len(_NUMBERS) else str(number)
    return f"{said} {word}{'' if number == 1 else 's'}"
