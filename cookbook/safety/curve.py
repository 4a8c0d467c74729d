"""A core temperature over time: checked when it is made, straight between two readings, in °F as the tables are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate
from math import floor, isfinite, nan
from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.quantity.number import tenth

HOTTEST_CORE_C = 110.0
"""No core of wet meat comes to this; a probe that says so is out of the meat, or read in °F."""

COLDEST_CORE_C = -60.0
GAP, PROBE_OUT = "gap", "probe out"
_LONGEST_GAP_S = 1800.0
_FASTEST_C_PER_MIN = 5.0
_RISE_F, _WARM_F = 9.0, 104.0
"""A probe laid aside cools to below 40 °C and warms by no more than 5 °C again; an assumption."""


class Curve(NamedTuple):
    """Times in seconds, never falling, and the core at each in °F."""

    times_s: tuple[float, ...]
    core_f: tuple[float, ...]

    @classmethod
    def of(cls, times_s: Sequence[float], core_c: Sequence[float]) -> Curve:
        """A curve from readings in °C. Raises RequestError that names the fault and the reading it is in."""
        times, cores = list(map(_number, times_s)), list(map(_number, core_c))
        if len(times) != len(cores):
            raise RequestError(f"{len(times)} times but {len(cores)} temperatures", mend="give one for each reading")
        if not times:
            raise RequestError("there are no readings", mend="without measured temperatures nothing can be said")
        for at, (time, core) in enumerate(zip(times, cores, strict=True)):
            _check(at, time, core, times[at - 1] if at else 0.0)
        return cls(tuple(times), tuple(to_f(core) for core in cores))

    def colder_by(self, off_c: float) -> Curve:
        """The same with every reading lowered, for a thermometer that may read too high by so much."""
        return self._replace(core_f=tuple(core - off_c * 1.8 for core in self.core_f)) if off_c else self

    def segments(self) -> Iterator[tuple[float, float, float, float]]:
        """Each stretch between two readings: begin and end in s, core at both in °F."""
        return zip(self.times_s, self.times_s[1:], self.core_f, self.core_f[1:], strict=False)

    def above(self, core_f: float) -> list[tuple[float, float]]:
        """The unbroken stretches, begin and end in s, in which the core is at or above `core_f`."""
        spans: list[tuple[float, float]] = []
        for begin, end, first, last in self.segments():
            if max(first, last) < core_f:
                continue
            start = begin if first >= core_f else begin + (end - begin) * (core_f - first) / (last - first)
            stop = end if last >= core_f else begin + (end - begin) * (core_f - first) / (last - first)
            if spans and spans[-1][1] >= start:
                spans[-1] = (spans[-1][0], stop)
            else:
                spans.append((start, stop))
        return spans

    def longest_above_s(self, core_f: float) -> float:
        """The longest unbroken stretch at or above `core_f`, in s; 0 where it never is."""
        return max((stop - start for start, stop in self.above(core_f)), default=0.0)

    def first_below_s(self, core_f: float, after_s: float) -> float | None:
        """The first moment from `after_s` on at which the core is at or below `core_f`; None where it never is."""
        for begin, end, first, last in self.segments():
            if end < after_s or last > core_f:
                continue
            crossing = begin + (end - begin) * (first - core_f) / (first - last) if first > core_f else begin
            return max(crossing, after_s)
        return None

    def without(self, flaws: Sequence[Fault]) -> tuple[Curve, ...]:
        """The stretches between the flaws that were surely in the core: where the probe jumped, the colder place.

        After a jump up nothing counts until the probe comes down again. Where it comes down and reads on in meat,
        what it read hotter before was not the core; where it was taken out to cool, what it read before stands.
        """
        parts: list[Curve] = []
        begin, lost = 0, False
        for flaw in flaws:
            if not lost:
                parts.append(self._part(begin, flaw.at))
            begin = flaw.at
            if flaw.kind == PROBE_OUT:
                up = self.core_f[flaw.at] > self.core_f[flaw.at - 1]
                in_meat = not up and self._in_meat(flaw.at)
                if in_meat and not lost:
                    parts.clear()
                lost = not in_meat
        return tuple(parts if lost else [*parts, self._part(begin, len(self.times_s))])

    def _part(self, begin: int, end: int) -> Curve:
        return Curve(self.times_s[begin:end], self.core_f[begin:end])

    def _in_meat(self, begin: int) -> bool:
        """Whether a probe that just read hotter is in meat from a reading on: it warms there, or stays warm."""
        rest = self.core_f[begin:]
        rises = any(core > coldest + _RISE_F for core, coldest in zip(rest, accumulate(rest, min), strict=True))
        return rises or rest[-1] > _WARM_F


class Fault(NamedTuple):
    """What keeps a curve from carrying a verdict: GAP or PROBE_OUT, from when to when in s, and before which
    reading."""

    kind: str
    from_s: float
    to_s: float
    at: int


def joined(parts: Sequence[Curve]) -> Curve:
    """Stretches one after another as one curve, straight over what lies between them."""
    return Curve(tuple(time for part in parts for time in part.times_s),
                 tuple(core for part in parts for core in part.core_f))


def to_f(core_c: float) -> float:
    """°C in °F; freed of the last digits' noise, so that 130 °F in °C comes back as 130."""
    return round(core_c * 1.8 + 32, 6)


def to_c(core_f: float) -> float:
    """°F in °C."""
    return (core_f - 32) / 1.8


def floor_row(core_f: float) -> int:
    """The whole °F at or below a temperature: the row of a table that it may count as."""
    if not isfinite(core_f):
        raise RequestError(f"{core_f} is no temperature", mend="give the core in °F, as 145")
    return floor(round(core_f, 6))


def faults(curve: Curve, longest_gap_s: float = _LONGEST_GAP_S) -> list[Fault]:
    """Gaps longer than half an hour, and jumps no meat can make: the probe was out of the meat, or moved."""
    found: list[Fault] = []
    for at, (begin, end, first, last) in enumerate(curve.segments(), 1):
        minutes = (end - begin) / 60
        jump_c = abs(last - first) / 1.8
        if jump_c > _FASTEST_C_PER_MIN * max(minutes, 1.0):
            found.append(Fault(PROBE_OUT, begin, end, at))
        elif end - begin > longest_gap_s:
            found.append(Fault(GAP, begin, end, at))
    return found


def _number(value: float | str | None) -> float:
    """A reading as a number; one that is missing or none is nan, which is refused with its place."""
    try:
        return float(value) if value is not None else nan
    except (TypeError, ValueError):
        return nan


def _check(at: int, time: float, core: float, before: float) -> None:
    which = f"reading {at + 1}"
    if not isfinite(time) or not isfinite(core):
        raise RequestError(f"{which} is at {time} s and {core} °C: not a number",
                           mend="leave the reading out, or give both numbers")
    if time < 0:
        raise RequestError(f"{which} is at {time:g} s, before the beginning", mend="count the time from 0 up")
    if time < before:
        raise RequestError(f"{which} is at {time:g} s, earlier than the one before it at {before:g} s",
                           mend="put the readings in the order of their times")
    if core > HOTTEST_CORE_C:
        raise RequestError(f"{which} is {tenth(core)} °C, hotter than the core of any meat",
                           mend="if it is in °F convert it; if the probe was out of the meat leave the reading out")
    if core < COLDEST_CORE_C:
        raise RequestError(f"{which} is {core:g} °C, colder than any freezer", mend="check the probe's lead and unit")
