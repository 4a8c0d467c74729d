"""What this cook's own entries have taught, as plain records that the lower rooms define."""

from __future__ import annotations

from cookbook.errors import CookbookError
from cookbook.journal.made import made
from cookbook.kitchen.descent import Cook, cooks_of
from cookbook.kitchen.kitchen import Kitchen
from cookbook.quantity import salt_in
from cookbook.recipe.scaling import Habits


def habits(kitchen: Kitchen, recipe: str) -> Habits:
    """The range of salt, in percent of the meat, that went on in the cooks of `recipe` so far."""
    shares = [
        share
        for cook in cooks_of(kitchen, recipe)
        if (share := _salt_percent(kitchen, cook, recipe)) is not None
    ]
    return Habits((min(shares), max(shares)) if shares else None)


def _salt_percent(kitchen: Kitchen, cook: Cook, recipe: str) -> float | None:
    entry = cook.entry
    items, _ = made(entry.as_made.get(cook.called, ()), entry.sheet.get(cook.called, {}), kitchen.weights)
    grams = 0.0
    for item in items:
        weight = item.amount.grams(item.item, kitchen.weights) if item.amount is not None else None
        grams += salt_in(item.item) * weight.mid if weight is not None else 0.0
    try:
        cut = kitchen.recipe(recipe).meat
        pieces = [found for piece in entry.pieces if (found := piece.piece(cut)) is not None]
    except CookbookError:
        return None
    meat = sum(piece.boneless_mass_g.mid for piece in pieces)
    return 100 * grams / meat if grams and meat else None
