"""What a batch comes to: mass, volume, salt and sodium, and the lines that are in none of them, by name and reason.

Ranges count with both ends, their middle is the middle of the total. Salt in a spoon is only counted where the
spoon's weight is known well: table salt, or a salt that this kitchen weighed.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING, NamedTuple

from cookbook.quantity.interval import Interval
from cookbook.quantity.salt import is_salt, salt_in, trusted
from cookbook.quantity.weight import SALT_PER_SODIUM, lookup

if TYPE_CHECKING:
    from cookbook.quantity.amount import Amount
    from cookbook.quantity.own import OwnWeight

ZERO = Interval(0.0, 0.0, 0.0)


class Uncounted(NamedTuple):
    """A line that a total leaves out: which total (`mass`, `volume`, `salt`), and why."""

    item: str
    total: str
    why: str


class Totals(NamedTuple):
    """Sums over a batch: g, ml, g of salt, mg of sodium; `ranges` says that an amount was written as a range."""

    grams: Interval
    ml: Interval
    salt_g: Interval
    sodium_mg: Interval
    uncounted: tuple[Uncounted, ...]
    ranges: bool


def totals(lines: Iterable[tuple[Amount, str]], weights: Mapping[str, OwnWeight] | None = None) -> Totals:
    """The totals of a batch of (amount, item); amounts that follow the meat have to come in as grams."""
    grams = ml = salt = ZERO
    uncounted: list[Uncounted] = []
    ranges = False
    for amount, item in lines:
        ranges = ranges or amount.low != amount.high
        weighed = amount.grams(item, weights)
        if weighed is None:
            uncounted += [Uncounted(item, total, _why(amount, item, weights)) for total in ("mass", "volume", "salt")]
            continue
        grams = grams.plus(weighed)
        filled = _volume(amount, item, weighed, weights)
        if filled is None:
            uncounted.append(Uncounted(item, "volume", f"what a spoonful of {item} weighs is not known"))
        else:
            ml = ml.plus(filled)
        part, why = _salt(amount, item, weighed, weights)
        if why:
            uncounted.append(Uncounted(item, "salt", why))
        salt = salt.plus(part)
    return Totals(grams, ml, salt, salt.scaled(1000 / SALT_PER_SODIUM), tuple(uncounted), ranges)


def _volume(amount: Amount, item: str, grams: Interval, weights: Mapping[str, OwnWeight] | None) -> Interval | None:
    measured = amount.ml()
    if measured is not None:
        return measured
    row = lookup(item, weights)
    if row is None or not row.g_per_ml or not row.low or not row.high:
        return None
    return Interval(grams.low / row.high, grams.mid / row.g_per_ml, grams.high / row.low)


def _salt(amount: Amount, item: str, grams: Interval,
          weights: Mapping[str, OwnWeight] | None) -> tuple[Interval, str]:
    """Salt in a line, or nothing and why it is not counted."""
    if not trusted(amount, item, weights):
        return ZERO, f"a spoon of {item} may hold twice the salt of another: weigh a level tablespoon once"
    if not is_salt(item):
        row = lookup(item, weights)
        if row is None or row.salt is None:
            return ZERO, f"the sodium of {item} is not known"
    return grams.scaled(salt_in(item, weights)), ""


def _why(amount: Amount, item: str, weights: Mapping[str, OwnWeight] | None) -> str:
    if amount.kind == "free":
        return f"{amount}, so nobody measures it"
    if amount.kind == "percent":
        return "it follows the weight of the meat"
    row = lookup(item, weights)
    if row is None:
        return f"what {item} weighs is not known"
    if amount.kind == "count":
        return f"what one {amount.unit or 'piece'} of {item} weighs is not known"
    return f"what a spoonful of {item} weighs is not known"
