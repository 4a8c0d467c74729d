"""`import` and `rename`."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cookbook.cli.option import piece_options, said
from cookbook.cli.running import Answer, Parser, Verb, bold, filled
from cookbook.errors import CookbookError, FileError, RequestError
from cookbook.kitchen import Kitchen

if TYPE_CHECKING:
    from cookbook.kitchen.importing import Imported


def _import_options(parser: Parser) -> None:
    about = "a loose text, or a schema.org Recipe as JSON-LD"
    parser.add_argument("file", metavar="FILE", type=filled, nargs="+", help=about)
    parser.add_argument("--name", metavar="NAME", help="what its file is called; from its title when left out")
    parser.add_argument("--kind", choices=("paste", "rub", "brine", "sauce", "cook"), help="what it is")
    parser.add_argument("--cut", metavar="CUT", help="the cut that it is for")
    piece_options(parser)


def _import(arguments: argparse.Namespace) -> Answer:
    kitchen = Kitchen.open(arguments.kitchen)
    pieces = said(arguments)
    if len(pieces) > 1:
        raise RequestError("a recipe is made for one piece", mend="leave the other pieces out")
    if len(arguments.file) > 1 and arguments.name:
        raise RequestError("one name can't be that of several recipes", mend="leave --name out", code="usage")
    if len(arguments.file) > 1:
        return _several(kitchen, arguments)
    told = _all(kitchen, arguments, arguments.file[0])
    if len(told) == 1:
        return Answer(told[0][0], "\n".join(told[0][1]))
    lines = [line for _, one in told for line in one]
    return Answer({"recipes": [data for data, _ in told], "problems": []}, "\n".join(lines))


def _all(kitchen: Kitchen, arguments: argparse.Namespace, file: str) -> list[tuple[dict[str, Any], list[str]]]:
    """One file made recipes, all of them or none: of each the data for `--json`, the lines for people."""
    from cookbook.kitchen.importing import all_made_of, write
    from cookbook.recipe.field import recipe_name

    piece = {**({"cut": arguments.cut} if arguments.cut else {}), **next(iter(said(arguments).values()), {})}
    name = recipe_name(arguments.name) if arguments.name else None
    made = all_made_of(kitchen, Path(file), name, arguments.kind, piece)
    return [_told(kitchen, file, one, write(kitchen, one)) for one in made]


def _told(kitchen: Kitchen, file: str, made: Imported, path: Path) -> tuple[dict[str, Any], list[str]]:
    data = {
        "recipe": made.name,
        "kind": made.kind,
        "path": str(path),
        "unread": [one._asdict() for one in made.unread],
        "unknown": list(made.unknown),
    }
    lines = [bold(f"{kitchen.shown(path)} is written, a {made.kind}")]
    for one in made.unread:
        where = f"{file}:{one.line}: " if one.line else ""
        lines.append(f"  {where}{'' if one.as_yet else 'not taken over: '}{one.words}")
    if made.unknown:
        known = "allergens go by English names"
        lines.append(f"  what a spoon weighs isn't known of: {'; '.join(made.unknown)}; {known}")
    if made.kind == "cook":
        lines.append("  a forecast also wants `pit:` and `pull_at:`; what the steps say of them stays in the steps")
        lines.append("  what coats it grows with the surface under `follows: surface` or in a paste of its own")
    return data, lines


def _several(kitchen: Kitchen, arguments: argparse.Namespace) -> Answer:
    """Each file by itself: one that can't be read keeps no other from being written."""
    found: list[dict[str, Any]] = []
    faults: list[dict[str, Any]] = []
    lines: list[str] = []
    read = 0
    for file in arguments.file:
        try:
            told = _all(kitchen, arguments, file)
        except CookbookError as fault:
            problems = fault.problems if isinstance(fault, FileError) else [fault.problem()]
            faults += [{**problem.json(), "from": file} for problem in problems]
            lines += [f"{file}: no recipe is written", *(problem.printed() for problem in problems)]
            continue
        read += 1
        found += [{**data, "from": file} for data, _ in told]
        lines += [line for _, one in told for line in one]
    unread = sum(len(one["unread"]) for one in found)
    lines.append(bold(f"{read} of {len(arguments.file)} files are recipes now; {unread} remarks above"))
    return Answer({"recipes": found, "problems": faults}, "\n".join(lines), 1 if faults else 0)


def _rename_options(parser: Parser) -> None:
    parser.add_argument("old", metavar="RECIPE", help="the recipe as it is called now")
    parser.add_argument("new", metavar="NAME", help="what it shall be called")


def _rename(arguments: argparse.Namespace) -> Answer:
    from cookbook.kitchen.renaming import rename

    kitchen = Kitchen.open(arguments.kitchen)
    changed = rename(kitchen, arguments.old, arguments.new)
    also = f"; changed with it: {', '.join(changed)}" if changed else ""
    return Answer(
        {"recipe": arguments.new, "formerly": arguments.old, "changed": changed},
        f"{arguments.old} is called {arguments.new} now, and keeps its cooks and versions{also}",
    )


VERBS = {"import": Verb(_import_options, _import), "rename": Verb(_rename_options, _rename)}
