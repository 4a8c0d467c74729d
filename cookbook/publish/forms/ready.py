"""Ready to publish: the list of what is still missing, each line something that a cook can do."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING

from cookbook.errors import CookbookError
from cookbook.kitchen import sizing
from cookbook.kitchen.shared import is_address
from cookbook.publish.content.around import TOLD, inside
from cookbook.publish.content.tested import tested
from cookbook.publish.forms import chapters
from cookbook.publish.forms.description import MOST_BYTES, description
from cookbook.quantity import is_cure, is_salt

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.publish.content import Content
    from cookbook.publish.content.gathering import Gathered
    from cookbook.recipe import Recipe
    from cookbook.recipe.scaling import Scaled

_STAMP = re.compile(r"(?<![\d:])\d{1,2}:[0-5]\d(?![\d:])")
OFTEN_ENOUGH = 1
"""How often a recipe is cooked before it goes out, where the kitchen doesn't say (`cooks_to_publish`)."""


def missing(kitchen: Kitchen, found: Gathered) -> list[str]:
    """What the card of a recipe still lacks, in sentences; empty where it is ready."""
    return list(
        dict.fromkeys(
            [
                *_amounts(kitchen, found),
                *_guessed(found),
                *_cooked(kitchen, found),
                *_sections(found),
                *_text(found),
                *_pictures(kitchen, found),
                *_links(kitchen, found),
                *_film(found),
                *_paper(kitchen, found),
            ]
        )
    )


def _amounts(kitchen: Kitchen, found: Gathered) -> Iterator[str]:
    """Amounts that nobody measures, and weights that nobody knows."""
    for scaled, private in (pair for one in found.scaled for pair in _with_inner(kitchen, one, False)):
        for line in scaled.lines:
            item = "the private formula" if private else line.item
            if line.amount.kind == "free":
                yield f"{scaled.recipe.name}: {item} is '{line.amount}': measure it once"
            elif line.grams is None:
                yield f"{scaled.recipe.name}: what {item} weighs is not known: `cookbook weigh` tells it"
    for one in found.recipe.ingredients if not found.scaled else ():
        item = "the private formula" if found.recipe.private else one.item
        if one.amount.kind == "free":
            yield f"{found.recipe.name}: {item} is '{one.amount}': measure it once"
        elif found.recipe.kind != "cook" and one.amount.grams(one.item, kitchen.weights) is None:
            yield f"{found.recipe.name}: what {item} weighs is not known: `cookbook weigh` tells it"


def _with_inner(kitchen: Kitchen, scaled: Scaled, private: bool) -> Iterator[tuple[Scaled, bool]]:
    """A scaled recipe and what goes into it, each with whether that is, or is in, a private formula."""
    private = private or scaled.recipe.private
    yield scaled, private
    for inner in sizing.inside(kitchen, scaled):
        yield from _with_inner(kitchen, inner, private)


def _guessed(found: Gathered) -> Iterator[str]:
    """Where amounts for two sizes give away a share of a private formula: what follows the weight beside its salt."""
    for scaled in found.scaled:
        telling = [line for line in scaled.lines if line.follows == "weight"]
        if scaled.recipe.private and any(not (is_salt(line.item) or is_cure(line.item)) for line in telling):
            yield (f"{scaled.recipe.name}: more than its salt follows the weight, and amounts for two sizes tell how "
                   "much: `follows: surface` on it keeps that to yourself")


def _cooked(kitchen: Kitchen, found: Gathered) -> Iterator[str]:
    wanted = kitchen.settings.get("cooks_to_publish") or OFTEN_ENOUGH
    for recipe in _all(kitchen, found.recipe):
        cooks = tested(kitchen, recipe).cooks
        if cooks < wanted:
            often = {0: "not cooked yet", 1: "cooked once"}.get(cooks, f"cooked {cooks} times")
            yield f"{recipe.name} as it stands is {often}; {wanted} asked for"


def _all(kitchen: Kitchen, recipe: Recipe) -> list[Recipe]:
    return [recipe, *(kitchen.used_by(recipe)(name) for name in recipe.uses)]


def _sections(found: Gathered) -> Iterator[str]:
    card = found.content
    if card.kind == "cook" and card.timing is None:
        yield "no forecast: the recipe needs `pit:` with a temperature, `pull_at:` and a piece, and a fire hot enough"
    if not any(caution.key != "authority" for caution in card.cautions):
        yield "no caution applies: is the recipe complete?"
    if not card.author:
        yield "nobody signs it: `author:` in shared/kitchen.yaml"
    if not card.licence:
        yield "on which terms? `licence:` in shared/kitchen.yaml"
    if not (card.steps or any(batch.steps for batch in card.batches)) and not found.recipe.private:
        yield "no method: `steps:`"


def _text(found: Gathered) -> Iterator[str]:
    try:
        size = len(description(found.content).encode())
    except CookbookError as fault:
        yield fault.message
        return
    if size > MOST_BYTES:
        yield f"the description has {size} bytes; {MOST_BYTES} fit"


def _pictures(kitchen: Kitchen, found: Gathered) -> Iterator[str]:
    if not found.recipe.photos and found.content.kind == "cook":
        yield "no picture: `photos:` with a path in the kitchen"
    for name in found.recipe.photos:
        try:
            path = inside(kitchen, "", name)
        except CookbookError as fault:
            yield fault.message
            continue
        if not path.is_file():
            yield f"the picture {name} is not there"


def _links(kitchen: Kitchen, found: Gathered) -> Iterator[str]:
    card = found.content
    for link in card.links:
        if not is_address(link.address):
            yield f"the link to {link.what} is no address: '{link.address}'"
    terms = {term for recipe in _all(kitchen, found.recipe) for link in recipe.links for term in link.terms}
    if terms:
        try:
            shown = description(card)
        except CookbookError:
            return
        first = shown.split("\n\n")[1] if "\n\n" in shown else ""
        for term in TOLD:
            if term in terms and not any(TOLD[term].partition(":")[0] in line for line in first.splitlines()):
                yield f"nothing in the first lines tells that a link is {term}"
    if card.address and not is_address(card.address):
        yield f"`address:` in shared/kitchen.yaml is no address: '{card.address}'"


def _film(found: Gathered) -> Iterator[str]:
    film = found.content.film
    if film is None:
        return
    for what, address in (("film", film.address), ("picture of the film", film.picture)):
        if address and not is_address(address):
            yield f"the {what} has no address: '{address}'"
    if film.chapters:
        yield from (f"the film: {fault}" for fault in chapters.faults(film))
        yield from _stamps(found.content)


def _paper(kitchen: Kitchen, found: Gathered) -> Iterator[str]:
    """Signs that paper would lose, where paper can be made here."""
    from cookbook.publish.forms.paper import left_out

    try:
        lost = left_out(kitchen, found.content)
    except CookbookError as fault:
        if fault.code != "missing-extra":
            yield f"on paper: {fault.message}" + (f" ({fault.place.file}:{fault.place.line})" if fault.place else "")
        return
    if lost:
        yield f"paper leaves out {' '.join(lost)}, as no font here has {'it' if len(lost) == 1 else 'them'}"


def _stamps(card: Content) -> Iterator[str]:
    """What a platform would take for the first chapter, or for one that doesn't ascend."""
    said = [card.story, *card.steps, *(step for batch in card.batches for step in batch.steps), *card.keeping]
    said += [words for one in card.answers for words in one]
    for stamp in dict.fromkeys(found for words in said for found in _STAMP.findall(words)):
        yield f"'{stamp}' in the text may be taken for a chapter: write that time in another way"
