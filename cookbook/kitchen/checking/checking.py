"""Reading everything a kitchen holds and reporting every fault, in one run."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from os.path import realpath
from pathlib import Path
from typing import NamedTuple

from cookbook.errors import ERROR, WARNING, Place, Problem
from cookbook.files import stale_temp_files
from cookbook.kitchen import listing
from cookbook.kitchen.checking.doubts import named_doubts
from cookbook.kitchen.checking.examining import each_line_once
from cookbook.kitchen.checking.keeping import orphaned_readings, store_faults
from cookbook.kitchen.checking.many import examined
from cookbook.kitchen.checking.schema import faults
from cookbook.kitchen.cuts import with_problems
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.shared import TABLES


class Report(NamedTuple):
    """Every problem, and how many recipes and entries were read."""

    problems: tuple[Problem, ...]
    recipes: int
    entries: int

    @property
    def errors(self) -> int:
        """How many are errors."""
        return sum(problem.severity == ERROR for problem in self.problems)


def check(kitchen: Kitchen, paths: Sequence[Path] = (), cores: int = 1) -> Report:
    """Check the whole kitchen, or only what lies at or below `paths`; a big one with so many processes at once.

    A program that asks for more than one must be safe to import again, as `multiprocessing` wants it.
    """
    kitchen.forgive()
    recipes = [path for path in kitchen.recipe_paths() if within(path, paths)]
    entries = [path for path in kitchen.entry_paths() if within(path, paths)]
    jobs = [(path, True) for path in recipes] + [(path, False) for path in entries]
    problems: list[Problem] = []
    named: set[str] = set()
    beside: set[str] = set()
    for found in examined(kitchen, jobs, cores):
        problems += found.problems
        named |= found.versions
        beside |= found.beside
    shared = kitchen.root / "shared"
    problems += _strangers(kitchen, paths)
    for path in [shared / f"{name}.yaml" for name in listing.names(str(shared))]:
        if within(path, paths):
            problems += each_line_once(table_faults(kitchen, path))
    if not paths:
        problems += store_faults(kitchen, named)
        problems += orphaned_readings(kitchen, beside)
        problems += _unsayable(kitchen)
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


def _strangers(kitchen: Kitchen, paths: Sequence[Path]) -> Iterator[Problem]:
    """What is called like a recipe, an entry or a table and can't be read: a pipe, a folder, a link to nothing."""
    for folder, below in (("recipes", False), ("journal", True), ("shared", False)):
        for name, why in sorted(listing.strangers(str(kitchen.root / folder), below)):
            path = Path(name)
            if within(path, paths):
                mend = "take it away, or put a file in its place"
                if path.suffix == listing.MISSPELT:
                    mend = f"call it {path.with_suffix(listing.ENDING).name}"
                shown = kitchen.shown(path)
                yield Problem(ERROR, "unreadable", f"{shown} is not read: {why}", Place(shown, 1, 1), mend)
    for path in map(Path, listing.files(str(kitchen.root / "recipes"))):
        inside = path.relative_to(kitchen.root / "recipes").parts
        if len(inside) > 1 and inside[0] != "versions" and within(path, paths):
            shown = kitchen.shown(path)
            said = f"{shown} is not read: recipes lie right in recipes/, not in a folder inside it"
            yield Problem(WARNING, "not-a-recipe", said, Place(shown, 1, 1), "move it up")


def _unsayable(kitchen: Kitchen) -> Iterator[Problem]:
    """Files and folders left out because of what their names hold."""
    for part in ("recipes", "journal"):
        for path in sorted(listing.unsayable(str(kitchen.root / part))):
            name = "".join(one if one.isprintable() else ascii(one)[1:-1] for one in kitchen.shown(Path(path)))
            yield Problem(ERROR, "file-name", "this name holds a line break, an invisible character or a letter that "
                          "is not UTF-8, so nothing under it is read", Place(name, 1, 1), "give it another name")


def within(path: Path, paths: Sequence[str | Path]) -> bool:
    """Whether a file lies at or below one of these, or none are named; links are followed as far as they go."""
    return not paths or any(Path(realpath(path)).is_relative_to(realpath(one)) for one in paths)


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
    if path.name in ("releases.yaml", "questions.yaml"):
        problems = [*problems, *named_doubts(kitchen, document, table or ())]
    return [*problems, *faults(document, path.name)]
