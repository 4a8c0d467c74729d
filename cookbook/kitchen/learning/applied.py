"""What one cook put on: the coat on each cm² and the salt on each kg, so that pieces of other sizes compare."""

from __future__ import annotations

from typing import NamedTuple

from cookbook.errors import CookbookError
from cookbook.journal import Entry
from cookbook.journal.made import Made, bowl, made
from cookbook.kitchen.descent import now_called
from cookbook.kitchen.kitchen import Kitchen
from cookbook.meat import Piece
from cookbook.quantity import salt_grams
from cookbook.quantity.salt import trusted


class Applied(NamedTuple):
    """One recipe on the pieces of one cook. `coat_g` is what the bowl says went on, None where nobody weighed it;
    `salt_g` is 0 where none is known; areas in cm², the meat without bones in g, 0 where the piece is unknown."""

    recipe: str
    coat_g: float | None
    salt_g: float
    coated_cm2: float
    meat_g: float
    items: tuple[Made, ...]

    @property
    def coat_mg_per_cm2(self) -> float | None:
        """The coat on each cm² of coated surface."""
        return 1000 * self.coat_g / self.coated_cm2 if self.coat_g is not None and self.coated_cm2 else None

    @property
    def salt_g_per_kg(self) -> float | None:
        """The salt on each kg of meat without its bones."""
        return 1000 * self.salt_g / self.meat_g if self.salt_g and self.meat_g else None


def applied(kitchen: Kitchen, entry: Entry, recipe: str) -> Applied:
    """What `recipe` put on the meat in this cook, as made."""
    pieces = pieces_under(kitchen, entry, recipe)
    items, _ = made(entry.as_made.get(recipe, ()), entry.sheet.get(recipe, {}), kitchen.weights)
    return Applied(
        recipe,
        bowl(entry.as_made.get(recipe, ())).used_g,
        _salt_g(kitchen, items),
        sum(piece.coated_cm2.mid for piece in pieces),
        sum(piece.boneless_mass_g.mid for piece in pieces),
        tuple(items),
    )


def pieces_under(kitchen: Kitchen, entry: Entry, recipe: str) -> list[Piece]:
    """The pieces of a cook as `recipe` coats them; none where the cut is unknown or a piece can't be."""
    try:
        cut = kitchen.recipe(now_called(kitchen, recipe) or recipe).meat
        return [found for piece in entry.pieces if (found := piece.piece(cut)) is not None]
    except CookbookError:
        return []


def _salt_g(kitchen: Kitchen, items: list[Made]) -> float:
    """Grams of salt in what went in; 0 where a spoon of it can't be trusted."""
    grams = 0.0
    for item in items:
        if item.amount is None:
            continue
        if not trusted(item.amount, item.item, kitchen.weights):
            return 0.0
        salt = salt_grams(item.amount, item.item, kitchen.weights)
        grams += salt.mid if salt is not None else 0.0
    return grams
