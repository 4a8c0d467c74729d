"""Which ingredients are salt or cure, how much salt is in the others, and which spoons of salt can be trusted."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import TYPE_CHECKING

from cookbook.errors import RequestError
from cookbook.quantity.interval import Interval
from cookbook.quantity.naming import key_of

if TYPE_CHECKING:
    from cookbook.quantity.amount import Amount
    from cookbook.quantity.own import OwnWeight

_NOT_SALT = frozenset(("unsalted", "celery", "garlic", "onion", "butter", "seasoned", "low", "reduced", "substitute"))
_CURES = tuple(key_of(words) for words in (
    "curing salt", "pink salt", "cure 1", "cure 2", "pink cure", "tinted cure", "instant cure", "curing mix",
    "cure mix", "Prague powder", "saltpetre", "saltpeter", "nitrite", "nitrate", "nitrited salt"))
_NOT_CURE = frozenset(("himalayan", "himalaya", "free", "without", "peppercorn", "uncured"))


@cache
def is_cure(item: str) -> bool:
    """Whether the words name a curing salt: always by weight, never by spoon. Pink salt from the Himalaya is none."""
    words = key_of(item)
    return not words & _NOT_CURE and any(cure <= words for cure in _CURES)


def refuse_cure_by(how: str) -> RequestError:
    """The refusal for curing salt measured by the `spoon` or scaled by `surface`, or in words of its own."""
    said = {"spoon": "measured by the spoon", "surface": "scaled by surface"}.get(how, how)
    return RequestError(f"curing salt is never {said}: the same spoon or coat can hold twice the nitrite",
                        mend="work it out by the weight of the meat with `cookbook safety cure`, weigh it on a fine "
                        "scale, and write it in grams with `follows: weight`, or as `% of meat`")


@cache
def is_salt(item: str) -> bool:
    """Whether the item is salt itself."""
    words = key_of(item.split(",")[0])
    return "salt" in words and not words & _NOT_SALT and not is_cure(item)


def salt_in(item: str, weights: Mapping[str, OwnWeight] | None = None) -> float:
    """Grams of salt in a gram of `item` (1 for salt itself, 0.14 for soy sauce, 0 where nothing is known)."""
    from cookbook.quantity.weight import lookup

    if is_salt(item) or is_cure(item):
        return 1.0
    found = lookup(item, weights)
    if found is None or found.salt is None:
        return 0.0
    return min(1.0, round(found.salt, 3))


def trusted(amount: Amount, item: str, weights: Mapping[str, OwnWeight] | None = None) -> bool:
    """Whether an amount of salt may feed a figure for salt or sodium: by weight, table salt, or a salt weighed here.

    Other salts differ by half from maker to maker in the same spoon.
    """
    from cookbook.quantity.weight import lookup

    if amount.kind != "volume" and amount.ml() is None:
        return True
    if not is_salt(item):
        return True
    row = lookup(item, weights)
    return row is not None and (row.own > 0 or not row.memory)


def salt_grams(amount: Amount, item: str, weights: Mapping[str, OwnWeight] | None = None) -> Interval | None:
    """Grams of salt in so much of `item`; None where its weight is not known or a spoon of it can't be trusted."""
    grams = amount.grams(item, weights)
    if grams is None or not trusted(amount, item, weights):
        return None
    return grams.scaled(salt_in(item, weights))
