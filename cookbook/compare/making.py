"""What went on the meat in one cook against another, or against what was written: per area and per kilogram.

Amounts that follow the surface are held against each other by the coated area, salt and the like by the weight of the
meat, so pieces of different sizes compare.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from cookbook.compare.condition import FIELDS, condition, recipe_then
from cookbook.errors import CookbookError
from cookbook.journal import Entry
from cookbook.kitchen import Kitchen
from cookbook.kitchen.learning.applied import Applied, applied
from cookbook.quantity import salt_in
from cookbook.quantity.number import digits
from cookbook.recipe.difference import Change, amounts
from cookbook.recipe.difference import differences as recipe_changes

SALTY = 0.1
"""Share of salt from which an item counts by the weight of the meat."""


class Made(NamedTuple):
    """One item of two cooks: what it was, per area or per kilogram, in each, and b / a. None where unknown."""

    item: str
    measure: str
    a: float | None
    b: float | None
    ratio: float | None

    def sentence(self) -> str:
        """`garlic: 21 mg/cm², now 25 mg/cm² (1.19 times)`."""
        if self.a is None or self.b is None:
            known = self.b if self.a is None else self.a
            told = "new" if self.a is None else "not any more"
            return f"{self.item}: {told}" + (f", {digits(known, 3)} {self.measure}" if known is not None else "")
        times = f" ({self.ratio:.2f} times)" if self.ratio is not None else ""
        return f"{self.item}: {digits(self.a, 3)} {self.measure}, now {digits(self.b, 3)} {self.measure}{times}"

    def json(self) -> dict[str, object]:
        """The line as `--json` gives it."""
        return {key: round(value, 4) if isinstance(value, float) else value for key, value in self._asdict().items()}


def between(kitchen: Kitchen, one: Entry, two: Entry) -> tuple[list[Made], list[Change]]:
    """Every item of both cooks as made, coat and salt in all; then the recipes as written and the conditions."""
    lines = [line for recipe in _recipes(one, two) for line in _items(kitchen, one, two, recipe)]
    return lines, [*_written(kitchen, one, two), *_conditions(kitchen, one, two)]


def as_made(kitchen: Kitchen, entry: Entry) -> list[Change]:
    """What one cook did otherwise than its day's sheet says, recipe by recipe."""
    return [
        change
        for recipe in _recipes(entry, entry)
        for item in applied(kitchen, entry, recipe).items
        for change in _against_sheet(item.item, item.instead_of, item.left_out, item.sheet, item.amount)
    ]


def _against_sheet(
    item: str, instead_of: str | None, left_out: bool, sheet: object, amount: object
) -> Iterator[Change]:
    from cookbook.quantity import Amount

    if left_out:
        yield Change(item, "ingredient", str(sheet) if sheet else None, None)
    elif instead_of:
        yield Change(instead_of, "ingredient", str(sheet) if sheet else None, None)
        yield Change(item, "ingredient", None, str(amount) if amount else "nobody weighed it")
    elif isinstance(sheet, Amount) and isinstance(amount, Amount):
        yield from amounts(item, "amount", sheet, amount)
    elif isinstance(amount, Amount):
        yield Change(item, "ingredient", None, str(amount))


def _recipes(one: Entry, two: Entry) -> list[str]:
    return list(dict.fromkeys([*one.sheet, *one.as_made, *two.sheet, *two.as_made]))


def _items(kitchen: Kitchen, one: Entry, two: Entry, recipe: str) -> Iterator[Made]:
    sides = [applied(kitchen, entry, recipe) for entry in (one, two)]
    for item in dict.fromkeys(line.item for side in sides for line in side.items):
        a, b = (_each(kitchen, side, item) for side in sides)
        if a is not None or b is not None:
            yield _line(item, "g/kg" if salt_in(item) >= SALTY else "mg/cm²", a, b)
    yield from _whole("coat", "mg/cm²", [side.coat_mg_per_cm2 for side in sides])
    yield from _whole("salt in all", "g/kg", [side.salt_g_per_kg for side in sides])


def _whole(name: str, measure: str, sides: list[float | None]) -> Iterator[Made]:
    if None not in sides:
        yield _line(name, measure, *sides)


def _line(item: str, measure: str, a: float | None, b: float | None) -> Made:
    return Made(item, measure, a, b, b / a if a and b else None)


def _each(kitchen: Kitchen, side: Applied, item: str) -> float | None:
    """An item on each cm² in mg, or on each kg in g where it is salt; None where it or its weight is not known."""
    amount = next((line.amount for line in side.items if line.item == item), None)
    try:
        grams = amount.grams(item, kitchen.weights) if amount is not None else None
    except CookbookError:
        return None
    ground = side.meat_g if salt_in(item) >= SALTY else side.coated_cm2
    return 1000 * grams.mid / ground if grams is not None and ground else None


def _written(kitchen: Kitchen, one: Entry, two: Entry) -> list[Change]:
    found: list[Change] = []
    was, now = recipe_then(kitchen, one), recipe_then(kitchen, two)
    if was is not None and now is not None:
        found += recipe_changes(was, now)
    for name in one.uses:
        if name in two.uses and one.uses[name].partition(".")[0] != two.uses[name].partition(".")[0]:
            try:
                found += recipe_changes(
                    kitchen.recipe(f"{name}@{one.uses[name]}"), kitchen.recipe(f"{name}@{two.uses[name]}")
                )
            except CookbookError:
                continue
    return found


def _conditions(kitchen: Kitchen, one: Entry, two: Entry) -> Iterator[Change]:
    for field in FIELDS:
        if field in ("year", "month", "recipe", "pull", "rest", "cover", "wrap"):
            continue
        was, now = condition(kitchen, one, field), condition(kitchen, two, field)
        if was is not None and now is not None and was.casefold() != now.casefold():
            yield Change(field, field, was, now)
