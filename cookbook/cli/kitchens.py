"""`new` and `check`."""

from __future__ import annotations

import argparse
import shlex
from pathlib import Path
from typing import TYPE_CHECKING

from cookbook.cli.running import Answer, Parser, Verb, filled
from cookbook.kitchen import Kitchen
from cookbook.kitchen.starter import new

if TYPE_CHECKING:
    from cookbook.errors import Problem


def _new_options(parser: Parser) -> None:
    parser.add_argument("dir", metavar="DIR", type=filled, help="a new folder")
    parser.add_argument(
        "--with-example",
        action="store_true",
        help="with the demonstration kitchen's versions, journal, eaters and prices",
    )


def _new(arguments: argparse.Namespace) -> Answer:
    path = new(Path(arguments.dir), arguments.with_example)
    return Answer(
        {"path": str(path)}, f"a kitchen is in {path}\n  look round: cd {shlex.quote(arguments.dir)} && cookbook list"
    )


def _check_options(parser: Parser) -> None:
    parser.add_argument("path", metavar="PATH", type=filled, nargs="*", help="only these files or folders")


def _check(arguments: argparse.Namespace) -> Answer:
    from cookbook.kitchen.checking import check
    from cookbook.kitchen.checking.many import cores

    kitchen = Kitchen.open(arguments.kitchen)
    paths = [Path(path) for path in arguments.path]
    for path in paths:
        if not path.exists():
            from cookbook.errors import RequestError

            raise RequestError(f"there is no {path}", mend="name a file or folder of this kitchen")
    report = check(kitchen, paths, cores())
    report = report._replace(problems=(*report.problems, *_template_faults(kitchen, paths)))
    data = {
        "problems": [problem.json() for problem in report.problems],
        "recipes": report.recipes,
        "entries": report.entries,
    }
    text = "".join(problem.printed() + "\n\n" for problem in report.problems)
    found = len(report.problems)
    text += f"{_many(report.recipes, 'recipe')} and {_many(report.entries, 'entry', 'entries')} read: "
    text += "no problem" if not found else f"{_many(found, 'problem')}, {_many(report.errors, 'error')} among them"
    return Answer(data, text, 1 if report.errors else 0)


def _template_faults(kitchen: Kitchen, paths: list[Path]) -> list[Problem]:
    """What is wrong with the cook's own templates, where there are any."""
    from cookbook.kitchen.checking import within
    from cookbook.publish.overriding import template_faults
    from cookbook.publish.rendering import own_templates

    if not own_templates(kitchen.root).is_dir():
        return []
    return [problem for path, problem in template_faults(kitchen.root) if within(path, paths)]


def _many(number: int, one: str, more: str | None = None) -> str:
    return f"{number} {one if number == 1 else more or one + 's'}"


VERBS = {"new": Verb(_new_options, _new), "check": Verb(_check_options, _check)}
