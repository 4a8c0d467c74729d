"""Time out of the refrigerator: two hours, one where the air is above 90 °F, added up over an entry's stages."""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite
from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.safety.curve import to_f
from cookbook.safety.finding import HOUSEHOLD, NOTE, STOP, WARN, Finding

RULE, SOURCE = "time out", "usda-two-hours"
HOT_AIR_F = 90.0
HOT_HOLD_C = 60.0
"""Cooked food held at 140 °F or above is not out."""
_WHOLE = 1 + 1e-9


class Span(NamedTuple):
    """One stretch out: what lay there, for how many minutes, in air of how many °C (None: not known).

    `sure` is False where it may have lain in the refrigerator, or stayed hot, and nobody wrote that down.
    """

    what: str
    minutes: float
    air_c: float | None = None
    sure: bool = True

    @property
    def used(self) -> float:
        """The share of its own limit."""
        return self.minutes / out_limit_min(self.air_c)


def out_limit_min(air_c: float | None) -> float:
    """Minutes that perishable food may be out: 120, or 60 in air above 90 °F (32.2 °C)."""
    if air_c is not None and not isfinite(air_c):
        raise RequestError(f"{air_c} is no temperature", mend="give the air in °C, or nothing if unknown")
    return 60.0 if air_c is not None and to_f(air_c) > HOT_AIR_F else 120.0


def time_out_finding(spans: Sequence[Span], stage: str = "food") -> Finding:
    """All stretches of one stage (raw, or cooked) together, each as a part of its own limit.

    Past the whole: stop; past three quarters: warn. The heat in between two stages starts the count anew.
    """
    for span in spans:
        if not (isfinite(span.minutes) and span.minutes >= 0):
            raise RequestError(f"{span.what} was out for {span.minutes} min: that is no time",
                               mend="give the time it was taken out and the time it was put back or on")
    used, sure = sum(span.used for span in spans), sum(span.used for span in spans if span.sure)
    minutes = sum(span.minutes for span in spans)
    limit = minutes / used if used else out_limit_min(spans[0].air_c if spans else None)
    level = STOP if sure > _WHOLE else WARN if used > 0.75 else NOTE
    listed = ", ".join(f"{span.what} {span.minutes:.0f} min" for span in spans) or "nothing recorded"
    hot = "" if out_limit_min(max((span.air_c for span in spans if span.air_c is not None), default=None)) > 60 else (
        f" in air above {HOT_AIR_F:g} °F (32.2 °C)")
    return Finding(RULE, level, round(minutes, 1), round(limit, 1), HOUSEHOLD, SOURCE, "min",
                   f"{stage} out of the refrigerator: {listed}; the limit is {limit:.0f} min{hot}, and this is "
                   + _said(used, sure, stage))


def _said(used: float, sure: float, stage: str) -> str:
    if sure > _WHOLE:
        return "longer than that: throw it away"
    if used > _WHOLE:
        hot = "its core stayed at 60 °C (140 °F) or above"
        kept = "it was in the refrigerator meanwhile" if stage == "raw" else hot
        return f"longer than that unless {kept}, which nobody wrote down: if not, throw it away"
    return "close to it: into the refrigerator or onto the heat now" if used > 0.75 else "within it"
