"""Readings of a probe: their order and plausibility, and what each member would have shown there.

A reading is (minute, core °C) or (minute, °C, depth in cm below the surface); minutes from the meat going on.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import Any, NamedTuple

import numpy as np

from cookbook.errors import RequestError
from cookbook.heat.body import Array
from cookbook.heat.grid import Graph
from cookbook.heat.phase import Members, Run
from cookbook.heat.simulate import along_line
from cookbook.quantity.number import tenth

PROBE_K = 0.5
_MOVED_K, _MOVED_WITHIN_MIN = 5.0, 16.0
_SHIFT_K = 3.0
_MOST = 36


class Reading(NamedTuple):
    """One reading of a probe; `depth_cm` below the nearest surface, None for the core."""

    minute: float
    temp_c: float
    depth_cm: float | None = None


def read(given: Sequence[Any], pit_c: float, start_c: float) -> list[Reading]:
    """The readings, checked; RequestError where they cannot be what was measured."""
    readings = [Reading(*(float(part) if part is not None else None for part in one))  # type: ignore[arg-type]
                for one in given]
    for before, after in pairwise(readings):
        if after.minute < before.minute:
            raise RequestError(f"the readings go back from minute {before.minute:g} to {after.minute:g}",
                               mend="put the readings in the order of their times")
    for one in readings:
        _plausible(one, pit_c, start_c)
    return readings


def _plausible(one: Reading, pit_c: float, start_c: float) -> None:
    in_c = (one.temp_c - 32.0) / 1.8
    soon = one.minute <= 30.0 and one.temp_c > start_c + 25.0 and abs(in_c - start_c) < 10.0 and one.depth_cm is None
    hot = one.temp_c >= 100.0 or one.temp_c > pit_c + 5.0
    if (hot or soon) and -5.0 < in_c < min(pit_c, 100.0):
        raise RequestError(
            f"{tenth(one.temp_c)} °C in the meat at minute {one.minute:.0f} cannot be; it looks like "
            f"{one.temp_c:g} °F, which is {in_c:.1f} °C", mend=f"write it as {one.temp_c:g}F")
    if hot or one.temp_c < -5.0:
        raise RequestError(
            f"{tenth(one.temp_c)} °C in the meat at minute {one.minute:.0f} in a pit of {tenth(pit_c)} °C cannot be",
            mend="check the reading, or leave it out")


def thinned(readings: Sequence[Reading]) -> list[Reading]:
    """At most some three dozen readings: a long log is averaged in even stretches, depths apart."""
    if len(readings) <= _MOST:
        return list(readings)
    kept: list[Reading] = []
    for depth in dict.fromkeys(one.depth_cm for one in readings):
        own = [one for one in readings if one.depth_cm == depth]
        for group in np.array_split(np.arange(len(own)), min(_MOST, len(own))):
            part = [own[int(k)] for k in group]
            kept.append(Reading(float(np.mean([one.minute for one in part])),
                                float(np.median([one.temp_c for one in part])), depth))
    return sorted(kept, key=lambda one: one.minute)


def shown(run: Run, graph: Graph, members: Members, readings: Sequence[Reading], before_s: float) -> Array:
    """What each member's probe would have shown, one row a reading: along the probe's line, linear in x squared."""
    rows = []
    for one in readings:
        at = float(np.clip((60.0 * one.minute + before_s), run.time_s[0], run.time_s[-1]))
        later = int(np.clip(np.searchsorted(run.time_s, at), 1, run.time_s.size - 1))
        share = (at - run.time_s[later - 1]) / (run.time_s[later] - run.time_s[later - 1])
        along = (1 - share) * run.deep_c[later - 1] + share * run.deep_c[later]
        if one.depth_cm is None:
            away = members.depth / members.size
        else:
            away = np.abs(graph.half_m - one.depth_cm / 100.0 / members.size)
        rows.append(along_line(along, graph.line_m, away))
    return np.array(rows)


def sorted_out(readings: Sequence[Reading], expected_c: Array) -> tuple[list[int], list[int], list[str]]:
    """Which readings count, to which sitting of the probe each belongs, and what was noticed.

    A reading that jumps away from what is expected and comes straight back is left out; one that jumps and stays
    begins a new sitting of the probe.
    """
    off = np.array([one.temp_c for one in readings]) - expected_c
    keep, sitting, notes = [], [], []
    last, number = None, 0
    for k, one in enumerate(readings):
        if last is not None and one.depth_cm == readings[last].depth_cm:
            jump = abs(off[k] - off[last])
            near = one.minute - readings[last].minute <= _MOVED_WITHIN_MIN
            if near and jump > _MOVED_K:
                after = [j for j in range(k + 1, len(readings)) if readings[j].depth_cm == one.depth_cm][:1]
                if after and abs(off[after[0]] - off[last]) < jump / 2:
                    notes.append(f"left out {tenth(one.temp_c)} °C at minute {one.minute:.0f}: it jumps and comes "
                                 "back")
                    continue
                number += 1
                notes.append(f"the probe seems to have moved at minute {one.minute:.0f}")
        keep.append(k)
        sitting.append(number)
        last = k
    return keep, sitting, notes


def error_covariance(readings: Sequence[Reading], sitting: Sequence[int], model_k: float, memory_min: float) -> Array:
    """Probe noise, the model's own error that lasts, and an unknown shift for each new sitting of the probe."""
    minute = np.array([one.minute for one in readings])
    covariance = model_k ** 2 * np.exp(-np.abs(minute[:, None] - minute) / memory_min)
    group = np.array(sitting)
    same = (group[:, None] == group) & (group > 0)
    return np.asarray(covariance + _SHIFT_K ** 2 * same + PROBE_K ** 2 * np.eye(minute.size))
