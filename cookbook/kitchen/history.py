"""The versions of a recipe: which there are, in which order, what changed, how many cooks each has."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple

from cookbook.errors import CookbookError
from cookbook.kitchen import store
from cookbook.kitchen.clock import day_words
from cookbook.kitchen.descent import Cook, cooks_of, names_of
from cookbook.kitchen.kitchen import Kitchen
from cookbook.recipe import Recipe
from cookbook.recipe.difference import Change, differences, summary


class Version(NamedTuple):
    """One version: its meaning's name and every kept text of it, the cooks that began with it, what it changed.

    `inner` names the version of every recipe inside, where that is known.
    """

    name: str
    texts: tuple[str, ...]
    recipe: Recipe | None
    revision: int | None
    first_used: date | None
    cooks: int
    changes: tuple[Change, ...]
    current: bool
    inner: Mapping[str, str] = {}

    def label(self, this_year: int | None = None) -> str:
        """`revision 4 (14 Nov, more garlic)`."""
        head = f"revision {self.revision}" if self.revision else "unnumbered"
        parts = []
        if self.first_used is not None:
            used = self.first_used
            parts.append(day_words(used.year, used.month, used.day, this_year or date.today().year))
        elif self.current:
            parts.append("not cooked yet")
        if self.changes:
            parts.append(summary(list(self.changes)))
        return f"{head} ({', '.join(parts)})" if parts else head


def versions(kitchen: Kitchen, name: str) -> list[Version]:
    """Every version of `name`, oldest first, the file as it stands now last.

    Versions are told apart by meaning: two texts that mean the same are one.
    """
    current = kitchen.recipe(name) if kitchen.has_recipe(name) else None
    used: dict[str, list[Cook]] = {}
    for cook in cooks_of(kitchen, name):
        used.setdefault(cook.meaning or "", []).append(cook)
    kept: dict[str, list[store.Stored]] = {}
    for called in reversed(names_of(kitchen, name)):
        for stored in store.kept(kitchen.root, called):
            kept.setdefault(stored.meaning, []).append(stored)
    now = kitchen.short_version(current) if current is not None else None
    if now is not None:
        kept.setdefault(now, [])
    elif not kept:
        kitchen.recipe(name)
    found = [
        _version(kitchen, meaning, texts, used, current if meaning == now else None)
        for meaning, texts in kept.items()
    ]
    found.sort(key=lambda one: (one.current, one.first_used or date.max, one.revision or 0, one.name))
    return [
        one._replace(changes=tuple(_changes(found[place - 1], one) if place else ()))
        for place, one in enumerate(found)
    ]


def labels_of(known: Sequence[Version]) -> dict[str, str]:
    """How people see each of these versions, by its name; digits only where two would look alike."""
    labels = [one.label() for one in known]
    return {
        one.name: label if labels.count(label) == 1 else f"{label}, {one.name}"
        for one, label in zip(known, labels, strict=True)
    }


def label_of(kitchen: Kitchen, name: str, version: str) -> str:
    """How people see one version of a recipe."""
    found = labels_of(versions(kitchen, name)).get(version.partition(".")[0])
    return found or f"a version that is not kept, {version}"


def _version(
    kitchen: Kitchen, meaning: str, texts: list[store.Stored], used: dict[str, list[Cook]], current: Recipe | None
) -> Version:
    recipe = current
    if recipe is None:
        try:
            recipe = kitchen.kept_recipe(texts[-1])
        except CookbookError:
            recipe = None
    cooks = used.get(meaning, [])
    days = sorted(cook.entry.date for cook in cooks)
    inner = {name: version.partition(".")[0] for cook in cooks for name, version in cook.entry.uses.items()}
    return Version(
        meaning,
        tuple(text.version for text in texts),
        recipe,
        recipe.revision if recipe else None,
        days[0] if days else None,
        len(days),
        (),
        current is not None,
        inner if current is None else _inner_now(kitchen, current),
    )


def _inner_now(kitchen: Kitchen, recipe: Recipe) -> dict[str, str]:
    try:
        return {name: kitchen.short_version(kitchen.recipe(name)) for name in recipe.uses}
    except CookbookError:
        return {}


def _changes(before: Version, after: Version) -> list[Change]:
    if before.recipe is None or after.recipe is None:
        return []

    def inner(recipe: Recipe, name: str) -> str:
        one, two = before.inner.get(name), after.inner.get(name)
        return "" if one is None or two is None else one if recipe is before.recipe else two

    return differences(before.recipe, after.recipe, inner)


def version_or_recipe(kitchen: Kitchen, a: str, b: str, c: str | None) -> tuple[Recipe, Recipe]:
    """What `diff A B [C]` means: versions B and C of recipe A, version B and A as it stands, or two recipes."""
    if c is not None:
        return kitchen.recipe(f"{a}@{b}"), kitchen.recipe(f"{a}@{c}")
    if "@" not in b and kitchen.has_recipe(b):
        return kitchen.recipe(a), kitchen.recipe(b)
    if "@" in a or "@" in b:
        return kitchen.recipe(a), kitchen.recipe(b)
    return kitchen.recipe(f"{a}@{b}"), kitchen.recipe(a)
