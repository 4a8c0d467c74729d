"""The allergens of a card in a sentence: what the ingredients' names tell by the EU's list, and which labels to read.

The EU's fourteen take in the nine that US law names.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

from cookbook.quantity import allergens

if TYPE_CHECKING:
    from cookbook.quantity import Allergen
    from cookbook.recipe import Recipe

SOURCE = "allergen-laws"
_NONE = "None of the EU's fourteen allergens by the ingredients' names; read the labels all the same."
_AID = "Told from the ingredients' names by the EU's list of fourteen: an aid, not a label."


def allergen_words(recipes: Sequence[Recipe]) -> str:
    """What is in these recipes together, what stand-ins bring, which labels to read; '' where nothing goes in."""
    lines = [line for recipe in recipes for line in recipe.ingredients if line.recipe is None]
    items = [line.item for line in lines] + [coat.item for recipe in recipes for coat in recipe.coats if coat.item]
    if not items:
        return ""
    told = [allergens(item) for item in items]
    others = [allergens(item) for line in lines for item in line.alternatives]
    sure = _unique(one for found in told for one in found.contains)
    instead = [one for one in _unique(one for found in others for one in found.contains) if one not in sure]
    labels = [one for one in _unique(one for found in (*told, *others) for one in found.check) if one not in sure]
    if not (sure or instead or labels):
        return _NONE
    parts = (("Contains ", sure), ("What may be taken instead: ", instead), ("Labels to read for: ", labels))
    return " ".join([*(f"{start}{_joined(found)}." for start, found in parts if found), _AID])


def _unique(found: Iterable[Allergen]) -> list[Allergen]:
    return list(dict.fromkeys(found))


def _joined(found: Sequence[Allergen]) -> str:
    """`fish; nuts (walnut, pecan)`: each name once, what it comes from behind it."""
    details: dict[str, list[str]] = {}
    for one in found:
        details.setdefault(one.name, []).extend([one.detail] if one.detail else [])
    return "; ".join(f"{name} ({', '.join(where)})" if where else name for name, where in details.items())
