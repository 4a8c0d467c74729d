"""`adopt`."""

from __future__ import annotations

import argparse
import sys

from cookbook.cli.running import Answer, Parser, Verb, bold
from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.adopt import Adopted, Adoption, adoptions, write


def _adopt_options(parser: Parser) -> None:
    parser.add_argument("entry", metavar="ENTRY", help="the cook whose amounts become the recipe")
    parser.add_argument("--yes", action="store_true", help="take the shown answer to every question")
    parser.add_argument(
        "--made-for-today",
        action="store_true",
        help="the recipe is for today's piece from now on, with the amounts as they went in",
    )


def _adopt(arguments: argparse.Namespace) -> Answer:
    kitchen = Kitchen.open(arguments.kitchen)
    entry = kitchen.entry(arguments.entry)
    shown = adoptions(kitchen, entry, arguments.made_for_today)
    if not arguments.yes:
        if not sys.stdin.isatty():
            raise RequestError(
                "adopting asks before it writes, and nobody is there to answer",
                mend="read what `--why` shows, then say --yes",
                code="unanswered",
            )
        chosen = {
            (adoption.recipe, line.item) for adoption in shown for line in adoption.changes if _asked(line, adoption)
        }
        shown = adoptions(
            kitchen, entry, arguments.made_for_today, lambda recipe, line: (recipe, line.item) in chosen
        )
    write(kitchen, entry, shown)
    first = shown[0]
    again = Kitchen.open(arguments.kitchen or kitchen.root)
    data = {
        "recipe": first.recipe,
        "before": kitchen.short_version(first.before) if first.before else None,
        "after": again.short_version(again.recipe(first.recipe)),
        "revision": first.revision,
        "changes": [{**line.json(), "recipe": adoption.recipe} for adoption in shown for line in adoption.changes],
        "notes": [note for adoption in shown for note in adoption.notes],
    }
    return Answer(data, "\n\n".join(_said(adoption) for adoption in shown))


def _asked(line: Adopted, adoption: Adoption) -> bool:
    lead = "This changes how salty it is. " if line.salt and adoption.before is not None else ""
    sys.stdout.write(f"{line_words(line, adoption)}\n  {lead}Take it into {adoption.recipe}? [Y/n] ")
    sys.stdout.flush()
    return sys.stdin.readline().strip().casefold() in ("", "y", "yes")


def line_words(line: Adopted, adoption: Adoption) -> str:
    """`garlic: today 89 g on 3.1 kg, in the recipe 66 g for 2.2 kg`."""
    if line.drop:
        return f"{line.item}: left out today, comes out of the recipe"
    was = f" (was {line.written.amount})" if line.written is not None else " (new)" if adoption.before else ""
    guess = "; a guess, nobody weighed it" if line.guess else ""
    rounding = f", rounded from {line.exact}" if line.exact and line.exact != str(line.in_recipe) else ""
    return (
        f"{line.item}: today {line.today} on {adoption.today}, in the recipe {line.in_recipe} "
        f"for {adoption.own}{was}{rounding}{guess}"
    )


def _said(adoption: Adoption) -> str:
    head = (
        f"{adoption.recipe} is now revision {adoption.revision}"
        if adoption.before is not None
        else (f"recipes/{adoption.recipe}.yaml is written, revision 1")
    )
    lines = [bold(head), *(f"  {line_words(line, adoption)}" for line in adoption.changes)]
    return "\n".join(lines + [f"  note: {note}" for note in adoption.notes])


VERBS = {"adopt": Verb(_adopt_options, _adopt)}
