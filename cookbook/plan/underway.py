"""Planning again while it cooks: the open entry's fire and readings say when the rest of the day comes."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta

from cookbook.errors import CookbookError, RequestError
from cookbook.heat import within
from cookbook.journal import Entry
from cookbook.journal.outcome import moment_of
from cookbook.kitchen import Kitchen
from cookbook.kitchen import outlook as outlooks
from cookbook.kitchen.care import cooked_recipe, inside
from cookbook.kitchen.descent import names_of
from cookbook.kitchen.outlook import told_by
from cookbook.kitchen.recall import last
from cookbook.meat import Cut
from cookbook.plan.buying import of_pieces
from cookbook.plan.cost import Cost
from cookbook.plan.dish import Dish, dish
from cookbook.plan.fire import fire_of
from cookbook.plan.meal import Meal, plan_meal
from cookbook.plan.part import Asked
from cookbook.plan.portioning import needed, share
from cookbook.plan.remark import warned
from cookbook.plan.serving import serve
from cookbook.plan.step import Step, Wall, after, five, spoken
from cookbook.plan.timeline import Wishes, day, in_order

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
    on = moment_of(entry, "on")
    if on is None and asked.eat is None:
        raise RequestError("nothing is on the heat yet", mend="say when it is to be eaten: --eat 18:30", code="usage")
    if on is None:
        words = {
            piece.name or "": {key: node.text for key, node in piece.fields.nodes.items() if key in _SIZES}
            for piece in entry.pieces
        }
        return plan_meal(kitchen, name, asked._replace(said=words), now, told)
    wanted = outlooks.of_entry(kitchen, entry, asked.heat)
    one = dish(kitchen, cooked_recipe(kitchen, entry) or kitchen.recipe(name), wanted, asked.learn, told)
    return _rest(kitchen, name, entry, one, on, asked, now)


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


def _rest(kitchen: Kitchen, name: str, entry: Entry, one: Dish, on: datetime, asked: Asked, now: datetime) -> Meal:
    wishes = Wishes(asked.chance)
    after_pull = (one.wanted.rest.minutes if one.wanted.rest else 0.0) + one.carve().mid
    soonest = after(on, one.minutes(1 - asked.chance) + after_pull)
    slowest = after(on, one.minutes(asked.chance) + after_pull)
    eat = asked.eat if asked.eat is not None else five(after(slowest, 4.99))
    wall = Wall(eat if asked.eat is not None else now)
    cooker = one.wanted.cooker
    fire = fire_of(kitchen, cooker.kind if cooker is not None else "oven", one.cooker)
    planned = day(one, inside(kitchen, one.recipe), fire, eat, wishes, wall, on)
    first, later = max(soonest, eat), max(slowest, eat)
    pulled = moment_of(entry, "pulled")
    steps = [_done(step, now, pulled) for step in planned.steps]
    serving = Step("serve", "on the table", first, first, later)
    shown = in_order([planned._replace(steps=tuple(steps))], wall, serving)
    eaten = share(Cut.named(one.piece.cut.name, kitchen.cuts), one.found.pull_c)
    served = serve(one, asked.eaters, one.piece.mass_g.mid * eaten.edible.mid)
    return Meal(
        one.recipe.title,
        name,
        wall.shown(first),
        wall.shown(later),
        max(step.at for step in shown if step.key == "check"),
        asked.chance,
        asked.eaters,
        needed(asked.eaters, asked.leftovers),
        of_pieces([one.piece]),
        (eaten,),
        (planned,),
        tuple(shown),
        (),
        (served,),
        (),
        (),
        (),
        _NOTHING,
        (),
        (),
        last(kitchen, name, 1),
        (*_read(entry, one, on, now), *one.found.notes[3:]),
        tuple(_late(one, asked, later, pulled)),
        tuple(warned(kitchen, [one.recipe])),
    )


def _done(step: Step, now: datetime, pulled: datetime | None) -> Step:
    """A step as it stands now: what has happened is done, what is to come is not before now."""
    happened = step.key == "on" or (pulled is not None and step.key in ("stall", "wrap", "check", "pull"))
    if happened:
        at = pulled if pulled is not None and step.key == "pull" else step.at
        return step._replace(done=True, at=at, earliest=at, latest=at)
    if step.latest < now:
        return step._replace(at=now, earliest=now, latest=now)
    return step._replace(at=max(step.at, now), earliest=max(step.earliest, now))


def _read(entry: Entry, one: Dish, on: datetime, now: datetime) -> list[str]:
    """What the plan rests on now, and how old that is."""
    cores = [reading for reading in one.wanted.readings if reading.depth_cm is None]
    if not cores:
        return ["no reading of the core is logged since it went on: `cookbook log reading core=48C pit=121C`"]
    newest = cores[-1]
    old = (now - after(on, newest.minute)).total_seconds() / 60
    said = f"by {entry.name}: the core was {newest.temp_c:g} °C {spoken(max(old, 0.0))} ago"
    count = len(cores)
    others = [piece.name for piece in entry.pieces[1:] if piece.name]
    several = [f"this is the day of its first piece; {', '.join(others)} is not planned again"] if others else []
    more = "; take another reading" if old > OLD_MIN and one.wanted.pulled_min is None else ""
    return [f"{said}, the {_nth(count)} reading{more}", *several]


def _nth(count: int) -> str:
    ending = "th" if 10 <= count % 100 <= 20 else {1: "st", 2: "nd", 3: "rd"}.get(count % 10, "th")
    return f"{count}{ending}"


def _late(one: Dish, asked: Asked, later: datetime, pulled: datetime | None) -> list[str]:
    """By how much it may be late, and what a hotter pit from now on would do."""
    if asked.eat is None or later <= asked.eat + timedelta(minutes=1):
        return []
    late = (later - asked.eat).total_seconds() / 60
    said = f"with {asked.chance:.0%} confidence it may be {spoken(late)} late"
    if pulled is not None:
        return [f"{said}: rest it shorter, or serve later"]
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
