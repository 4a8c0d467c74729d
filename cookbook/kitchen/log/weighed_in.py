"""What a line about the balance, the bowl or the day's sheet means beside the lines before it, and what it lacks."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from cookbook.journal import Entry
from cookbook.journal.made import bowl, made, on_balance
from cookbook.quantity import Amount, read_mass_g


def meant(entry: Entry, recipe: str, line: Mapping[str, Any], weights: Any = None) -> tuple[str, tuple[str, ...]]:
    """The difference that a reading of the balance means, in words, and what is missing or odd of it."""
    if "bowl" in line:
        return _bowl(entry, recipe, {key: read_mass_g(value) for key, value in line["bowl"].items()})
    if "reads" not in line:
        return "", ()
    before, unweighed = on_balance(entry.as_made.get(recipe, ()), weights)
    if before is None:
        lack = (
            f"nothing says what the balance read before {line['item']} went in, so this can't be counted; "
            "take it back with `log undo`, log `used bowl --reads MASS` first, or say what went in"
        )
        return "", (lack,)
    went_in = round(read_mass_g(line["reads"]) - before, 1)
    if went_in < 0:
        return "", (f"that is {-went_in:g} g less than before {line['item']} went in; it is not counted",)
    return f"so {went_in:g} g" + (f" together with {', '.join(unweighed)}" if unweighed else " went in"), ()


def _bowl(entry: Entry, recipe: str, new: Mapping[str, float]) -> tuple[str, tuple[str, ...]]:
    now = bowl(entry.as_made.get(recipe, ()))._replace(**new)
    if "after" not in new:
        if now.empty is None or now.full is None:
            return "how much is in it is open: nothing says what it weighs empty", ()
        if now.full < now.empty:
            return "", (f"that is less than the {now.empty:g} g of the empty bowl",)
        return f"so {round(now.full - now.empty, 1):g} g are in it", ()
    if now.used_g is None:
        return "", (
            "what went onto the meat needs the full bowl's weight too: log `used bowl --before MASS`",
        )
    if now.used_g < 0:
        return "", (f"that is more than the {now.full:g} g of the full bowl",)
    left = f", {round(now.left_g, 1):g} g stayed in it" if now.left_g is not None else ""
    return f"so {round(now.used_g, 1):g} g went onto the meat{left}", ()


def below_nothing(entry: Entry, recipe: str, item: str, less: Amount, weights: Any = None) -> str | None:
    """A sentence where `less` is more than what the day's sheet, and the lines since, leave of the item."""
    sheet = entry.sheet.get(recipe, {})
    key = " ".join(item.split()).casefold()
    items, _ = made(entry.as_made.get(recipe, ()), sheet, weights)
    found = next((one for one in items if (one.instead_of or one.item).casefold() == key), None)
    if found is None or found.amount is None:
        return None
    if not _more(less, found.amount, found.item, weights):
        return None
    so_far = "" if found.sheet is None or found.amount == found.sheet else f", {found.amount} with what was logged"
    on_sheet = found.sheet if found.sheet is not None else found.amount
    return f"{less} less {item} would be less than nothing: the day's sheet says {on_sheet}{so_far}"


def _more(one: Amount, two: Amount, item: str, weights: Any) -> bool:
    """Whether `one` is surely more than `two`."""
    if one.unit == two.unit and one.low is not None and two.high is not None:
        return one.low > two.high
    first, second = one.grams(item, weights), two.grams(item, weights)
    return first is not None and second is not None and first.low > second.high
