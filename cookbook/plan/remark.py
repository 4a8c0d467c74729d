"""What a plan has to say beside its numbers: limits it runs into, wishes it misses, steps whose time has passed."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from cookbook.kitchen import Kitchen
from cookbook.kitchen.care import inside, species_of
from cookbook.kitchen.learning.fires import rises
from cookbook.plan.dish import HOLD_AT
from cookbook.plan.part import Asked, Part, edible_g
from cookbook.plan.portioning import needed
from cookbook.plan.pulling import Pull, best
from cookbook.plan.serving import Served
from cookbook.plan.step import Step, spoken
from cookbook.plan.timeline import Day
from cookbook.plan.trouble import to_read
from cookbook.quantity import Temperature
from cookbook.quantity.number import tenth
from cookbook.recipe import Recipe
from cookbook.safety import STOP, WARN, Finding, recipe_cautions, recipe_safety

ALIKE_K = 5.0
"""A pull further than this from the recipe's own rises otherwise than the cooks before (judgement)."""
LEAST_SEEN = 2
"""So many cooks must have shown their rise before a forecast is held against them (judgement)."""


def remarks(
    kitchen: Kitchen,
    parts: Sequence[Part],
    days: Sequence[Day],
    asked: Asked,
    served: Sequence[Served],
    ranked: Sequence[Pull],
) -> tuple[list[str], list[str]]:
    """Notes and warnings, each once."""
    notes = [note for one in served for note in one.notes]
    warnings: list[str] = []
    for part in parts:
        found = _safety(kitchen, part)
        warnings += [one.message for one in found if one.level in (STOP, WARN) and one.message]
        notes += [one.message for one in found if one.level not in (STOP, WARN) and one.message]
        notes += _bones(part, asked)
        notes += to_read([part.recipe, *inside(kitchen, part.recipe)], asked.eaters)
    for one in days:
        warnings += [*_waits(one), *unlike_before(kitchen, one)]
    warnings += _unmet(served, ranked)
    edible = sum(edible_g(part, one.dish) for one in days for part in parts if part.recipe is one.dish.recipe)
    need = needed(asked.eaters, asked.leftovers)
    if asked.said and edible < need.low:
        warnings.append(
            f"about {edible:.0f} g come to the plates, and {len(asked.eaters)} eaters take at least {need.low:.0f} g"
        )
    return list(dict.fromkeys(notes)), list(dict.fromkeys(warnings))


def _bones(part: Part, asked: Asked) -> list[str]:
    who = [one.name for one in asked.eaters if one.bone]
    if not who:
        return []
    cut = part.recipe.meat or ""
    if part.share.boned.mid >= 1:
        return [f"no bone in {cut} for {', '.join(who)}"]
    ribs = sum((one.ribs or 0) * one.pieces for one in part.bought)
    return [f"a bone for {', '.join(who)}" + (f", of {ribs} ribs" if ribs else "")]


def passed(steps: Sequence[Step], now: datetime) -> list[str]:
    """Sentences on what should have been done by now."""
    gone = [step for step in steps if step.latest < now and step.key in ("buy", "thaw", "season")]
    return [f"{step.what}: the time for it was until {step.latest:%a %H:%M}, do it at once" for step in gone]


def _waits(one: Day) -> list[str]:
    limit = one.dish.hold.limit_min
    if one.slack_min <= limit + 1:
        return []
    then = (
        f"then hold it at {HOLD_AT}, in an oven or a box"
        if one.dish.falls_apart
        else "turn the pit down if it runs ahead, or serve earlier; `plan --now` reads the meat and says when"
    )
    return [
        f"{one.dish.name}: done at the early end it waits {spoken(one.slack_min)} and keeps {spoken(limit)}: {then}"
    ]


def unlike_before(kitchen: Kitchen, one: Day) -> list[str]:
    """A sentence where the forecast carries the core further after the pull than any cook here did, or less far."""
    found, seen = one.dish.found, rises(kitchen, one.dish.piece.cut.name)
    low, high = found.peak_c.p10, found.peak_c.p90
    usual = one.dish.recipe.pull_at
    if usual is None or abs(found.pull_c - usual.c) > ALIKE_K:
        return []
    if len(seen) < LEAST_SEEN or low is None or high is None:
        return []
    low, high = low - found.pull_c, high - found.pull_c
    if low <= max(seen) and min(seen) <= high:
        return []
    least, most = f"{min(seen):.0f}", f"{max(seen):.0f}"
    here = f"{len(seen)} cooks of this cut here rose {least if least == most else f'{least} to {most}'} K"
    said = f"{one.dish.name}: forecast to rise {low:.0f} to {high:.0f} K after the pull, and {here}"
    return [f"{said}: go by the thermometer in the rest"]


def _safety(kitchen: Kitchen, part: Part) -> list[Finding]:
    """What the safety room says of the recipe as it is to be cooked."""
    recipe = part.recipe
    if part.heat.pull_c is not None:
        recipe = recipe._replace(pull_at=Temperature.parse(f"{part.heat.pull_c:g} °C"))
    return recipe_safety(recipe, inside(kitchen, recipe), lambda cut: species_of(kitchen, cut))


def warned(kitchen: Kitchen, recipes: Sequence[Recipe]) -> list[str]:
    """The cautions of the safety room for all that is cooked, each once."""
    found = [
        one.text
        for recipe in recipes
        for one in recipe_cautions(recipe, inside(kitchen, recipe), lambda cut: species_of(kitchen, cut))
    ]
    return list(dict.fromkeys(found))


def _unmet(served: Sequence[Served], ranked: Sequence[Pull]) -> list[str]:
    """Wishes that the planned pull misses, and whether another pull would meet them."""
    missed = [one for each in served for one in each.missed]
    if not missed:
        return []
    who = ", ".join(f"{one.name} ({one.likes})" for one in missed)
    top, planned = best(ranked), next((one for one in ranked if one.planned), None)
    if top is not None and planned is not None and len(top.missed) < len(planned.missed):
        others, pull = ", ".join(top.missed) or "nobody", tenth(top.pull_c)
        return [f"too done for {who}; pulled at {pull} °C it is too done for {others}: --pull {pull}C"]
    if ranked:
        low, high = ranked[0].pull_c, ranked[-1].pull_c
        ways = "the middle slices for them, a second, smaller piece pulled earlier (--piece), or a cooler pit"
        return [f"too done for {who}, and no pull from {tenth(low)} to {tenth(high)} °C serves everybody: {ways}"]
    return [f"too done for {who}: a second piece pulled earlier"]
