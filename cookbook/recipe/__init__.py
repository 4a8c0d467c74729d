"""One recipe: read with its places, named by what it means, compared with another, scaled to a piece.

Holds the model, the fields and their reader, digest and version, differences, and the rules of scaling.
May be imported by safety and everything above; knows no journal and no folder.
"""

from __future__ import annotations

from cookbook.recipe.meaning import digest, loop, meaning, stored_version, use_node, version
from cookbook.recipe.model import Coat, Ingredient, Link, MadeFor, Pit, Recipe, Rest
from cookbook.recipe.reading import read

__all__ = [
    "Coat",
    "Ingredient",
    "Link",
    "MadeFor",
    "Pit",
    "Recipe",
    "Rest",
    "digest",
    "loop",
    "meaning",
    "read",
    "stored_version",
    "use_node",
    "version",
]
