"""What this cook's own entries have taught, as plain records that the lower rooms define."""

from __future__ import annotations

from cookbook.errors import CookbookError
from cookbook.journal.made import bowl, made
from cookbook.kitchen.descent import Cook, cooks_of
from cookbook.kitchen.kitchen import Kitchen
from cookbook.meat import Piece
from cookbook.meat.coverage import learned
from cookbook.quantity import salt_in
from cookbook.recipe.scaling import Habits


def habits(kitchen: Kitchen, recipe: str) -> Habits:
    """The salt that went on in the cooks of `recipe` (lowest and highest, percent of the meat), this cook's own
    coverage (g on each cm², from bowls weighed before and after) and the share of a bowl that stays behind."""
    salts, coverages, spares = [], [], []
    for cook in cooks_of(kitchen, recipe):
        pieces = _pieces(kitchen, cook, recipe)
        salt = _salt_g(kitchen, cook)
        if pieces and salt:
            salts.append(100 * salt / sum(piece.boneless_mass_g.mid for piece in pieces))
        weighed = bowl(cook.entry.as_made.get(cook.called, ()))
        if pieces and weighed.used_g is not None:
            coverages.append(weighed.used_g / sum(piece.coated_cm2.mid for piece in pieces))
        if weighed.full is not None and weighed.left_g is not None and weighed.empty is not None:
            spares.append(weighed.left_g / (weighed.full - weighed.empty))
    return Habits((min(salts), max(salts)) if salts else None, learned(coverages), learned(spares))


def _salt_g(kitchen: Kitchen, cook: Cook) -> float:
    made_of, sheet = cook.entry.as_made.get(cook.called, ()), cook.entry.sheet.get(cook.called, {})
    items, _ = made(made_of, sheet, kitchen.weights)
    grams = 0.0
    for item in items:
        share = salt_in(item.item) if item.amount is not None else 0.0
        weight = item.amount.grams(item.item, kitchen.weights) if share and item.amount is not None else None
        grams += share * weight.mid if weight is not None else 0.0
    return grams


def _pieces(kitchen: Kitchen, cook: Cook, recipe: str) -> list[Piece]:
    try:
        cut = kitchen.recipe(recipe).meat
        return [found for piece in cook.entry.pieces if (found := piece.piece(cut)) is not None]
    except CookbookError:
        return []
