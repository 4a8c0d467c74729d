"""A plan for a film: the shots of each step with their minutes, and what the camera's minutes do to the meat."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from cookbook.heat import within
from cookbook.kitchen.forecasting.outlook import told_by
from cookbook.plan.dish import Dish
from cookbook.plan.serving import inner
from cookbook.plan.step import Step
from cookbook.table import rows

MEMBERS = 40


class Shot(NamedTuple):
    """One shot of a step and the minutes it adds; `lid` where the lid is open or the meat waits for it."""

    step: str
    shot: str
    minutes: float
    lid: bool


class Effect(NamedTuple):
    """What so many minutes before the pull, or before the first cut, do to the middle of the roast."""

    before: str
    minutes: float
    core_k: float
    middle: str
    middle_without: str

    def sentence(self) -> str:
        """In words: by how much the core moves, and what the middle slice becomes."""
        way = f"{self.core_k:+.1f} K at the core"
        slice_ = (
            f"the middle slice stays {self.middle}"
            if self.middle == self.middle_without
            else f"the middle slice goes from {self.middle_without} to {self.middle}"
        )
        return f"{self.minutes:.0f} min of filming before the {self.before}: {way}, {slice_}"


def shots() -> list[Shot]:
    """The shots of a day, in the order of its steps."""
    return [Shot(row["step"], row["shot"], float(row["minutes"]), row["lid"] == "true") for row in rows("plan_shots")]


def extra_minutes() -> dict[str, float]:
    """Minutes that filming adds to each step."""
    found: dict[str, float] = {}
    for one in shots():
        found[one.step] = found.get(one.step, 0.0) + one.minutes
    return found


def with_shots(steps: Sequence[Step]) -> list[Step]:
    """The steps with their shots written in."""
    told: dict[str, str] = {}
    for one in shots():
        said = f"{one.shot} ({one.minutes:.0f} min)"
        told[one.step] = f"{told[one.step]}; {said}" if one.step in told else said
    return [step._replace(shot=told.get(step.key, "")) for step in steps]


def effects(dish: Dish) -> list[Effect]:
    """What filming does to the meat: it stays on the heat for the shots before the pull, and rests on before the cut.

    Both are the heat room's answer to a pull so much later and a rest so much longer.
    """
    extra = extra_minutes()
    at_pull = extra.get("check", 0.0) + extra.get("pull", 0.0)
    at_cut = extra.get("rest", 0.0) + extra.get("slice", 0.0)
    plain = told_by(dish.wanted, dish.known, MEMBERS)
    minutes = within(plain.minutes_to_pull, 0.5)
    if minutes is None or not plain.slices:
        return []
    middle = inner(plain.slices[-1].zones)
    later = told_by(
        dish.wanted._replace(pull_c=min(dish.found.pull_c + _rise_k(dish, at_pull), 99.0)), dish.known, MEMBERS
    )
    found = [_effect("pull", at_pull, plain.core_at_slicing_c.p50, later.core_at_slicing_c.p50, middle, later)]
    rest = dish.wanted.rest
    if rest is not None:
        longer = told_by(dish.wanted._replace(rest=rest._replace(minutes=rest.minutes + at_cut)), dish.known, MEMBERS)
        found.append(
            _effect("cut", at_cut, plain.core_at_slicing_c.p50, longer.core_at_slicing_c.p50, middle, longer)
        )
    return [one for one in found if one is not None]


def _effect(before: str, minutes: float, core: float | None, then: float | None, middle: str, found: object
            ) -> Effect | None:  # fmt: skip
    slices = getattr(found, "slices", [])
    if core is None or then is None or not slices:
        return None
    return Effect(before, minutes, then - core, inner(slices[-1].zones), middle)


def _rise_k(dish: Dish, minutes: float) -> float:
    """By how much the core rises in the minutes after it reaches the pull, from the curve before it."""
    curve = dish.found.curve
    end = dish.found.minutes_to_pull.p50 or curve[-1].minute
    on_heat = [point for point in curve if point.minute <= end and point.core_c.p50 is not None]
    if len(on_heat) < 4:
        return 0.0
    last, earlier = on_heat[-1], on_heat[-4]
    assert last.core_c.p50 is not None
    assert earlier.core_c.p50 is not None
    return max(0.0, (last.core_c.p50 - earlier.core_c.p50) / (last.minute - earlier.minute) * minutes)
