"""What in a probe's readings is none of the meat or the fire: spikes, drop-outs, and the time it was out of the meat.

Nothing is deleted: a reading that is marked stays in its place and is not counted. The limits are common practice for
pieces of a kilogram and more, not a standard: a core changes by less than 2 K a minute.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

SPIKE, DROP_OUT, OUT = "spike", "drop-out", "out"

CORE_K_PER_MIN = 2.0
NOISE_K = 3.0
BACK_K = 25.0
FALL_K_PER_MIN = 0.8
WINDOW_S = 60.0
BRIEF_S = 180.0
JUMP_K = {"surface": 40.0, "pit": 60.0}
LOWEST_C, HIGHEST_C = -30.0, 600.0


class _Run(NamedTuple):
    """Readings that follow each other as one thing's temperature can: their places in the list."""

    places: list[int]


def marks(seconds: Sequence[float], values: Sequence[float | None], kind: str) -> list[str]:
    """A mark for every reading, '' where it counts. `values` in °C; `kind` is core, surface or pit."""
    found = [""] * len(values)
    for place, value in enumerate(values):
        if value is None or not LOWEST_C <= value <= HIGHEST_C or _sentinel(values, place):
            found[place] = DROP_OUT if value is not None else ""
    good = [place for place, value in enumerate(values) if value is not None and not found[place]]
    known = [float(values[place] or 0.0) for place in good]
    times = [seconds[place] for place in good]
    spikes = _lone_spikes(times, known, kind)
    for place in spikes:
        found[good[place]] = SPIKE
    if kind == "core":
        left = [place for place in range(len(good)) if place not in spikes]
        for place, mark in _outside([times[p] for p in left], [known[p] for p in left]).items():
            found[good[left[place]]] = mark
    return found


def _sentinel(values: Sequence[float | None], place: int) -> bool:
    """Exactly nothing between readings far from it: what a device shows without a probe."""
    if values[place] not in (0.0, -17.77777777777778):
        return False
    around = [
        abs(value - (values[place] or 0.0))
        for value in (*values[max(0, place - 1) : place], *values[place + 1 : place + 2])
        if value is not None and value != values[place]
    ]
    return bool(around) and min(around) > 20


def _lone_spikes(times: Sequence[float], values: Sequence[float], kind: str) -> set[int]:
    """One or two readings that leave the line between those before and after them, which agree with each other."""
    found: set[int] = set()
    for length in (1, 2):
        for place in range(1, len(values) - length):
            before, after = place - 1, place + length
            if before in found or after in found or times[after] <= times[before]:
                continue
            minutes = (times[after] - times[before]) / 60
            share = [(times[p] - times[before]) / (times[after] - times[before]) for p in range(place, after)]
            line = [values[before] + part * (values[after] - values[before]) for part in share]
            off = [values[p] - expected for p, expected in zip(range(place, after), line, strict=True)]
            limit = JUMP_K.get(kind, NOISE_K + 1 + 0.2 * minutes)
            agree = JUMP_K.get(kind, 2 * NOISE_K + CORE_K_PER_MIN * minutes) / 2
            if all(abs(one) > limit for one in off) and abs(values[after] - values[before]) <= min(agree, 15.0):
                found.update(range(place, after))
    return found


def _outside(times: Sequence[float], values: Sequence[float]) -> dict[int, str]:
    """Marks of the readings that a probe took outside the meat, by place."""
    runs = _runs(times, values)
    if len(runs) < 2:
        return {}
    longest = max(
        range(len(runs)),
        key=lambda one: (times[runs[one].places[-1]] - times[runs[one].places[0]], len(runs[one].places)),
    )
    inside = {longest}
    for number in range(longest + 1, len(runs)):
        if _goes_on(times, values, runs[max(inside)], runs[number], runs[number]):
            inside.add(number)
    for number in range(longest - 1, -1, -1):
        if _goes_on(times, values, runs[number], runs[min(inside)], runs[number]):
            inside.add(number)
    found = {}
    for number, run in enumerate(runs):
        if number not in inside:
            brief = len(run.places) <= 2 and times[run.places[-1]] - times[run.places[0]] <= WINDOW_S
            spike = brief and {number - 1, number + 1} <= inside
            found.update(dict.fromkeys(run.places, SPIKE if spike else OUT))
    return found


def _runs(times: Sequence[float], values: Sequence[float]) -> list[_Run]:
    """The readings cut wherever they change faster than a core can, within a minute or from one to the next."""
    cuts: list[int] = []
    for place in range(1, len(values)):
        earlier = place - 1
        while earlier > 0 and times[place] - times[earlier] < WINDOW_S and (not cuts or earlier > cuts[-1]):
            earlier -= 1
        for before in {earlier, place - 1}:
            minutes = (times[place] - times[before]) / 60
            if abs(values[place] - values[before]) > NOISE_K + CORE_K_PER_MIN * minutes:
                onset = next(p for p in range(before + 1, place + 1) if abs(values[p] - values[before]) > NOISE_K / 2)
                cuts.append(onset if not cuts or onset > cuts[-1] else place)
                break
    edges = [0, *dict.fromkeys(cuts), len(values)]
    return [_Run(list(range(one, two))) for one, two in pairwise(edges) if two > one]


def _goes_on(times: Sequence[float], values: Sequence[float], before: _Run, after: _Run, asked: _Run) -> bool:
    """Whether two runs can be the same core: `asked` is long enough and doesn't fall as in air, and `after` begins
    near where `before` ended."""
    minutes = (times[after.places[0]] - times[before.places[-1]]) / 60
    near = abs(values[after.places[0]] - values[before.places[-1]]) <= min(NOISE_K + CORE_K_PER_MIN * minutes, BACK_K)
    first, last = asked.places[0], asked.places[-1]
    lasts = times[last] - times[first] >= BRIEF_S or len(asked.places) >= 4
    some = next((p for p in asked.places if times[p] - times[first] >= 600), last)
    fall = (values[first] - values[some]) / max(1 / 60, (times[some] - times[first]) / 60)
    return near and lasts and fall <= FALL_K_PER_MIN
