"""A core temperature over time: checked when it is made, straight between two readings, in °F as the tables are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor, isfinite
from typing import NamedTuple

from cookbook.errors import RequestError

HOTTEST_CORE_C = 110.0
"""No core of wet meat comes to this; a probe that says so is out of the meat, or read in °F."""

COLDEST_CORE_C = -60.0
GAP, PROBE_OUT = "gap", "probe out"
_LONGEST_GAP_S = 1800.0
_FASTEST_C_PER_MIN = 5.0


class Curve(NamedTuple):
    """Times in seconds, never falling, and the core at each in °F."""

    times_s: tuple[float, ...]
    core_f: tuple[float, ...]

    @classmethod
    def of(cls, times_s: Sequence[float], core_c: Sequence[float]) -> Curve:
        """A curve from readings in °C. Raises RequestError that names the fault and the reading it is in."""
        times, cores = [float(time) for time in times_s], [float(core) for core in core_c]
        if len(times) != len(cores):
            raise RequestError(f"{len(times)} times but {len(cores)} temperatures", mend="give one for each reading")
        if not times:
            raise RequestError("there are no readings", mend="without measured temperatures nothing can be said")
        for at, (time, core) in enumerate(zip(times, cores, strict=True)):
            _check(at, time, core, times[at - 1] if at else 0.0)
        return cls(tuple(times), tuple(to_f(core) for core in cores))

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

    def between(self, from_s: float, to_s: float) -> Curve:
        """The readings from one time to another, both of them in."""
        kept = [(time, core) for time, core in zip(self.times_s, self.core_f, strict=True) if from_s <= time <= to_s]
        return Curve(tuple(time for time, _ in kept), tuple(core for _, core in kept))

    def without(self, flaws: Sequence[Fault]) -> tuple[Curve, ...]:
        """The stretches before, between and after the flaws; after a jump of the probe nothing more."""
        parts: list[Curve] = []
        begin = self.times_s[0]
        for flaw in flaws:
            parts.append(self.between(begin, flaw.from_s))
            begin = flaw.to_s
            if flaw.kind == PROBE_OUT:
                return tuple(parts)
        return (*parts, self.between(begin, self.times_s[-1]))


class Fault(NamedTuple):
    """What keeps a curve from carrying a verdict: GAP or PROBE_OUT, from when to when in s."""

    kind: str
    from_s: float
    to_s: float


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
    for begin, end, first, last in curve.segments():
        minutes = (end - begin) / 60
        jump_c = abs(last - first) / 1.8
        if jump_c > _FASTEST_C_PER_MIN * max(minutes, 1.0):
            found.append(Fault(PROBE_OUT, begin, end))
        elif end - begin > longest_gap_s:
            found.append(Fault(GAP, begin, end))
    return found


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
        raise RequestError(f"{which} is {core:g} °C, hotter than the core of any meat",
                           mend="if it is in °F convert it; if the probe was out of the meat leave the reading out")
    if core < COLDEST_CORE_C:
        raise RequestError(f"{which} is {core:g} °C, colder than any freezer", mend="check the probe's lead and unit")
