"""What this cook's own entries have taught, as plain records that the lower rooms define."""

from __future__ import annotations

from cookbook.journal.made import bowl
from cookbook.kitchen.applied import applied
from cookbook.kitchen.descent import cooks_of
from cookbook.kitchen.kitchen import Kitchen
from cookbook.meat.coverage import learned
from cookbook.recipe.scaling import Habits


def habits(kitchen: Kitchen, recipe: str) -> Habits:
    """The salt that went on in the cooks of `recipe` (lowest and highest, percent of the meat), this cook's own
    coverage (g on each cm², from bowls weighed before and after) and the share of a bowl that stays behind."""
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
