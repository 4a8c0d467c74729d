"""What this kitchen's own fires have taught: minutes from lit to steady, and what they burnt in an hour.

The way to steady is from `lit` to `on` in an entry's events. What was burnt stands in the words of `fuel:`, as in
`charcoal, 3.2 kg`, and is shared out over the time from `lit` to `pulled`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.journal import Entry
from cookbook.journal.outcome import moment_of, outcomes
from cookbook.kitchen.descent import cut_of
from cookbook.kitchen.kitchen import Kitchen
from cookbook.meat.coverage import Learned, learned
from cookbook.quantity import read_mass_g

_MASS = re.compile(r"\d+(?:[.,]\d+)?\s?(?:kg|g|lb|oz)\b", re.I)
_LONGEST_MIN = 240.0


class Fire(NamedTuple):
    """One cooker's fires; None where no entry tells."""

    to_steady_min: Learned | None
    kg_an_hour: Learned | None


def fire(kitchen: Kitchen, cooker: str) -> Fire:
    """What the entries on `cooker` (its name in `shared/cookers.yaml`, or its kind) have taught."""
    cooks = [entry for entry in kitchen.entries() if not entry.memory and entry.fields.get("cooker") == cooker]
    return Fire(learned(list(_to_steady(cooks))), learned(list(_burnt(cooks))))


def cook_loss(kitchen: Kitchen, cut: str) -> Learned | None:
    """The cook loss in percent of the cooks of `cut` in this kitchen, remembered ones left out."""
    losses = [one.value for entry in _cooks_of(kitchen, cut) for one in outcomes(entry) if one.name == "cook loss"]
    return learned(losses)


def rises(kitchen: Kitchen, cut: str) -> list[float]:
    """How far the core of each cook of `cut` in this kitchen was seen to rise after the pull, K."""
    return [
        one.value
        for entry in _cooks_of(kitchen, cut)
        for one in outcomes(entry, kitchen.readings(entry))
        if one.name == "rise"
    ]


def _cooks_of(kitchen: Kitchen, cut: str) -> list[Entry]:
    return [one for one in kitchen.entries(cut=cut) if not one.memory and cut_of(kitchen, one) == cut]


def _to_steady(cooks: list[Entry]) -> Iterator[float]:
    for entry in cooks:
        lit, on = moment_of(entry, "lit"), moment_of(entry, "on")
        if lit is not None and on is not None and 0 < (on - lit).total_seconds() <= 60 * _LONGEST_MIN:
            yield (on - lit).total_seconds() / 60


def _burnt(cooks: list[Entry]) -> Iterator[float]:
    for entry in cooks:
        mass = _MASS.search(entry.fields.get("fuel") or "")
        lit, pulled = moment_of(entry, "lit"), moment_of(entry, "pulled")
        if mass is None or lit is None or pulled is None or pulled <= lit:
            continue
        try:
            grams = read_mass_g(mass.group().replace(",", "."))
        except RequestError:
            continue
        yield grams / 1000 / ((pulled - lit).total_seconds() / 3600)
