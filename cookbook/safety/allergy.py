"""The allergens of a recipe: what the ingredients' names tell by each law's list, and which labels to read.

The EU's fourteen take in the nine that US law names. Nothing here says "may contain": that is for who made the jar.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, NamedTuple

from cookbook.quantity import allergens
from cookbook.safety.finding import NOTE, Finding

if TYPE_CHECKING:
    from cookbook.quantity import Allergen
    from cookbook.recipe import Recipe

SOURCE = "allergen-laws"
_NONE = "None of the EU's fourteen allergens by the ingredients' names; read the labels all the same."
_AID = "Told from the ingredients' names by the EU's list of fourteen: an aid, not a label."


_LAWS = {"eu": "the EU's fourteen", "us": "the nine of US law"}


class Told(NamedTuple):
    """By one law: what is in it, what only a stand-in brings, which allergens a label has to be read for."""

    sure: tuple[Allergen, ...]
    instead: tuple[Allergen, ...]
    labels: tuple[Allergen, ...]


def allergens_told(recipes: Sequence[Recipe], law: str = "eu", more: Sequence[str] = ()) -> Told | None:
    """What the ingredients of these recipes, and `more` items, tell by a law; None where nothing goes in."""
    lines = [line for recipe in recipes for line in recipe.ingredients if line.recipe is None]
    items = [line.item for line in lines] + [coat.item for recipe in recipes for coat in recipe.coats if coat.item]
    items += more
    if not items:
        return None
    told = [allergens(item, law) for item in items]
    others = [allergens(item, law) for line in lines for item in line.alternatives]
    sure = _unique(one for found in told for one in found.contains)
    instead = [one for one in _unique(one for found in others for one in found.contains) if one not in sure]
    labels = [one for one in _unique(one for found in (*told, *others) for one in found.check) if one not in sure]
    return Told(tuple(sure), tuple(instead), tuple(labels))


def allergen_words(recipes: Sequence[Recipe]) -> str:
    """What is in these recipes together, what stand-ins bring, which labels to read; '' where nothing goes in."""
    told = allergens_told(recipes)
    if told is None:
        return ""
    return " ".join([*_parts(told), _AID]) if any(told) else _NONE


def allergen_findings(recipes: Sequence[Recipe], more: Sequence[str] = ()) -> list[Finding]:
    """What the ingredients hold by the EU's list and by the US law's; nothing where nothing is known of them."""
    found = []
    for law, words in _LAWS.items():
        told = allergens_told(recipes, law, more)
        if told is not None and any(told):
            held = "; ".join(dict.fromkeys(one.name for one in told.sure)) or "none by name"
            found.append(Finding("allergens", NOTE, held, None, law.upper(), SOURCE, "",
                                 f"allergens among {words}: {' '.join(_parts(told))} Told from names, not labels"))
    return found


def _parts(told: Told) -> list[str]:
    heads = ("Contains ", "What may be taken instead: ", "Labels to read for: ")
    return [f"{start}{_joined(found)}." for start, found in zip(heads, told, strict=True) if found]


def _unique(found: Iterable[Allergen]) -> list[Allergen]:
    return list(dict.fromkeys(found))


def _joined(found: Sequence[Allergen]) -> str:
    """`fish; nuts (walnut, pecan)`: each name once, what it comes from behind it."""
    details: dict[str, list[str]] = {}
    for one in found:
        details.setdefault(one.name, []).extend([one.detail] if one.detail else [])
    return "; ".join(f"{name} ({', '.join(where)})" if where else name for name, where in details.items())
