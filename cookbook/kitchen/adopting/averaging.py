"""Adopting from several cooks: the average of what went in and how it was done, and how it varied."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from fractions import Fraction
from statistics import fmean, stdev
from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.journal import Entry
from cookbook.journal.made import add, made
from cookbook.kitchen.adopting.adopt import coated, percent_of_meat, revised, three_digits
from cookbook.kitchen.adopting.adopted import Adopted, Adoption, Keep, Varied, sure
from cookbook.kitchen.adopting.averaged_method import average_method
from cookbook.kitchen.adopting.method import Method
from cookbook.kitchen.descent import names_of, now_called
from cookbook.kitchen.kitchen import Kitchen
from cookbook.quantity import Amount
from cookbook.recipe import Ingredient, Recipe
from cookbook.recipe.difference import ratio
from cookbook.recipe.model import DEFAULT_FOLLOWS
from cookbook.recipe.scaling import factor_between, salt_share


class _Taken(NamedTuple):
    """What one cook took of an ingredient, in the recipe's terms; `amount` is None where it was left out."""

    item: str
    amount: Amount | None
    otherwise: bool
    guess: bool


def averages(
    kitchen: Kitchen, entries: Sequence[Entry], keep: Keep = sure
) -> list[Adoption]:
    """What adopting the average of `entries` would change, one for every recipe that one of them made otherwise.

    A cook that kept to the day's sheet counts as one that took what the sheet says. Nothing is written. Raises
    RequestError where nothing was made otherwise, or where an entry began without a recipe.
    """
    found = []
    own = [now_called(kitchen, entry.recipe) if entry.recipe else None for entry in entries]
    made_of = dict.fromkeys(_now(kitchen, called) for entry in entries for called in entry.as_made)
    for name in dict.fromkeys([*made_of, *filter(None, own)]):
        recipe = kitchen.recipe(name)
        changes: list[Adopted | Method] = []
        notes: list[str] = []
        names = names_of(kitchen, name)
        cooks = [entry for entry in entries if any(one in entry.sheet or one in entry.as_made for one in names)]
        if name in made_of:
            amounts, notes = _changes(kitchen, recipe, cooks)
            changes += amounts
        done = [entry for entry, called in zip(entries, own, strict=True) if called == name]
        changes += average_method(kitchen, done, recipe) if done else []
        chosen = [change for change in changes if keep(name, change)]
        if chosen:
            many = len(cooks) or len(done)
            found.append(revised(kitchen, recipe, chosen, f"{many} pieces" if many > 1 else "1 piece", notes))
    if not found:
        raise RequestError(
            "these cooks have nothing to adopt: everything went in and was done as the recipe says",
            mend="log what went in with `cookbook log used`, what was done with `cookbook log otherwise`",
            code="nothing-to-adopt",
        )
    return found


def _now(kitchen: Kitchen, called: str) -> str:
    name = now_called(kitchen, called)
    if name is None:
        raise RequestError(
            f"{called} is no recipe yet, so there is nothing to average against", mend="adopt one of the cooks first"
        )
    return name


def _changes(kitchen: Kitchen, recipe: Recipe, cooks: Sequence[Entry]) -> tuple[list[Adopted], list[str]]:
    if recipe.made_for is None:
        raise RequestError(
            f"{recipe.name} doesn't say what it was made for", mend="give it `made_for:` with a cut and a weight"
        )
    slots: dict[str, list[_Taken]] = {}
    notes: list[str] = []
    for entry in cooks:
        notes += _taken(kitchen, recipe, entry, slots)
    changes = [
        change
        for key, taken in slots.items()
        if any(one.otherwise for one in taken) and (change := _average(kitchen, recipe, key, taken)) is not None
    ]
    return changes, notes


def _taken(kitchen: Kitchen, recipe: Recipe, entry: Entry, slots: dict[str, list[_Taken]]) -> list[str]:
    """Put what `entry` took of everything into its slot, by the name that the recipe has for it."""
    assert recipe.made_for is not None
    names = names_of(kitchen, recipe.name)
    called = next(one for one in names if one in entry.as_made or one in entry.sheet)
    items, notes = made(entry.as_made.get(called, ()), entry.sheet.get(called, {}), kitchen.weights)
    pieces, own = coated(kitchen, entry, recipe), recipe.made_for.piece()
    for item in items:
        key = item.instead_of or item.item
        line = recipe.ingredient(key)
        amount = item.amount
        if amount is not None and line is not None and line.amount.kind == "percent":
            percent = percent_of_meat(line.amount, item, pieces, kitchen)
            amount = Amount.parse(f"{percent:.4f} % {line.amount.unit.removeprefix('percent ')}")
        elif amount is not None and amount.kind != "free":
            factor = factor_between(own, pieces, line.follows if line else DEFAULT_FOLLOWS[recipe.kind])
            amount = amount.scaled(Fraction(1 / factor).limit_denominator(10**6))
        if amount is not None or item.left_out:
            otherwise = item.how != "as on the sheet"
            slots.setdefault(key.casefold(), []).append(_Taken(item.item, amount, otherwise, item.guess))
    return [f"{entry.name}: {note}" for note in notes]


def _average(kitchen: Kitchen, recipe: Recipe, key: str, taken: list[_Taken]) -> Adopted | None:
    line = recipe.ingredient(key)
    used = [one for one in taken if one.amount is not None]
    if 2 * len(used) <= len(taken):
        varied = Varied(len(used), "", "", None, len(taken) - len(used))
        return Adopted(line.item, None, None, 1.0, line, drop=True, varied=varied) if line is not None else None
    item = Counter(one.item for one in used).most_common(1)[0][0]
    same = [one for one in used if one.item == item]
    amounts = [one.amount for one in same if one.amount is not None]
    mean = _mean(kitchen, item, amounts)
    if mean is None:
        raise RequestError(
            f"the amounts of {item} can't be averaged without knowing what it weighs",
            mend=f"weigh it once: cookbook weigh '{item}' 1tbsp MASS",
        )
    in_recipe = _rounded(mean)
    if (
        line is not None
        and line.item.casefold() == item.casefold()
        and in_recipe.canonical() == line.amount.canonical()
    ):
        return None
    salty = salt_share(Ingredient(item, in_recipe, "weight"), kitchen.weights) > 0.5
    varied = _varied(item, mean, amounts, len(taken) - len(same))
    guess = any(one.guess for one in same)
    exact = three_digits(mean)
    return Adopted(item, None, in_recipe, 1.0, line, salt=salty, guess=guess, exact=exact, varied=varied)


def _mean(kitchen: Kitchen, item: str, amounts: Sequence[Amount]) -> Amount | None:
    shares = [float(amount.low) for amount in amounts if amount.kind == "percent" and amount.low is not None]
    if len(shares) == len(amounts):
        return Amount.parse(f"{fmean(shares):.4f} % {amounts[0].unit.removeprefix('percent ')}")
    total: Amount | None = amounts[0]
    for amount in amounts[1:]:
        total = add(total, amount, item, kitchen.weights) if total is not None else None
    return total if total is None or total.kind == "free" else total.scaled(Fraction(1, len(amounts)))


def _rounded(mean: Amount) -> Amount:
    """What can be measured: a share of the meat to the twentieth of a percent, anything else as it is weighed."""
    if mean.kind != "percent" or mean.low is None:
        return mean.rounded()
    return Amount.parse(f"{round(float(mean.low) * 20) / 20:g} % {mean.unit.removeprefix('percent ')}")


def _varied(item: str, mean: Amount, amounts: Sequence[Amount], others: int) -> Varied:
    times = [one for amount in amounts if (one := ratio(item, mean, amount)) is not None]
    ranked = sorted(amounts, key=lambda amount: ratio(item, mean, amount) or 0.0)
    spread = 100 * stdev(times) if len(times) > 1 else None
    return Varied(len(amounts), three_digits(ranked[0]), three_digits(ranked[-1]), spread, others)
