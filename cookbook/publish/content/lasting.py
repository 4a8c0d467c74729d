"""Made ahead and kept: the cook's own words, then how long raw and cooked meat keep by the published days."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from cookbook.kitchen.care import species_of
from cookbook.publish import wording
from cookbook.safety import keeping_days, raw_for

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.recipe import Recipe

_COLD = "at or below 4.4\u00a0°C (40\u00a0°F)"


def keeping(kitchen: Kitchen, recipe: Recipe) -> Iterator[str]:
    """Sentences; none for what nobody published days for."""
    if recipe.keeping:
        yield wording.bound(wording.both_scales(wording.sentence(wording.spoken(recipe.keeping))))
    if recipe.kind != "cook" or recipe.meat is None:
        return
    species = species_of(kitchen, recipe.meat)
    yield f"Coated and raw it keeps no longer than any raw {species}: {_days(raw_for(species))} {_COLD}."
    yield f"What is left over keeps {_days('leftovers')} {_COLD}."


def _days(what: str) -> str:
    low, high, _source = keeping_days(what)
    return f"{low:g}\u00a0days" if low == high else f"{low:g} to {high:g}\u00a0days"
