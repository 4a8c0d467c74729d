"""`compare`."""

from __future__ import annotations

import argparse
from collections.abc import Mapping, Sequence
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from cookbook.cli.running import Answer, Parser, Verb, bold, filled, progress, table
from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen

if TYPE_CHECKING:
    from cookbook.compare import Choice, Comparison, Difference
    from cookbook.journal import Entry
    from cookbook.kitchen.learning.learned import Lesson
    from cookbook.picture import Chart, DotPlot

CHARTS = ("scores", "coat", "salt", "versions", "curves")


def _options(parser: Parser) -> None:
    parser.add_argument("recipe", metavar="RECIPE", help="a recipe (RECIPE@2 is its revision 2), a cut or an entry")
    parser.add_argument("other", metavar="OTHER", nargs="?", help="another recipe on that cut, version or entry")
    parser.add_argument("--by", metavar="FIELD", help="group by cooker, wood, cut, pit, rest, month …")
    parser.add_argument("--where", metavar="FIELD=VALUE", action="append", default=[], help="only such cooks")
    parser.add_argument("--since", metavar="DAY", help="only cooks on this day or later: 2026-01-01")
    parser.add_argument("--csv", metavar="FILE", type=filled, help="every score and measure for a spreadsheet")
    parser.add_argument("--page", metavar="FILE", type=filled, help="all of it as a page for screen and paper")
    parser.add_argument("--chart", metavar="KIND", help=f"draw: {', '.join(CHARTS)}, or any outcome by name")
    parser.add_argument("--align", metavar="AT", default="on", help="set the curves' clocks to on, pull, or 30C")
    parser.add_argument("--svg", metavar="FILE", type=filled, help="the chart as a picture file")
    parser.add_argument("--no-forecast", action="store_true", help="quicker: no forecast for each piece, no zones")
    parser.add_argument("--forecast", action="store_true", help="a forecast for each piece, however many there are")


def _compare(arguments: argparse.Namespace) -> Answer:
    kitchen = Kitchen.open(arguments.kitchen)
    if arguments.svg and not arguments.chart:
        arguments.chart = "scores"
    found, more, late = _with_forecasts(kitchen, arguments)
    data = {**_data(found), **more}
    if more and not arguments.other:
        return Answer(data, "\n".join(["as made, against the day's sheet", *_sentences(more["as_made"])]))
    lines = [_text(found, arguments.why)]
    if "made" in more:
        lines.append("\n".join([bold("what went on, and what changed"), *_sentences(more["made"])]))
    taught = _learned(kitchen, found)
    data["learned"], data["learning"] = [lesson._asdict() for lesson in taught], kitchen.learns
    sentences = [lesson.sentence() for lesson in taught]
    aside = "" if kitchen.learns else ", set aside by `learning: off`"
    if taught:
        lines.append("\n".join([bold(f"what these cooks have taught{aside}"), *(f"  {one}" for one in sentences)]))
    if arguments.csv:
        from cookbook.compare.spreadsheet import csv_text

        _write(arguments.csv, csv_text(found))
        data["csv"] = arguments.csv
    if arguments.page:
        _write(arguments.page, _page(kitchen, found, arguments.recipe, sentences))
        data["page"] = arguments.page
    if arguments.chart:
        lines.append(_chart(kitchen, found, arguments, data))
    return Answer(data, "\n\n".join(lines), warnings=late)


def _with_forecasts(
    kitchen: Kitchen, arguments: argparse.Namespace
) -> tuple[Comparison, dict[str, Any], tuple[str, ...]]:
    """The comparison with a forecast for each piece, where it was asked for or few are still to be worked out."""
    from cookbook.compare.expected import MOST_AT_ONCE, by_forecast, still_to_do

    choice = _choice(arguments)
    found, more = _found(kitchen, arguments, choice)
    if arguments.no_forecast or "as_made" in more:
        return found, more, ()
    cooked = [cook.entry for group in found.groups for cook in group.cooked]
    new = 0 if arguments.forecast else still_to_do(kitchen, cooked)
    if new > MOST_AT_ONCE:
        return found, more, (f"{new} cooks have no forecast yet: `--forecast` works them through, once",)
    expected = by_forecast(kitchen, progress(arguments, "working through"))
    return *_found(kitchen, arguments, choice._replace(expected=expected)), ()


def _sentences(rows: Sequence[Mapping[str, Any]]) -> list[str]:
    return [f"  {row['sentence']}" for row in rows] or ["  nothing"]


def _found(
    kitchen: Kitchen, arguments: argparse.Namespace, choice: Choice
) -> tuple[Comparison, dict[str, Any]]:
    """The comparison that was asked for; for entries also what went on the meat."""
    from cookbook.compare import compare_by, compare_recipes, compare_versions

    name, other = arguments.recipe, arguments.other
    if _is_entry(kitchen, name):
        return _entries(kitchen, name, other, choice)
    if arguments.by:
        if other:
            raise RequestError("--by groups the cooks of one recipe", mend="leave the second recipe out")
        return compare_by(kitchen, name, arguments.by, choice), {}
    if other:
        return compare_recipes(kitchen, name, other, choice), {}
    if "@" in name:
        raise RequestError(
            f"{name} is one version, and a comparison takes two",
            mend=f"name another behind it: `cookbook compare {name} {name.partition('@')[0]}`",
        )
    return compare_versions(kitchen, name, choice), {}


def _is_entry(kitchen: Kitchen, name: str) -> bool:
    return name not in kitchen.recipe_names() and any(
        path.stem == name or path.stem.startswith(f"{name}-") for path in kitchen.entry_paths()
    )


def _entries(kitchen: Kitchen, name: str, other: str | None, choice: Choice) -> tuple[Comparison, dict[str, Any]]:
    from cookbook.compare import making
    from cookbook.compare.groups import compare_entries, compare_one

    one = kitchen.entry(name)
    if other is None:
        changes = making.as_made(kitchen, one)
        return compare_one(kitchen, one, choice), {
            "as_made": [{**change.json(), "sentence": change.sentence()} for change in changes]
        }
    two = kitchen.entry(other)
    made, written = making.between(kitchen, one, two)
    rows = [{**line.json(), "sentence": line.sentence()} for line in made]
    rows += [{**change.json(), "sentence": change.sentence()} for change in written]
    return compare_entries(kitchen, one, two, choice), {"made": rows}


def _choice(arguments: argparse.Namespace) -> Choice:
    from cookbook.compare import Choice
    from cookbook.journal.field import day

    return Choice(tuple(arguments.where), day(arguments.since) if arguments.since else None)


def _data(found: Comparison) -> dict[str, Any]:
    from cookbook.compare.headline import headline

    return {
        "headline": headline(found),
        "groups": [
            {
                "label": group.label,
                "cooks": group.cooks,
                "entries": list(group.entries),
                "outcomes": [
                    {
                        "outcome": one.name,
                        "unit": one.unit,
                        "cooks": one.cooks,
                        "mean": round(one.mean, 3),
                        "spread": None if one.spread is None else round(one.spread, 3),
                    }
                    for one in group.outcomes
                ],
            }
            for group in found.groups
        ],
        "changes": [[change.json() for change in changes] for changes in found.changes],
        "differences": [one.json() for one in found.differences],
        "confounded": found.confounded,
        "hands": found.hands,
        "notes": list(found.notes),
    }


def _text(found: Comparison, why: bool) -> str:
    from cookbook.compare.headline import headline

    lines = [bold(headline(found)), ""]
    for place, group in enumerate(found.groups):
        if place:
            changes = [f"  {change.sentence()}" for change in found.changes[place - 1]]
            lines += ["", *(["what changed:", *changes, ""] if changes else [])]
        lines.append(bold(group.label) + f": {group.cooks} cook{'' if group.cooks == 1 else 's'}")
        rows = [list(one.cells()) for one in group.outcomes]
        lines += [table(rows, right=(1,))] if rows else []
    for a, b in dict.fromkeys((one.a, one.b) for one in found.differences):
        own = [one for one in found.differences if (one.a, one.b) == (a, b)]
        head = ["", "difference", "80 % interval", "better with", "verdict"]
        lines += ["", bold(f"{b}, against {a}"), table([_row(one) for one in own], head, right=(1, 2, 3))]
    prices = [f"  {one.outcome}: {_price(one)}" for one in found.differences if one.unit == "points"]
    lines += ["", *dict.fromkeys(prices)] if prices else []
    if found.confounded:
        lines += ["", f"  {found.confounded}"]
    return "\n".join([*lines, *(_why(found) if why else [])])


def _row(one: Difference) -> list[str]:
    outcome, gap, likely, _, better, verdict = one.cells()
    return [outcome, gap, likely, better, verdict]


def _why(found: Comparison) -> list[str]:
    lines = ["", bold("how this was worked out"), *(f"  {note}" for note in found.notes)]
    for aspect, hands in found.hands.items():
        said = ", ".join(f"{taster} {hand:+.2f}" for taster, hand in hands.items())
        lines += [f"  {aspect}: taken off the scores for the taster's hand: {said}"] if said else []
    lines += [
        f"  {one.outcome}: 95 % between {one.low_95:+.2f} and {one.high_95:+.2f} {one.unit}; rests on "
        f"{one.rests_on}; {_price(one)}"
        for one in found.differences
    ]
    return lines


def _price(one: Difference) -> str:
    """`to tell one point takes about 3 cooks a side`."""
    what = "one point" if one.unit == "points" and one.one_point == 1 else f"{one.one_point:g} {one.unit}"
    if not one.cooks_a_side:
        return f"to tell {what} takes more cooks than anybody makes"
    return f"to tell {what} takes about {one.cooks_a_side} cooks a side"


def _learned(kitchen: Kitchen, found: Comparison) -> list[Lesson]:
    from cookbook.kitchen.learning.learned import lessons

    cooked = {cook.entry.name: cook for group in found.groups for cook in group.cooked}

    def minutes(entry: Entry) -> float | None:
        said = cooked[entry.name].expectation
        return said.minutes if said is not None else None

    return lessons(kitchen, [cook.entry for cook in cooked.values()], minutes)


def _chart(kitchen: Kitchen, found: Comparison, arguments: argparse.Namespace, data: dict[str, Any]) -> str:
    from cookbook.picture import svg, text

    picture = _picture(kitchen, found, arguments.chart, arguments.align)
    data["chart"] = {"title": picture.title, "table": {"head": picture.table.head, "rows": picture.table.rows}}
    if arguments.svg:
        _write(arguments.svg, svg(picture))
        data["svg"] = arguments.svg
    return text(picture)


def _page(kitchen: Kitchen, found: Comparison, name: str, lessons: Sequence[str]) -> str:
    from cookbook.publish.forms.comparison import comparison_page, for_readers

    found = for_readers(kitchen, found)
    charts: list[Chart | DotPlot] = []
    for kind in CHARTS:
        if kind == "versions" and len(found.groups) < 2:
            continue
        with suppress(RequestError):
            charts.append(_picture(kitchen, found, kind, "on"))
    return comparison_page(found, name, charts, lessons)


def _picture(kitchen: Kitchen, found: Comparison, kind: str, align: str) -> Chart | DotPlot:
    from cookbook.compare import charts, curves

    if kind == "scores":
        return charts.score_chart(found)
    if kind == "versions":
        return charts.timeline(found)
    if kind == "curves":
        return curves.curves(kitchen, [cook.entry for group in found.groups for cook in group.cooked], align)
    if kind in ("coat", "salt"):
        return charts.over_time(found, kind)
    return charts.score_chart(found, kind)


def _write(file: str, words: str) -> None:
    from cookbook.files import hand_out

    hand_out(file, words.encode("utf-8"))


VERBS = {"compare": Verb(_options, _compare)}
