"""`page`: the local page for this kitchen."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from cookbook.cli.running import Answer, Parser, Verb
from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen

_LAST_PORT = 65535


def _options(parser: Parser) -> None:
    parser.add_argument("--port", metavar="N", type=_port, help="the port to serve it on")
    parser.add_argument("--lan", action="store_true", help="for the phones in this net too, each paired by a code")
    parser.add_argument("--read-only", action="store_true", help="it may only be looked at")


def _port(words: str) -> int:
    if not (words.isdigit() and len(words) < 6 and 1 <= int(words) <= _LAST_PORT):
        raise argparse.ArgumentTypeError(f"'{words}' is no port: a whole number from 1 to {_LAST_PORT}")
    return int(words)


def _run(arguments: argparse.Namespace) -> Answer:
    kitchen = _kitchen(arguments.kitchen, arguments.read_only)
    if arguments.json:
        raise RequestError(
            "the page is for people: it has no --json", mend="every verb it uses has one", code="usage"
        )
    from cookbook.page import serve

    serve(
        kitchen,
        _told,
        port=arguments.port,
        lan=arguments.lan,
        read_only=arguments.read_only,
        units=arguments.units,
    )
    return Answer({}, "")


def _kitchen(there: str | None, read_only: bool) -> Kitchen | Path:
    """The kitchen; or a folder that is empty, or not there yet where it may be made: the page makes one of it."""
    try:
        return Kitchen.open(there)
    except RequestError:
        folder = Path(there or ".")
        to_come = not read_only and not folder.exists() and folder.parent.is_dir()
        if to_come or (folder.is_dir() and not any(folder.iterdir())):
            return folder
        raise


def _told(words: str) -> None:
    sys.stdout.write(words + "\n")
    sys.stdout.flush()


VERBS = {"page": Verb(_options, _run)}
