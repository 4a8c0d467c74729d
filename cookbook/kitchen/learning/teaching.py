"""Reads out of the entries what they teach about a recipe."""

from __future__ import annotations

from cookbook.journal.made import bowl
from cookbook.kitchen.descent import cooks_of
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.learning.applied import applied
from cookbook.meat.coverage import learned
from cookbook.recipe.scaling import Habits


def taught(kitchen: Kitchen, recipe: str) -> Habits:
    """The habits of `recipe`, from every counted cook of it under any name it had."""
    salts, coverages, spares = [], [], []
    for cook in cooks_of(kitchen, recipe):
        found = applied(kitchen, cook.entry, cook.called)
        if found.salt_g_per_kg is not None:
            salts.append(found.salt_g_per_kg / 10)
        if found.coat_mg_per_cm2 is not None:
            coverages.append(found.coat_mg_per_cm2 / 1000)
        weighed = bowl(cook.entry.as_made.get(cook.called, ()))
        if weighed.full is not None and weighed.left_g is not None and weighed.empty is not None:
            spares.append(weighed.left_g / (weighed.full - weighed.empty))
    return Habits((min(salts), max(salts)) if salts else None, learned(coverages), learned(spares))
