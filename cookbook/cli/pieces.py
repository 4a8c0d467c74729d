"""`piece` and `convert`."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from cookbook.cli.option import piece_options, said
from cookbook.cli.running import Answer, Parser, Verb, bold, filled, table
from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.meat.field import piece_from, typed
from cookbook.quantity.number import digits

if TYPE_CHECKING:
    from cookbook.meat import Cut, Piece
    from cookbook.picture import Chart, Drawing


def _piece_options(parser: Parser) -> None:
    parser.add_argument("cut", metavar="CUT", help='as a butcher says it: "pork loin, boneless"')
    piece_options(parser)
    parser.add_argument("--table", action="store_true", help="sizes of this cut, by surface and by weight")
    parser.add_argument("--svg", metavar="FILE", type=filled, help="draw it into a picture file")


def _piece(arguments: argparse.Namespace) -> Answer:
    from cookbook.meat import Cut

    cuts = kitchen_or_none(arguments)[1]
    spoken = said(arguments)
    sizes, shown = _table(arguments, Cut.named(arguments.cut, cuts), spoken) if arguments.table else ({}, "")
    if arguments.table and not any(set(one) - {"bones", "faces"} for one in spoken.values()):
        return Answer(sizes, shown)
    found = [
        piece_from(arguments.cut, typed(one), name=name or None, cuts=cuts)
        for name, one in (spoken or {"": {}}).items()
    ]
    data = found[0].json()
    if len(found) > 1:
        data["pieces"] = [{"name": piece.name, **piece.json()} for piece in found]
    text = "\n\n".join(_piece_text(piece, arguments.why) for piece in found)
    if arguments.table:
        return Answer({**data, **sizes}, f"{text}\n\n{shown}")
    return Answer({**data, **_picture(arguments, found[0])}, text)


def _table(
    arguments: argparse.Namespace, cut: Cut, spoken: Mapping[str, Mapping[str, str]]
) -> tuple[Mapping[str, Any], str]:
    """For `--json`, and for people."""
    from cookbook.meat.drawing import chart, size_rows
    from cookbook.meat.size_table import size_table
    from cookbook.picture import text

    known = next(iter(spoken.values()), {})
    sizes = size_table(cut, bones=known.get("bones"), faces=known.get("faces"))
    rows = size_rows(sizes)
    shown = table([list(row) for row in rows.rows], list(rows.head), right=tuple(range(1, len(rows.head))))
    if arguments.svg is not None:
        _write_svg(arguments.svg, chart(sizes))
    return (
        {"cut": cut.name, "sizes": [size.json() for size in sizes]},
        f"{bold(cut.name)}\n{shown}\n\n{text(chart(sizes))}",
    )


def _piece_text(piece: Piece, why: bool) -> str:
    from cookbook.meat.drawing import drawing
    from cookbook.meat.why import facts
    from cookbook.picture import text

    first, sizes, surface, *more = facts(piece)
    lines = [bold(first), sizes, surface, "", text(drawing(piece)), "", *more]
    return "\n".join(lines + (["", *piece.why()] if why else []))


def _picture(arguments: argparse.Namespace, piece: Piece) -> dict[str, str]:
    if arguments.svg is None:
        return {}
    from cookbook.meat.drawing import drawing

    _write_svg(arguments.svg, drawing(piece))
    return {"svg": str(arguments.svg)}


def _write_svg(file: str, picture: Drawing | Chart) -> None:
    from cookbook.files import hand_out
    from cookbook.picture import svg

    hand_out(file, svg(picture).encode("utf-8"))


def _convert_options(parser: Parser) -> None:
    parser.add_argument("amount", metavar="AMOUNT", help='"1/4 cup", "250F"')
    parser.add_argument("item", metavar="ITEM", nargs="?", help="what it is, to go between volume and weight")
    parser.add_argument("--to", metavar="UNIT", required=True, help="g, ml, tbsp, metric cup, C …")


def _convert(arguments: argparse.Namespace) -> Answer:
    from cookbook.quantity import convert

    kitchen, _ = kitchen_or_none(arguments)
    measures, weights = (kitchen.settings["measures"], kitchen.weights) if kitchen is not None else ("us", None)
    found = convert(arguments.amount, arguments.item, to=arguments.to, weights=weights, measures=measures)
    data = {
        "value": found.value,
        "low": found.low,
        "high": found.high,
        "interval": found.interval,
        "unit": found.unit,
        "source": found.source,
    }
    text = f"{bold(f'{digits(found.value, 4)} {found.unit}')}"
    if found.interval["low"] != found.interval["high"]:
        text += f" ({digits(found.interval['low'], 4)} to {digits(found.interval['high'], 4)})"
    if found.source:
        text += f"\n  {found.source}"
    return Answer(data, text)


def kitchen_or_none(arguments: argparse.Namespace) -> tuple[Kitchen | None, tuple[Cut, ...]]:
    """The kitchen at hand and its own cuts; none where this is no kitchen and none was named."""
    try:
        kitchen = Kitchen.open(arguments.kitchen)
    except RequestError:
        if arguments.kitchen is not None:
            raise
        return None, ()
    return kitchen, kitchen.cuts


def _weigh_options(parser: Parser) -> None:
    parser.add_argument("item", metavar="ITEM", help='what was weighed: "fine salt"')
    parser.add_argument("amount", metavar="AMOUNT", help='how much of it: "1 tbsp", "10 cloves"')
    parser.add_argument("mass", metavar="MASS", help="what the balance said: 17.5g")


def _weigh(arguments: argparse.Namespace) -> Answer:
    from datetime import date

    from cookbook.kitchen.ingredients import weigh

    item, own, odd = weigh(
        Kitchen.open(arguments.kitchen), arguments.item, arguments.amount, arguments.mass, date.today()
    )
    warnings = (odd,) if odd is not None else ()
    data = {"item": item, "weighings": own.weighings, "doubt": own.doubt, "warnings": list(warnings)}
    if own.g_per_ml is not None:
        data["g_per_ml"] = own.g_per_ml
        text = f"{digits(own.g_per_ml, 3)} g in a ml"
    else:
        data["g_each"] = own.g_each
        text = f"{digits(own.g_each or 0.0, 3)} g each"
    times = f"{own.weighings} weighing{'' if own.weighings == 1 else 's'}"
    return Answer(data, f"{item}: {text}, give or take {own.doubt:.0%} ({times})", warnings=warnings)


VERBS = {
    "piece": Verb(_piece_options, _piece),
    "convert": Verb(_convert_options, _convert),
    "weigh": Verb(_weigh_options, _weigh),
}
