"""Which recipe goes on which pieces: a paste or rub by itself, or every coat of a cook."""

from __future__ import annotations

from collections.abc import Mapping

from cookbook.errors import RequestError
from cookbook.kitchen.kitchen import Kitchen
from cookbook.meat import Piece
from cookbook.meat.field import piece_from, typed
from cookbook.recipe import Recipe

Said = Mapping[str, Mapping[str, str]]
"""What is known of each piece, in the files' words, by the piece's name ('' for a lone one)."""


def for_pieces(kitchen: Kitchen, recipe: Recipe, said: Said, cut: str | None = None) -> list[tuple[Recipe, list[Piece]]]:
    """Every recipe that coats these pieces, with the pieces as it coats them.

    A cook gives its coats (and itself, where it has ingredients of its own), any other recipe itself. Without any
    piece said, the one that the cook, or else the coat, was made for. `cut` wins over the recipe's own.
    """
    if recipe.kind != "cook":
        return [(recipe, _pieces(recipe, said, cut, None, None))]
    found = []
    for coat in recipe.coats:
        if coat.recipe is not None:
            inner = kitchen.used_by(recipe)(coat.recipe)
            found.append((inner, _pieces(recipe, said, cut, coat.faces, inner)))
    if recipe.ingredients and recipe.made_for is not None:
        found.append((recipe, _pieces(recipe, said, cut, None, None)))
    return found


def _pieces(recipe: Recipe, said: Said, cut: str | None, faces: str | None, inner: Recipe | None) -> list[Piece]:
    own = recipe.made_for or (inner.made_for if inner is not None else None)
    wanted = cut or recipe.meat
    if not said:
        if own is None or (cut is not None and cut != own.cut):
            raise RequestError("how big is the piece?", mend="say it with --weight 3.1kg, --ribs 4 or a tape measure")
        return [own.piece(faces)]
    if wanted is None:
        raise RequestError(f"{recipe.name} doesn't say which cut it is for", mend="name the cut behind the recipe")
    as_written = own.known.get("faces") if own is not None and own.cut == wanted else None
    default = faces or (str(as_written) if as_written is not None else None)
    return [piece_from(wanted, {"faces": default, **typed(one)}, name=name or None) for name, one in said.items()]

