"""The steps before the fire: buying, thawing, and each coat when its recipe says that it goes on."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta

from cookbook.plan.dish import Dish, hand_minutes
from cookbook.plan.step import Step, Wall, after, before
from cookbook.recipe import Recipe
from cookbook.safety import keeping_finding, out_limit_min, raw_for, thaw

EVENING, MORNING, SHOP = (17, 20, 22), (7, 9, 11), (9, 12, 18)
"""Earliest, usual and latest hour of what is done in the evening, in the morning, while shops are open (practice)."""
_EVENING = re.compile(r"\b(evening|night|day) before\b|\bovernight\b", re.I)
_MORNING = re.compile(r"\bin the morning\b", re.I)
_HOURS = re.compile(
    r"\b(?P<count>\d+(?:\.\d+)?|an|one|two|three|four|five|six) (?P<unit>hours?|minutes?|min|h) before\b", re.I
)
_WORDS = {"an": 1.0, "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0, "six": 6.0}
_FIRE = re.compile(r"\bbefore (lighting|the fire is lit)\b", re.I)


def seasoning(dish: Dish, coats: Sequence[Recipe], on: datetime, lit: datetime, wall: Wall) -> list[Step]:
    """A step for each sentence that says when a coat goes on; two hours before the fire where none says it."""
    found = [
        one
        for recipe in (dish.recipe, *coats)
        for sentence in recipe.steps
        if (one := _told(sentence, recipe, dish, on, lit, wall)) is not None
    ]
    told = {one.what for one in found}
    missing = [] if told else coats[:1] or ([dish.recipe] if dish.recipe.coats else [])
    for recipe in missing:
        latest = before(lit, 0)
        early = min(wall.at(wall.day(on) - timedelta(days=1), EVENING[0]), before(latest, 120))
        what = f"season: {recipe.title}"
        found.append(Step("season", what, before(latest, 120), early, latest, dish.name, _then_cold(early, on)))
    return sorted(found, key=lambda one: one.at)


def _told(sentence: str, recipe: Recipe, dish: Dish, on: datetime, lit: datetime, wall: Wall) -> Step | None:
    hours = _HOURS.search(sentence)
    day = wall.day(on)
    work = hand_minutes("season", dish.piece.mass_g.mid / 1000)
    if hours is not None:
        count = _WORDS.get(hours["count"].casefold()) or float(hours["count"])
        minutes = count * (60 if hours["unit"][0] in "hH" else 1)
        at = before(lit if _FIRE.search(sentence) else on, minutes)
        low, high = before(at, work.high), min(after(at, work.high), on)
    elif _EVENING.search(sentence):
        low, at, high = (wall.at(day - timedelta(days=1), hour) for hour in EVENING)
        if high > lit:
            low, at, high = before(lit, 4 * 60), before(lit, 2 * 60), lit
    elif _MORNING.search(sentence):
        low, at, high = (wall.at(day, hour) for hour in MORNING)
        if high > lit:
            low, at, high = before(lit, 3 * 60), before(lit, 90), lit
    else:
        return None
    what = "season" if recipe is dish.recipe else f"season: {recipe.title}"
    return Step("season", what, at, low, high, dish.name, f"{sentence} {_then_cold(at, on)}".rstrip())


def _then_cold(at: datetime, on: datetime) -> str:
    """The safety room's limit, where the wait is longer than a counter allows."""
    limit = out_limit_min(None)
    if (on - at).total_seconds() / 60 <= limit / 2:
        return ""
    return f"Back into the refrigerator until it goes on; out for {limit:.0f} min at most in all."


def thawing(dish: Dish, needed: datetime) -> Step:
    """Into the refrigerator in time, by the safety room's hours."""
    found = thaw(dish.piece.mass_g.mid)
    keeps_h = 24 * _keeps_days(dish)
    slow, quick = before(needed, 60 * found.high_h), before(needed, 60 * found.low_h)
    early = before(needed, 60 * (found.low_h + keeps_h))
    return Step(
        "thaw", "thaw: from the freezer into the refrigerator", slow, min(early, slow), quick, dish.name,
        f"{found.low_h:.0f} to {found.high_h:.0f} h in the refrigerator; never on the counter.",
    )  # fmt: skip


def buying(dish: Dish, first: datetime, on: datetime, wall: Wall, frozen: bool) -> Step:
    """Not before raw meat keeps until the fire, not after the first thing that is done to it."""
    day = wall.day(first)
    usual = wall.at(day - timedelta(days=1), SHOP[1])
    if frozen:
        return Step("buy", "buy what is on the list", usual, before(usual, 7 * 1440), before(on, 180), dish.name)
    keeps = _keeps_days(dish)
    early = wall.at(wall.day(before(on, 1440 * keeps)), SHOP[0])
    latest = before(first, 60)
    said = f"Raw {dish.piece.cut.species} keeps {keeps:g} day{'' if keeps == 1 else 's'} in the refrigerator."
    what = "buy the meat and the rest of the list"
    return Step("buy", what, max(usual, early), min(early, latest), latest, dish.name, said)


def _keeps_days(dish: Dish) -> float:
    limit = keeping_finding(raw_for(dish.piece.cut.species), 0).limit
    return float(limit) if isinstance(limit, float | int) else 1.0


def taking_out(dish: Dish, on: datetime) -> Iterator[Step]:
    """Out of the refrigerator just before it goes on: the counter warms no roast in its middle."""
    work = hand_minutes("take out")
    limit = out_limit_min(None)
    note = f"Out for {limit:.0f} min at most in all, {out_limit_min(33.0):.0f} where it is hotter than 32 °C."
    yield Step(
        "out", "take it out, probe in the middle", before(on, work.mid), before(on, work.high), before(on, work.low),
        dish.name, note,
    )  # fmt: skip
