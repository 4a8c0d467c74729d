"""`card`, `releases`, `site`: what gets published."""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from cookbook.cli.option import piece_options, said
from cookbook.cli.running import Answer, Parser, Verb, bold, filled
from cookbook.files import hand_out
from cookbook.kitchen import Kitchen

if TYPE_CHECKING:
    from cookbook.kitchen.forecasting.outlook import Asked
    from cookbook.publish.forms.label import Jar

FORMS = ("text", "description", "reply", "page", "pdf", "json-ld", "chapters", "label", "sheet", "correction")
ONLY = (("eat", "reply", None), ("net", "label", None), ("lot", "label", None), ("best_before", "label", None),
        ("paper", "pdf", "A4"), ("each_sheet", "pdf", 1))
"""Options that one form alone reads, with what they are where nobody gives them."""
PAPERS = ("A4", "A5", "A6", "4x6", "5x7")


def _options(parser: Parser) -> None:
    parser.add_argument("recipe", metavar="RECIPE", help="a recipe's name")
    parser.add_argument("--as", metavar="FORM", dest="form", choices=FORMS, default="text", help=" | ".join(FORMS))
    parser.add_argument("--out", metavar="FILE", type=filled, help="write it there instead of printing it")
    parser.add_argument("--check", action="store_true", help="only say what is missing before it can go out")
    piece_options(parser)
    other = parser.add_argument_group("for a reply, or another kitchen")
    other.add_argument("--cooker", metavar="NAME", type=filled, help="its name in shared/cookers.yaml, or its kind")
    other.add_argument("--want", metavar="DONENESS", help="doneness on the board")
    other.add_argument("--eat", metavar="TIME", type=filled, help="when it is to be on the table: 18:30")
    parser.add_argument("--cost", action="store_true", help="with the cost of a portion, by your prices or cooks")
    jar = parser.add_argument_group("for a jar label")
    jar.add_argument("--net", metavar="MASS", type=filled, help="what is in the jar: 71g")
    jar.add_argument("--lot", metavar="WORDS", type=filled, help="the batch, as you mark it")
    jar.add_argument("--best-before", metavar="WORDS", type=filled, help="as you set it")
    paper = parser.add_argument_group("for paper")
    paper.add_argument("--paper", metavar="SIZE", choices=PAPERS, default="A4", help=" | ".join(PAPERS))
    paper.add_argument(
        "--each-sheet",
        metavar="N",
        type=int,
        choices=(1, 2, 4),
        default=1,
        help="so many cards on a sheet of A4, with crop marks: 1, 2 or 4",
    )


def _run(arguments: argparse.Namespace) -> Answer:
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    kitchen = Kitchen.open(arguments.kitchen)
    answer = (_check if arguments.check else _pdf if arguments.form == "pdf" else _card)(kitchen, arguments)
    idle = () if arguments.check else tuple(_idle(kitchen, arguments))
    if idle and not callable(answer.data) and arguments.form != "json-ld":
        answer = answer._replace(data={**answer.data, "warnings": list(idle)})
    return answer._replace(warnings=idle)


def _idle(kitchen: Kitchen, arguments: argparse.Namespace) -> Iterator[str]:
    """Options that were given and say nothing on this card."""
    cook = kitchen.recipe(arguments.recipe).kind == "cook"
    for name, form, default in ONLY:
        if getattr(arguments, name) != default and arguments.form != form:
            yield f"--{name.replace('_', '-')} says nothing here: it is for `--as {form}`"
    for name in ("cooker", "want", "eat"):
        if getattr(arguments, name) is not None and not cook and (name != "eat" or arguments.form == "reply"):
            yield f"--{name} says nothing here: {arguments.recipe} is no cook, and nothing in it is timed"


def _card(kitchen: Kitchen, arguments: argparse.Namespace) -> Answer:
    from cookbook.kitchen.clock import moment
    from cookbook.publish import card

    text = card(
        kitchen,
        arguments.recipe,
        arguments.form,
        said(arguments),
        asked=_asked(arguments),
        eat=moment(arguments.eat) if arguments.eat else None,
        jar=_jar(arguments),
        cost=arguments.cost,
        srt=str(arguments.out or "").casefold().endswith(".srt"),
        told=_progress(arguments),
    )
    sent = _sent(kitchen, arguments.recipe, text) if arguments.form == "description" else {}
    if arguments.out is not None:
        hand_out(arguments.out, text.encode("utf-8"))
        told = "".join(f"\n  for its release: {word}: {value}" for word, value in sent.items())
        data = {"path": arguments.out, "missing": _lacks(kitchen, arguments), **sent}
        return Answer(data, f"written: {arguments.out}{told}")
    if arguments.form == "json-ld" and arguments.json:
        return Answer(json.loads(text), text)
    return Answer({"text": text, "missing": _lacks(kitchen, arguments), **sent}, text)


def _sent(kitchen: Kitchen, recipe: str, text: str) -> dict[str, str]:
    """What a release keeps of a text that goes out: the version it tells of, and its digest."""
    import hashlib

    return {
        "version": kitchen.version_now(kitchen.recipe(recipe)),
        "digest": hashlib.sha256(text.encode()).hexdigest(),
    }


def _asked(arguments: argparse.Namespace) -> Asked | None:
    if arguments.cooker is None and arguments.want is None:
        return None
    from cookbook.kitchen.forecasting.outlook import Asked

    return Asked(cooker=arguments.cooker, want=arguments.want)


def _jar(arguments: argparse.Namespace) -> Jar:
    from cookbook.publish.forms.label import Jar
    from cookbook.quantity import read_mass_g

    return Jar(
        read_mass_g(arguments.net) if arguments.net else None, arguments.lot or "", arguments.best_before or ""
    )


def _check(kitchen: Kitchen, arguments: argparse.Namespace) -> Answer:
    lacks = _missing(kitchen, arguments)
    lines = [bold(f"{len(lacks)} missing before {arguments.recipe} can go out:"), *(f"  - {one}" for one in lacks)]
    return Answer(
        {"missing": lacks}, "\n".join(lines) if lacks else f"{arguments.recipe} is ready to go out", 1 if lacks else 0
    )


def _missing(kitchen: Kitchen, arguments: argparse.Namespace) -> list[str]:
    from cookbook.publish.content.gathering import gather
    from cookbook.publish.forms.ready import missing

    found = gather(kitchen, arguments.recipe, said(arguments), _asked(arguments), _progress(arguments))
    return missing(kitchen, found)


def _lacks(kitchen: Kitchen, arguments: argparse.Namespace) -> list[str]:
    """What is missing, for the one JSON document; people ask for it with `--check`."""
    return _missing(kitchen, arguments) if arguments.json else []


def _pdf(kitchen: Kitchen, arguments: argparse.Namespace) -> Answer:
    from cookbook.publish.content.gathering import gather
    from cookbook.publish.forms.paper import paper

    found = gather(kitchen, arguments.recipe, said(arguments), _asked(arguments), _progress(arguments))
    left_out: list[str] = []
    data = paper(kitchen, found.content, arguments.paper, arguments.each_sheet, left_out.append)
    path = arguments.out or f"{arguments.recipe}.pdf"
    hand_out(path, data)
    noted = f"\n  left out, as no font here has them: {left_out[0]}" if left_out else ""
    return Answer({"path": path, "missing": _lacks(kitchen, arguments)}, f"written: {path}{noted}")


def _progress(arguments: argparse.Namespace) -> Callable[[int, int], None]:
    """Says on a terminal how far the forecast is; silent elsewhere."""
    if arguments.json or not sys.stderr.isatty():
        return lambda _done, _all: None

    def told(done: int, all_: int) -> None:
        sys.stderr.write(f"\rworking out times once: {done} of {all_} " + ("\n" if done == all_ else ""))
        sys.stderr.flush()

    return told


def _no_options(_parser: Parser) -> None:
    """`releases` takes what every verb takes."""


def _releases(arguments: argparse.Namespace) -> Answer:
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from cookbook.publish.forms.releases import releases

    found = releases(Kitchen.open(arguments.kitchen))
    lines = []
    for one in found:
        day = f"out {one.out}" if one.out else f"planned {one.planned}" if one.planned else "no day yet"
        lines.append(bold(f"{one.title}, {day}") + (f", {one.occasion}" if one.occasion else ""))
        lines += [f"  - still missing: {lack}" for lack in one.missing]
        lines += [f"  - overtaken: {change}" for change in one.overtaken]
        lines += [f"    `cookbook card {one.recipe} --as correction` has the lines to paste"] if one.overtaken else []
        lines += ["  - the description would read otherwise now"] if one.sent_otherwise else []
        lines += ["  ready"] if not (one.out or one.missing) else []
    return Answer(
        {"releases": [one.json() for one in found]},
        "\n".join(lines) or "nothing is planned: shared/releases.yaml lists what comes out when",
    )


def _site_options(parser: Parser) -> None:
    about = "the folder for the site: new, empty, or a site made before"
    parser.add_argument("out", metavar="OUT", type=filled, help=about)


def _site(arguments: argparse.Namespace) -> Answer:
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from cookbook.publish.site import site

    def told(name: str) -> None:
        if sys.stderr.isatty() and not arguments.json:
            sys.stderr.write(f"\r{name:<60.60}")

    found = site(Kitchen.open(arguments.kitchen), arguments.out, told)
    lines = [
        bold(f"{len(found.pages)} pages in {arguments.out}") + f", {len(found.written)} files written, "
        f"{len(found.removed)} taken away",
        f"open {Path(arguments.out) / 'index.html'}",
    ]
    return Answer(
        {
            "pages": list(found.pages),
            "written": list(found.written),
            "removed": list(found.removed),
            "warnings": list(found.warnings),
        },
        "\n".join(lines),
        warnings=found.warnings,
    )


VERBS = {"card": Verb(_options, _run), "releases": Verb(_no_options, _releases), "site": Verb(_site_options, _site)}
