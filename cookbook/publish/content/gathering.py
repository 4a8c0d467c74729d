"""A card's content from library calls: nothing is computed here that another floor computes."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from cookbook.kitchen import care
from cookbook.meat import Piece
from cookbook.publish import wording
from cookbook.publish.content import Content, Fact, Grid, Item, Timing, figures
from cookbook.publish.content.around import answers, film, links, pictures
from cookbook.publish.content.batching import batches, parts, scaled_for, served, served_in, steps
from cookbook.publish.content.ingredient import amounts, line_item, written_item
from cookbook.publish.content.lasting import keeping
from cookbook.publish.content.sizes import also, around, others
from cookbook.publish.content.tested import cost_a_portion, tested
from cookbook.publish.content.warning import warnings
from cookbook.recipe.field import clean

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.kitchen.forecasting.outlook import Asked
    from cookbook.kitchen.forecasting.timetables import Times
    from cookbook.recipe import Recipe
    from cookbook.recipe.scaling import Scaled

Pieces = Piece | Sequence[Piece] | Mapping[str, Mapping[str, str]] | None
"""The piece that a card is for: one or several, or what is known of each in the files' words; None as written."""

Told = Callable[[int, int], None]
"""Hears how many runs of the forecast are done of how many."""


class Gathered(NamedTuple):
    """A content, and what some forms compute from besides: the scaled coats, those of one line, a cook's own
    ingredients on its piece, and the times."""

    content: Content
    recipe: Recipe
    scaled: tuple[Scaled, ...]
    times: Times | None
    alone: tuple[Scaled, ...] = ()
    own: Scaled | None = None


def content(kitchen: Kitchen, name: str, pieces: Pieces = None, asked: Asked | None = None,
            told: Told = lambda _done, _all: None) -> Content:
    """All that the card of `name` says, for `pieces` or for the piece as written; see `gather`."""
    return gather(kitchen, name, pieces, asked, told).content


def gather(kitchen: Kitchen, name: str, pieces: Pieces = None, asked: Asked | None = None,
           told: Told = lambda _done, _all: None, cost: bool = False) -> Gathered:
    """The card of `name`; `asked` is another cooker or doneness, `told` hears of a forecast being worked out, `cost`
    says what a portion cost where the cooks tell.

    Raises UnknownName for the recipe, a cut, a cooker or a doneness, FileError for faults in files, PieceError for
    what can't be.
    """
    recipe = kitchen.recipe(name)
    kitchen.digest(recipe)
    cook = recipe.kind == "cook"
    coats = _coats(kitchen, recipe, pieces)
    scaled = [scaled_for(kitchen, one, on) for one, on in coats if one.name in recipe.uses or not cook]
    alone = [scaled_for(kitchen, one, on) for one, on in coats if one.name not in recipe.uses] if cook else []
    own = alone.pop() if alone and alone[-1].recipe is recipe else None
    found = [batch for one in scaled for batch in batches(kitchen, one)]
    beside = [*alone, own] if own is not None else alone
    if cook and scaled and (together := figures.salt_words([*scaled, *beside])):
        last = max(place for place, batch in enumerate(found) if batch.name == scaled[-1].recipe.name)
        found[last] = found[last]._replace(coat=f"{found[last].coat} {together}".strip())
    if not cook and not found:
        found = list(served(kitchen, recipe))
    if cook:
        found += parts(kitchen, around(kitchen, own)) if own is not None else served_in(kitchen, recipe)
    first = next(iter([*scaled, *beside]), None)
    times = _times(kitchen, recipe, pieces, coats, asked, told) if cook else None
    shown = _asked_for(recipe, asked, times)
    facts, timing, grids = _timed(shown, first, times)
    paid = cost_a_portion(kitchen, recipe, [*scaled, *beside]) if cost and cook else None
    facts += tuple(figures.salt(own)) if own is not None and not scaled else ()
    grids = (*also(kitchen, beside), *grids)
    facts += (paid,) if paid else ()
    seen, rest = tested(kitchen, recipe), recipe.rest.time if recipe.rest else None
    author, licence, own_name, address = (wording.spoken(kitchen.settings.get(key) or "")
                                          for key in ("author", "licence", "name", "address"))
    inside = care.inside(kitchen, recipe)
    card = Content(
        name=recipe.name, kind=recipe.kind, title=wording.spoken(recipe.title),
        lead=figures.cook_lead(shown, first) if cook else found[0].lead, facts=facts if cook else found[0].facts,
        batches=tuple(found), items=tuple(_own_items(kitchen, recipe, alone, own)) if cook else (),
        steps=steps(recipe) if cook else (), cautions=tuple(warnings(shown, inside)),
        measures=_measures(kitchen, recipe, inside), revision=seen.label, cooked=seen.cooked,
        cut=wording.spoken(recipe.meat or ""), serves=recipe.serves,
        rest_s=rest.seconds if rest and rest.low_s == rest.high_s else None, live_fire=cook and _live_fire(shown),
        author=author, licence=licence, kitchen=own_name, address=address, story=_sentence(recipe.story),
        grids=grids, timing=timing, keeping=tuple(keeping(kitchen, recipe)), links=links(kitchen, (recipe, *inside)),
        film=film(kitchen, recipe.name), pictures=pictures(recipe), answers=answers(kitchen, recipe.name),
        outcome=seen.outcome, dated=seen.since,
    )
    return Gathered(card, recipe, tuple(scaled), times, tuple(alone), own)


def _sentence(words: str | None) -> str:
    return wording.bound(wording.both_scales(wording.sentence(wording.spoken(words or ""))))


def _times(kitchen: Kitchen, recipe: Recipe, pieces: Pieces, coats: Sequence[tuple[Recipe, list[Piece]]],
           asked: Asked | None, told: Told) -> Times | None:
    from cookbook.kitchen.forecasting.outlook import Asked as Nothing
    from cookbook.kitchen.forecasting.timetables import times

    said = pieces if isinstance(pieces, Mapping) else {}
    piece = coats[0][1][0] if coats else pieces if isinstance(pieces, Piece) else None
    return times(kitchen, recipe, said, asked or Nothing(), told, piece=piece)


def _asked_for(recipe: Recipe, asked: Asked | None, times: Times | None) -> Recipe:
    """The cook as the reader will do it: on another cooker, to another doneness."""
    if asked is None or times is None:
        return recipe
    from cookbook.quantity import Temperature

    pit = recipe.pit
    if asked.cooker is not None and pit is not None and asked.cooker != pit.cooker:
        pit = pit._replace(cooker=asked.cooker, fuel=None, wood=None)
    pull = Temperature.parse(f"{times.wanted.pull_c:g} °C") if asked.want is not None else recipe.pull_at
    return recipe._replace(pit=pit, pull_at=pull)


def _timed(recipe: Recipe, first: Scaled | None, times: Times | None) -> tuple[
        tuple[Fact, ...], Timing | None, tuple[Grid, ...]]:
    """The facts of a cook in the order in which they are needed, its own times, and the tables of times."""
    facts = list(figures.cook_facts(recipe, first))
    if times is None:
        return tuple(facts), None, ()
    from cookbook.publish.content import timing

    found = {fact.key: fact for fact in timing.facts(times)}
    at = next((place for place, fact in enumerate(facts) if fact.key in ("pull", "rest")), len(facts))
    facts[at:at] = [found[key] for key in ("time", "check") if key in found]
    facts += [found[key] for key in ("rest", "board") if key in found and key not in {fact.key for fact in facts}]
    own = times.wanted.piece
    several = first is not None and len(first.pieces) > 1
    around = list(first.pieces) if several and first else sorted([own, *others(own)], key=lambda one: one.mass_g.mid)
    return tuple(facts), timing.own(times), timing.grids(times, around, own)


def _coats(kitchen: Kitchen, recipe: Recipe, pieces: Pieces) -> list[tuple[Recipe, list[Piece]]]:
    """What is scaled, on which pieces: a cook's coats (those in one line too) and its own ingredients, or the recipe
    itself."""
    from cookbook.kitchen.sizing import for_pieces, one_line

    cook = recipe.kind == "cook"
    if not cook and recipe.made_for is None:
        return []
    if pieces is None or isinstance(pieces, Mapping):
        return for_pieces(kitchen, recipe, pieces or {})
    wanted = [pieces] if isinstance(pieces, Piece) else list(pieces)
    inner = [kitchen.used_by(recipe)(coat.recipe) for coat in recipe.coats if coat.recipe]
    if not cook:
        return [(recipe, wanted)]
    made_for = recipe.made_for or next((one.made_for for one in inner if one.made_for), None)
    lone = [one_line(recipe, coat, made_for) for coat in recipe.coats if made_for and coat.item and coat.amount]
    own = [recipe] if recipe.ingredients and recipe.made_for is not None else []
    return [(one, wanted) for one in (*inner, *lone, *own)]


def _own_items(kitchen: Kitchen, recipe: Recipe, alone: Sequence[Scaled], own: Scaled | None) -> Iterator[Item]:
    """What a cook takes besides its coats: single things as a coat, then its own ingredients."""
    lone = {one.recipe.title: one for one in alone}
    for coat in recipe.coats:
        if coat.item is not None:
            scaled = lone.get(clean(coat.item))
            where = f", {wording.faces_words(scaled.pieces[0])}" if scaled else ""
            amount = scaled.lines[0].amount if scaled else coat.amount
            grams = amount.grams(coat.item, kitchen.weights) if amount else None
            measured = amounts(kitchen, amount, coat.item, grams) if amount else ()
            weighed = grams.mid if grams else None
            yield Item(measured, wording.spoken(coat.item), "", (f"coats the meat{where}",), weighed)
    if own is None:
        yield from (written_item(kitchen, line) for line in recipe.ingredients)
        return
    for line in own.lines:
        yield line_item(kitchen, line.ingredient, line.amount, line.grams, line.hold_back)


def _measures(kitchen: Kitchen, recipe: Recipe, inside: Sequence[Recipe]) -> str:
    """Which cups and spoons are meant; where recipes inside use others, theirs too; in a kitchen that
    lists its spoons, its own."""
    if kitchen.drawer:
        return wording.measures_words(kitchen.settings["measures"])
    systems = [one.measures for one in (recipe, *inside) if one.ingredients]
    return " ".join(wording.measures_words(one) for one in dict.fromkeys(systems or [recipe.measures]))


def _live_fire(recipe: Recipe) -> bool:
    from cookbook.safety.told import live_fire

    return live_fire(recipe.pit)
