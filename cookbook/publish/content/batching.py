"""The batches of a card: each recipe that goes on or in, for its piece, and what a private one says of itself."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from cookbook.meat import Piece
from cookbook.publish import wording
from cookbook.publish.content import Batch, Fact, Item, Size, figures
from cookbook.publish.content.ingredient import in_grams, line_item, written_item
from cookbook.publish.content.sizes import Column, around, insides, sizes
from cookbook.publish.content.tested import label
from cookbook.quantity import Amount, is_cure, totals
from cookbook.recipe.inside import part_of, times
from cookbook.recipe.scaling import Scaled, scaled_to

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.quantity import Totals
    from cookbook.recipe import Recipe


def scaled_for(kitchen: Kitchen, recipe: Recipe, on: list[Piece] | None = None) -> Scaled:
    """A recipe on these pieces, with the kitchen's own weights and spoons."""
    return scaled_to(recipe, on, weights=kitchen.weights, used=kitchen.used_by(recipe), drawer=kitchen.drawer)


def batches(kitchen: Kitchen, scaled: Scaled) -> Iterator[Batch]:
    """The batch of a scaled recipe, then one for each recipe that goes into it, as much as is needed."""
    columns = around(kitchen, scaled)
    yield _private(kitchen, columns) if scaled.recipe.private else _batch(kitchen, columns)
    yield from parts(kitchen, columns)


def parts(kitchen: Kitchen, columns: Sequence[Column]) -> Iterator[Batch]:
    """The batches of what goes into a recipe, and into that; nothing of what goes into a formula of one's own."""
    outer = _own(columns).recipe
    for inner in () if outer.private else insides(kitchen, columns):
        own = _own(inner)
        batch = _private(kitchen, inner) if own.recipe.private else _batch(kitchen, inner)
        if own.notes:
            yield _whole(_as_part(batch, own), outer)
        else:
            yield _as_part(batch, own, sizes=batch.sizes, rule=f"As much as goes into {wording.spoken(outer.title)}.")
        yield from parts(kitchen, inner)


def served_in(kitchen: Kitchen, recipe: Recipe, part: float = 1.0) -> Iterator[Batch]:
    """The batches of what goes into `part` of a recipe or cook made for no piece."""
    for line in recipe.ingredients:
        if line.recipe is not None:
            inner, amount = kitchen.used_by(recipe)(line.recipe), line.amount.scaled(part)
            batch, *others = served(kitchen, inner, amount)
            yield batch if _share(kitchen, inner, amount) is not None else _whole(batch, recipe)
            yield from others


def _whole(batch: Batch, outer: Recipe) -> Batch:
    """The batch with the word that it is a whole one, as nobody can tell which part of it goes into `outer`."""
    said = f"A whole batch: nobody has weighed how much of it goes into {wording.spoken(outer.title)}."
    return batch._replace(lead=f"{batch.lead.removeprefix('One batch.')} {said}".strip(), whole=True)


def _part(kitchen: Kitchen, recipe: Recipe, needed: Amount | None) -> float:
    return 1.0 if needed is None else _share(kitchen, recipe, needed) or 1.0


def _share(kitchen: Kitchen, recipe: Recipe, needed: Amount) -> float | None:
    """Which part of a recipe's batch is needed; None where nobody can tell."""
    all_ = scaled_for(kitchen, recipe).totals() if recipe.made_for is not None else _totals(kitchen, recipe)
    return part_of(all_, needed, needed.grams(recipe.name, kitchen.weights))


def _totals(kitchen: Kitchen, recipe: Recipe) -> Totals:
    return totals(((line.amount, line.item) for line in recipe.ingredients), kitchen.weights)


def _as_part(batch: Batch, scaled: Scaled, sizes: tuple[Size, ...] = (), rule: str = "") -> Batch:
    grams = figures.weight(scaled)
    said = f"Makes about {wording.made(grams)[0]}." if grams else ""
    return batch._replace(facts=(), coat="", shares=(), lead=said, sizes=sizes, rule=rule)


def _own(columns: Sequence[Column]) -> Scaled:
    return next(column.scaled for column in columns if column.own)


def served(kitchen: Kitchen, recipe: Recipe, needed: Amount | None = None) -> Iterator[Batch]:
    """The batches of a recipe that stands beside no piece, as much of it as is `needed`."""
    if recipe.made_for is None:
        yield written(kitchen, recipe, needed)
        if not recipe.private:
            yield from served_in(kitchen, recipe, _part(kitchen, recipe, needed))
        return
    whole = scaled_for(kitchen, recipe)
    part = whole if needed is None else times(whole, _part(kitchen, recipe, needed))
    for batch in batches(kitchen, part):
        yield _as_part(batch, part)


def _batch(kitchen: Kitchen, columns: Sequence[Column]) -> Batch:
    scaled = _own(columns)
    recipe = scaled.recipe
    made = figures.makes(scaled)
    return Batch(
        name=recipe.name,
        kind=recipe.kind,
        title=wording.spoken(recipe.title),
        revision=label(kitchen, recipe),
        lead=figures.lead(scaled),
        facts=tuple(figures.facts(scaled)),
        items=tuple(
            line_item(kitchen, line.ingredient, line.amount, line.grams, line.hold_back) for line in scaled.lines
        ),
        steps=steps(recipe),
        sizes=sizes(columns),
        rule=figures.rule(scaled),
        shares=figures.shares(scaled),
        coat=figures.coat_words(scaled),
        makes=made[0] if made else "",
    )


def written(kitchen: Kitchen, recipe: Recipe, needed: Amount | None = None) -> Batch:
    """A recipe that was made for no piece, such as a sauce: as it is written, or what is `needed` of it."""
    if recipe.private:
        return _written_private(kitchen, recipe, needed)
    part = _part(kitchen, recipe, needed)
    items = tuple(written_item(kitchen, line, part) for line in recipe.ingredients)
    known = [item.grams for item in items if item.grams is not None]
    made = wording.made(sum(known)) if known and len(known) == len(items) else None
    serves = f", for {recipe.serves}" if recipe.serves else ""
    return Batch(
        name=recipe.name,
        kind=recipe.kind,
        title=wording.spoken(recipe.title),
        revision=label(kitchen, recipe),
        lead=f"Makes about {made[0]} ({made[1]}){serves}." if made else f"One batch{serves}.",
        facts=(Fact("makes", *made, f"of {recipe.kind}"),) if made else (),
        items=items,
        steps=steps(recipe),
        sizes=(),
        rule="",
        shares=(),
        coat="",
        makes=made[0] if made else "",
    )


def steps(recipe: Recipe) -> tuple[str, ...]:
    """The steps as sentences, with both scales."""
    return tuple(wording.bound(wording.both_scales(wording.sentence(wording.spoken(step)))) for step in recipe.steps)


def _private(kitchen: Kitchen, columns: Sequence[Column]) -> Batch:
    """A formula of one's own in one line; how it is made stays with its cook."""
    scaled = _own(columns)
    all_ = scaled.totals()
    grams = scaled.coat.grams if scaled.coat is not None and not scaled.coat.missing else None
    salt = scaled.salt.grams if scaled.salt is not None else None
    batch = _one_line(kitchen, scaled.recipe, grams, _ml(all_), salt, figures.lead(scaled))
    return batch._replace(
        facts=tuple(figures.facts(scaled)),
        sizes=sizes(columns),
        coat=figures.coat_words(scaled),
        rule="The amount follows the surface of the meat, its salt the weight.",
        shares=figures.shares(scaled),
    )


def _written_private(kitchen: Kitchen, recipe: Recipe, needed: Amount | None) -> Batch:
    all_ = _totals(kitchen, recipe)
    unknown = {one.total for one in all_.uncounted}
    part = _part(kitchen, recipe, needed)
    grams = None if "mass" in unknown else part * all_.grams.mid
    ml, salt = _ml(all_), None if unknown & {"mass", "salt"} else part * all_.salt_g.mid
    made = wording.made(grams) if grams else None
    lead = f"Makes about {made[0]} ({made[1]})." if made else "One batch."
    return _one_line(kitchen, recipe, grams, part * ml if ml else None, salt, lead)


def _ml(all_: Totals) -> float | None:
    """How much room a batch takes, where that is known of all of it."""
    return None if any(one.total == "volume" for one in all_.uncounted) else all_.ml.mid


def _one_line(
    kitchen: Kitchen, recipe: Recipe, grams: float | None, ml: float | None, salt: float | None, lead: str
) -> Batch:
    said = []
    if ml:
        spoons = Amount.parse(f"{ml:.3f} ml", recipe.measures).measured("us", "", None, kitchen.drawer)
        said.append(spoons.scoops)
    if grams:
        said.append(in_grams(grams))
    asides = [f"its salt: {in_grams(salt)}"] if salt else []
    asides += [f"{wording.spoken(link.what)}: {wording.spoken(link.address)}" for link in recipe.links]
    if recipe.stand_in:
        asides.append(f"or {wording.spoken(recipe.stand_in)}")
    elif salt and not any(is_cure(line.item) for line in recipe.ingredients):
        asides.append(f"or {in_grams(salt)} fine salt and your own spices")
    title = wording.spoken(recipe.title)
    item = Item(tuple(wording.typographic(one) for one in said if one), title, "", tuple(asides), grams)
    made = wording.made(grams)[0] if grams else ""
    return Batch(
        name=recipe.name,
        kind=recipe.kind,
        title=title,
        revision=label(kitchen, recipe),
        lead=lead,
        facts=(),
        items=(item,),
        steps=(),
        sizes=(),
        rule="",
        shares=(),
        coat="",
        makes=made,
    )
