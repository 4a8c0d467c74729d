"""Heating come-up: how long the meat is between 50 and 130 °F on its way up, before anything is killed."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from cookbook.safety.curve import Curve
from cookbook.safety.finding import NOTE, PLANT, WARN, Finding

FROM_F, TO_F = 50.0, 130.0
LONGEST_S = 6 * 3600.0
RULE = "come-up"
SOURCE = "fsis-2021-14-come-up"


class ComeUp(NamedTuple):
    """Seconds in the band while heating; `begun` and `ended` say whether the log saw both ends of it."""

    seconds: float
    from_s: float
    to_s: float
    begun: bool
    ended: bool

    @property
    def within(self) -> bool | None:
        """Whether it was within six hours; None where the log saw too little to tell."""
        if self.seconds > LONGEST_S:
            return False
        return True if self.begun and self.ended else None


def come_up(times_s: Sequence[float], core_c: Sequence[float]) -> ComeUp:
    """Time between 50 and 130 °F up to the hottest reading, starts and stops added up. Raises RequestError."""
    return come_up_of(Curve.of(times_s, core_c))


def come_up_of(curve: Curve) -> ComeUp:
    """The same for a curve that is checked already."""
    hottest = curve.core_f.index(max(curve.core_f))
    rise = Curve(curve.times_s[: hottest + 1], curve.core_f[: hottest + 1])
    warm, done = rise.above(FROM_F), rise.above(TO_F)
    seconds = sum(stop - start for start, stop in warm) - sum(stop - start for start, stop in done)
    from_s = warm[0][0] if warm else rise.times_s[-1]
    to_s = done[-1][0] if done else rise.times_s[-1]
    return ComeUp(seconds, from_s, to_s, curve.core_f[0] <= FROM_F, curve.core_f[hottest] >= TO_F)


def come_up_finding(core: Curve, intact: bool, surface: Curve | None = None) -> Finding:
    """The come-up limit. An intact piece may be judged by its surface where that was measured, no other piece may."""
    by_surface = intact and surface is not None
    seen = come_up_of(surface if by_surface and surface is not None else core)
    hours = seen.seconds / 3600
    where = "surface" if by_surface else "core"
    said = f"the {where} took {hours:.1f} h from 50 to 130 °F; a plant is given {LONGEST_S / 3600:g} h"
    if not seen.begun:
        said += "; the log starts late, so it was at least that and there is no verdict"
    if not seen.ended:
        said += "; 130 °F was not reached in the log"
    level = WARN if seen.within is False else NOTE
    if seen.within is False and not by_surface:
        said += ("; for an intact piece the surface may be measured instead" if intact
                 else "; the piece is not intact, so its centre is what counts")
    return Finding(RULE, level, round(hours, 2), LONGEST_S / 3600, PLANT, SOURCE, "h", said)
