"""What this cook's own entries have taught, as plain records that the lower rooms define."""

from __future__ import annotations

from cookbook.errors import CookbookError
from cookbook.journal import Entry
from cookbook.journal.made import bowl, made
from cookbook.kitchen.kitchen import Kitchen
from cookbook.meat import Piece
from cookbook.meat.coverage import learned
from cookbook.quantity import salt_in
from cookbook.recipe.scaling import Habits


def habits(kitchen: Kitchen, recipe: str) -> Habits:
    """The salt that went on in the cooks of `recipe` (lowest and highest, percent of the meat), this cook's own
    coverage (g on each cm², from bowls weighed before and after) and the share of a bowl that stays behind."""
    salts, coverages, spares = [], [], []
    for entry in kitchen.entries(mentioning=recipe):
        if entry.memory or recipe not in entry.versions:
            continue
        pieces = _pieces(kitchen, entry, recipe)
        salt = _salt_g(kitchen, entry, recipe)
        if pieces and salt:
            salts.append(100 * salt / sum(piece.boneless_mass_g.mid for piece in pieces))
        weighed = bowl(entry.as_made.get(recipe, ()))
        if pieces and weighed.used_g is not None:
            coverages.append(weighed.used_g / sum(piece.coated_cm2.mid for piece in pieces))
        if weighed.full is not None and weighed.left_g is not None and weighed.empty is not None:
            spares.append(weighed.left_g / (weighed.full - weighed.empty))
    return Habits((min(salts), max(salts)) if salts else None, learned(coverages), learned(spares))


def _salt_g(kitchen: Kitchen, entry: Entry, recipe: str) -> float:
    items, _ = made(entry.as_made.get(recipe, ()), entry.sheet.get(recipe, {}), kitchen.weights)
    grams = 0.0
    for item in items:
        share = salt_in(item.item) if item.amount is not None else 0.0
        weight = item.amount.grams(item.item, kitchen.weights) if share and item.amount is not None else None
        grams += share * weight.mid if weight is not None else 0.0
    return grams


def _pieces(kitchen: Kitchen, entry: Entry, recipe: str) -> list[Piece]:
    try:
        cut = kitchen.recipe(recipe).meat
        return [found for piece in entry.pieces if (found := piece.piece(cut)) is not None]
    except CookbookError:
        return []
