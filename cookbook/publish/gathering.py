"""A card's content from library calls: nothing is computed here that another floor computes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING

from cookbook.kitchen.care import inside
from cookbook.meat import Piece
from cookbook.publish import figures, wording
from cookbook.publish.content import Batch, Content, Fact, Item
from cookbook.publish.ingredient import amounts, line_item
from cookbook.publish.sizes import sizes
from cookbook.publish.warning import warnings
from cookbook.recipe.field import clean
from cookbook.recipe.scaling import Line, Scaled, scaled_to

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.quantity import Interval
    from cookbook.recipe import Recipe

Pieces = Piece | Sequence[Piece] | Mapping[str, Mapping[str, str]] | None
"""The piece that a card is for: one or several, or what is known of each in the files' words; None as written."""


NO_YEAR = 1
"""The year that a date on a card may leave out: none, since a card is read for years."""


def content(kitchen: Kitchen, name: str, pieces: Pieces = None) -> Content:
    """All that the card of `name` says, for `pieces` or for the piece as written.

    Raises UnknownName for the recipe or a cut, FileError for faults in files, PieceError for what can't be.
    """
    recipe = kitchen.recipe(name)
    kitchen.digest(recipe)
    cook = recipe.kind == "cook"
    coats = _coats(kitchen, recipe, pieces)
    scaled = [_scaled(kitchen, one, on) for one, on in coats if one is recipe or one.name in recipe.uses]
    lone = {one.title: _scaled(kitchen, one, on).lines[0] for one, on in coats if one.name not in recipe.uses}
    batches = [batch for one in scaled for batch in _batches(kitchen, one)]
    if not cook and not batches:
        batches = [_written(kitchen, recipe)]
    first = scaled[0] if scaled else None
    revision, cooked = _revision(kitchen, recipe)
    rest = recipe.rest.time if recipe.rest else None
    author, licence, own_name, address = (wording.spoken(kitchen.settings.get(key) or "")
                                          for key in ("author", "licence", "name", "address"))
    return Content(
        name=recipe.name, kind=recipe.kind, title=wording.spoken(recipe.title),
        lead=figures.cook_lead(recipe, first) if cook else batches[0].lead,
        facts=tuple(figures.cook_facts(recipe, first)) if cook else batches[0].facts,
        batches=tuple(batches), items=tuple(_own_items(kitchen, recipe, lone)) if cook else (),
        steps=_steps(recipe) if cook else (), cautions=tuple(warnings(recipe, inside(kitchen, recipe))),
        measures=_measures(kitchen, recipe), revision=revision, cooked=cooked, cut=wording.spoken(recipe.meat or ""),
        serves=recipe.serves, rest_s=rest.seconds if rest and rest.low_s == rest.high_s else None,
        live_fire=cook and _live_fire(recipe), author=author, licence=licence, kitchen=own_name, address=address,
    )


def _scaled(kitchen: Kitchen, recipe: Recipe, on: list[Piece] | None = None, batch: float | None = None) -> Scaled:
    return scaled_to(recipe, on, batch=batch, weights=kitchen.weights, used=kitchen.used_by(recipe),
                     drawer=kitchen.drawer)


def _coats(kitchen: Kitchen, recipe: Recipe, pieces: Pieces) -> list[tuple[Recipe, list[Piece]]]:
    """What is scaled, on which pieces: a cook's coats (those in one line too), or the recipe itself."""
    from cookbook.kitchen.sizing import for_pieces, one_line

    cook = recipe.kind == "cook"
    if not cook and recipe.made_for is None:
        return []
    if pieces is None or isinstance(pieces, Mapping):
        return [(one, on) for one, on in for_pieces(kitchen, recipe, pieces or {}) if one is not recipe or not cook]
    wanted = [pieces] if isinstance(pieces, Piece) else list(pieces)
    inner = [kitchen.used_by(recipe)(coat.recipe) for coat in recipe.coats if coat.recipe]
    if not cook:
        return [(recipe, wanted)]
    made_for = recipe.made_for or next((one.made_for for one in inner if one.made_for), None)
    lone = [one_line(recipe, coat, made_for) for coat in recipe.coats if made_for and coat.item and coat.amount]
    return [(one, wanted) for one in (*inner, *lone)]


def _batches(kitchen: Kitchen, scaled: Scaled) -> Iterator[Batch]:
    """The batch of a scaled recipe, then one for each recipe that goes into it, as much as is needed."""
    yield _batch(kitchen, scaled)
    for line in scaled.lines:
        if line.ingredient.recipe is not None:
            yield from _inner(kitchen, kitchen.used_by(scaled.recipe)(line.ingredient.recipe), line.grams)


def _inner(kitchen: Kitchen, recipe: Recipe, needed: Interval | None) -> Iterator[Batch]:
    if recipe.made_for is None:
        yield _written(kitchen, recipe)
        return
    whole = _scaled(kitchen, recipe)
    grams = sum(line.grams.mid for line in whole.lines if line.grams)
    if needed is not None and grams:
        whole = _scaled(kitchen, recipe, batch=needed.mid / grams)
    for batch in _batches(kitchen, whole):
        said = f"Makes about {batch.makes}." if batch.makes else ""
        yield batch._replace(sizes=(), facts=(), coat="", lead=said)


def _batch(kitchen: Kitchen, scaled: Scaled) -> Batch:
    recipe = scaled.recipe
    made = figures.makes(scaled)
    return Batch(
        name=recipe.name, kind=recipe.kind, title=wording.spoken(recipe.title),
        revision=_revision(kitchen, recipe)[0], lead=figures.lead(scaled), facts=tuple(figures.facts(scaled)),
        items=tuple(line_item(kitchen, line.ingredient, line.amount, line.grams, line.hold_back)
                    for line in scaled.lines),
        steps=_steps(recipe), sizes=sizes(kitchen, scaled), rule=figures.rule(scaled), shares=figures.shares(scaled),
        coat=figures.coat_words(scaled), makes=made[0] if made else "",
    )


def _written(kitchen: Kitchen, recipe: Recipe) -> Batch:
    """A recipe that was made for no piece, such as a sauce, as it is written."""
    items = tuple(line_item(kitchen, line) for line in recipe.ingredients)
    known = [item.grams for item in items if item.grams is not None]
    made = wording.made(sum(known)) if known and len(known) == len(items) else None
    serves = f", for {recipe.serves}" if recipe.serves else ""
    return Batch(
        name=recipe.name, kind=recipe.kind, title=wording.spoken(recipe.title),
        revision=_revision(kitchen, recipe)[0],
        lead=f"Makes about {made[0]} ({made[1]}){serves}." if made else f"One batch{serves}.",
        facts=(Fact("makes", *made, f"of {recipe.kind}"),) if made else (), items=items, steps=_steps(recipe),
        sizes=(), rule="", shares=(), coat="", makes=made[0] if made else "",
    )


def _own_items(kitchen: Kitchen, recipe: Recipe, lone: Mapping[str, Line]) -> Iterator[Item]:
    """What a cook takes besides its coats: single things as a coat, then its own ingredients."""
    for coat in recipe.coats:
        if coat.item is not None:
            where = (f"on {wording.spoken(coat.faces)}",) if coat.faces else ()
            scaled = lone.get(clean(coat.item))
            amount = scaled.amount if scaled else coat.amount
            grams = amount.grams(coat.item, kitchen.weights) if amount else None
            measured = amounts(kitchen, amount, coat.item, grams) if amount else ()
            yield Item(measured, wording.spoken(coat.item), "", where, grams.mid if grams else None)
    for line in recipe.ingredients:
        yield line_item(kitchen, line)


def _steps(recipe: Recipe) -> tuple[str, ...]:
    return tuple(wording.bound(wording.both_scales(wording.sentence(wording.spoken(step)))) for step in recipe.steps)


def _measures(kitchen: Kitchen, recipe: Recipe) -> str:
    """Which cups and spoons are meant; where recipes inside use others, theirs too; in a kitchen that
    lists its spoons, its own."""
    if kitchen.drawer:
        return wording.measures_words(kitchen.settings["measures"])
    systems = [one.measures for one in (recipe, *inside(kitchen, recipe)) if one.ingredients]
    return " ".join(wording.measures_words(one) for one in dict.fromkeys(systems or [recipe.measures]))


def _live_fire(recipe: Recipe) -> bool:
    from cookbook.safety.told import live_fire

    return live_fire(recipe.pit)


def _revision(kitchen: Kitchen, recipe: Recipe) -> tuple[str, str]:
    """How people see this version, where the cook numbers them, and how often it was cooked."""
    from cookbook.kitchen.history import versions

    now = kitchen.short_version(recipe)
    this = next((one for one in versions(kitchen, recipe.name) if one.name == now), None)
    cooks = this.cooks if this is not None else 0
    label = "" if recipe.revision is None else this.label(NO_YEAR) if this and this.first_used else recipe.label()
    return wording.capital(label), {0: "", 1: "cooked once", 2: "cooked twice"}.get(cooks, f"cooked {cooks} times")
