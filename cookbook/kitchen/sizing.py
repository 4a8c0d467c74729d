"""Which recipe goes on which pieces: a paste or rub by itself, or every coat of a cook."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Any

from cookbook.errors import RequestError
from cookbook.kitchen.kitchen import Kitchen
from cookbook.meat import Cut, Piece
from cookbook.meat.field import piece_from, typed
from cookbook.recipe import Coat, Ingredient, MadeFor, Recipe
from cookbook.recipe.field import clean

if TYPE_CHECKING:
    from cookbook.recipe.scaling import Scaled

Said = Mapping[str, Mapping[str, str]]
"""What is known of each piece, in the files' words, by the piece's name ('' for a lone one)."""


def for_pieces(
    kitchen: Kitchen, recipe: Recipe, said: Said, cut: str | None = None
) -> list[tuple[Recipe, list[Piece]]]:
    """Every recipe that coats these pieces, with the pieces as it coats them.

    A cook gives its coats (and itself, where it has ingredients of its own), any other recipe itself. A coat written
    in one line, such as mustard under a rub, stands as a small recipe of its own. Without any
    piece said, the one that the cook, or else the first of its coats, was made for: all coats go on one piece. `cut`
    wins over the recipe's own.
    """
    wanted = cut or recipe.meat
    if recipe.kind != "cook":
        return [
            (recipe, _pieces(recipe, said, cut, recipe.made_for, _faces(None, recipe.made_for, wanted), kitchen.cuts))
        ]
    inner = [(kitchen.used_by(recipe)(coat.recipe), coat.faces) for coat in recipe.coats if coat.recipe is not None]
    whole = recipe.made_for or next((one.made_for for one, _ in inner if one.made_for is not None), None)
    found = [
        (one, _pieces(recipe, said, cut, whole, _faces(faces, recipe.made_for or one.made_for, wanted), kitchen.cuts))
        for one, faces in inner
    ]
    found += [
        (
            one_line(recipe, coat, whole),
            _pieces(recipe, said, cut, whole, _faces(coat.faces, whole, wanted), kitchen.cuts),
        )
        for coat in recipe.coats
        if coat.item is not None and coat.amount is not None and whole is not None
    ]
    if recipe.ingredients and recipe.made_for is not None:
        found.append((recipe, _pieces(recipe, said, cut, whole, _faces(None, whole, wanted), kitchen.cuts)))
    return found


def scaled(
    kitchen: Kitchen, coat: Recipe, pieces: Piece | Sequence[Piece], learn: bool = True, **wishes: Any
) -> Scaled:
    """One recipe for these pieces by this kitchen's own weights and spoons, and what its cooks have taught.

    `wishes` are `batch` and `layer_mm` of `recipe.scaling.scaled_to`. Raises RequestError.
    """
    return coat.scaled_to(
        pieces,
        weights=kitchen.weights,
        used=kitchen.used_by(coat),
        habits=kitchen.habits(coat.name) if kitchen.learns and learn else None,
        drawer=kitchen.drawer,
        **wishes,
    )


def inside(kitchen: Kitchen, outer: Scaled) -> list[Scaled]:
    """Each recipe that goes into a scaled one, as much of it as is needed, in the order of its lines."""
    found = kitchen.used_by(outer.recipe)
    inner = [(found(name), line) for line in outer.lines if (name := line.ingredient.recipe) is not None]
    if not inner:
        return []
    from cookbook.recipe.inside import needed

    return [needed(one, line, outer, kitchen.used_by(one), kitchen.weights, kitchen.drawer) for one, line in inner]


def settled(said: Said, cut: str | None, cuts: Sequence[Cut]) -> Said:
    """The same with what a scan told in place of its file, as entries and recipes keep it: nothing needs it later."""
    if not any("scan" in one for one in said.values()):
        return said
    if cut is None:
        raise RequestError("which cut was scanned?", mend="name the cut")
    found: dict[str, Mapping[str, str]] = {}
    for name, one in said.items():
        outline = piece_from(cut, typed(one), cuts=cuts).outline
        found[name] = {**one, "scan": outline.text()} if outline is not None else one
    return found


def one_line(recipe: Recipe, coat: Coat, made_for: MadeFor) -> Recipe:
    """A coat without a recipe of its own, as a recipe of one ingredient for the cook's piece."""
    from cookbook.journal import slug

    item = clean(coat.item or "")
    assert coat.amount is not None
    return recipe._replace(
        name=slug(item),
        kind="paste",
        title=item,
        ingredients=(Ingredient(item, coat.amount, "surface"),),
        made_for=made_for,
        coats=(),
        steps=(),
    )


def _faces(faces: str | None, made_for: MadeFor | None, wanted: str | None) -> str | None:
    """The faces to coat: as said, or as written for a piece of the same cut."""
    if faces is not None or made_for is None or wanted is None or not _same(made_for.cut, wanted, made_for.cuts):
        return faces
    as_written = made_for.known.get("faces")
    return str(as_written) if as_written is not None else None


def _same(one: str, other: str, cuts: Sequence[Cut]) -> bool:
    return Cut.named(one, cuts).name == Cut.named(other, cuts).name


def _pieces(
    recipe: Recipe, said: Said, cut: str | None, whole: MadeFor | None, faces: str | None, cuts: Sequence[Cut]
) -> list[Piece]:
    wanted = cut or recipe.meat
    if not said:
        if whole is None or (cut is not None and not _same(cut, whole.cut, cuts)):
            raise RequestError("how big is the piece?", mend="say it with --weight 3.1kg, --ribs 4 or a tape measure")
        if wanted is None or _same(wanted, whole.cut, cuts):
            return [piece_from(whole.cut, {**whole.known, "faces": faces}, cuts=cuts)]
        # A coat made for another cut tells this one's weight at most.
        return [piece_from(wanted, {"weight": whole.known.get("weight"), "faces": faces}, cuts=cuts)]
    if wanted is None:
        raise RequestError(f"{recipe.name} doesn't say which cut it is for", mend="name the cut behind the recipe")
    return [
        piece_from(wanted, {"faces": faces, **typed(one)}, name=name or None, cuts=cuts) for name, one in said.items()
    ]
