"""Which names a recipe has had, and every cook of it under any of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from typing import Any, NamedTuple

from cookbook.errors import CookbookError
from cookbook.journal import Entry
from cookbook.kitchen import store
from cookbook.kitchen.kitchen import Kitchen
from cookbook.meat import Cut


class Cook(NamedTuple):
    """One cook of a recipe: its entry, the name the recipe had then, and the version's name.

    `version` is None where it is remembered without one.
    """

    entry: Entry
    called: str
    version: str | None

    @property
    def meaning(self) -> str | None:
        """The part of the version that names what it means."""
        return self.version.partition(".")[0] if self.version else None


def names_of(kitchen: Kitchen, name: str) -> tuple[str, ...]:
    """The recipe's name and those it had before: written under `formerly:`, or told by a kept text.

    A folder of versions whose recipe is gone belongs to the recipe that means the same as one of them, now or in a
    text kept since: its file was given another name.
    """
    try:
        recipe = kitchen.recipe(name) if kitchen.has_recipe(name) else None
    except CookbookError:
        recipe = None
    found = dict.fromkeys((name, *(recipe.formerly if recipe is not None else ())))
    lost = [other for other in kitchen.lost_names if other not in found]
    if lost and kitchen.has_recipe(name):
        own = {kept.meaning for one in found for kept in store.kept(kitchen.root, one)}
        with suppress(CookbookError):
            own |= {kitchen.short_version(recipe)} if recipe is not None else set()
        found |= dict.fromkeys(
            other for other in lost if own & {kept.meaning for kept in store.kept(kitchen.root, other)}
        )
    return tuple(found)


def now_called(kitchen: Kitchen, old: str) -> str | None:
    """The recipe that goes by the name `old`, or once did; None where there is none."""
    if kitchen.has_recipe(old):
        return old
    if old not in kitchen.lost_names:
        return None
    return next((name for name in kitchen.recipe_names() if old in names_of(kitchen, name)), None)


def listed(kitchen: Kitchen, table: str, name: str) -> list[Mapping[str, Any]]:
    """The lines of a table of `shared/` about a recipe, under any name that it had.

    Raises FileError where the table holds errors.
    """
    every = kitchen.shared(table) or ()
    names = (name,) if all(kitchen.has_recipe(one["recipe"]) for one in every) else names_of(kitchen, name)
    return [one for one in every if one["recipe"] in names]


def called(kitchen: Kitchen, old: str) -> str:
    """The name that a recipe goes by now which once went by `old`; `old` where there is none."""
    if kitchen.has_recipe(old):
        return old
    return next((name for name in kitchen.recipe_names() if old in names_of(kitchen, name)), old)


def cut_name(words: str | None, own: Sequence[Cut] = ()) -> str | None:
    """The cut's own name, whatever it was called; the words as they are where nobody knows the cut."""
    if words is None:
        return None
    try:
        return Cut.named(words, own).name
    except CookbookError:
        return words


def cut_of(kitchen: Kitchen, entry: Entry) -> str | None:
    """The name of the cut that was cooked: its piece's own, or that of the recipe, if need be as it was kept."""
    said = next((piece.cut for piece in entry.pieces if piece.cut), None)
    if said is None and entry.recipe is not None:
        here = kitchen.has_recipe(entry.recipe)
        try:
            said = kitchen.recipe(entry.recipe if here else f"{entry.recipe}@{entry.version}").meat
        except CookbookError:
            return None
    return cut_name(said, kitchen.cuts)


def cooks_of(kitchen: Kitchen, name: str, memory: bool = False, newest: bool = False) -> Iterator[Cook]:
    """Every cook of the recipe, oldest first, or with `newest` last; with `memory` also remembered ones, which
    nothing may count."""
    names = names_of(kitchen, name)
    for entry in kitchen.entries(naming=names, newest=newest):
        if entry.memory and not memory:
            continue
        called = next((one for one in names if one in entry.versions or one == entry.recipe), None)
        if called is not None and (entry.memory or called in entry.versions):
            yield Cook(entry, called, entry.versions.get(called))
