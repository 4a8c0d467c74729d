"""Cooling cooked meat: stages by the clock, for the shop (Food Code) and the plant (Appendix B of 1999).

The fourth option of the 2021 revision is left out: its text could not be read, and no figure of it is checked.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from typing import NamedTuple

from cookbook.errors import UnknownName
from cookbook.safety.curve import Curve
from cookbook.safety.finding import NOTE, WARN, Finding
from cookbook.table import rows

HOUR_S = 3600.0


class Stage(NamedTuple):
    """From one core temperature [°F] down to another within so many hours."""

    option: str
    name: str
    rule: str
    from_f: float
    to_f: float
    max_hours: float
    regime: str
    source: str


class Cooled(NamedTuple):
    """One stage of a real cooling: hours it took, and whether it conforms; None where the log cannot tell."""

    stage: Stage
    hours: float
    conforms: bool | None


@cache
def stages(option: str) -> tuple[Stage, ...]:
    """The stages of `food code`, `option 1`, `option 2` or `option 3` (cured). Raises UnknownName."""
    timed = [row for row in rows("safety_cooling") if row["from_f"].isdigit()]
    found = tuple(
        Stage(option, row["stage"], row["rule"], float(row["from_f"]), float(row["to_f"]), float(row["max_hours"]),
              row["regime"], row["source"])
        for row in timed if row["option"] == option
    )
    if not found:
        raise UnknownName("way of cooling", option, sorted({row["option"] for row in timed}))
    return found


def cooling(times_s: Sequence[float], core_c: Sequence[float], option: str = "food code") -> list[Cooled]:
    """Each stage of a core log that begins at the end of the cook; a rise in between starts none anew.

    Raises RequestError, UnknownName.
    """
    return cooling_of(Curve.of(times_s, core_c), option)


def cooling_of(curve: Curve, option: str = "food code") -> list[Cooled]:
    """The same for a curve that is checked already."""
    return [_stage(curve, stage) for stage in stages(option)]


def cools(cooled: Sequence[Cooled]) -> bool | None:
    """All stages together: False as soon as one fails, None while one cannot be told."""
    said = [stage.conforms for stage in cooled]
    if False in said:
        return False
    return None if None in said else True


def _stage(curve: Curve, stage: Stage) -> Cooled:
    hot = curve.above(stage.from_f)
    begin = hot[0][1] if hot else curve.times_s[0]
    cold = curve.first_below_s(stage.to_f, begin)
    hours = ((curve.times_s[-1] if cold is None else cold) - begin) / HOUR_S
    if hours > stage.max_hours + 1e-9:
        return Cooled(stage, hours, False)
    return Cooled(stage, hours, True if hot and cold is not None else None)


def stage_finding(cooled: Cooled) -> Finding:
    """One stage in words: a note where it was kept."""
    stage = cooled.stage
    said = {True: "within", False: "longer than", None: "the log lacks an end of it, so it can't be told from"}
    return Finding(
        f"cooling, {stage.name}", NOTE if cooled.conforms else WARN, round(cooled.hours, 2), stage.max_hours,
        stage.regime, stage.source, "h",
        f"{stage.rule}: {stage.from_f:g} to {stage.to_f:g} °F took {cooled.hours:.2f} h, {said[cooled.conforms]} "
        f"{stage.max_hours:g} h",
    )
