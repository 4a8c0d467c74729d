"""`forecast`: when it is done, how far it carries, who gets which slice."""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from typing import TYPE_CHECKING

from cookbook.cli.option import piece_options, said
from cookbook.cli.running import Answer, Parser, Verb, bold, filled, progress, table
from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.quantity import Temperature
from cookbook.quantity.number import tenth

if TYPE_CHECKING:
    from cookbook.heat import Forecast, Slicing, Zone
    from cookbook.kitchen.forecasting.outlook import Taught, Wanted
    from cookbook.picture import Chart, DotPlot, Drawing


def _options(parser: Parser) -> None:
    parser.add_argument("name", metavar="RECIPE|ENTRY", nargs="?", help="a recipe or an entry; left out with --cut")
    parser.add_argument("--cut", metavar="CUT", help="or a cut, with the pit and the pull said")
    piece_options(parser)
    parser.add_argument("--pit", metavar="T", help="the air around the meat: 121C")
    parser.add_argument("--pull", metavar="T", help="core temperature at which it comes off: 54C")
    parser.add_argument("--start", metavar="T", help="core temperature when it goes on; 4C where unsaid")
    parser.add_argument("--cooker", metavar="NAME", type=filled, help="its name in shared/cookers.yaml, or its kind")
    parser.add_argument("--want", metavar="DONENESS", help="doneness on the board, in place of --pull")
    parser.add_argument("--no-learning", action="store_true", help="without what this kitchen's cooks have taught")
    parser.add_argument(
        "--advice", action="store_true", help="pulls and rests, what the time hangs on, what to measure"
    )
    parser.add_argument(
        "--draw",
        choices=("curve", "section", "slices", "tornado"),
        default="curve",
        help="which picture: the curve if unsaid",
    )
    parser.add_argument("--svg", metavar="FILE", type=filled, help="the picture into a file")


def _run(arguments: argparse.Namespace) -> Answer:
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from cookbook.kitchen.forecasting import outlook

    kitchen = Kitchen.open(arguments.kitchen)
    arguments.no_learning = arguments.no_learning or not kitchen.learns
    asked = outlook.Asked(
        _c(arguments.pit), _c(arguments.pull), _c(arguments.start), arguments.cooker, arguments.want
    )
    if arguments.cut is not None:
        wanted = outlook.of_cut(kitchen, outlook.piece_of(kitchen, arguments.cut, said(arguments)), asked)
    elif arguments.name is None:
        raise RequestError("a forecast of what?", mend="name a recipe or an entry, or a cut with --cut", code="usage")
    elif arguments.name.partition("@")[0] in kitchen.recipe_names():
        wanted = outlook.of_recipe(kitchen, kitchen.recipe(arguments.name), said(arguments), asked)
    else:
        wanted = outlook.of_entry(kitchen, kitchen.entry(arguments.name), asked)
    told = progress(arguments, "learning once from")
    known = outlook.Taught() if arguments.no_learning else outlook.taught(kitchen, wanted, told)
    wanted = outlook.aimed(wanted, known)
    found = outlook.told_by(wanted, known)
    if arguments.svg is not None:
        _write_svg(arguments.svg, _picture(found, wanted, known, arguments.draw))
    resting = outlook.when_to_slice(wanted, known) if found.reaches else None
    value = found.json() if resting is None else {**found.json(), "rest": resting.json()}
    aside = tuple(found.warnings) if found.reaches else ()
    return Answer(value, lambda: _text(found, wanted, known, resting, arguments), warnings=aside)


def _c(words: str | None) -> float | None:
    return Temperature.parse(words).c if words is not None else None


def _picture(found: Forecast, wanted: Wanted, known: Taught, which: str) -> Chart | Drawing | DotPlot:
    from cookbook.heat import drawing, sensitivity

    if not found.reaches:
        raise RequestError("there is nothing to draw: it never gets there", mend=found.warnings[0])
    if which == "curve":
        return drawing.curve(found, wanted.readings)
    if which == "tornado":
        return drawing.tornado(sensitivity(wanted.piece, priors=known.priors, **wanted.settings())[:6])
    if which == "slices":
        return drawing.slices(found)
    return drawing.section(wanted.piece, priors=known.priors, **wanted.underway())


def _write_svg(file: str, picture: Chart | Drawing | DotPlot) -> None:
    from cookbook.files import hand_out
    from cookbook.picture import svg

    hand_out(file, svg(picture).encode("utf-8"))


def _text(
    found: Forecast, wanted: Wanted, known: Taught, resting: Slicing | None, arguments: argparse.Namespace
) -> str:
    from cookbook.heat.saying import after_the_pull, side_lines, when
    from cookbook.picture import text

    if not found.reaches:
        return "\n".join(found.warnings)
    first, *more = when(found, wanted.pulled_min)
    lines = [
        bold(first),
        *more,
        *after_the_pull(found),
        *([resting.sentence] if resting is not None else []),
        "",
        _zones(found.zones, "done"),
        *side_lines(found),
        *(["", _zones(found.household, "done, as households say")] if arguments.why else []),
        "",
        text(_picture(found, wanted, known, arguments.draw)),
        "",
        *(f"rests on: {ground}" for ground in found.rests_on),
        *found.notes,
    ]
    return "\n".join(lines + (["", *_advice(wanted, known)] if arguments.advice else []))


def _zones(zones: Sequence[Zone], name: str) -> str:
    from cookbook.heat.saying import zone_rows

    return table(zone_rows(zones), [name, "between", "of the meat"], right=(2,))


def _advice(wanted: Wanted, known: Taught) -> list[str]:
    from cookbook.heat import most_useful, pull_advice, sensitivity
    from cookbook.heat.drawing import tornado
    from cookbook.picture import text

    settings = {**wanted.settings(), "priors": known.priors}
    serve = wanted.board_c
    rest = {key: value for key, value in settings.items() if key != "pull_c"}
    lines = [f"for {tenth(serve)} °C on the board:"]
    lines += [f"  {pair.sentence()}" for pair in pull_advice(wanted.piece, serve_c=serve, **rest)] or [
        "  no rest gets there"
    ]
    lines += ["", text(tornado(sensitivity(wanted.piece, **settings)[:6])), ""]
    lines.append(f"measure first: {most_useful(wanted.piece, **settings)[0].sentence()}")
    return lines


VERBS = {"forecast": Verb(_options, _run)}
