"""The pit's air over time: what was planned, what the log says so far, and how it goes on from now.

Times are minutes from when the meat goes on. A lid takes the air down 60 % of the way to the room and it is back
after eight minutes; a dead fire falls to the room with a time constant of 90 minutes (both common practice, memory).
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

import numpy as np

from cookbook.errors import RequestError
from cookbook.heat.body import Array
from cookbook.heat.setting import ROOM_C, Event

_LID_FALL, _LID_BACK_MIN = 0.6, 8.0
_OUT_MIN = 90.0
_LAST_MIN = 60.0
_STEADY_K, _STEADY_HOURS = 6.0, 4
_HORIZON_MIN = 48 * 60.0


def program(pit_c: float, events: Sequence[Event] = (), log: Sequence[tuple[float, float]] = (),
            now_min: float | None = None, from_now_c: float | None = None) -> tuple[Array, Array]:
    """Knots (s) and air temperatures (°C) at the pit probe.

    Before `now_min` the log counts (the plan where there is none); after it the mean fire of the log's last hour goes
    on, or `from_now_c` where that is asked. Without a log the plan and its events count throughout.
    """
    planned = _planned(pit_c, events)
    if not log and from_now_c is None:
        return _seconds(planned)
    checked = _rising(log)
    now = now_min if now_min is not None else (checked[-1][0] if checked else 0.0)
    past = [point for point in checked if point[0] <= now]
    knots = past or [*(point for point in planned if point[0] <= now), (now, _at(planned, now))]
    if past and past[0][0] > 0:
        knots = [(0.0, past[0][1]), *past]
    if from_now_c is not None:
        level = from_now_c
    elif past:
        level = last_hour_c(past, now)
    else:
        level = pit_c
    later = [(minute, did, value) for minute, did, value in events if minute > now]
    ahead = _planned(level, [Event(*event) for event in later])
    after = [point for point in ahead if point[0] > now + 1.0]
    return _seconds([*knots, (now + 1.0, level), *after])


def last_hour_c(log: Sequence[tuple[float, float]], now_min: float) -> float:
    """Mean of the pit over the last hour of its log, and of the hours before it for as long as it burned the same.

    Hours whose mean is within six kelvin of the last one's count, up to four, since one hour's mean of a live fire is
    itself off by some three kelvin.
    """
    minutes, temps = np.array([point[0] for point in log]), np.array([point[1] for point in log])
    last = _mean(minutes, temps, now_min - _LAST_MIN, now_min)
    means = [last if last is not None else float(temps[-1])]
    for hours in range(1, _STEADY_HOURS):
        earlier = _mean(minutes, temps, now_min - (hours + 1) * _LAST_MIN, now_min - hours * _LAST_MIN)
        if earlier is None or abs(earlier - means[0]) > _STEADY_K:
            break
        means.append(earlier)
    return float(np.mean(means))


def _mean(minutes: Array, temps: Array, from_min: float, to_min: float) -> float | None:
    """Mean over a stretch of the log, each reading weighing the time to its neighbours; None without a reading."""
    inside = (minutes >= from_min) & (minutes <= to_min)
    if not inside.any():
        return None
    at, value = minutes[inside], temps[inside]
    if at[-1] - at[0] < 1.0:
        return float(value.mean())
    return float(((value[1:] + value[:-1]) / 2 * np.diff(at)).sum() / (at[-1] - at[0]))


def _rising(log: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    for before, after in pairwise(log):
        if after[0] < before[0]:
            raise RequestError(f"the pit log goes back from minute {before[0]:g} to {after[0]:g}",
                               mend="put the readings in the order of their times")
    return [(float(minute), float(temp)) for minute, temp in log]


def _planned(pit_c: float, events: Sequence[Event]) -> list[tuple[float, float]]:
    knots, level = [(0.0, pit_c)], pit_c
    for minute, did, value in sorted(events):
        if did == "lid":
            open_min = max(value, 0.5)
            low = level - _LID_FALL * (level - ROOM_C)
            knots += [(minute, level), (minute + 0.5, low), (minute + open_min, low),
                      (minute + open_min + _LID_BACK_MIN, level)]
        elif did == "set":
            knots += [(minute, level), (minute + 10.0, value)]
            level = value
        elif did == "out":
            knots.append((minute, level))
            knots += [(minute + step, ROOM_C + (level - ROOM_C) * float(np.exp(-step / _OUT_MIN)))
                      for step in (15, 30, 60, 90, 120, 180, 240, 360, 540)]
            level = ROOM_C
        else:
            raise RequestError(f"an event '{did}'", mend="an event is 'lid', 'set' or 'out'")
    return knots


def _at(knots: Sequence[tuple[float, float]], minute: float) -> float:
    return float(np.interp(minute, [knot[0] for knot in knots], [knot[1] for knot in knots]))


def _seconds(knots: Sequence[tuple[float, float]]) -> tuple[Array, Array]:
    ordered = [*knots, (max(_HORIZON_MIN, knots[-1][0] + 1.0), knots[-1][1])]
    return 60.0 * np.array([knot[0] for knot in ordered]), np.array([knot[1] for knot in ordered])
