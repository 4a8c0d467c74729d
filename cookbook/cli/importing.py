"""`import` and `rename`."""

from __future__ import annotations

import argparse
from pathlib import Path

from cookbook.cli.option import piece_options, said
from cookbook.cli.running import Answer, Parser, Verb, bold
from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen


def _import_options(parser: Parser) -> None:
    parser.add_argument("file", metavar="FILE", help="a schema.org Recipe as JSON-LD")
    parser.add_argument("--name", metavar="NAME", help="what its file is called; from its title when left out")
    parser.add_argument("--kind", choices=("paste", "rub", "brine", "sauce", "cook"), help="what it is")
    parser.add_argument("--cut", metavar="CUT", help="the cut that it is for")
    piece_options(parser)


def _import(arguments: argparse.Namespace) -> Answer:
    from cookbook.kitchen.importing import made_of, write
    from cookbook.recipe.field import recipe_name

    kitchen = Kitchen.open(arguments.kitchen)
    pieces = said(arguments)
    if len(pieces) > 1:
        raise RequestError("a recipe is made for one piece", mend="leave the other pieces out")
    piece = {**({"cut": arguments.cut} if arguments.cut else {}), **next(iter(pieces.values()), {})}
    name = recipe_name(arguments.name) if arguments.name else None
    made = made_of(kitchen, Path(arguments.file), name, arguments.kind, piece)
    path = write(kitchen, made)
    data = {
        "recipe": made.name,
        "kind": made.kind,
        "path": str(path),
        "unread": [one._asdict() for one in made.unread],
    }
    lines = [bold(f"{kitchen.shown(path)} is written, a {made.kind}")]
    for one in made.unread:
        where = f"{arguments.file}:{one.line}: " if one.line else ""
        lines.append(f"  {where}not taken over: {one.text} ({one.why})")
    return Answer(data, "\n".join(lines))


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
