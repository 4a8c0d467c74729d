"""What a cup, a spoon or one piece of an ingredient weighs, looked up by the words a recipe uses.

The words before a comma say what it is, those after it what state it is in; word order, plurals and case don't matter.
A kitchen's own weighings win over the table. What is not known is not guessed.
"""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from functools import cache
from typing import TYPE_CHECKING, NamedTuple

from cookbook.errors import UnknownName
from cookbook.quantity.interval import Interval
from cookbook.table import rows, source

if TYPE_CHECKING:
    from cookbook.quantity.amount import Amount

SALT_PER_SODIUM = 58.443 / 22.990
"""Grams of sodium chloride in which there is a gram of sodium (atomic weights)."""

_STATES = frozenset((
    "minced", "crushed", "grated", "toasted", "cracked", "coarse", "coarsely", "finely", "fine", "freshly", "fresh",
    "leave", "leaf", "mashed", "melted", "softened", "warmed", "rinsed", "peeled", "picked", "stripped", "to", "taste"))
_PREPS = frozenset(("chopped", "sliced", "ground", "whole", "packed", "unpacked", "sifted", "unsifted", "drained",
                    "grated", "crumbled", "diced", "shredded", "halves", "slivered", "leaves", "cubes", "crushed"))


class IngredientWeight(NamedTuple):
    """One row: g in a ml (None where only pieces are known), the doubt as a share, grams of one by count word.

    `salt` is grams of salt in a gram; None where the table has no sodium.
    """

    name: str
    prep: str
    form: str
    g_per_ml: float | None
    doubt: float
    counts: Mapping[str, float]
    salt: float | None
    source: str
    memory: bool
    note: str

    def said(self) -> str:
        """Where the figure comes from, in a line."""
        what = f"{self.name}, {self.prep}" if self.prep else self.name
        return f"{what}: {source(self.source).title}" + (" (from memory, unchecked)" if self.memory else "")


class OwnWeight(NamedTuple):
    """A kitchen's own weighing of an ingredient: g in a ml, or g of one; the doubt shrinks with each weighing."""

    g_per_ml: float | None
    g_each: float | None
    weighings: int
    doubt: float


@cache
def _table() -> dict[tuple[str, str], IngredientWeight]:
    found = {}
    for row in rows("ingredients"):
        counts = dict(part.rsplit(" ", 1) for part in row["counts"].split("; ")) if row["counts"] else {}
        sodium = row["sodium_mg"]
        found[row["id"], row["prep"]] = IngredientWeight(
            row["name"], row["prep"], row["form"], float(row["g_per_ml"]) if row["g_per_ml"] else None,
            float(row["doubt"]), {word: float(grams) for word, grams in counts.items()},
            float(sodium) / 1e5 * SALT_PER_SODIUM if sodium else None, row["source"], row["memory"] == "true", row["note"])
    return found


@cache
def _words() -> dict[frozenset[str], tuple[str, str]]:
    """Every known wording, as a set of its words, to the row it means; what recipes say wins over the table's names."""
    found: dict[frozenset[str], tuple[str, str]] = {}
    for (identity, prep), weight in _table().items():
        key = _key(weight.name)
        if prep:
            found.setdefault(key | _key(prep), (identity, prep))
        found.setdefault(key, (identity, prep))
    for row in rows("ingredient_names"):
        found[_key(row["word"])] = row["id"], row["prep"]
    return found


@cache
def _key(words: str) -> frozenset[str]:
    plain = "".join(letter if letter.isalnum() else " " for letter in words.casefold())
    return frozenset(_singular(word) for word in plain.split() if word not in ("of", "the", "and", "or", "a"))


def _singular(word: str) -> str:
    if len(word) > 3 and word.endswith("ies"):
        return word[:-3] + "y"
    if len(word) > 4 and word.endswith(("oes", "ches", "shes")):
        return word[:-2]
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word


@cache
def lookup(item: str, pack: str = "") -> IngredientWeight | None:
    """The row that `item` means, or None. `pack` is a word of the amount such as `packed` or `sifted`."""
    words = _words()
    key = _key(item)
    head = _key(item.split(",")[0])
    after = key - head
    for wanted in (key, head | (after & _PREPS), key - _STATES, head, head - _STATES):
        if wanted in words:
            identity, prep = words[wanted]
            return _with_prep(identity, prep, pack or " ".join(after))
    return None


def _with_prep(identity: str, prep: str, said: str) -> IngredientWeight:
    """The row of that food in the state that was said, where the table has it; else the one the words lead to."""
    table = _table()
    wanted = _key(said) & {_singular(word) for word in _PREPS}
    if wanted and "unpacked" not in said:
        for (other, state), weight in table.items():
            if other == identity and wanted and wanted <= _key(state) and ("unpacked" in wanted) == ("unpacked" in _key(state)):
                return weight
    return table[identity, prep]


def require(item: str) -> IngredientWeight:
    """The row that `item` means. Raises UnknownName with the nearest ones and how to weigh a spoonful once."""
    found = lookup(item)
    if found is None:
        names = [row["word"] for row in rows("ingredient_names")]
        near = get_close_matches(item.casefold(), names, 3, 0.7)
        mend = None if near else f"weigh a level spoonful of {item} once and use grams"
        raise UnknownName("ingredient weight for", item, near, mend=mend)
    return found


def grams_of(amount: Amount, item: str, weights: Mapping[str, OwnWeight] | None = None) -> Interval | None:
    """The weight in g of a volume or count of `item`, with its doubt; None where it is not known."""
    pack = next((word for word in amount.words if "packed" in word or "sifted" in word), "")
    own = (weights or {}).get(" ".join(item.split()).casefold())
    weight = lookup(item, pack.split(" ")[-1])
    volume = amount.ml()
    if volume is not None:
        density = own.g_per_ml if own and own.g_per_ml else weight.g_per_ml if weight else None
        if density is None:
            return None
        return _doubted(volume.scaled(density), own.doubt if own and own.g_per_ml else weight.doubt if weight else 0.0)
    if amount.kind != "count" or amount.low is None or amount.high is None:
        return None
    part = next((word.removesuffix(" of") for word in amount.words if word.endswith(" of")), None)
    if part is not None:
        return _of_fruit(amount, part)
    each, doubt = _each(amount, weight, own)
    if each is None:
        return None
    low, high = float(amount.low), float(amount.high)
    return _doubted(Interval(low * each, (low + high) / 2 * each, high * each), doubt)


def _each(amount: Amount, weight: IngredientWeight | None, own: OwnWeight | None) -> tuple[float | None, float]:
    if own is not None and own.g_each is not None:
        return own.g_each, own.doubt
    if weight is None:
        return None, 0.0
    size = next((word for word in amount.words if word in ("small", "medium", "large", "extra-large")), None)
    for word in (amount.unit or size, size, "one" if not amount.unit else None, "medium" if not amount.unit else None):
        if word is not None and word in weight.counts:
            return weight.counts[word], max(0.15, weight.doubt if weight.form != "solid" else 0.15)
    return None, 0.0


def _of_fruit(amount: Amount, part: str) -> Interval | None:
    """Juice or zest of so many lemons. Juice by the table's piece, zest of one 1 to 3 teaspoons of peel at 2 g."""
    juice = {"lemon": 48.0, "lime": 44.0, "orange": 86.0}[amount.unit]
    assert amount.low is not None
    assert amount.high is not None
    low, high = float(amount.low), float(amount.high)
    one = Interval(0.0, 0.0, 0.0)
    if "juice" in part:
        one = Interval(0.7 * juice, juice, 1.3 * juice)
    if "zest" in part or "peel" in part:
        one = Interval(one.low + 2.0, one.mid + 4.0, one.high + 6.0)
    return Interval(low * one.low, (low + high) / 2 * one.mid, high * one.high)


def _doubted(value: Interval, doubt: float) -> Interval:
    return Interval(value.low * (1 - doubt), value.mid, value.high * (1 + doubt))


def salt_in(item: str, weights: Mapping[str, OwnWeight] | None = None) -> float:
    """Grams of salt in a gram of `item` (1 for salt itself, 0.14 for soy sauce, 0 where nothing is known)."""
    del weights
    found = lookup(item)
    if found is None or found.salt is None:
        return 1.0 if "salt" in _key(item) and "unsalted" not in _key(item) else 0.0
    return min(1.0, round(found.salt, 3)) if found.salt < 0.9 else 1.0
