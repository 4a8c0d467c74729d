"""The lines a cook left for next time: open until ticked, for the same recipe, the same coat, or the same cut."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple

from cookbook.kitchen.descent import cut_of, names_of
from cookbook.kitchen.kitchen import Kitchen
from cookbook.recipe import Recipe


class Reminder(NamedTuple):
    """One open line, and the cook that left it."""

    line: str
    entry: str
    date: date
    recipe: str | None

    def json(self) -> dict[str, object]:
        """The line as `last --json` and `show --json` list it."""
        return {"line": self.line, "entry": self.entry, "date": self.date.isoformat(), "recipe": self.recipe}


def for_recipe(kitchen: Kitchen, recipe: Recipe) -> list[Reminder]:
    """The open lines that matter before `recipe` is cooked again, newest first."""
    names = {name for one in (recipe.name, *recipe.uses) for name in names_of(kitchen, one)}
    return open_lines(kitchen, names, recipe.meat)


def open_lines(
    kitchen: Kitchen, recipes: Iterable[str], cut: str | None = None, besides: str | None = None
) -> list[Reminder]:
    """The open lines of every cook that went by one of `recipes` or was of `cut`, newest first.

    Those of the entry `besides` are left out.
    """
    from cookbook.kitchen.indexing import cut_name

    names, wanted = set(recipes), cut_name(cut, kitchen.cuts)
    return [
        Reminder(line.line, entry.name, entry.date, entry.recipe)
        for entry in kitchen.entries(naming=sorted(names), cut=wanted, open_lines=True, newest=True)
        if entry.name != besides
        and (names & {entry.recipe, *entry.versions} or (wanted is not None and cut_of(kitchen, entry) == wanted))
        for line in entry.next_time
        if line.done is None
    ]
