"""Reading everything a kitchen holds and reporting every fault, in one run."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import NamedTuple

from cookbook.errors import ERROR, WARNING, CookbookError, FileError, Place, Problem
from cookbook.files import stale_temp_files
from cookbook.journal import Entry
from cookbook.kitchen import store
from cookbook.kitchen.cuts import with_problems
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.schema import faults
from cookbook.kitchen.shared import TABLES
from cookbook.recipe import Recipe
from cookbook.recipe import read as read_recipe


class Report(NamedTuple):
    """Every problem, and how many recipes and entries were read."""

    problems: tuple[Problem, ...]
    recipes: int
    entries: int

    @property
    def errors(self) -> int:
        """How many are errors."""
        return sum(problem.severity == ERROR for problem in self.problems)


def check(kitchen: Kitchen, paths: Sequence[Path] = ()) -> Report:
    """Check the whole kitchen, or only what lies at or below `paths`."""
    kitchen.forgive()
    wanted = [path.resolve() for path in paths]
    recipes = [path for path in kitchen.recipe_paths() if _within(path, wanted)]
    entries = [path for path in kitchen.entry_paths() if _within(path, wanted)]
    problems: list[Problem] = []
    for path in recipes:
        problems += _each_line_once(recipe_faults(kitchen, path))
    for path in entries:
        problems += _each_line_once(entry_faults(kitchen, path))
    shared = kitchen.root / "shared"
    for path in sorted(shared.glob("*.yaml")) if shared.is_dir() else []:
        if _within(path, wanted):
            problems += _each_line_once(table_faults(kitchen, path))
    if not wanted:
        problems += _store_faults(kitchen)
        problems += [
            Problem(
                WARNING,
                "left-over",
                f"{name} is left over from a save that was cut off",
                Place(name, 1, 1),
                "it goes with the next save; nothing is missing from the file it belongs to",
            )
            for name in stale_temp_files(kitchen.root)
        ]
    return Report(tuple(problems), len(recipes), len(entries))


def _within(path: Path, wanted: Sequence[Path]) -> bool:
    return not wanted or any(path.resolve().is_relative_to(one) for one in wanted)


def _each_line_once(problems: Iterable[Problem]) -> list[Problem]:
    """Without what the schema says of a line that a typed reader found at fault already."""
    listed = list(problems)
    known = {problem.place.line for problem in listed if problem.place and problem.code != "schema"}
    missing = any(problem.code in ("missing-field", "wrong-type", "one-of") for problem in listed)
    return [
        problem
        for problem in listed
        if problem.code != "schema" or not (missing or (problem.place and problem.place.line in known))
    ]


def recipe_faults(kitchen: Kitchen, path: Path) -> list[Problem]:
    """Every fault of one recipe: its fields, the recipes it uses, its schema."""
    document, problems = kitchen.document(path)
    if document is None:
        return problems
    recipe, problems = read_recipe(document, path.stem, kitchen.settings["measures"], kitchen.cuts)
    root = document.root
    kind = root.get("kind") if root is not None else None
    if kind is not None and kind.text in ("paste", "rub", "brine", "sauce", "cook"):
        problems = [*problems, *faults(document, kind.text)]
    if recipe is not None:
        problems = [*problems, *_used(kitchen, recipe)]
    return problems


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


def entry_faults(kitchen: Kitchen, path: Path) -> list[Problem]:
    """Every fault of one entry: its fields, its schema, the versions it names, its readings."""
    document, problems = kitchen.document(path)
    if document is None:
        return problems
    entry, problems = kitchen.entry_with_problems(path)
    problems = [*problems, *faults(document, "entry")]
    if entry is not None:
        problems = [*problems, *_versions(kitchen, entry), *_unread(entry), *kitchen.readings_with_problems(entry)[1]]
    return problems


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


def table_faults(kitchen: Kitchen, path: Path) -> list[Problem]:
    """Every fault of one table of `shared/`."""
    if path.name not in TABLES:
        from difflib import get_close_matches

        near = get_close_matches(path.name, TABLES, 1, 0.6)
        return [
            Problem(
                WARNING,
                "unknown-table",
                f"{path.name} is no table of a kitchen",
                Place(kitchen.shown(path), 1, 1),
                f"did you mean {near[0]}?" if near else f"known are {', '.join(TABLES)}",
            )
        ]
    document, problems = kitchen.document(path)
    if document is None:
        return problems
    table, problems = kitchen.shared_with_problems(path)
    if path.name == "cuts.yaml":
        problems = [*problems, *with_problems(kitchen, table)[1]]
    return [*problems, *faults(document, path.name)]


def _store_faults(kitchen: Kitchen) -> list[Problem]:
    """Altered texts, and files in the store that are no version."""
    problems = []
    for stored in store.everything(kitchen.root):
        try:
            store.read(stored, kitchen.shown(stored.path))
        except FileError as fault:
            problems += fault.problems
    for path in store.strangers(kitchen.root):
        problems.append(
            Problem(
                WARNING,
                "not-a-version",
                "this file's name is none of a version",
                Place(kitchen.shown(path), 1, 1),
                "the store holds only what the program puts there",
            )
        )
    return problems
