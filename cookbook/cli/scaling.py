"""`scale`: a recipe for the piece at hand."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

from cookbook.cli.option import piece_options, said
from cookbook.cli.running import Answer, Parser, Verb, bold, table
from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.sizing import for_pieces, inside, scaled
from cookbook.recipe.model import MEASURES_WORDS
from cookbook.recipe.remarks import (
    COLUMNS,
    asides,
    by_weight_too,
    for_which,
    grams_text,
    how_many_times,
    row,
    salt_together,
    what_goes_on,
)
from cookbook.recipe.scaling import Line, Scaled

if TYPE_CHECKING:
    from collections.abc import Iterator

    from cookbook.quantity import Totals


def _options(parser: Parser) -> None:
    parser.add_argument("recipe", metavar="RECIPE", help="a recipe's name; RECIPE@3 is its revision 3")
    parser.add_argument("cut", metavar="CUT", nargs="?", help="another cut than the recipe's")
    piece_options(parser)
    parser.add_argument("--batch", metavar="N", type=_number, help="so many batches as written")
    parser.add_argument("--layer", metavar="MM", type=_number, help="as much as gives this mean thickness")

    parser.add_argument("--no-learning", action="store_true", help="without what this kitchen's cooks have taught")
    parser.add_argument("--left-in-bowl", metavar="MASS", help="in the middle of coating: what is left in the bowl")
    parser.add_argument("--bare", metavar="FACES", help="and which faces are still bare")


def _number(words: str) -> float:
    try:
        value = float(words.replace(",", "."))
    except ValueError:
        value = -1.0
    if not 0 < value <= 1000:
        raise argparse.ArgumentTypeError(f"'{words}' is no number above 0 and up to 1000")
    return value


def _run(arguments: argparse.Namespace) -> Answer:
    kitchen = Kitchen.open(arguments.kitchen)
    recipe = kitchen.recipe(arguments.recipe)
    kitchen.no_loop(recipe)
    units = arguments.units or kitchen.settings.get("units") or "both"
    if arguments.batch is not None and arguments.layer is not None:
        raise RequestError("--batch and --layer can't both decide how much to make", code="usage")
    found = [
        scaled(kitchen, coat, pieces, not arguments.no_learning, batch=arguments.batch, layer_mm=arguments.layer)
        for coat, pieces in for_pieces(kitchen, recipe, said(arguments), arguments.cut)
    ]
    if not found:
        raise RequestError(
            f"{recipe.name} has no coat and nothing else to scale", mend="scale one of its pastes or rubs"
        )
    if arguments.left_in_bowl is not None or arguments.bare is not None:
        return _top_up(found[0], arguments, units)
    wished = arguments.batch is not None or arguments.layer is not None
    spoons = MEASURES_WORDS[kitchen.settings["measures"]] + " of this kitchen" if kitchen.drawer else ""
    return Answer(
        lambda: _data(kitchen, found, units),
        lambda: "\n\n".join(
            [
                *(scaled_text(one, units, arguments.why, wished, spoons) + inside_text(kitchen, one, units)
                  for one in found),
                *(f"note: {note}" for note in salt_together(found)),
            ]
        ),
    )


def _top_up(scaled: Scaled, arguments: argparse.Namespace, units: str) -> Answer:
    """What is still to make for the faces that are bare, at the thickness used so far."""
    from cookbook.quantity import read_mass_g
    from cookbook.recipe.reaching import top_up

    if arguments.left_in_bowl is None or arguments.bare is None:
        raise RequestError("--left-in-bowl and --bare belong together", code="usage", mend="say both")
    need, more = top_up(scaled, read_mass_g(arguments.left_in_bowl), arguments.bare)
    data = {**scaled_data(more or scaled, units), **({} if more is not None else {"ingredients": []})}
    data["top_up"] = {**need._asdict()}
    head = (
        f"{need.bare_cm2:.0f} cm² are bare; at the {need.layer_mm:.1f} mm used so far they take "
        f"{need.needed_g:.0f} g, {need.left_g:.0f} g are in the bowl"
    )
    if more is None:
        return Answer(data, f"{head}: it reaches.")
    rows = [row(line, units)[:3] for line in more.lines]
    return Answer(data, f"{head}: make {need.make_g:.0f} g more.\n\n{table(rows, right=(0,))}")


def _data(kitchen: Kitchen, found: list[Scaled], units: str) -> dict[str, Any]:
    data, *others = ({**scaled_data(one, units), "inside": list(_inside_data(kitchen, one, units))} for one in found)
    if others:
        coats = [dict(data), *others]
        data["notes"] = data["notes"] + salt_together(found)
        data["coats"] = coats
    return data


def _inside_data(kitchen: Kitchen, outer: Scaled, units: str) -> Iterator[dict[str, Any]]:
    """What goes into a recipe, and into that, as much as is needed."""
    for one in inside(kitchen, outer):
        lines = [line_data(line, units) for line in one.lines]
        yield {"recipe": one.recipe.name, "into": outer.recipe.name, "ingredients": lines, "notes": list(one.notes)}
        yield from _inside_data(kitchen, one, units)


def inside_text(kitchen: Kitchen, outer: Scaled, units: str) -> str:
    """The same for people, below the recipe that it goes into."""
    found = ""
    for one in inside(kitchen, outer):
        lines = table([row(line, units)[:3] for line in one.lines], list(COLUMNS[:3]), right=(0,))
        head = f"{bold(one.recipe.title)}, {'for' if one.notes else 'as much as goes into'} {outer.recipe.title}"
        notes = "".join(f"\nnote: {note}" for note in one.notes)
        found += f"\n\n{head}\n\n{lines}{notes}{inside_text(kitchen, one, units)}"
    return found


def scaled_data(scaled: Scaled, units: str) -> dict[str, Any]:
    """A scaled recipe as `scale --json` gives it."""
    factor = scaled.factor
    shares = scaled.shares()
    coat = scaled.coat
    return {
        "recipe": scaled.recipe.name,
        "measures": scaled.recipe.measures,
        "factor": {"surface": factor.surface, "weight": factor.weight},
        "factor_interval": {"low": factor.surface_low, "high": factor.surface_high},
        "coated_cm2": {"from": scaled.coated_from_cm2, "to": scaled.coated_to_cm2},
        "ingredients": [line_data(line, units) for line in scaled.lines],
        "coat": {"grams": coat.grams, "g_per_cm2": coat.g_per_cm2, "thickness_mm": coat.thickness_mm}
        if coat
        else None,
        "salt_percent_of_meat": scaled.salt.percent_of_meat if scaled.salt else None,
        "salt_percent_as_weighed": scaled.salt.percent_as_weighed if scaled.salt else None,
        "pieces": [
            {
                "name": piece.name,
                "mass_g": piece.mass_g.json(),
                "coated_cm2": piece.coated_cm2.mid,
                "coat": coat.grams * share if coat else None,
                "share_of_batch": share,
            }
            for piece, share in zip(scaled.pieces, shares, strict=True)
        ],
        "totals": totals_data(scaled.totals()),
        "notes": list(scaled.notes),
    }


def line_data(line: Line, units: str) -> dict[str, Any]:
    """One ingredient as `scale --json` gives it."""
    measured = line.measured(units)
    return {
        "item": line.item,
        "amount": measured.text,
        "grams": line.grams.json() if line.grams else None,
        "measures": measured.scoops,
        "note": measured.note or None,
        "follows": line.follows,
        "factor": line.factor,
        "by_weight": line.naive_text(units),
        "prep": line.ingredient.prep,
        "or": list(line.ingredient.alternatives),
        "until": line.ingredient.until,
        "hold_back": line.back_text(units) or None,
    }


def scaled_text(scaled: Scaled, units: str, why: bool = False, wished: bool = False, spoons: str = "") -> str:
    """A scaled recipe for people; `wished` that a batch or a layer decides how much, `spoons` which are meant, where
    not the recipe's."""
    lines = [
        f"{bold(scaled.recipe.title)} {for_which(scaled)}",
        how_many_times(scaled),
        "",
        table([row(line, units) for line in scaled.lines], list(COLUMNS), right=(0, 4, 5)),
    ]
    lines += [f"  {line.item}: {aside}" for line in scaled.lines for aside in asides(line, units)]
    more = [*([] if wished else by_weight_too(scaled)), *what_goes_on(scaled)]
    lines += ["", *more] if more else []
    lines += [f"note: {note}" for note in scaled.notes]
    if units != "metric":
        lines.append(f"Spoons and cups are {spoons or scaled.recipe.measures_words}.")
    if why:
        lines += ["", *scaled.why(), *_total_lines(scaled.totals())]
    return "\n".join(lines)


def _total_lines(total: Totals) -> list[str]:
    """What the batch comes to, and what is in none of it."""
    said = [
        f"{name}{grams_text(sum_of.mid)} {unit}"
        + (f" ({grams_text(sum_of.low)} to {grams_text(sum_of.high)})" if sum_of.high > 1.02 * sum_of.low else "")
        for name, sum_of, unit in (
            ("", total.grams, "g"),
            ("", total.ml, "ml"),
            ("salt ", total.salt_g, "g"),
            ("sodium ", total.sodium_mg, "mg"),
        )
        if sum_of.mid
    ]
    return [f"all together: {', '.join(said)}"] * bool(said) + [
        f"not in the total {one.total}: {one.item}, {one.why}" for one in total.uncounted
    ]


def totals_data(total: Totals) -> dict[str, Any]:
    """What a batch comes to as `scale --json` gives it."""
    return {
        "grams": total.grams.json(),
        "ml": total.ml.json(),
        "salt_g": total.salt_g.json(),
        "sodium_mg": total.sodium_mg.json(),
        "uncounted": [one._asdict() for one in total.uncounted],
    }


VERBS = {"scale": Verb(_options, _run)}
