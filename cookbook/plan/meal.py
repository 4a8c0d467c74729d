"""The whole plan of a meal: who eats, what to buy, the day's steps, the slices, the list, the cost."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from cookbook.errors import RequestError
from cookbook.heat import bands
from cookbook.kitchen import Kitchen
from cookbook.kitchen.care import inside
from cookbook.kitchen.finding.recall import Recall, last
from cookbook.plan.buying import Buy
from cookbook.plan.clash import carved_at, clashes
from cookbook.plan.cost import Cost, cost
from cookbook.plan.dish import Dish
from cookbook.plan.eater import Eater
from cookbook.plan.film import Effect, effects, extra_minutes, with_shots
from cookbook.plan.fire import Fire, Fuel, fire_of, fuel_for
from cookbook.plan.part import Asked, Part, dishes_of, edible_g, parts_of
from cookbook.plan.portioning import Share, needed
from cookbook.plan.pulling import Pull, pulls
from cookbook.plan.remark import passed, remarks, warned
from cookbook.plan.serving import Served, serve, wished
from cookbook.plan.shopping import Line, needs, shopping
from cookbook.plan.splitting import Choice, choices
from cookbook.plan.step import Step, Wall, after, spoken, up_to_five
from cookbook.plan.timeline import Day, Wishes, day, in_order
from cookbook.plan.trouble import refuse_frozen, refuse_late, refuse_overfull
from cookbook.quantity import Interval

if TYPE_CHECKING:
    from cookbook.heat import Forecast


class Meal(NamedTuple):
    """A plan. Times are by the clock on the wall; `buys`, `shares` and `served` stand beside the dishes' recipes."""

    title: str
    name: str
    eat: datetime
    late_until: datetime
    check_from: datetime
    chance: float
    eaters: tuple[Eater, ...]
    need_g: Interval
    buys: tuple[Buy, ...]
    shares: tuple[Share, ...]
    days: tuple[Day, ...]
    steps: tuple[Step, ...]
    choices: tuple[Choice, ...]
    served: tuple[Served, ...]
    pulls: tuple[Pull, ...]
    lines: tuple[Line, ...]
    fuel: tuple[Fuel, ...]
    cost: Cost
    film: tuple[Effect, ...]
    clashes: tuple[str, ...]
    last: Recall
    notes: tuple[str, ...]
    warnings: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def forecast(self) -> Forecast:
        """The forecast of the first piece."""
        return self.days[0].dish.found

    def summary(self) -> str:
        """The plan in one line of words."""
        served = span(self.eat, up_to_five(self.late_until))
        return f"on the table {served}; check from {clock(self.check_from, self.eat)}"


def plan_meal(
    kitchen: Kitchen, name: str, asked: Asked, now: datetime, told: Callable[[str], None] = lambda _: None
) -> Meal:
    """The plan of a meal round the recipe `name`.

    Raises RequestError for a time that has passed, too little time, too much meat, an allergy; FileError.
    """
    if asked.eat is None:
        raise RequestError("when is it to be eaten?", mend='say it with --eat 18:30 or --eat "Saturday 18:30"')
    if asked.eat <= now:
        ago = spoken((now - asked.eat).total_seconds() / 60)
        if (now - asked.eat).days > 1:
            ago = f"{(now - asked.eat).days} days"
        said = clock(asked.eat) if asked.eat.year == now.year else f"{asked.eat:%Y-%m-%d %H:%M}"
        raise RequestError(
            f"{said} is past by {ago}", code="past",
            mend='say a time ahead, like --eat "tomorrow 18:30" or --eat 2026-12-25T18:30',
        )  # fmt: skip
    wishes = Wishes(asked.chance, asked.frozen, extra_minutes() if asked.film else {})
    parts = parts_of(kitchen, name, asked)
    refuse_overfull(kitchen, [(part.cooker, one.ask_g) for part in parts for one in part.bought])
    dishes = [one for part in parts for one in dishes_of(kitchen, part, asked, told)]
    wall = Wall(asked.eat)
    eat = asked.eat
    ends = carved_at(dishes, eat, asked.carvers, wishes)
    fires = {one.cooker: _fire(kitchen, one) for one in dishes}
    days = [
        day(one, inside(kitchen, one.recipe), fires[one.cooker], end, wishes, wall)
        for one, end in zip(dishes, ends, strict=True)
    ]
    for one in days:
        if asked.frozen:
            refuse_frozen(one.dish, (one.on - now).total_seconds() / 3600, eat)
        short = (now - one.on).total_seconds() / 60 + fires[one.dish.cooker].to_steady_min.mid
        if short > 0:
            refuse_late(one.dish, short, asked.chance, eat)
    return _told(kitchen, parts, days, fires, asked, wall, now)


def _fire(kitchen: Kitchen, one: Dish) -> Fire:
    cooker = one.wanted.cooker
    return fire_of(kitchen, cooker.kind if cooker is not None else "oven", one.cooker)


def _told(
    kitchen: Kitchen, parts: Sequence[Part], days: list[Day], fires: dict[str, Fire], asked: Asked,
    wall: Wall, now: datetime,
) -> Meal:  # fmt: skip
    eat, late = wall.like, max(one.late_min for one in days)
    late_until = wall.shown(after(eat, late))
    first = days[0].dish
    serving = Step("serve", "on the table", eat, eat, late_until)
    steps = in_order(_one_fire(days), wall, serving)
    steps = with_shots(steps) if asked.film else steps
    edible = [edible_g(part, one.dish) for one in days for part in parts if part.recipe is one.dish.recipe]
    served = shared_out(days, asked.eaters, edible)
    portions = len(asked.eaters) + asked.leftovers
    several = len(days) > 1
    bought = [one for part in parts for one in part.bought]
    fuel = _fuel(days, fires)
    list_of = [need for part in parts for need in needs(kitchen, part.recipe, part.said)]
    lines = shopping(kitchen, bought, list_of, fuel)
    ranked = [] if several else pulls(first, asked.eaters, edible[0])
    notes, warnings = remarks(kitchen, parts, days, asked, served, ranked)
    warnings = list(dict.fromkeys([*warnings, *passed(steps, now)]))
    steps = [_not_before(step, wall.shown(now)) for step in steps]
    return Meal(
        " and ".join(part.recipe.title for part in parts),
        parts[0].recipe.name,
        eat,
        late_until,
        min(step.at for step in steps if step.key == "check"),
        asked.chance,
        asked.eaters,
        needed(asked.eaters, asked.leftovers),
        tuple(bought),
        tuple(part.share for part in parts for _ in part.bought),
        tuple(days),
        tuple(steps),
        tuple(
            []
            if several or asked.said
            else choices(kitchen, first, bought[0], asked.chance, parts[0].share.edible.mid)
        ),
        tuple(served),
        tuple(ranked),
        tuple(lines),
        tuple(fuel),
        cost(kitchen, parts[0].recipe.name, bought, lines, portions),
        tuple(effects(first) if asked.film else ()),
        tuple(clashes(days, asked.carvers, wall)),
        last(kitchen, parts[0].recipe.name, 1),
        tuple(notes),
        tuple(warnings),
        tuple(warned(kitchen, [part.recipe for part in parts])),
    )


_FOR_ALL = ("buy", "light", "steady")


def _one_fire(days: Sequence[Day]) -> list[Day]:
    """The days with each cooker lit once, for the first dish on it, and one trip to the shops."""
    lit: set[str] = set()
    found: list[Day] = []
    first = min(days, key=lambda one: one.step("buy").at if "buy" in {step.key for step in one.steps} else one.on)
    for one in sorted(days, key=lambda one: one.on):
        drop = {"light", "steady"} if one.dish.cooker in lit else set()
        drop |= {"buy"} if one is not first else set()
        lit.add(one.dish.cooker)
        kept = [step for step in one.steps if step.key not in drop]
        steps = [step._replace(dish="") if len(days) > 1 and step.key in _FOR_ALL else step for step in kept]
        found.append(one._replace(steps=tuple(steps)))
    return found


def shared_out(days: Sequence[Day], eaters: Sequence[Eater], edible: Sequence[float]) -> list[Served]:
    """The slices of each dish; several pieces of one recipe share the eaters out, different recipes feed them all."""
    found = []
    for recipe in dict.fromkeys(one.dish.recipe.name for one in days):
        mine = [place for place, one in enumerate(days) if one.dish.recipe.name == recipe]
        whole, start = sum(edible[place] for place in mine), 0.0
        species = days[mine[0]].dish.piece.cut.species
        names = [band.name for band in bands(species)]
        order = sorted(eaters, key=lambda one: _done_to(one, species, names))
        for place in sorted(mine, key=lambda place: days[place].dish.found.pull_c):
            end = start + edible[place] / whole * len(order)
            chosen = order[round(start) : round(end)] if len(mine) > 1 else list(eaters)
            start = end
            found.append((place, serve(days[place].dish, chosen, edible[place])))
    return [one for _, one in sorted(found, key=lambda pair: pair[0])]


def _done_to(one: Eater, species: str, names: Sequence[str]) -> int:
    """Where a wish stands among the donenesses of a species; those who must have it fully cooked come last."""
    wish, _ = wished(one, species)
    return len(names) if one.fully_cooked else len(names) // 2 if wish is None else names.index(wish)


def _not_before(step: Step, now: datetime) -> Step:
    """A step whose time has passed is for now."""
    if step.at >= now:
        return step
    return step._replace(at=now, earliest=max(step.earliest, now), latest=max(step.latest, now))


def _fuel(days: Sequence[Day], fires: dict[str, Fire]) -> list[Fuel]:
    found: list[Fuel] = []
    for cooker, fire in fires.items():
        mine = [one for one in days if one.dish.cooker == cooker]
        on = min(one.on for one in mine)
        ends = [max(getattr(one.step("pull"), name) for one in mine) for name in ("earliest", "at", "latest")]
        hours = Interval(*((end - on).total_seconds() / 3600 for end in ends))
        pit = mine[0].dish.recipe.pit
        found += fuel_for(cooker, fire, hours, pit.wood if pit else None, pit.fuel if pit else None)
    return found


def clock(moment: datetime, beside: datetime | None = None) -> str:
    """`18:40`, with its day where that is not the day of `beside`."""
    same = beside is not None and moment.date() == beside.date()
    return f"{moment:%H:%M}" if same else f"{moment:%a} {moment.day} {moment:%b %H:%M}"


def span(first: datetime, second: datetime) -> str:
    """`Fri 25 Dec 18:40 to 19:10`."""
    return clock(first) if second <= first else f"{clock(first)} to {clock(second, first)}"
