"""One run of a verb: its parser, its call, and the one way answers and errors are printed."""

from __future__ import annotations

import argparse
import importlib
import os
import sys
from collections.abc import Callable, Mapping
from typing import Any, NamedTuple, NoReturn

from cookbook.errors import CookbookError, FileError, RequestError, UnknownName


class Answer(NamedTuple):
    """What a verb found: the data for `--json`, the text for people (or what makes them), exit code, warnings."""

    data: Mapping[str, Any] | Callable[[], Mapping[str, Any]]
    text: str | Callable[[], str]
    code: int = 0
    warnings: tuple[str, ...] = ()


_FLAGS = ("--json", "--why", "--left-out", "--from-memory", "--yes", "--no-learning", "--forecast", "--no-forecast",
          "--done")
"""Options that take no value and may stand before an amount."""


class Parser(argparse.ArgumentParser):
    """An argument parser whose errors are the project's own."""

    def error(self, message: str) -> NoReturn:
        """Raise instead of printing and leaving."""
        raise RequestError(message, code="usage", mend=f"`{self.prog} --help` says what it takes")


def filled(words: str) -> str:
    """What an option or argument holds that must say something: a blank would be a file, or mean here."""
    if not words.strip():
        raise argparse.ArgumentTypeError(f"'{words}' says nothing; leave it out, or say what is meant")
    return words


class Verb(NamedTuple):
    """A verb: fills its parser, and runs; `nested` where it has verbs of its own, `words` to mend what was typed."""

    options: Callable[[Parser], None]
    run: Callable[[argparse.Namespace], Answer]
    nested: bool = False
    words: Callable[[list[str]], list[str]] = list


def run(words: list[str], verbs: Mapping[str, tuple[str, str]]) -> int:
    """Run the verb that `words` begin with; errors are printed, exit code 2."""
    as_json = "--json" in words
    try:
        verb = words[0]
        if verb not in verbs:
            from difflib import get_close_matches

            raise UnknownName("verb", verb, get_close_matches(verb, verbs, 2, 0.5), mend=None)
        module, about = verbs[verb]
        found: Verb = importlib.import_module(f"cookbook.cli.{module}").VERBS[verb]
        made = parser(verb, about, found)
        typed = found.words(_signed(words[1:]))
        answer = found.run(made.parse_args(typed) if found.nested else made.parse_intermixed_args(typed))
    except CookbookError as fault:
        _print_error(fault, as_json)
        return 2
    except BrokenPipeError:
        raise
    except OSError as fault:
        said = f"{fault.filename or 'a file'} could not be read or written: {fault.strerror or fault}"
        mend = "check free space, and who may read and write there"
        _print_error(CookbookError(said, code="storage", mend=mend), as_json)
        return 2
    for warning in answer.warnings:
        sys.stderr.write(f"warning: {warning}\n")
    if as_json:
        import json

        data = answer.data() if callable(answer.data) else answer.data
        sys.stdout.write(json.dumps(data, ensure_ascii=False, indent=2) + "\n")
    elif text := answer.text() if callable(answer.text) else answer.text:
        sys.stdout.write(text.rstrip("\n") + "\n")
    return answer.code


def _signed(words: list[str]) -> list[str]:
    """`--weight -3kg` as one word, and `-40F` by itself no option: a negative amount is read for what it is."""
    joined: list[str] = []
    for word in words:
        before = joined[-1] if joined else ""
        if word[:1] == "-" and word[1:2].isdigit() and _waits(before):
            joined[-1] = f"{before}={word}"
        elif word[:1] == "-" and word[1:2].isdigit():
            joined.append(f" {word}")
        else:
            joined.append(word)
    return joined


def _waits(word: str) -> bool:
    """Whether a word is an option whose value comes next."""
    return word.startswith("--") and "=" not in word and word not in _FLAGS


def parser(verb: str, about: str, found: Verb) -> Parser:
    """The parser of one verb, with the options that all verbs take."""
    made = Parser(prog=f"cookbook {verb}", description=about[0].upper() + about[1:] + ".", allow_abbrev=False)
    found.options(made)
    common(made)
    return made


def common(made: argparse.ArgumentParser) -> None:
    """The options that every verb takes."""
    made.add_argument("--kitchen", metavar="DIR", type=filled, help="the kitchen's folder")
    made.add_argument("--json", action="store_true", help="one JSON document on standard output")
    made.add_argument("--units", choices=("us", "metric", "both"), help="measures to show")
    made.add_argument("--why", action="store_true", help="where each number comes from")


def _print_error(fault: CookbookError, as_json: bool) -> None:
    place = fault.place
    if as_json:
        import json

        error = {
            "code": fault.code,
            "message": fault.message,
            "file": place.file if place else None,
            "line": place.line if place else None,
            "column": place.column if place else None,
            "mend": fault.mend,
        }
        sys.stdout.write(json.dumps({"error": error}, ensure_ascii=False, indent=2) + "\n")
        return
    problems = fault.problems if isinstance(fault, FileError) else [fault.problem()]
    sys.stderr.write("\n".join(problem.printed() for problem in problems) + "\n")


def progress(arguments: argparse.Namespace, doing: str) -> Callable[[str], None]:
    """Says on a terminal what long work is at: `learning once from …`; silent elsewhere."""
    if arguments.json or not sys.stderr.isatty():
        return lambda _: None

    def told(name: str) -> None:
        sys.stderr.write(f"{doing} {name} …\n")

    return told


def bold(text: str) -> str:
    """Bold on a terminal that has it, plain elsewhere; NO_COLOR is honoured."""
    plain = os.environ.get("NO_COLOR") or os.environ.get("TERM") in (None, "dumb") or not sys.stdout.isatty()
    return text if plain else f"\x1b[1m{text}\x1b[0m"


def table(rows: list[list[str]], head: list[str] | None = None, right: tuple[int, ...] = ()) -> str:
    """Rows as aligned columns; `right` numbers the columns that end together."""
    lines = ([head] if head else []) + rows
    widths = [max(len(line[n]) for line in lines) for n in range(len(lines[0]))] if lines else []

    def cells(line: list[str]) -> str:
        return "  ".join(
            cell.rjust(width) if n in right else cell.ljust(width)
            for n, (cell, width) in enumerate(zip(line, widths, strict=True))
        ).rstrip()

    shown = [cells(line) for line in lines]
    if head:
        shown[0] = bold(shown[0])
    return "\n".join("  " + line for line in shown)
