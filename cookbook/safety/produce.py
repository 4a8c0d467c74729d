"""Which ingredient words are low-acid produce, and which are a fat that produce could lie under.

Spores on fresh garlic, herbs, onions and the like grow where fat keeps the air away. Dried and powdered ones are too
dry for that. The words are the cook's own, so a bare `sage` counts as fresh: the caution errs to that side.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Sequence
from functools import cache
from typing import NamedTuple

from cookbook.table import rows

_FRESH = {"fresh", "soaked", "rehydrated", "reconstituted", "paste", "puree", "pureed"}
_DRIED = {"dried", "dry", "dehydrated", "powdered", "powder", "granulated", "granules", "granule", "flakes", "flake",
          "ground", "rubbed", "crispy", "seasoning"}
_WIPED = {"washed", "rinsed", "patted", "pat", "spun", "wiped", "drained"}
_HEADS = {"powder", "granules", "granule", "flakes", "flake", "salt", "seed", "pollen", "vinegar", "sauce", "ketchup",
          "mustard", "beer", "ale", "wine", "syrup", "cordial", "tea", "snap", "biscuit", "bread", "cracker", "crisp",
          "chip", "sausage", "soup", "gravy", "cube", "bouillon", "cheese", "free", "extract", "essence", "jelly",
          "seasoning", "pickle", "starch", "flour", "sugar"}
_GROUPS = re.compile(r"\s+(?:and|with|plus|or)\s+|[&+;/]")


class UnderFat(NamedTuple):
    """What low-acid produce a recipe puts in which fats, each named once in the recipe's order."""

    produce: tuple[str, ...]
    fats: tuple[str, ...]


class _Word(NamedTuple):
    kind: str
    usual: str
    name: str


def fresh_produce(item: str) -> tuple[str, ...]:
    """Names of the fresh low-acid produce in an ingredient's words: `garlic cloves` has it, `garlic powder` not."""
    found: dict[str, None] = {}
    for group in _groups(item):
        words = set(group)
        dried = bool(words & _DRIED) and not words & _FRESH
        if words & _WIPED and not (words & _DRIED) - {"dry", "dried"}:
            dried = False
        for word, after in _known(group):
            if word.kind != "produce" or after in _HEADS:
                continue
            if not dried and (word.usual == "fresh" or words & _FRESH):
                found[word.name] = None
    return tuple(found)


def fats(item: str) -> tuple[str, ...]:
    """Names of the fats in an ingredient's words: `olive oil`, `beef dripping`; none in `low-fat yoghurt`."""
    found: dict[str, None] = {}
    for group in _groups(item):
        for word, after in _known(group):
            lean = after == "free" or (word.name == "fat" and "trimmed" in group)
            if word.kind.startswith("fat") and not lean:
                found[word.name] = None
    return tuple(found)


def under_fat(items: Iterable[str]) -> UnderFat | None:
    """The produce and the fats of a recipe where it has both, else None."""
    lines = list(items)
    produce = dict.fromkeys(name for item in lines for name in fresh_produce(item))
    under = dict.fromkeys(name for item in lines for name in fats(item))
    return UnderFat(tuple(produce), tuple(under)) if produce and under else None


@cache
def _vocabulary() -> dict[tuple[str, ...], tuple[_Word, ...]]:
    words: dict[tuple[str, ...], tuple[_Word, ...]] = {}
    for row in rows("safety_oil_words"):
        key = tuple(row["word"].split())
        words[key] = (*words.get(key, ()), _Word(row["kind"], row["usual"], row["name"]))
    return words


def _known(group: Sequence[str]) -> list[tuple[_Word, str]]:
    """The vocabulary's words in a group, longest phrases first, each with the word that follows it."""
    found: list[tuple[_Word, str]] = []
    at = 0
    while at < len(group):
        size = next((size for size in (3, 2, 1) if _entry(group, at, size)), 0)
        if size:
            after = _singular(group[at + size]) if at + size < len(group) else ""
            found += [(word, after) for word in _entry(group, at, size)]
        at += size or 1
    return found


def _entry(group: Sequence[str], at: int, size: int) -> tuple[_Word, ...]:
    phrase = tuple(group[at:at + size])
    if len(phrase) < size:
        return ()
    words = _vocabulary()
    return words.get(phrase) or words.get((*phrase[:-1], _singular(phrase[-1])), ())


def _singular(word: str) -> str:
    if word == "leaves":
        return "leaf"
    for ending, one in (("ies", "y"), ("oes", "o"), ("s", "")):
        if word.endswith(ending) and len(word) > len(ending) + 2 and not word.endswith("ss"):
            return word[: -len(ending)] + one
    return word


def _groups(item: str) -> list[list[str]]:
    """The item's words, parted where another ingredient begins: after `and`, or a comma before a known word."""
    plain = unicodedata.normalize("NFKD", item.casefold())
    plain = "".join(char for char in plain if not unicodedata.combining(char))
    groups: list[list[str]] = []
    for part in _GROUPS.split(plain):
        groups.append([])
        for clause in re.split(r"[,()\[\]]", part):
            words = re.findall(r"[a-z]+", clause.replace("'", ""))
            if _known(words) and _known(groups[-1]):
                groups.append([])
            groups[-1] += words
    return groups
