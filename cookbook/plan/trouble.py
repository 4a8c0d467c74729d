"""What stands in the way of a plan, each with by how much and the ways out of it."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime, timedelta
from typing import NamedTuple

from cookbook.errors import CookbookError, RequestError
from cookbook.heat import within
from cookbook.kitchen import Kitchen
from cookbook.kitchen.care import inside
from cookbook.kitchen.forecasting.outlook import told_by
from cookbook.plan.buying import kilograms
from cookbook.plan.dish import Dish
from cookbook.plan.eater import Eater
from cookbook.plan.step import spoken
from cookbook.quantity import allergens
from cookbook.quantity.naming import words_of
from cookbook.recipe import Recipe
from cookbook.safety import thaw

HOTTER_K = (10.0, 20.0, 30.0, 45.0, 60.0)
HOTTEST_C = 175.0
"""No roast is driven hotter than this to save a dinner (judgement): beyond it the outside is done long before."""
MEMBERS = 40


class Hit(NamedTuple):
    """An ingredient that an eater must not have."""

    eater: str
    allergy: str
    item: str
    recipe: Recipe
    instead: tuple[str, ...]


def hits(recipes: Iterable[Recipe], eaters: Sequence[Eater]) -> Iterator[Hit]:
    """Every ingredient that is, or by its name contains, what an eater is allergic to."""
    for recipe in recipes:
        lines = [(line.item, line.alternatives) for line in recipe.ingredients if line.recipe is None]
        lines += [(coat.item, ()) for coat in recipe.coats if coat.item]
        for item, alternatives in lines:
            for one in eaters:
                for allergy in one.allergies:
                    if _is(item, allergy):
                        other = tuple(word for word in alternatives if not _is(word, allergy))
                        yield Hit(one.name, allergy, item, recipe, other)


def to_read(recipes: Iterable[Recipe], eaters: Sequence[Eater]) -> list[str]:
    """Sentences on ingredients whose label has to be read for someone's allergy."""
    found = []
    for recipe in recipes:
        for line in recipe.ingredients:
            for one in eaters:
                found += [
                    f"{line.item}: read its label for {allergy}, for {one.name}"
                    for allergy in one.allergies
                    if not _is(line.item, allergy)
                    and any(_means(str(it), allergy) for it in allergens(line.item).check)
                ]
    return list(dict.fromkeys(found))


def _is(item: str, allergy: str) -> bool:
    if set(words_of(allergy)) <= set(words_of(item)):
        return True
    return any(_means(str(one), allergy) for law in ("eu", "us") for one in allergens(item, law).contains)


def _means(allergen: str, allergy: str) -> bool:
    return set(words_of(allergy)) - {"tree"} <= set(words_of(allergen))


def refuse_allergies(kitchen: Kitchen, recipe: Recipe, eaters: Sequence[Eater]) -> None:
    """Raises RequestError where a recipe or one inside it holds what someone must not eat."""
    found = list(hits([recipe, *inside(kitchen, recipe)], eaters))
    if not found:
        return
    who = "; ".join(
        dict.fromkeys(f"{hit.eater} must not have {hit.allergy}: {hit.item} in {hit.recipe.name}" for hit in found)
    )
    first = found[0]
    swaps = [f"take {hit.instead[0]} in the place of {hit.item}" for hit in found if hit.instead]
    ways = [*swaps[:1], f"cook it from a copy of {first.recipe.name} without {first.item}"]
    other = _without(kitchen, recipe, eaters)
    ways += [f"cook {other}, which has none of it"] if other else []
    names = ",".join(dict.fromkeys(hit.eater for hit in found))
    ways.append(f'cook something else for them and plan without: --apart "{names}"')
    raise RequestError(who, mend="; ".join(ways), code="allergy")


def _without(kitchen: Kitchen, recipe: Recipe, eaters: Sequence[Eater]) -> str | None:
    """Another cook of this kitchen that hits nobody, of the same cut first."""
    found: list[tuple[bool, str]] = []
    for name in kitchen.recipe_names():
        try:
            other = kitchen.recipe(name)
            if other.kind == "cook" and name != recipe.name:
                clean = next(hits([other, *inside(kitchen, other)], eaters), None) is None
                found += [(other.meat != recipe.meat, name)] if clean else []
        except CookbookError:
            continue
    return min(found)[1] if found else None


def refuse_overfull(kitchen: Kitchen, loads: Sequence[tuple[str, float]]) -> None:
    """Raises RequestError where a cooker of the kitchen is given more meat (cooker, g) than it holds."""
    cookers = kitchen.shared("cookers.yaml") or {}
    for name in dict.fromkeys(cooker for cooker, _ in loads):
        holds = (cookers.get(name) or {}).get("holds")
        load = sum(grams for cooker, grams in loads if cooker == name)
        if holds is None or load <= holds:
            continue
        bigger = [other for other, fields in cookers.items() if other != name and (fields.get("holds") or 0) >= load]
        ways = [f"--cooker {bigger[0]}"] if bigger else []
        ways += ["a second cooker for a part of it", "two cooks one after the other", "fewer eaters on this meat"]
        over = kilograms(load - holds)
        message = f"{kilograms(load)} of meat, and the {name} holds {kilograms(holds)}: {over} too much"
        raise RequestError(message, mend="; ".join(ways), code="overfull")


def refuse_late(dish: Dish, short_min: float, chance: float, eat: datetime) -> None:
    """Raises RequestError: the fire would have had to be lit `short_min` ago; says what would still do."""
    ways = []
    hotter = _hotter(dish, short_min, chance)
    if hotter is not None:
        ways.append(f"a pit of {hotter:.0f} °C in the place of {dish.wanted.pit_c:.0f} (--pit {hotter:.0f}C)")
    else:
        ways.append(f"no pit within reason makes up for it (up to {HOTTEST_C:.0f} °C, or {HOTTER_K[-1]:.0f} K more)")
    halves = _halved(dish, short_min, chance)
    if halves:
        ways.append(halves)
    later = eat + timedelta(minutes=-(-short_min // 5) * 5)
    ways.append(f"serve at {later:%H:%M} (--eat {later.isoformat(timespec='minutes')})")
    odds = next((odd for odd in (0.8, 0.7, 0.6, 0.5) if dish.minutes(odd) <= dish.minutes(chance) - short_min), None)
    if odds is not None and odds < chance:
        ways.append(f"take the risk: {odds:.0%} of being in time (--confidence {odds:.0%})")
    raise RequestError(
        f"too late by {spoken(short_min)} for {dish.name} at {eat:%H:%M} with {chance:.0%} confidence",
        mend="; ".join(ways), code="too-late",
    )  # fmt: skip


def refuse_frozen(dish: Dish, hours: float, eat: datetime) -> None:
    """Raises RequestError where the safety room's thawing does not fit into the hours before the fire."""
    slow, quick = thaw(dish.piece.mass_g.mid), thaw(dish.piece.mass_g.mid, "cold water")
    if hours >= slow.low_h:
        return
    short = slow.low_h - hours
    ways = []
    if hours >= quick.high_h:
        ways.append(f"cold water, {quick.high_h:.0f} h, {quick.rule} (then plan without --frozen)")
    later = eat + timedelta(hours=math.ceil(short))
    ways += [
        f"serve at {later:%a %H:%M} (--eat {later.isoformat(timespec='minutes')})",
        "meat that is thawed already",
    ]
    raise RequestError(
        f"{dish.name} is frozen and takes {slow.low_h:.0f} to {slow.high_h:.0f} h in the refrigerator: "
        f"{math.ceil(short)} h too few before the fire",
        mend="; ".join(ways),
        code="frozen",
    )


def _hotter(dish: Dish, short_min: float, chance: float) -> float | None:
    """The least hotter pit that makes up for the time, None within reason."""
    for step in HOTTER_K:
        pit_c = dish.wanted.pit_c + step
        if pit_c > HOTTEST_C:
            return None
        minutes = _minutes(dish._replace(wanted=dish.wanted._replace(pit_c=pit_c)), chance)
        if minutes is not None and minutes <= dish.minutes(chance) - short_min:
            return pit_c
    return None


def _halved(dish: Dish, short_min: float, chance: float) -> str:
    """In words what two halves of the piece would save, '' where they save nothing or are no roast."""
    piece = dish.piece
    try:
        half = piece.cut.piece(piece.mass_g.mid / 2)
    except CookbookError:
        return ""
    minutes = _minutes(dish._replace(wanted=dish.wanted._replace(piece=half)), chance)
    saved = 0.0 if minutes is None else dish.minutes(chance) - minutes
    if saved < 5 or half.mass_g.mid < 1000 * piece.cut.usual_kg[0]:
        return ""
    enough = "" if saved >= short_min else f", which saves {spoken(saved)} only"
    return f"two pieces of {kilograms(half.mass_g.mid)} in the place of one{enough}"


def _minutes(dish: Dish, chance: float) -> float | None:
    return within(told_by(dish.wanted, dish.known, MEMBERS).minutes_to_pull, chance)
