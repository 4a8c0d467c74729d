"""What a plan is asked for, and one recipe of it with its pieces: bought for the eaters, or there already."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from types import MappingProxyType
from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.forecasting import outlook as outlooks
from cookbook.kitchen.learning.fires import cook_loss
from cookbook.kitchen.sizing import Said
from cookbook.meat import Cut
from cookbook.plan.buying import Buy, buy, of_pieces
from cookbook.plan.dish import Dish, dish
from cookbook.plan.eater import Eater
from cookbook.plan.portioning import Share, needed, raw_for, share
from cookbook.plan.serving import wished
from cookbook.plan.trouble import refuse_allergies
from cookbook.quantity import Interval
from cookbook.recipe import Recipe

FORECAST_C = 60.0
"""The pull that the meat to buy is reckoned by where neither the recipe nor the cook names one."""


class Asked(NamedTuple):
    """What a plan is asked for. `said` are pieces that are there already, by name; `beside` other cooks of the same
    meal with their cooker (None: the recipe's own); `further` a doneness that the smallest piece is taken to."""

    eat: datetime | None
    eaters: tuple[Eater, ...]
    said: Mapping[str, Mapping[str, str]] = MappingProxyType({})
    heat: outlooks.Asked = outlooks.Asked()
    chance: float = 0.9
    leftovers: int = 0
    beside: tuple[tuple[str, str | None], ...] = ()
    carvers: int = 1
    frozen: bool = False
    film: bool = False
    learn: bool = True
    further: str | None = None


class Part(NamedTuple):
    """One recipe of the meal with what to buy for it, in pieces as the files say them."""

    recipe: Recipe
    bought: tuple[Buy, ...]
    share: Share
    said: Said
    heat: outlooks.Asked

    @property
    def cooker(self) -> str:
        """The cooker it is meant for, by its name or kind."""
        return self.heat.cooker or (self.recipe.pit.cooker if self.recipe.pit else None) or "oven"


def parts_of(kitchen: Kitchen, name: str, asked: Asked) -> list[Part]:
    """Every recipe of the meal with its meat; the eaters are fed by all of them alike. Raises RequestError."""
    recipes = [(kitchen.recipe(name), asked.heat)]
    recipes += [
        (kitchen.recipe(other), outlooks.Asked(cooker=cooker)) for other, cooker in asked.beside
    ]  # fmt: skip
    found = []
    need = needed(asked.eaters, asked.leftovers).scaled(1 / len(recipes))
    bones = sum(1 for one in asked.eaters if one.bone)
    for place, (recipe, heat) in enumerate(recipes):
        if recipe.kind != "cook" or recipe.meat is None:
            mend = "plan one of the cooks that use it"
            raise RequestError(f"{recipe.name} is a {recipe.kind}, no cook with a cut", mend=mend)
        kitchen.no_loop(recipe)
        refuse_allergies(kitchen, recipe, asked.eaters)
        cut = Cut.named(recipe.meat, kitchen.cuts)
        for one in asked.eaters:
            wished(one, cut.species)
        found.append(_part(kitchen, recipe, cut, heat, need, bones, asked.said if not place else {}))
    return found


def _part(
    kitchen: Kitchen, recipe: Recipe, cut: Cut, heat: outlooks.Asked, need: Interval, bones: int, said: Said
) -> Part:
    pull_c = heat.pull_c if heat.pull_c is not None else recipe.pull_at.c if recipe.pull_at else FORECAST_C
    off = next((one.get("bones") for one in said.values()), None)
    known = share(cut, pull_c, off, cook_loss(kitchen, cut.name))
    if said:
        pieces = [outlooks.piece_of(kitchen, cut.name, {key: words}) for key, words in said.items()]
        return Part(recipe, of_pieces(pieces), known, said, heat)
    bought = buy(cut, raw_for(need, known.edible), bones)
    size = {"ribs": str(bought.ribs)} if bought.ribs else {"weight": f"{bought.each_g:.0f} g"}
    names = [""] if bought.pieces == 1 else [f"{number + 1}" for number in range(bought.pieces)]
    return Part(recipe, (bought,), known, dict.fromkeys(names, size), heat)


def dishes_of(kitchen: Kitchen, part: Part, asked: Asked, told: Callable[[str], None]) -> list[Dish]:
    """A dish for each piece; pieces alike share one forecast."""
    found: list[Dish] = []
    seen: dict[tuple[object, ...], Dish] = {}
    smallest = _smallest(kitchen, part) if asked.further and len(part.said) > 1 else None
    for name, words in part.said.items():
        heat = part.heat._replace(want=asked.further, pull_c=None) if name == smallest else part.heat
        key = (tuple(sorted(words.items())), heat)
        if key not in seen:
            wanted = outlooks.of_recipe(kitchen, part.recipe, {name: words}, heat)
            seen[key] = dish(kitchen, part.recipe, wanted, asked.learn, told)
        one = seen[key]
        piece = one.piece._replace(name=name or None)
        found.append(one._replace(piece=piece, wanted=one.wanted._replace(piece=piece)))
    if asked.further and smallest is None:
        raise RequestError("--further is for the smallest of several pieces", mend="name two with --piece")
    return found


def _smallest(kitchen: Kitchen, part: Part) -> str:
    cut = part.recipe.meat or ""
    return min(part.said, key=lambda name: outlooks.piece_of(kitchen, cut, {name: part.said[name]}).mass_g.mid)


def edible_g(part: Part, one: Dish) -> float:
    """What a piece brings to the plates, g."""
    return one.piece.mass_g.mid * part.share.edible.mid
