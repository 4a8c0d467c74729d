"""What this kitchen paid: the lines of `shared/prices.yaml`, and what the meat of each cook cost."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

from cookbook.errors import CookbookError
from cookbook.journal import Entry
from cookbook.journal.outcome import money
from cookbook.kitchen.descent import cooks_of, cut_name, cut_of
from cookbook.kitchen.kitchen import Kitchen
from cookbook.quantity import Amount
from cookbook.quantity.naming import key_of


class Paid(NamedTuple):
    """So much money in its own currency for so much of an item."""

    item: str
    amount: Amount
    value: float
    currency: str
    words: str
    date: date
    shop: str | None

    def a_gram(self, item: str) -> float | None:
        """Money for a gram; None where nobody knows what the amount weighs."""
        grams = self.amount.grams(item)
        return self.value / grams.mid if grams is not None and grams.mid > 0 else None


class MealCost(NamedTuple):
    """What a cook cost, by currency: by its entry, or as `basis` says."""

    entry: str
    date: date
    sums: dict[str, float]
    basis: str = ""


def paid(kitchen: Kitchen, item: str) -> list[Paid]:
    """Every price of an item, the newest first; a cut by any of its names. Raises FileError for a faulty table."""
    key, cut = key_of(item), cut_name(item, kitchen.cuts)
    found = [
        one
        for one in _all(kitchen)
        if key_of(one.item) == key or (cut is not None and cut_name(one.item, kitchen.cuts) == cut)
    ]
    return sorted(found, key=lambda one: one.date, reverse=True)


def _all(kitchen: Kitchen) -> Iterator[Paid]:
    for one in kitchen.shared("prices.yaml") or ():
        sum_of = money(one["price"])
        if sum_of is not None:
            yield Paid(one["item"], one["amount"], *sum_of, one["price"], one["date"], one.get("shop"))


def last_meal(kitchen: Kitchen, recipe: str) -> MealCost | None:
    """The newest cook of a recipe whose entry says what its meat or the whole cost, or whose meat has a price."""
    for cook in cooks_of(kitchen, recipe, memory=True, newest=True):
        entry = cook.entry
        whole = entry.outcome.get("cost") if entry.outcome else None
        words = [whole] if whole else [entry.fields.get("price"), *(entry.fields.get("prices") or {}).values()]
        sums: dict[str, float] = {}
        for one in words:
            read = money(one) if one else None
            if read is not None:
                sums[read[1]] = sums.get(read[1], 0.0) + read[0]
        found = MealCost(entry.name, entry.date, sums) if sums else _by_price(kitchen, entry)
        if found is not None:
            return found
    return None


def _by_price(kitchen: Kitchen, entry: Entry) -> MealCost | None:
    """The meat of a cook by the newest price that its cut had by then; None where its weight or that is not known."""
    cut = cut_of(kitchen, entry)
    if cut is None:
        return None
    priced = [(one, value) for one in paid(kitchen, cut) if one.date <= entry.date and (value := one.a_gram(cut))]
    try:
        grams = sum(piece.mass_g.mid for one in entry.pieces if one.sized and (piece := one.piece(cut)) is not None)
    except CookbookError:
        return None
    if not priced or not grams:
        return None
    one, a_gram = priced[0]
    basis = f"the meat alone, by what it cost on {one.date.isoformat()}"
    return MealCost(entry.name, entry.date, {one.currency: round(a_gram * grams, 2)}, basis)
