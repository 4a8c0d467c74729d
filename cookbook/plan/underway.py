"""Planning again while it cooks: the open entry's fire and readings say when the rest of the day comes."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from cookbook.errors import CookbookError, RequestError
from cookbook.heat import within
from cookbook.journal import Entry
from cookbook.journal.outcome import moment_of
from cookbook.kitchen import Kitchen
from cookbook.kitchen.care import cooked_recipe, inside
from cookbook.kitchen.descent import names_of
from cookbook.kitchen.finding.recall import last
from cookbook.kitchen.forecasting import outlook as outlooks
from cookbook.kitchen.forecasting.outlook import told_by
from cookbook.kitchen.learning.fires import cook_loss
from cookbook.plan.buying import of_pieces
from cookbook.plan.clash import carved_at, clashes
from cookbook.plan.cost import Cost
from cookbook.plan.dish import Dish, dish
from cookbook.plan.fire import fire_of
from cookbook.plan.meal import Meal, plan_meal, shared_out
from cookbook.plan.part import Asked
from cookbook.plan.portioning import Share, needed, share
from cookbook.plan.remark import warned
from cookbook.plan.step import Step, Wall, after, five, spoken
from cookbook.plan.timeline import Day, Wishes, day, in_order
from cookbook.quantity.number import tenth
from cookbook.recipe import Recipe

HOTTER_K = (15.0, 30.0, 45.0)
OLD_MIN = 45.0
"""A reading older than this says little of now: take another (judgement)."""
_NOTHING = Cost({}, {}, {}, {}, (), (), None, ())


def plan_now(
    kitchen: Kitchen, name: str, asked: Asked, now: datetime, told: Callable[[str], None] = lambda _: None
) -> Meal:
    """The rest of the day of the open cook of `name`; without `asked.eat` for as soon as it surely is done.

    Before the meat is on it is the usual plan for the entry's piece. Raises RequestError without an open cook.
    """
    entry = _open(kitchen, name)
    if moment_of(entry, "on") is None and asked.eat is None:
        raise RequestError("nothing is on the heat yet", mend="say when it is to be eaten: --eat 18:30", code="usage")
    if moment_of(entry, "on") is None:
        words = {
            piece.name or "": {key: node.text for key, node in piece.fields.nodes.items() if key in _SIZES}
            for piece in entry.pieces
        }
        return plan_meal(kitchen, name, asked._replace(said=words), now, told)
    recipe = cooked_recipe(kitchen, entry) or kitchen.recipe(name)
    alone = [entry._replace(pieces=(piece,)) for piece in entry.pieces] or [entry]
    going = [_going(kitchen, recipe, one, asked, told) for one in alone if _on(one) is not None]
    idle = [piece.name for one in alone if _on(one) is None for piece in one.pieces]
    waiting = [f"not on the heat yet, and not in this plan: {', '.join(idle)}"] if idle else []
    return _rest(kitchen, name, going, waiting, asked, now)


class _Going(NamedTuple):
    """One piece on the heat: its entry with it alone, when it went on and came off, its share of meat to eat."""

    entry: Entry
    dish: Dish
    on: datetime
    pulled: datetime | None
    share: Share

    @property
    def rest_min(self) -> float:
        """Minutes that it is to rest at least."""
        return self.dish.wanted.rest.minutes if self.dish.wanted.rest else 0.0


def _on(alone: Entry) -> datetime | None:
    return moment_of(alone, "on", next((piece.name for piece in alone.pieces), "") or None)


def _going(
    kitchen: Kitchen, recipe: Recipe, alone: Entry, asked: Asked, told: Callable[[str], None]
) -> _Going:
    one = dish(kitchen, recipe, outlooks.of_entry(kitchen, alone, asked.heat), asked.learn, told)
    on, cut, (piece,) = _on(alone), one.piece.cut, alone.pieces
    assert on is not None
    eaten = share(cut, one.found.pull_c, str(piece.known.get("bones") or "") or None, cook_loss(kitchen, cut.name))
    return _Going(alone, one, on, moment_of(alone, "pulled", piece.name or None), eaten)


_SIZES = ("weight", "ribs", "length", "girth", "width", "thickness", "bones", "frenched", "faces")


def _open(kitchen: Kitchen, name: str) -> Entry:
    names = set(names_of(kitchen, name))
    kitchen.recipe(name)
    for entry in kitchen.entries(naming=sorted(names), newest=True):
        if entry.open and entry.recipe in names:
            return entry
    raise RequestError(
        f"no cook of {name} is open", mend=f"begin it with `cookbook log start {name}`, or plan without --now",
        code="no-open-entry",
    )  # fmt: skip


def _rest(
    kitchen: Kitchen, name: str, going: Sequence[_Going], waiting: Sequence[str], asked: Asked, now: datetime
) -> Meal:
    wishes, dishes = Wishes(asked.chance), [one.dish for one in going]
    before_eat = [(now - end).total_seconds() / 60 for end in carved_at(dishes, now, asked.carvers, wishes)]
    soonest, slowest = (
        max(
            after(one.on, one.dish.minutes(chance) + one.rest_min + one.dish.carve().mid + wait)
            for one, wait in zip(going, before_eat, strict=True)
        )
        for chance in (1 - asked.chance, asked.chance)
    )
    eat = asked.eat if asked.eat is not None else five(after(slowest, 4.99))
    wall = Wall(eat if asked.eat is not None else now)
    ends = carved_at(dishes, eat, asked.carvers, wishes)
    planned = [_day(kitchen, one, end, wishes, wall) for one, end in zip(going, ends, strict=True)]
    days = [
        one._replace(steps=tuple(_done(step, now, each.pulled) for step in one.steps))
        for one, each in zip(planned, going, strict=True)
    ]
    first, later = max(soonest, eat), max(slowest, eat)
    shown = in_order(days, wall, Step("serve", "on the table", first, first, later))
    edible = [one.dish.piece.mass_g.mid * one.share.edible.mid for one in going]
    buys = of_pieces([one.piece for one in dishes])
    recalled = last(kitchen, name, 2)
    earlier = tuple(one for one in recalled.cooks if one.entry != going[0].entry.name)[:1]
    several = len(going) > 1
    return Meal(
        dishes[0].recipe.title,
        name,
        wall.shown(first),
        wall.shown(later),
        min(_next_check(days)),
        asked.chance,
        asked.eaters,
        needed(asked.eaters, asked.leftovers),
        buys,
        tuple(going[0].share for _ in buys),
        tuple(planned),
        tuple(shown),
        (),
        tuple(shared_out(planned, asked.eaters, edible)),
        (),
        (),
        (),
        _NOTHING,
        (),
        tuple(clashes(planned, asked.carvers, wall)),
        recalled._replace(cooks=earlier),
        tuple(dict.fromkeys([*waiting, *(note for one in going for note in _notes(one, now, several))])),
        tuple(_late(going, asked, later)),
        tuple(warned(kitchen, [dishes[0].recipe])),
    )


def _day(kitchen: Kitchen, one: _Going, carved: datetime, wishes: Wishes, wall: Wall) -> Day:
    cooker = one.dish.wanted.cooker
    fire = fire_of(kitchen, cooker.kind if cooker is not None else "oven", one.dish.cooker)
    return day(one.dish, inside(kitchen, one.dish.recipe), fire, carved, wishes, wall, one.on)


def _next_check(days: Sequence[Day]) -> list[datetime]:
    """When each piece still on the heat is to be looked at; of pieces that are all off, when they were."""
    checks = [step for one in days for step in one.steps if step.key == "check"]
    return [step.at for step in checks if not step.done] or [max(step.at for step in checks)]


def _done(step: Step, now: datetime, pulled: datetime | None) -> Step:
    """A step as it stands now: what has happened is done, what is to come is not before now."""
    happened = step.key == "on" or (pulled is not None and step.key in ("stall", "wrap", "check", "pull"))
    if happened:
        at = pulled if pulled is not None and step.key == "pull" else step.at
        return step._replace(done=True, at=at, earliest=at, latest=at)
    if step.latest < now:
        return step._replace(at=now, earliest=now, latest=now)
    return step._replace(at=max(step.at, now), earliest=max(step.earliest, now))


def _notes(going: _Going, now: datetime, several: bool) -> list[str]:
    """What the plan rests on now and how old that is, and what the forecast noticed."""
    one = going.dish
    name = one.piece.name if several else None
    of_piece, whose = (f" of {name}", f"{name}: ") if name else ("", "")
    cores = [reading for reading in one.wanted.readings if reading.depth_cm is None]
    if not cores:
        log = "`cookbook log reading core=48C pit=121C`"
        return [f"no reading of the core{of_piece} is logged since it went on: {log}"]
    newest = cores[-1]
    old = (now - after(going.on, newest.minute)).total_seconds() / 60
    said = f"by {going.entry.name}: the core{of_piece} was {tenth(newest.temp_c)} °C {spoken(max(old, 0.0))} ago"
    more = "; take another reading" if old > OLD_MIN and one.wanted.pulled_min is None else ""
    return [f"{said}, the {_nth(len(cores))} reading{more}", *(f"{whose}{note}" for note in one.found.notes[3:])]


def _nth(count: int) -> str:
    ending = "th" if 10 <= count % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(count % 10, "th")
    return f"{count}{ending}"


def _late(going: Sequence[_Going], asked: Asked, later: datetime) -> list[str]:
    """By how much it may be late, and what a hotter pit from now on would do for the slowest on the heat."""
    if asked.eat is None or later <= asked.eat + timedelta(minutes=1):
        return []
    late = (later - asked.eat).total_seconds() / 60
    said = f"with {asked.chance:.0%} confidence it may be {spoken(late)} late"
    cooking = [one for one in going if one.pulled is None]
    if not cooking:
        return [f"{said}: rest it shorter, or serve later"]
    one = max(cooking, key=lambda one: after(one.on, one.dish.minutes(asked.chance) + one.rest_min)).dish
    for step in HOTTER_K:
        gained = one.minutes(asked.chance) - (_hotter(one, one.wanted.pit_c + step, asked.chance) or 1e9)
        if gained >= late:
            return [f"{said}: a pit of {one.wanted.pit_c + step:.0f} °C from now on makes up for it, or serve later"]
    return [f"{said}, and a pit {HOTTER_K[-1]:.0f} K hotter does not make up for it: serve later, or cut it in two"]


def _hotter(one: Dish, pit_c: float, chance: float) -> float | None:
    try:
        found = told_by(one.wanted._replace(from_now_c=pit_c), one.known)
    except CookbookError:
        return None
    return within(found.minutes_to_pull, chance) if found.reaches else None
