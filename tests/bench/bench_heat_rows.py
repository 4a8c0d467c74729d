"""The forecast against rows: times by dimensions and by weight, rises, losses, intervals, common practice.

Run it: python -m tests.bench.bench_heat_rows
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from cookbook.heat.course import core_after, ensemble, pull_minutes
from cookbook.heat.outlook import setup, spread_of
from cookbook.heat.prior import draw, members_of
from cookbook.heat.roast import roast_of_piece
from cookbook.heat.setting import Cooker, Rest
from cookbook.meat import Cut
from tests.bench.calibrate_heat import HOT, HOTTER, PRACTICE, Practice
from tests.bench.heat_cases import Case, by_weight, dimensioned

_MEMBERS = 100


class Found(NamedTuple):
    """What the forecast says of a row."""

    case: Case
    low_min: float
    middle_min: float
    high_min: float
    rise_k: float | None
    loss: float

    @property
    def against_middle(self) -> float:
        """ln(predicted / middle of the band)."""
        return float(np.log(self.middle_min / self.case.middle_min))

    @property
    def outside(self) -> float:
        """ln of how far the prediction is outside the band, zero inside."""
        held = min(max(self.middle_min, self.case.low_min), self.case.high_min)
        return float(np.log(self.middle_min / held))

    @property
    def meets(self) -> bool:
        """Whether P10 to P90 and the band have a time in common."""
        return self.low_min <= self.case.high_min and self.high_min >= self.case.low_min


def found(case: Case) -> Found:
    """The shipped forecast of a row."""
    rest = Rest(max(case.rise[0], 20.0) if case.rise else 20.0)
    plan = setup(case.roast, pit_c=case.pit_c, pull_c=case.pull_c, start_c=case.start_c, cooker=Cooker(case.cooker),
                 rest=rest)
    spread = ensemble(plan.roast, members_of(draw(_MEMBERS, 0), plan.priors), plan.course)
    minutes = spread_of(pull_minutes(spread.coarse, plan.course, spread.correction))
    rise = None
    if case.rise is not None:
        rise = float(core_after(spread.fine, plan.course, case.rise[0])[0]) - case.pull_c
    middle = float(pull_minutes(spread.fine, plan.course)[0])
    return Found(case, minutes.p10 or 0.0, middle, minutes.p90 if minutes.p90 is not None else np.inf, rise,
                 100 * float(spread.fine.loss_end[plan.course.pulled, 0]))


def logs() -> list[Case]:
    """H5 and H7, for their rise after the pull; H5 names no cut: a plain roast of the round, from the room."""
    plain = roast_of_piece(Cut.named("top round roast").piece(mass_g=1150))
    single = roast_of_piece(Cut.named("rib roast, bone in").piece(mass_g=1630))
    return [Case("H5", plain, "fan oven", 180.0, 20.0, 53.0, 49.0, 49.0, (14.0, 5.0, 5.0)),
            Case("H7", single, "offset", 107.0, 4.4, 57.2, 190.0, 190.0, (10.0, 2.8, 2.8))]


def rms(values: Sequence[float]) -> float:
    """Root of the mean square."""
    return float(np.sqrt(np.mean(np.square(values))))


def beyond(value: float, low: float, high: float) -> float:
    """How far a value is outside a band."""
    return value - min(max(value, low), high)


class Numbers(NamedTuple):
    """The numbers of the rows: time errors, rise and loss errors, share of bands met, median width."""

    unfitted: float
    all_dimensioned: float
    by_weight: float
    rise_k: float
    loss: float
    met: float
    width: float


def numbers(sized: Sequence[Found], weighed: Sequence[Found], logged: Sequence[Found]) -> Numbers:
    """The numbers of rows already forecast."""
    rises = [beyond(one.rise_k, one.case.rise[1], one.case.rise[2]) for one in (*sized, *logged)
             if one.rise_k is not None and one.case.rise is not None]
    losses = [beyond(one.loss, *one.case.loss) for one in sized if one.case.loss is not None]
    every = [*sized, *weighed]
    return Numbers(
        rms([one.against_middle for one in sized if not one.case.fitted]), rms([one.against_middle for one in sized]),
        rms([one.outside for one in weighed]), rms(rises), rms(losses),
        float(np.mean([one.meets for one in every])), float(np.median([one.high_min / one.low_min for one in every])))


def practised(one: Practice) -> Found:
    """The forecast of a line of common practice."""
    roast = roast_of_piece(Cut.named(one.cut).piece(mass_g=one.mass_g))
    plan = setup(roast, pit_c=one.pit_c, pull_c=one.pull_c, start_c=4.4, wrap=one.wrap,
                 cooker=Cooker("oven" if one.pull_c < 80 else "offset"))
    spread = ensemble(plan.roast, members_of(draw(_MEMBERS, 0), plan.priors), plan.course)
    minutes = spread_of(pull_minutes(spread.coarse, plan.course, spread.correction))
    rise = float(core_after(spread.fine, plan.course, 20.0)[0]) - one.pull_c
    case = Case(one.cut, roast, plan.cooker.kind, one.pit_c, 4.4, one.pull_c, one.low_min, one.high_min)
    middle = float(pull_minutes(spread.fine, plan.course)[0])
    return Found(case, minutes.p10 or 0.0, middle, minutes.p90 or np.inf, rise,
                 100 * float(spread.fine.loss_end[plan.course.pulled, 0]))


def hot_rises(roasts: Sequence[tuple[str, float, float, float]] = HOT) -> list[float]:
    """Rise of the core in 20 minutes of a tented rest, for roasts from a hot oven."""
    found = []
    for cut, mass_g, pit_c, pull_c in roasts:
        plan = setup(Cut.named(cut).piece(mass_g=mass_g), pit_c=pit_c, pull_c=pull_c, start_c=4.4)
        middle = ensemble(plan.roast, members_of(draw(2, 0), plan.priors), plan.course).fine
        found.append(float(core_after(middle, plan.course, 20.0)[0]) - pull_c)
    return found


def line(one: Found) -> str:
    """A row of the table."""
    case = one.case
    rise = f"rise {one.rise_k:.1f} K" if one.rise_k is not None else ""
    band = f" ({case.rise[1]:g} to {case.rise[2]:g})" if case.rise else ""
    loss = f"loss {one.loss:.0f} %" + (f" ({case.loss[0]:g} to {case.loss[1]:g})" if case.loss else "")
    return (f"  {case.name:12} {case.roast.name:22} {case.pit_c:4.0f} to {case.pull_c:3.0f} °C: {one.low_min:4.0f} "
            f"{one.middle_min:4.0f} {one.high_min:4.0f} min, band {case.low_min:.0f} to {case.high_min:.0f}, error "
            f"{one.against_middle:+.2f} ({one.outside:+.2f} outside){' fitted' if case.fitted else ''}  "
            f"{rise}{band} {loss}")


if __name__ == "__main__":
    groups = [[found(case) for case in cases] for cases in (dimensioned(), list(by_weight()), logs())]
    for group in (*groups, [practised(one) for one in PRACTICE]):
        print(*(line(one) for one in group), "", sep="\n")
    for (cut, mass_g, pit_c, pull_c), rise in zip((*HOT, *HOTTER), hot_rises((*HOT, *HOTTER)), strict=True):
        print(f"  {cut}, {mass_g / 1000:g} kg, {pit_c:.0f} to {pull_c:.0f} °C: rise {rise:.1f} K in 20 min")
    for name, value in numbers(*groups)._asdict().items():
        print(f"{name}: {value:.3f}")
