"""`piece` and `convert`."""

from __future__ import annotations

import argparse

from cookbook.cli.option import piece_options, said
from cookbook.cli.running import Answer, Parser, Verb, bold, table
from cookbook.kitchen import Kitchen


def _piece_options(parser: Parser) -> None:
    parser.add_argument("cut", metavar="CUT", help='as a butcher says it: "pork loin, boneless"')
    piece_options(parser)


def _piece(arguments: argparse.Namespace) -> Answer:
    from cookbook.errors import RequestError
    from cookbook.meat.field import piece_from, typed

    found = [piece_from(arguments.cut, typed(one), name=name or None) for name, one in (said(arguments) or {"": {}}).items()]
    if not found:
        raise RequestError("how big is the piece?", mend="say it with --weight 3.1kg, --ribs 4 or a tape measure")
    data = found[0].json()
    if len(found) > 1:
        data["pieces"] = [{"name": piece.name, **piece.json()} for piece in found]
    return Answer(data, "\n\n".join(_piece_text(piece, arguments.why) for piece in found))


def _piece_text(piece: object, why: bool) -> str:
    from cookbook.meat import Piece

    assert isinstance(piece, Piece)
    size = piece.dimensions_cm
    lines = [
        f"{bold(piece.cut.name)}, {piece.mass_g.mid / 1000:.3g} kg ({piece.mass_g.low / 1000:.3g} to {piece.mass_g.high / 1000:.3g})",
        f"{size['length'].mid:.0f} × {size['width'].mid:.0f} × {size['height'].mid:.0f} cm, {piece.volume_cm3.mid:.0f} cm³",
        f"surface {piece.area_cm2.mid:.0f} cm² ({piece.area_cm2.low:.0f} to {piece.area_cm2.high:.0f}), "
        f"coated {piece.coated_cm2.mid:.0f} cm²", "",
        table([[face.name, f"{face.area_cm2.mid:.0f} cm²", "coated" if face.coated else "bare"] for face in piece.faces],
              right=(1,)),
        "", piece.method,
    ]
    del why
    return "\n".join(lines + [f"note: {note}" for note in piece.notes])


def _convert_options(parser: Parser) -> None:
    parser.add_argument("amount", metavar="AMOUNT", help='"1/4 cup", "250F"')
    parser.add_argument("item", metavar="ITEM", nargs="?", help="what it is, to go between volume and weight")
    parser.add_argument("--to", metavar="UNIT", required=True, help="g, ml, tbsp, metric cup, C …")


def _convert(arguments: argparse.Namespace) -> Answer:
    from cookbook.errors import RequestError
    from cookbook.quantity import convert

    measures, weights = "us", None
    try:
        kitchen = Kitchen.open(arguments.kitchen)
        measures, weights = kitchen.settings["measures"], kitchen.weights
    except RequestError:
        if arguments.kitchen is not None:
            raise
    found = convert(arguments.amount, arguments.item, to=arguments.to, weights=weights, measures=measures)
    data = {"value": found.value, "low": found.low, "high": found.high, "interval": found.interval,
            "unit": found.unit, "source": found.source}
    text = f"{bold(f'{found.value:.4g} {found.unit}')}"
    if found.interval["low"] != found.interval["high"]:
        text += f" ({found.interval['low']:.4g} to {found.interval['high']:.4g})"
    if found.source:
        text += f"\n  {found.source}"
    return Answer(data, text)


VERBS = {"piece": Verb(_piece_options, _piece), "convert": Verb(_convert_options, _convert)}
