"""Which allergens an ingredient's words stand for, by US law (nine) or EU law (fourteen).

A help in reading a recipe, not a label: what is in a jar stands on the jar. Words that are not in the table say
nothing.
"""

from __future__ import annotations

from functools import cache
from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.quantity.naming import words_of
from cookbook.table import rows

LAWS = ("us", "eu")


class Allergen(NamedTuple):
    """One allergen in a law's own words; `detail` is the species or where it comes from, '' where nothing is to
    add."""

    name: str
    detail: str = ""

    def __str__(self) -> str:
        return f"{self.name} ({self.detail})" if self.detail else self.name


class Allergens(NamedTuple):
    """What an ingredient nearly always contains, and what its label has to be read for."""

    contains: tuple[Allergen, ...] = ()
    check: tuple[Allergen, ...] = ()


class _Entry(NamedTuple):
    contains: tuple[Allergen, ...]
    check: tuple[Allergen, ...]


def _listed(text: str) -> tuple[Allergen, ...]:
    """`tree nut (almond); milk` as allergens under the table's own names."""
    found, depth, start = [], 0, 0
    for at, letter in enumerate(text + ";"):
        depth += (letter == "(") - (letter == ")")
        if letter == ";" and not depth:
            name, _, detail = text[start:at].strip().partition(" (")
            found.append(Allergen(name, detail.rstrip(")")))
            start = at + 1
    return tuple(one for one in found if one.name and one.name != "none")


@cache
def _words() -> dict[tuple[str, ...], _Entry]:
    found: dict[tuple[str, ...], _Entry] = {}
    for row in rows("allergen_words"):
        entry = _Entry(_listed(row["contains"]), _listed(row["check"]))
        for phrase in row["words"].split("; "):
            found[tuple(words_of(phrase))] = entry
    return found


@cache
def _named(law: str) -> dict[str, str]:
    return {row["name"]: row[law] for row in rows("allergens")}


def allergens(item: str, law: str = "eu") -> Allergens:
    """The allergens behind an item's words under `law`, us or eu; longer wordings win (`peanut butter` has no
    milk)."""
    if law not in LAWS:
        raise RequestError(f"'{law}' is no law that is known here", mend="known are us and eu")
    contains: list[Allergen] = []
    check: list[Allergen] = []
    for entry in _entries(words_of(item)):
        contains += _in_law([one for one in entry.contains if law in _laws(one)], law)
        check += _in_law([*entry.check, *(one for one in entry.contains if law not in _laws(one))], law)
    kept = tuple(dict.fromkeys(contains))
    names = {one.name for one in kept}
    return Allergens(kept, tuple(one for one in dict.fromkeys(check) if one.name not in names or one.detail))


def _laws(one: Allergen) -> tuple[str, ...]:
    """The laws that count it; what only the other one counts is still worth a look."""
    return ("us",) if "by US law" in one.detail else LAWS


def _entries(words: list[str]) -> list[_Entry]:
    """The table's entries among the words, longest phrases first, no word used twice.

    A phrase may stand turned around a comma, as in `mustard, wholegrain`, so its words may stand in any order.
    """
    table = _words()
    left, found = list(words), []
    for phrase in sorted(_candidates(frozenset(words)), key=lambda one: -len(one)):
        if all(left.count(word) >= phrase.count(word) for word in phrase):
            found.append(table[phrase])
            for word in phrase:
                left.remove(word)
    return found


@cache
def _by_word() -> dict[str, tuple[tuple[str, ...], ...]]:
    """Phrases by their first word."""
    found: dict[str, tuple[tuple[str, ...], ...]] = {}
    for phrase in _words():
        found[phrase[0]] = (*found.get(phrase[0], ()), phrase)
    return found


def _candidates(words: frozenset[str]) -> list[tuple[str, ...]]:
    by_word = _by_word()
    return [phrase for word in sorted(words) for phrase in by_word.get(word, ()) if words >= set(phrase)]


def _in_law(found: list[Allergen], law: str) -> list[Allergen]:
    """The allergens of a list that a law names, in its words; wheat is a gluten cereal in the EU."""
    names = _named(law)
    out = []
    for one in found:
        if names[one.name]:
            detail = one.detail.partition(", by US law")[0] if law == "us" else one.detail
            out.append(Allergen(names[one.name], detail or ("wheat" if law == "eu" and one.name == "wheat" else "")))
    return out
