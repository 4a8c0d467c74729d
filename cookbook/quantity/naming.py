"""The words a recipe calls an ingredient by: word order, plurals, case and what is done to it afterwards don't
matter.

Words before a comma say what fills the measure, those after it what is done next: `1 cup chopped walnuts` is measured
after chopping, `1 cup walnuts, chopped` before.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from cookbook.quantity.words import PACKED

KNIFE = frozenset((
    "chopped", "diced", "minced", "sliced", "shredded", "grated", "cubed", "halved", "quartered", "slivered",
    "crumbled", "crushed",
    "mashed", "sifted", "torn", "julienned", "pounded", "bruised", "smashed", "zested", "juiced", "cut", "slit",
    "split", "snipped"))
"""What a hand does to it; after a comma it is done to what was measured."""
SAME_STATE = {"diced": "chopped", "minced": "chopped", "cubed": "cubes", "halved": "halves", "torn": "chopped",
              "snipped": "chopped",
              "quartered": "chopped", "crushed": "crushed", "slice": "sliced", "half": "halves", "cube": "cubes",
              "leave": "leaves",
              "leaf": "leaves", "piece": "pieces", "section": "sections", "crumb": "crumbs", "sprig": "sprigs"}
"""States that USDA's table knows by another word."""
_ASIDES = frozenset((
    "finely", "coarsely", "roughly", "freshly", "thinly", "thickly", "lightly", "very", "good", "best", "quality",
    "ripe", "organic", "room", "temperature", "at", "peeled", "trimmed", "washed", "rinsed", "picked", "stripped",
    "deseeded", "the", "of", "a", "an", "some", "into", "your", "own", "cut", "needed", "ready", "made", "homemade"))
"""Words that never tell one thing from another."""
_NEUTRAL = _ASIDES | frozenset((
    "cold", "warm", "hot", "boiling", "raw", "toasted", "softened", "melted", "pieces", "plain", "seeded", "and",
    "with"))
"""Those too that do so only in a name of its own, such as `hot sauce`."""
_COUNTS = frozenset(("clove", "sprig", "leaf", "leave", "head", "stalk", "stick", "bunch", "slice", "wedge", "fillet",
                     "small", "medium", "large", "knob", "piece", "handful", "rib", "ear", "can", "tin", "jar"))
_IMPLIED = frozenset(("fresh", "dried", "ground", "whole", "seed"))
"""Words that may be left out where the row that is left is what they say."""


class Wording(NamedTuple):
    """An item's words: `full` as a set, `core` without what is done to it, the states before the comma, those
    after."""

    full: frozenset[str]
    core: frozenset[str]
    states: frozenset[str]
    prepared: frozenset[str]


def singular(word: str) -> str:
    """A plural's singular, as far as kitchens need it."""
    if len(word) < 4 or not word.endswith("s") or word.endswith(("ss", "us")):
        return word
    if word.endswith("ies"):
        return word[:-3] + "y"
    if word.endswith(("oes", "ches", "shes")):
        return word[:-2]
    return word[:-1]


def _unmarked(text: str) -> str:
    """Letters without their marks: `purée` is `puree`, `jalapeño` `jalapeno`."""
    from unicodedata import combining, normalize

    return "".join(letter for letter in normalize("NFD", text) if not combining(letter))


def words_of(text: str) -> list[str]:
    """The words of a name in order, in small letters, without accents and in the singular."""
    if not text.isascii():
        text = _unmarked(text)
    return [singular(word) for word in "".join(
        letter if letter.isalnum() else "" if letter in "'’" else " " for letter in text.casefold()).split()]


@cache
def key_of(text: str) -> frozenset[str]:
    """The words of a name, as a set."""
    return frozenset(words_of(text)) - {"of", "the", "a", "an"}


def wording(item: str) -> Wording:
    """What an item's words say."""
    head, _, tail = item.partition(",")
    before, after = frozenset(words_of(head)), frozenset(words_of(tail))
    full = (before | after) - {"of", "the", "a", "an"}
    filled = before & PACKED | after & PACKED - {"sifted"}
    prepared = after & KNIFE - filled
    return Wording(full, full - KNIFE - _NEUTRAL - PACKED, before & KNIFE | filled, prepared)


def attempts(said: Wording) -> list[frozenset[str]]:
    """Sets of words to look up, the fullest first; the last ones leave out a word that the row itself must then
    bear."""
    named = said.full - _ASIDES
    plain = said.full - _NEUTRAL
    found = [said.full, named, named - said.prepared, named - KNIFE - PACKED, plain, plain - said.prepared, said.core,
             said.core - _COUNTS]
    return list(dict.fromkeys(one for one in found if one))


def implied(core: frozenset[str]) -> list[tuple[str, frozenset[str]]]:
    """What is left without each word that a row may bear by itself, and that word."""
    bare = core - _COUNTS or core
    return [(word, bare - {word}) for word in sorted(bare & _IMPLIED) if len(bare) > 1]


def state_key(states: frozenset[str]) -> frozenset[str]:
    """States in the table's words."""
    return frozenset(SAME_STATE.get(state, state) for state in states)
