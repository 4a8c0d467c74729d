"""The day backwards from serving: each step with its earliest and latest, the slack in the hold."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from types import MappingProxyType
from typing import NamedTuple

from cookbook.heat import Point
from cookbook.plan.dish import HOLD_AT, Dish
from cookbook.plan.fire import Fire
from cookbook.plan.prepare import buying, seasoning, taking_out, thawing
from cookbook.plan.step import ORDER, Step, Wall, after, before, five, minute, spoken
from cookbook.quantity.number import tenth
from cookbook.recipe import Recipe
from cookbook.safety.told import ELECTRIC

LATE_CHANCE = 0.98
"""With this chance the food is there by the later of the two times that the plan opens with."""
_CREEP_K = 8.0
_CREEP_FROM_C = 55.0


class Wishes(NamedTuple):
    """What the day is planned by: the chance to be in time, frozen meat, minutes that a camera adds to a step."""

    chance: float = 0.9
    frozen: bool = False
    film: Mapping[str, float] = MappingProxyType({})

    def extra(self, *keys: str) -> float:
        """Minutes that filming adds to these steps."""
        return sum(self.film.get(key, 0.0) for key in keys)


class Day(NamedTuple):
    """One dish on its day: when it is on, when its last slice is meant to fall, its steps in UTC.

    `slack_min` is how long after the pull it waits if it is done at the early end; `late_min` how much later than
    meant the food comes once in fifty.
    """

    dish: Dish
    on: datetime
    carved: datetime
    steps: tuple[Step, ...]
    slack_min: float
    late_min: float

    def step(self, key: str) -> Step:
        """The step of a key. KeyError where there is none."""
        return {one.key: one for one in reversed(self.steps)}[key]


def on_at(dish: Dish, carved: datetime, wishes: Wishes) -> datetime:
    """When the meat goes on, so that with the chosen chance it is carved by `carved`."""
    rest = dish.wanted.rest.minutes if dish.wanted.rest else 0.0
    after_pull = rest + dish.carve().mid + wishes.extra("check", "wrap", "pull", "rest", "slice")
    return five(before(carved, after_pull + dish.minutes(wishes.chance)))


def day(dish: Dish, coats: Sequence[Recipe], fire: Fire, carved: datetime, wishes: Wishes, wall: Wall,
        on: datetime | None = None) -> Day:  # fmt: skip
    """All steps of one dish whose last slice falls at `carved`; `on` where the meat is on already."""
    planned = on if on is not None else on_at(dish, carved, wishes)
    later = _cooking(dish, planned, carved, wishes)
    pull = next(step for step in later if step.key == "pull")
    slack = (later[-1].at - pull.earliest).total_seconds() / 60
    if on is not None:
        return Day(dish, planned, carved, tuple(later), slack, _late(dish, wishes))
    light = _lighting(dish, fire, planned, wishes)
    seasoned = seasoning(dish, coats, planned, light[0].at, wall)
    first = min([one.at for one in (*seasoned, light[0])])
    thaws = [thawing(dish, first)] if wishes.frozen else []
    first = min([first, *(one.at for one in thaws)])
    steps = [buying(dish, first, planned, wall, wishes.frozen), *thaws, *seasoned, *light]
    steps += [*taking_out(dish, planned), *later]
    return Day(dish, planned, carved, tuple(steps), slack, _late(dish, wishes))


def _late(dish: Dish, wishes: Wishes) -> float:
    if wishes.chance >= LATE_CHANCE:
        return 0.0
    from cookbook.heat import within

    worst = within(dish.found.minutes_to_pull, LATE_CHANCE)
    return 0.0 if worst is None else worst - dish.minutes(wishes.chance)


def _lighting(dish: Dish, fire: Fire, on: datetime, wishes: Wishes) -> list[Step]:
    steady, film = fire.to_steady_min, wishes.extra("light", "on")
    lit = five(before(on, steady.high + film))
    pit = f"{dish.wanted.pit_c:.0f} °C"
    what = f"light the {dish.cooker}" if fire.fuel else f"heat the {dish.cooker}"
    return [
        Step("light", f"{what} for {pit}", lit, lit, before(on, steady.low + film), dish.name,
             f"{steady.low:.0f} to {steady.high:.0f} min from cold to steady: {fire.rests_on[0]}."),
        Step("steady", f"the pit is steady at {pit}", max(after(lit, steady.mid), before(on, 15)),
             after(lit, steady.low), on, dish.name),
    ]  # fmt: skip


def _cooking(dish: Dish, on: datetime, carved: datetime, wishes: Wishes) -> list[Step]:
    """From the fire to the last slice."""
    found, name = dish.found, dish.name
    early, late = dish.minutes(1 - wishes.chance), dish.minutes(wishes.chance)
    middle = found.minutes_to_pull.p50 or late
    quick, slow = after(on, early), after(on, late)
    rest = dish.wanted.rest.minutes if dish.wanted.rest else 0.0
    work = dish.carve().mid + wishes.extra("rest", "slice")
    check = after(on, min(found.check_from_minutes or early, early))
    kind = dish.wanted.cooker.kind if dish.wanted.cooker else "oven"
    where = f"into the {dish.cooker}" if kind in ELECTRIC else f"on the {dish.cooker}"
    steps = [Step("on", where, on, on, on, name), *_on_the_way(dish, on, wishes)]
    steps.append(Step("check", "check from here on: look at the thermometer", check, check, slow, name))
    steps.append(Step("pull", f"pull at {tenth(found.pull_c)} °C", after(on, middle), quick, slow, name))
    ready = after(quick, rest + wishes.extra("pull"))
    sliced = max(before(carved, work), ready)
    steps.append(Step("rest", _resting(dish), after(on, middle), quick, sliced, name, _hold_note(dish)))
    what = "pull it apart" if dish.carving == "pull apart" else "slice"
    steps.append(Step("slice", what, sliced, min(ready, sliced), sliced, name))
    return steps


def _resting(dish: Dish) -> str:
    rest = dish.wanted.rest
    minutes = rest.minutes if rest else 0.0
    cover = {"box": "in an insulated box", "bare": "uncovered"}.get(dish.hold.cover, dish.hold.cover)
    return f"rest {spoken(minutes)}, {cover}; what is left of the time is hold"


def _hold_note(dish: Dish) -> str:
    hold = dish.hold
    good = f"{spoken(hold.good_min)} and more" if hold.good_min >= 239 else spoken(hold.good_min)
    if dish.falls_apart:
        return (
            f"It can wait {good} after the pull and stays above {hold.floor_c:.0f} °C; longer at {HOLD_AT} in an "
            "oven or a box (common practice)."
        )
    return (
        f"It can wait {spoken(hold.limit_min)} after the pull: its core is above {hold.floor_c:.0f} °C for {good}, "
        f"and it may stand for {spoken(hold.safe_min)}."
    )


def _on_the_way(dish: Dish, on: datetime, wishes: Wishes) -> list[Step]:
    """Where the core creeps, and where the wrap goes on, from the forecast's curve."""
    curve, wrap, found = dish.found.curve, dish.wanted.wrap, []
    if dish.falls_apart:
        low_c = _slowest(curve)
        if low_c is not None:
            start, end = _crossing(curve, low_c, 2), _crossing(curve, low_c + _CREEP_K, 0)
            middle = _crossing(curve, low_c, 1)
            if start is not None and middle is not None:
                found.append(Step(
                    "stall", f"the core creeps from about {low_c:.0f} to {low_c + _CREEP_K:.0f} °C: leave it alone",
                    after(on, middle), after(on, start), after(on, end if end is not None else curve[-1].minute),
                    dish.name,
                ))  # fmt: skip
    if wrap is not None and wrap.core_c is not None:
        times = [_crossing(curve, wrap.core_c, place) for place in (2, 1, 0)]
        if times[0] is not None and times[1] is not None:
            last = times[2] if times[2] is not None else dish.minutes(wishes.chance)
            found.append(Step("wrap", f"wrap in {wrap.kind} once the core is past {tenth(wrap.core_c)} °C",
                              after(on, times[1]), after(on, times[0]), after(on, last), dish.name))  # fmt: skip
    return found


def _slowest(curve: Sequence[Point]) -> float | None:
    """Where the middle of the ensemble takes longest over `_CREEP_K`, °C."""
    hottest = max(point.core_c.p50 or 0.0 for point in curve)
    starts = [_CREEP_FROM_C + step for step in range(0, 40, 2) if _CREEP_FROM_C + step + _CREEP_K <= hottest - 4]
    took = {}
    for low in starts:
        start, end = _crossing(curve, low, 1), _crossing(curve, low + _CREEP_K, 1)
        if start is not None and end is not None:
            took[low] = end - start
    return max(took, key=lambda low: took[low]) if took else None


def _crossing(curve: Sequence[Point], level_c: float, place: int) -> float | None:
    """The first minute at which a percentile of the core (0 the tenth, 1 the middle, 2 the ninetieth) passes it."""
    last: tuple[float, float] | None = None
    for point in curve:
        core = point.core_c[place]
        if core is None:
            continue
        if core >= level_c:
            if last is None or core == last[1]:
                return point.minute
            return last[0] + (point.minute - last[0]) * (level_c - last[1]) / (core - last[1])
        last = (point.minute, core)
    return None


def in_order(days: Sequence[Day], wall: Wall, serve: Step | None = None) -> list[Step]:
    """All steps of all dishes by their moments, by the clock on the wall; what is done to two at once stands once."""
    steps = [one for day in days for one in day.steps] + ([serve] if serve is not None else [])
    told: dict[tuple[object, ...], Step] = {}
    for one in map(wall.step, sorted(steps, key=lambda one: (minute(one.at), ORDER.index(one.key)))):
        alike = (*one[:5], one.note)
        told[alike] = one._replace(dish="") if alike in told else one
    return list(told.values())
