"""What the journal says of a recipe on its card: which version, since when, how often cooked, how it came out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from statistics import fmean
from typing import TYPE_CHECKING, NamedTuple

from cookbook.publish import wording

if TYPE_CHECKING:
    from cookbook.journal import Entry
    from cookbook.kitchen import Kitchen
    from cookbook.kitchen.history import Version
    from cookbook.recipe import Recipe

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


def cost_a_portion(kitchen: Kitchen, recipe: Recipe) -> str:
    """`3.20 EUR`: the mean of what the cooks of this version cost, as entries say, by the portions it serves."""
    from cookbook.journal.outcome import outcomes

    told = [one for entry in _entries(kitchen, recipe) for one in outcomes(entry)]
    paid = [(one.value, one.unit) for one in told if one.name == "cost"]
    moneys = {money for _, money in paid}
    if not paid or len(moneys) != 1 or not recipe.serves:
        return ""
    return f"{fmean(value for value, _ in paid) / recipe.serves:.2f} {moneys.pop()}"


def label(kitchen: Kitchen, recipe: Recipe) -> str:
    """`Revision 4 (14 Nov 2026, more garlic)`; what changed in a private formula is not said."""
    if recipe.revision is None:
        return ""
    this = _this(kitchen, recipe)
    if this is None or not this.first_used:
        return wording.capital(recipe.label())
    return wording.capital((this._replace(changes=()) if recipe.private else this).label(NO_YEAR))


def _this(kitchen: Kitchen, recipe: Recipe) -> Version | None:
    from cookbook.kitchen.history import versions

    now = kitchen.short_version(recipe)
    return next((one for one in versions(kitchen, recipe.name) if one.name == now), None)


def _entries(kitchen: Kitchen, recipe: Recipe) -> list[Entry]:
    """The cooks of this version; what is only remembered counts for nothing."""
    from cookbook.kitchen.descent import cooks_of

    now = kitchen.short_version(recipe)
    return [cook.entry for cook in cooks_of(kitchen, recipe.name) if cook.meaning == now and not cook.entry.memory]


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
