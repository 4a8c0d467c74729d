"""The lines a cook left for next time: open until ticked, for the same recipe, the same coat, or the same cut."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import TYPE_CHECKING, NamedTuple

from cookbook.errors import RequestError
from cookbook.journal import Entry
from cookbook.kitchen.descent import cut_name, cut_of, names_of
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.log import logbook
from cookbook.recipe import Recipe

if TYPE_CHECKING:
    from cookbook.files import Edit


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


def for_entry(kitchen: Kitchen, entry: Entry) -> list[Reminder]:
    """The open lines that other cooks of the entry's recipe, of one with the same coat, or of its cut left for it."""
    names = {name for recipe in entry.versions for name in names_of(kitchen, recipe)}
    return open_lines(kitchen, names, cut_of(kitchen, entry), entry.name)


def open_lines(
    kitchen: Kitchen, recipes: Iterable[str], cut: str | None = None, besides: str | None = None
) -> list[Reminder]:
    """The open lines of every cook that went by one of `recipes` or was of `cut`, newest first.

    Those of the entry `besides` are left out.
    """
    names, wanted = set(recipes), cut_name(cut, kitchen.cuts)
    return [
        Reminder(line.line, entry.name, entry.date, entry.recipe)
        for entry in kitchen.entries(naming=sorted(names), cut=wanted, open_lines=True, newest=True)
        if entry.name != besides
        and (names & {entry.recipe, *entry.versions} or (wanted is not None and cut_of(kitchen, entry) == wanted))
        for line in entry.next_time
        if line.done is None
    ]


def tick(kitchen: Kitchen, words: str, day: date) -> Reminder:
    """Tick the open line that holds `words`, in whichever entry it stands, as done on `day`.

    Raises RequestError where no open line holds them, or more than one.
    """
    said = " ".join(words.split()).casefold()
    entries = kitchen.entries(open_lines=True)
    waiting = [(entry, line) for entry in entries for line in entry.next_time if line.done is None]
    found = [one for one in waiting if said in one[1].line.casefold()]
    found = [one for one in found if one[1].line.casefold() == said] or found
    if len(found) != 1:
        lines = "; ".join(f"'{line.line}' ({entry.name})" for entry, line in found or waiting)
        raise RequestError(
            f"{'more than one open line holds' if found else 'no open line holds'} '{words}'",
            mend=f"open are {lines}" if lines else "nothing is open",
            code="open-line",
        )
    entry, line = found[0]
    place = entry.next_time.index(line)
    logbook.add(kitchen, entry, lambda edit: _ticked(edit, place, line.line, day), f"ticked: {line.line}")
    return Reminder(line.line, entry.name, entry.date, entry.recipe)


def _ticked(edit: Edit, place: int, line: str, day: date) -> Edit:
    from cookbook.files import Inline

    root = edit.document.root
    listed = root.get("next_time") if root is not None else None
    if listed is None or (listed.items and place >= len(listed.items)):
        raise RequestError(f"the line '{line}' is no longer where it was", mend="try again")
    node = listed.items[place] if listed.items else listed
    told = node.get("line") if node.kind == "map" else node
    if told is None or " ".join(told.text.split()) != " ".join(line.split()):
        raise RequestError(f"the line '{line}' is no longer where it was", mend="try again")
    if node.kind == "map":
        return edit.add_key(node, "done", day.isoformat(), flow=node.flow)
    return edit.replace(node, Inline({"line": line, "done": day.isoformat()}))
