"""What the journal says of a recipe on its card: which version, since when, how often cooked, how it came out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from statistics import fmean
from typing import TYPE_CHECKING, NamedTuple

from cookbook.publish import wording
from cookbook.publish.content import Fact

if TYPE_CHECKING:
    from cookbook.journal import Entry
    from cookbook.kitchen import Kitchen
    from cookbook.kitchen.history import Version
    from cookbook.recipe import Recipe
    from cookbook.recipe.difference import Change
    from cookbook.recipe.scaling import Scaled

NO_YEAR = 1
"""The year that a date on a card may leave out: none, since a card is read for years."""
_MOST_ASPECTS = 4


class Tested(NamedTuple):
    """How people see this version, where the cook numbers them; how often it was cooked and how it came out; since
    when, as in `2026-11-21`."""

    label: str
    cooked: str
    outcome: str
    since: str
    cooks: int


def tested(kitchen: Kitchen, recipe: Recipe) -> Tested:
    """What the journal says of `recipe` as it stands."""
    this = _this(kitchen, recipe)
    cooks = this.cooks if this is not None else 0
    since = this.first_used.isoformat() if this is not None and this.first_used else ""
    said = {0: "", 1: "cooked once", 2: "cooked twice"}.get(cooks, f"cooked {cooks} times")
    return Tested(label(kitchen, recipe), said, ", ".join(_outcome(kitchen, recipe)) if cooks else "", since, cooks)


def cost_a_portion(kitchen: Kitchen, recipe: Recipe, made: Sequence[Scaled]) -> Fact | None:
    """What a portion costs: for the card's piece by the kitchen's own prices where the meat has one, else what the
    cooks of this version cost, as entries say, by the portions it serves."""
    if not recipe.serves:
        return None
    return _by_prices(kitchen, recipe, made) or _by_entries(kitchen, recipe)


def _by_prices(kitchen: Kitchen, recipe: Recipe, made: Sequence[Scaled]) -> Fact | None:
    """By `plan`'s own sum of what goes in; what nobody has priced is counted, never named."""
    from cookbook.errors import CookbookError
    from cookbook.plan.buying import of_pieces
    from cookbook.plan.cost import cost
    from cookbook.plan.shopping import needs_of, shopping

    if not made:
        return None
    written = recipe.made_for.piece() if recipe.made_for is not None else made[0].made_for
    share = sum(piece.mass_g.mid for piece in made[0].pieces) / written.mass_g.mid
    try:
        meat = of_pieces(made[0].pieces)
        lines = shopping(kitchen, meat, [need for one in made for need in needs_of(kitchen, one)], ())
        found = cost(kitchen, recipe.name, meat, lines, 0)
    except CookbookError:
        return None
    if len(found.batch) != 1 or any(one.cut in found.missing for one in meat):
        return None
    ((unit, value),), many = found.batch.items(), len(found.missing)
    left = {0: "", 1: ", one thing without a price left out"}.get(many, f", {many} things without a price left out")
    each = value / share / (recipe.serves or 1)
    return Fact("cost", f"{each:.2f}\u00a0{unit}", "", f"a portion, by this kitchen's own prices{left}")


def _by_entries(kitchen: Kitchen, recipe: Recipe) -> Fact | None:
    from cookbook.journal.outcome import outcomes

    told = [one for entry in _entries(kitchen, recipe) for one in outcomes(entry)]
    paid = [(one.value, one.unit) for one in told if one.name == "cost"]
    moneys = {money for _, money in paid}
    if not paid or len(moneys) != 1:
        return None
    value = fmean(value for value, _ in paid) / (recipe.serves or 1)
    return Fact("cost", f"{value:.2f}\u00a0{moneys.pop()}", "", "a portion, by what the cooks cost")


def label(kitchen: Kitchen, recipe: Recipe) -> str:
    """`Revision 4 (14 Nov 2026, more garlic)`; what changed in a private formula is not said."""
    if recipe.revision is None:
        return ""
    this = _this(kitchen, recipe)
    if this is None or not this.first_used:
        return wording.capital(recipe.label())
    return wording.capital(this.label(NO_YEAR))


def told_versions(kitchen: Kitchen, recipe: Recipe) -> list[Version]:
    """The versions of a recipe, oldest first, with what may be told of what changed: nothing where it is a private
    formula, or was one before or after the change."""
    from cookbook.kitchen.history import versions

    found: list[Version] = []
    before = False
    for one in versions(kitchen, recipe.name):
        private = one.recipe is None or one.recipe.private
        hidden = recipe.private or private or before
        told = () if hidden else tuple(titled(kitchen, change) for change in one.changes)
        found.append(one._replace(changes=told))
        before = private
    return found


def titled(kitchen: Kitchen, change: Change) -> Change:
    """A change that names a recipe by its title, as readers know it."""
    if change.field != "coat" or not kitchen.has_recipe(change.item):
        return change
    return change._replace(item=wording.spoken(kitchen.recipe(change.item).title))


def _this(kitchen: Kitchen, recipe: Recipe) -> Version | None:
    now = kitchen.short_version(recipe)
    return next((one for one in told_versions(kitchen, recipe) if one.name == now), None)


def _entries(kitchen: Kitchen, recipe: Recipe) -> list[Entry]:
    """The cooks of this version; what is only remembered counts for nothing."""
    from cookbook.kitchen.descent import cooks_of

    now = kitchen.short_version(recipe)
    return [cook.entry for cook in cooks_of(kitchen, recipe.name) if cook.meaning == now]


def aspects(kitchen: Kitchen, entry: Entry) -> dict[str, Mapping[str, float]]:
    """The scores that may be told, each by who gave it; none that stands under the name of somebody who tasted."""
    people = {who.casefold() for given in entry.scores.values() for who in given} | {
        who.casefold() for who in kitchen.shared("eaters.yaml") or ()
    }
    return {aspect: given for aspect, given in entry.scores.items() if aspect.casefold() not in people}


def _outcome(kitchen: Kitchen, recipe: Recipe) -> Iterator[str]:
    """Means over the cooks of this version: each aspect's score, and what was served; nobody's name."""
    entries = _entries(kitchen, recipe)
    scores: dict[str, list[float]] = {}
    for entry in entries:
        for aspect, given in aspects(kitchen, entry).items():
            if given:
                scores.setdefault(aspect, []).append(fmean(given.values()))
    for aspect, means in list(scores.items())[:_MOST_ASPECTS]:
        yield f"{wording.spoken(aspect)} {fmean(means):.1f}".removesuffix(".0") + " of 10"
    served = [entry.outcome["served"].c for entry in entries if entry.outcome and entry.outcome.get("served")]
    if served:
        yield f"served at {wording.celsius(fmean(served))}"
