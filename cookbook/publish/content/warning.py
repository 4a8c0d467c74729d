"""The cautions of a card: what safety says of the recipe and all inside it, each under a short heading."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from cookbook.publish import wording
from cookbook.publish.content import Caution
from cookbook.publish.secret import unnamed, words_of
from cookbook.safety import NOTE, Finding, recipe_cautions, recipe_safety
from cookbook.safety.allergy import SOURCE, allergen_words
from cookbook.table import source

if TYPE_CHECKING:
    from cookbook.recipe import Recipe

HEADS = {
    "garlic-in-oil": "Keeping", "cure": "Curing salt", "safe-temperature": "By the thermometer",
    "planned-pull": "When it comes off", "guests": "Guests", "raw-meat": "Clean hands", "taste-first": "Tasting",
    "carbon-monoxide": "Smoke and air", "ash": "Fire and ash", "hot-fat": "Flare-ups", "fire-code": "Fire rules",
    "authority": "Local advice",
}
"""A short heading for each caution; one without a heading here stands under its own key."""

SAID_BY_CAUTION = ("garlic in oil",)
"""Findings whose matter a caution states already."""


def warnings(recipe: Recipe, inside: Sequence[Recipe]) -> list[Caution]:
    """The cautions that apply, with what this recipe as written runs into and its allergens; local advice last."""
    told = [_caution(found.rule.replace(" ", "-"), wording.both_scales(wording.sentence(found.message)), found.source)
            for found in recipe_safety(recipe, inside) if _worth_saying(found)]
    said = [_caution(one.key, one.text, one.source) for one in recipe_cautions(recipe, inside)]
    after = next((place for place, one in enumerate(said, 1) if one.key == "safe-temperature"), 0)
    listed = allergen_words((recipe, *inside))
    allergens = [_caution("allergens", listed, SOURCE)] if listed else []
    found = list(dict.fromkeys([*said[:after], *told, *said[after:-1], *allergens, said[-1]]))
    hidden = _hidden(recipe, {one.name: one for one in inside}, recipe.private)
    return [_unnamed(one, hidden) for one in found] if hidden else found


def _hidden(recipe: Recipe, known: Mapping[str, Recipe], private: bool) -> set[str]:
    """The words of every private formula in a recipe, and of all that goes into one."""
    found = words_of(recipe) if private else set()
    for name in recipe.uses:
        if name in known:
            found |= _hidden(known[name], known, private or known[name].private)
    return found


def _unnamed(caution: Caution, hidden: set[str]) -> Caution:
    """A caution that names nothing of a private formula; allergens alone must be named."""
    if caution.key == "garlic-in-oil":
        return caution._replace(text=re.sub(r"^Fresh .+? in oil or fat", "What is fresh and lies in oil or fat",
                                            caution.text))
    if caution.key in HEADS or caution.key == "allergens":
        return caution
    return caution._replace(text=unnamed(caution.text, hidden))


def _worth_saying(found: Finding) -> bool:
    """A pull below the household line is named for what it is; so is whatever is graver than a note."""
    if found.rule == "planned pull" and isinstance(found.value, float) and isinstance(found.limit, float):
        return found.level != NOTE or found.value < found.limit
    return found.level != NOTE and found.rule not in SAID_BY_CAUTION


def _caution(key: str, text: str, where: str) -> Caution:
    head = HEADS.get(key, wording.capital(key.replace("-", " ")))
    return Caution(key, head, wording.bound(text), source(where).title)
