"""The plan as pictures: the day with its doubt, and the roast in its slices, each in marks of the picture room."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import timedelta
from itertools import groupby
from math import ceil, floor

from cookbook.heat import bands
from cookbook.picture import DotPlot, DotRow, Drawing, Outline, Panel, Table
from cookbook.plan.meal import Meal, clock
from cookbook.plan.serving import Cut
from cookbook.plan.step import Step

KEY = "lozenge: when the plan means it; bar: its earliest and its latest"
_LONGEST_H = 4.0
_LOW = 0.28
_SHORT = {
    "light": "light the fire", "steady": "pit steady", "out": "take out", "stall": "the core creeps", "on": "on",
    "wrap": "wrap", "check": "check from here", "pull": "pull", "rest": "rest, then hold", "season": "season",
}  # fmt: skip
_MOST_TICKS = 9


def day_chart(meal: Meal) -> DotPlot:
    """The steps from the fire on, or from the evening before where that is near, over the clock on the wall."""
    steps = [step for step in meal.steps if _near(step, meal)]
    rows = tuple(DotRow(_named(step, meal), (), *(_hours(step, meal, end) for end in ("at", "earliest", "latest")))
                 for step in steps)  # fmt: skip
    table = Table(
        ("step", "when", "earliest", "latest"),
        tuple((step.what, *(clock(getattr(step, end)) for end in ("at", "earliest", "latest"))) for step in steps),
    )
    marks = _marks([value for row in rows for value in row.values], meal)
    title, axis = f"{meal.title}: {meal.summary()}", f"{meal.eat:%a} {meal.eat.day} {meal.eat:%b}, by the clock"
    told = f"{len(rows)} steps with their doubt."
    return DotPlot(title, told, axis, rows, KEY, table, marks, meal.summary())


def _near(step: Step, meal: Meal) -> bool:
    """Whether a step belongs on the day's own axis: shopping, thawing and yesterday's coat would press it flat."""
    if step.key in ("buy", "thaw"):
        return False
    first = min((one.at for one in meal.steps if one.key in ("light", "on")), default=meal.eat)
    return step.key != "season" or step.at >= first - timedelta(hours=_LONGEST_H)


def _named(step: Step, meal: Meal) -> str:
    short = _SHORT.get(step.key, step.what)
    if len(meal.days) < 2 or not step.dish:
        return short
    one = next(day.dish for day in meal.days if day.dish.name == step.dish)
    return f"{short}, {one.piece.name or one.piece.cut.name.partition(',')[0]}"


def _hours(step: Step, meal: Meal, end: str) -> float:
    moment = getattr(step, end)
    first = min((one.at for one in meal.steps if one.key in ("light", "on")), default=meal.eat)
    shown = max(moment, first - timedelta(hours=_LONGEST_H)) if end == "earliest" else moment
    hours: float = (shown - meal.eat).total_seconds() / 3600
    return hours


def _marks(values: Sequence[float], meal: Meal) -> tuple[tuple[float, str], ...]:
    """Full hours of the clock on the axis, so many that they can be read."""
    low, high = min(values, default=-1.0), max(values, default=0.0)
    step = next((hours for hours in (1, 2, 3, 4, 6, 12) if (high - low) / hours <= _MOST_TICKS), 24)
    offset = meal.eat.hour + meal.eat.minute / 60 + meal.eat.second / 3600
    first, last = ceil((low + offset) / step - 1e-9), floor((high + offset) / step + 1e-9)
    found = []
    for number in range(first, last + 1):
        at = number * step - offset
        moment = meal.eat + timedelta(hours=at)
        found.append((at, f"{moment:%H:%M}"))
    return tuple(found)


def slices_drawing(meal: Meal) -> Drawing | None:
    """The first piece from its end to its middle, slice by slice; hatched where it is medium well and more."""
    served, one = meal.served[0], meal.days[0].dish
    if not served.cuts:
        return None
    tall = _LOW * sum(cut.thickness_cm for cut in served.cuts)
    names = [band.name for band in bands(one.piece.cut.species)]
    hatched = set(names[names.index("medium") + 1 :]) if "medium" in names else {names[-1]}
    panels = []
    for doneness, group in groupby(served.cuts, key=lambda cut: cut.doneness):
        same = list(group)
        panels.append(_panel(doneness, same, tall, doneness in hatched))
    rows = tuple(
        (f"{cut.number}", f"{cut.from_end_cm:.1f} cm", cut.doneness, ", ".join(cut.eaters) or "whoever comes again")
        for cut in served.cuts
    )
    ends = "both ends are alike" if served.cuts[0].twice else "from the first end to the other"
    told = f"From the end to the middle, {ends}; a slice is called by its inner third. Its height is not to scale."
    table = Table(("slice", "from the end", "done", "for"), rows)
    return Drawing(f"{one.name}: who gets which slice", told, (tuple(panels),), table, "cm")


def _panel(doneness: str, cuts: Sequence[Cut], tall: float, hatched: bool) -> Panel:
    left, outlines = 0.0, []
    for cut in cuts:
        right = left + cut.thickness_cm
        outlines.append(Outline(((left, 0.0), (right, 0.0), (right, tall), (left, tall)), hatched))
        left = right
    numbers = f"{cuts[0].number}" if len(cuts) == 1 else f"{cuts[0].number} to {cuts[-1].number}"
    who = list(dict.fromkeys(name for cut in cuts for name in cut.eaters))
    few = ", ".join(who[:4]) + (f" and {len(who) - 4} more" if len(who) > 4 else "")
    return Panel((f"{numbers}: {doneness}", *([few] if few else [])), left, tall, tuple(outlines))
