"""What a spoonful weighs in this kitchen: `shared/ingredients.yaml`, one weighing a line, averaged when read."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.kitchen.kitchen import Kitchen
from cookbook.quantity import Amount, OwnWeight, Weighing, own_weights, weighing
from cookbook.quantity.number import digits
from cookbook.quantity.salt import is_cure


class Weighed(NamedTuple):
    """An ingredient after a weighing: its own weight now, how many weighings that rests on, and what is odd of it."""

    item: str
    own: OwnWeight
    doubt: str | None = None


def own_weights_of(kitchen: Kitchen) -> Mapping[str, OwnWeight]:
    """Every ingredient that was weighed, averaged. Raises FileError where the table holds errors."""
    return own_weights(_weighings(kitchen))


def _weighings(kitchen: Kitchen) -> list[Weighing]:
    measures = kitchen.settings["measures"]
    return [
        weighing(line["item"], line.nodes["amount"].text, line.nodes["weighs"].text, measures)
        for line in kitchen.shared("ingredients.yaml") or ()
    ]


def weigh(kitchen: Kitchen, item: str, amount: str, mass: str, day: date) -> Weighed:
    """Write a weighing into `shared/ingredients.yaml`, as its last line. Raises AmountError, RequestError."""
    from cookbook.files import Edit, Inline, create, lock, plain_yaml, save
    from cookbook.files import read as read_file

    if is_cure(item):
        raise RequestError(f"a spoon of {item} is never trusted", mend="a curing salt goes by weight alone")
    new = weighing(item, amount, mass, kitchen.settings["measures"])
    own_weights([*_weighings(kitchen), new])
    line = {
        "item": new.item,
        "amount": new.amount.ascii(),
        "weighs": Amount.parse(mass).ascii(),
        "date": day.isoformat(),
    }
    path = kitchen.root / "shared" / "ingredients.yaml"
    with lock(kitchen.root):
        if path.is_file():
            document = read_file(path, kitchen.shown(path))
            if document.root is None:
                data = document.data + plain_yaml([Inline(line)]).encode()
                save(path, data, expected_sha256=document.sha256, name=kitchen.shown(path))
            else:
                Edit(document).add_item(document.root, Inline(line)).save()
        else:
            create(path, plain_yaml([Inline(line)]).encode(), name=kitchen.shown(path))
    now = own_weights(_weighings(Kitchen.open(kitchen.root)))
    found = next(own for name, own in now.items() if name.split(", ")[0] == new.item.casefold().split(", ")[0])
    exact = now.get(new.item.casefold(), found)
    return Weighed(new.item, exact, _doubt(new))


def _doubt(new: Weighing) -> str | None:
    """A sentence where a weighing is more than twice the table's weight, or less than half of it."""
    table = new.amount.grams(new.item)
    if table is None or table.mid / 2 <= new.grams <= table.mid * 2:
        return None
    return (
        f"{new.amount} of {new.item} weighs about {digits(table.mid, 3)} g by the table, "
        f"and this says {digits(new.grams, 3)} g; "
        "it is kept: take its line out of shared/ingredients.yaml if it was a slip"
    )
