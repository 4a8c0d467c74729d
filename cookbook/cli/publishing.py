"""`card`: what gets published."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from cookbook.cli.option import piece_options, said
from cookbook.cli.running import Answer, Parser, Verb
from cookbook.errors import StorageError
from cookbook.kitchen import Kitchen

FORMS = ("text", "description", "page", "json-ld")


def _options(parser: Parser) -> None:
    parser.add_argument("recipe", metavar="RECIPE", help="a recipe's name")
    parser.add_argument("--as", metavar="FORM", dest="form", choices=FORMS, default="text", help=" | ".join(FORMS))
    parser.add_argument("--out", metavar="FILE", help="write it there instead of printing it")
    piece_options(parser)


def _run(arguments: argparse.Namespace) -> Answer:
    from cookbook.publish import card

    kitchen = Kitchen.open(arguments.kitchen)
    text = card(kitchen, arguments.recipe, arguments.form, said(arguments))
    if arguments.out is not None:
        path = Path(arguments.out)
        try:
            path.write_text(text, encoding="utf-8")
        except OSError as fault:
            raise StorageError(str(path), fault.strerror or str(fault)) from None
        return Answer({"path": str(path), "missing": []}, f"written: {path}")
    if arguments.form == "json-ld" and arguments.json:
        return Answer(json.loads(text), text)
    return Answer({"text": text, "missing": []}, text)


VERBS = {"card": Verb(_options, _run)}
