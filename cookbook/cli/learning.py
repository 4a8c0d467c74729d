"""`adopt`."""

from __future__ import annotations

import argparse
import sys

from cookbook.cli.running import Answer, Parser, Verb, bold
from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.adopting import Adopted, Adoption, Keep, Method, adoptions, averages, line_words, sure, write


def _adopt_options(parser: Parser) -> None:
    parser.add_argument(
        "entry",
        metavar="ENTRY",
        nargs="+",
        help="the cook whose amounts become the recipe; of several, their average",
    )
    parser.add_argument("--yes", action="store_true", help="take the shown answer to every question")
    parser.add_argument(
        "--made-for-today",
        action="store_true",
        help="the recipe is for today's piece from now on, with the amounts as they went in",
    )


def _adopt(arguments: argparse.Namespace) -> Answer:
    kitchen = Kitchen.open(arguments.kitchen)
    entry, *others = [kitchen.entry(name) for name in dict.fromkeys(arguments.entry)]
    if others and arguments.made_for_today:
        raise RequestError("several cooks had several pieces", mend="adopt one of them with --made-for-today")

    def find(keep: Keep) -> list[Adoption]:
        if not others:
            return adoptions(kitchen, entry, arguments.made_for_today, keep)
        return averages(kitchen, [entry, *others], keep)

    if arguments.yes:
        shown = find(sure)
    else:
        if not sys.stdin.isatty():
            raise RequestError(
                "adopting asks before it writes, and nobody is there to answer",
                mend="read what `--why` shows, then say --yes",
                code="unanswered",
            )
        shown = find(lambda _recipe, _line: True)
        chosen = [(one.recipe, line) for one in shown for line in one.changes if _asked(line, one)]
        if not chosen:
            nothing: dict[str, object] = {"recipe": shown[0].recipe, "revision": None, "changes": [], "notes": []}
            return Answer(nothing, "nothing taken; the recipe stays as it is")
        shown = find(lambda recipe, line: (recipe, line) in chosen)
    write(kitchen, entry, shown, others)
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


def _asked(line: Adopted | Method, adoption: Adoption) -> bool:
    """Ask one line; return alone takes it, or leaves it where only a probe or a remark says so.

    Asks again until the answer is yes or no; RequestError where nobody answers.
    """
    salty = isinstance(line, Adopted) and line.salt and adoption.before is not None
    lead = "This changes how salty it is. " if salty else ""
    taken = sure(adoption.recipe, line)
    shown = "[Y/n]" if taken else "[y/N]"
    sys.stdout.write(f"{line_words(line, adoption)}\n")
    while True:
        sys.stdout.write(f"  {lead}Take it into {adoption.recipe}? {shown} ")
        sys.stdout.flush()
        typed = sys.stdin.readline()
        answer = typed.strip().casefold()
        if not typed:
            raise RequestError("the answers ended before the questions did; nothing was written", code="unanswered")
        if answer in ("", "y", "yes", "n", "no"):
            return answer in ("y", "yes") or (taken and not answer)
        sys.stdout.write(f"  '{answer}' is neither yes nor no; say y or n, or press return for the big letter.\n")


def _said(adoption: Adoption) -> str:
    head = (
        f"{adoption.recipe} is now revision {adoption.revision}"
        if adoption.before is not None
        else (f"recipes/{adoption.recipe}.yaml is written, revision 1")
    )
    lines = [bold(head), *(f"  {line_words(line, adoption)}" for line in adoption.changes)]
    return "\n".join(lines + [f"  note: {note}" for note in adoption.notes])


VERBS = {"adopt": Verb(_adopt_options, _adopt)}
