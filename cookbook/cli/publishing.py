"""`card`: what gets published."""

from __future__ import annotations

import argparse
import json

from cookbook.cli.option import piece_options, said
from cookbook.cli.running import Answer, Parser, Verb
from cookbook.files import hand_out
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
        hand_out(arguments.out, text.encode("utf-8"))
        return Answer({"path": arguments.out, "missing": []}, f"written: {arguments.out}")
    if arguments.form == "json-ld" and arguments.json:
        return Answer(json.loads(text), text)
    return Answer({"text": text, "missing": []}, text)


VERBS = {"card": Verb(_options, _run)}
