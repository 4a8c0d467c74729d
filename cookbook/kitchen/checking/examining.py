"""Every fault of one file: what its reader and its schema find, and what in it can hardly be."""

from __future__ import annotations

import re
from collections.abc import Iterable
from glob import escape
from pathlib import Path
from typing import NamedTuple

from cookbook.errors import ERROR, WARNING, CookbookError, FileError, Place, Problem
from cookbook.files import Document
from cookbook.journal import Entry
from cookbook.journal import read as read_entry
from cookbook.kitchen import store
from cookbook.kitchen.checking.doubts import entry_doubts, recipe_doubts
from cookbook.kitchen.checking.schema import faults
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.probes import readings_of
from cookbook.recipe import Recipe
from cookbook.recipe import read as read_recipe

_VERSION = re.compile(r"\b[0-9]+-[0-9a-f]{12}\.[0-9a-f]{8}\b")


class Examined(NamedTuple):
    """What was found in one file, every version that its text names, and the files of readings it rests on."""

    problems: tuple[Problem, ...]
    versions: frozenset[str]
    beside: frozenset[str] = frozenset()


def examine(kitchen: Kitchen, path: Path, recipe: bool) -> Examined:
    """Every fault of the recipe or entry in `path`, each line's once."""
    document, problems = kitchen.document(path)
    if document is None:
        return Examined(tuple(problems), frozenset(), frozenset() if recipe else _beside(path))
    if recipe:
        return Examined(tuple(recipe_faults(kitchen, document, path.stem)), frozenset(), frozenset())
    entry, problems = read_entry(document, path.stem, kitchen.settings["measures"], kitchen.cuts)
    problems = [*problems, *faults(document, "entry")]
    if entry is not None:
        problems += [*_versions(kitchen, entry), *_unread(entry), *readings_of(kitchen, entry)[1]]
        problems += entry_doubts(kitchen, entry)
    beside = _beside(path) if entry is None else frozenset(str(path.parent / name) for name in entry.readings)
    return Examined(tuple(each_line_once(problems)), frozenset(_VERSION.findall(document.text)), beside)


def _beside(path: Path) -> frozenset[str]:
    """The readings that an entry which can't be read may rest on: those that have its name."""
    return frozenset(str(one) for one in path.parent.glob(f"{escape(path.stem)}*.csv"))


def recipe_faults(kitchen: Kitchen, document: Document, name: str) -> list[Problem]:
    """Every fault of a document as the recipe `name`, saved or not, each line's once."""
    found, problems = read_recipe(document, name, kitchen.settings["measures"], kitchen.cuts)
    kind = document.root.get("kind") if document.root is not None else None
    if kind is not None and kind.text in ("paste", "rub", "brine", "sauce", "cook"):
        problems = [*problems, *faults(document, kind.text)]
    if found is not None:
        problems = [*problems, *_used(kitchen, found), *recipe_doubts(kitchen, found)]
    return each_line_once(problems)


def each_line_once(problems: Iterable[Problem]) -> list[Problem]:
    """Without the schema's words where the typed readers found the faults and say them better."""
    listed = list(problems)
    told = any(problem.severity == ERROR and problem.code != "schema" for problem in listed)
    return [problem for problem in listed if not (told and problem.code == "schema")]


def _used(kitchen: Kitchen, recipe: Recipe) -> list[Problem]:
    try:
        kitchen.digest(recipe)
    except FileError as fault:
        own = recipe.document.name
        if fault.code == "recipe-loop" or any(
            one.place is not None and one.place.file == own for one in fault.problems
        ):
            return list(fault.problems)
        return [
            Problem(
                ERROR,
                "used-recipe",
                f"a recipe that it uses can't be read: {fault.problems[0].message}",
                Place(own, 1, 1),
                "mend that recipe first",
            )
        ]
    return []


def _versions(kitchen: Kitchen, entry: Entry) -> list[Problem]:
    """What is wrong with the texts that an entry rests on."""
    problems = []
    for recipe, version in entry.versions.items():
        uses = entry.fields.nodes.get("uses")
        node = (
            uses.get(recipe) if uses is not None and uses.get(recipe) is not None else entry.fields.nodes["version"]
        )
        place = entry.document.place(node or entry.fields.node)
        stored = store.Stored(recipe, version, store.folder(kitchen.root, recipe) / f"{version}.yaml")
        try:
            store.read(stored, kitchen.shown(stored.path))
        except CookbookError as fault:
            problems.append(
                Problem(
                    ERROR,
                    fault.code,
                    f"the version of {recipe} that this cook began with is not to be had: {fault.message}",
                    place,
                    fault.mend,
                )
            )
    return problems


def _unread(entry: Entry) -> list[Problem]:
    """Words that were logged and could not be read: kept, and shown here until someone tells what they mean."""
    problems = []
    for note, fields in zip(entry.notes, entry.fields.get("notes") or (), strict=True):
        if note.unread:
            problems.append(
                Problem(
                    WARNING,
                    "unread",
                    f"this was logged and could not be read: '{note.text}'",
                    entry.document.place(fields.nodes["text"]),
                    "log it again in other words, or take `unread: true` away to keep it as a note",
                )
            )
    return problems
