"""`list`, `find` and `last`."""

from __future__ import annotations

import argparse
import os
from datetime import date
from typing import Any

from cookbook.cli.running import Answer, Parser, Verb, bold, progress, table
from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.clock import day_words

SHOWN = 30
"""How many cooks a screen shows; `--json` has all."""


def _nothing(parser: Parser) -> None:
    del parser


def _list(arguments: argparse.Namespace) -> Answer:
    from cookbook.kitchen.finding.search import everything

    return _answer(everything(Kitchen.open(arguments.kitchen)), "no recipes yet")


def _find_options(parser: Parser) -> None:
    parser.add_argument("words", metavar="WORDS", nargs="*", help="words that all must be there, in any order")
    parser.add_argument("--recipe", metavar="RECIPE", help="only this recipe and its cooks")
    parser.add_argument("--version", metavar="VERSION", help="only cooks of this version: NAME@2, or digits")
    parser.add_argument("--cut", metavar="CUT", help="only this cut")
    parser.add_argument("--cooker", metavar="COOKER", help="only cooks on this cooker")
    parser.add_argument("--since", metavar="DAY", help="from this day on, 2026-11-21")
    parser.add_argument("--until", metavar="DAY", help="up to this day")
    parser.add_argument("--score", metavar="N", help="only cooks with at least this mean score")


def _find(arguments: argparse.Namespace) -> Answer:
    from cookbook.journal.field import day, score
    from cookbook.kitchen.finding.search import Wanted, find

    wanted = Wanted(
        " ".join(arguments.words),
        arguments.recipe,
        arguments.version,
        arguments.cut,
        arguments.cooker,
        day(arguments.since) if arguments.since else None,
        day(arguments.until) if arguments.until else None,
        score(arguments.score) if arguments.score else None,
    )
    return _answer(find(Kitchen.open(arguments.kitchen), wanted), "nothing found")


def _answer(found: Any, nothing: str) -> Answer:
    recipes = [{**one._asdict(), "ready": one.missing is None} for one in found.recipes]
    entries = [{**one._asdict(), "open": bool(one.open), "memory": bool(one.memory)} for one in found.entries]
    parts = []
    if recipes:
        parts.append(bold("Recipes") + "\n" + table([_recipe_row(one) for one in found.recipes]))
    if entries:
        more = len(entries) - SHOWN
        rest = f"\n  and {more} more" if more > 0 else ""
        parts.append(bold("Journal") + "\n" + table([_entry_row(one) for one in found.entries[:SHOWN]]) + rest)
    unread = [f"{path} can't be read: {fault} (cookbook check)" for path, fault in found.unread[:SHOWN]]
    if len(found.unread) > SHOWN:
        unread.append(f"nor can {len(found.unread) - SHOWN} more files: cookbook check names them all")
    return Answer({"recipes": recipes, "entries": entries}, "\n\n".join(parts) or nothing, warnings=tuple(unread))


def _recipe_row(one: Any) -> list[str]:
    return [
        one.name,
        one.kind,
        one.title,
        f"revision {one.revision}" if one.revision else "",
        _cooked(one.cooks, one.last_cooked),
        f"best {one.best:.1f}" if one.best is not None else "",
        "ready to publish" if one.missing is None else f"not ready: {one.missing}",
    ]


def _cooked(cooks: int, last: str | None) -> str:
    if last is None:
        return "not cooked yet"
    found = date.fromisoformat(last)
    day = day_words(found.year, found.month, found.day, date.today().year)
    times = f"cooked {cooks} time{'' if cooks == 1 else 's'}" if cooks else "remembered"
    return f"{times}, last {day}"


def _entry_row(one: Any) -> list[str]:
    state = "open" if one.open else "from memory" if one.memory else ""
    return [one.date, one.name, one.cut or "", f"{one.score:.1f}" if one.score is not None else "", state]


def _last_options(parser: Parser) -> None:
    parser.add_argument("name", metavar="RECIPE|CUT", nargs="+", help="a recipe's name, or a cut")
    parser.add_argument("--cooks", metavar="N", type=int, default=5, help="how many cooks to show (5)")
    parser.add_argument("--no-forecast", action="store_true", help="without holding each cook against the forecast")


def _last(arguments: argparse.Namespace) -> Answer:
    from cookbook.journal import Entry
    from cookbook.kitchen.finding.recall import last
    from cookbook.kitchen.forecasting.expecting import Expected, expected

    if arguments.cooks < 1:
        raise RequestError("less than one cook would be nothing", mend="say --cooks 3")
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    name, told = " ".join(arguments.name), progress(arguments, "making once the forecast for")
    kitchen = Kitchen.open(arguments.kitchen)

    def expecting(entry: Entry) -> Expected | None:
        return None if arguments.no_forecast else expected(kitchen, entry, told)

    found = last(kitchen, name, arguments.cooks, expecting)
    return Answer(found.json(), last_text(found))


def last_text(found: Any) -> str:
    """What `last` says, on one screen."""
    lines = [bold(found.title) + (f", {found.cut}" if found.cut and found.cut != found.title else "")]
    for one in found.next_time:
        lines.append(f"  next time: {one.line}  ({_day(one.date)})")
    for one in found.questions:
        times = f", {one['times']} times" if one["times"] else ""
        lines.append(f"  asked{times}: {one['asked']}")
    for one in found.prices[:3]:
        each = f", {one.per_kg:.2f} a kg" if one.per_kg is not None else ""
        shop = f", {one.shop}" if one.shop else ""
        lines.append(f"  paid {one.price} for {one.mass_g / 1000:.3g} kg{each} ({_day(one.date)}{shop})")
    if not found.cooks:
        lines.append("  not cooked yet")
    for one in found.cooks:
        lines += ["", *_cook_lines(one)]
    return "\n".join(lines)


def _cook_lines(one: Any) -> list[str]:
    head = [_day(one.date), one.version or one.recipe or one.entry, one.size, "from memory" if one.memory else ""]
    measured = [f"pit {one.pit_c:.0f} °C"] if one.pit_c is not None else []
    measured += [f"{name} {value:.0f} {unit}{_forecast(one, name)}" for name, (value, unit) in one.measured.items()]
    scores = [f"{aspect} {value:.1f}" for aspect, value in one.scores.items()]
    paid = [f"paid {one.price}"] if one.price else []
    lines = [bold(", ".join(filter(None, head)))]
    lines += ["  " + ", ".join(part) for part in (measured, scores, paid) if part]
    return lines + [f"  {words}" for words in one.changed]


def _forecast(one: Any, name: str) -> str:
    """What the forecast says of this measure: ` (forecast 121, 98 to 131)`."""
    if one.expected is None:
        return ""
    if name == "time to pull":
        return f" (forecast {one.expected.p50:.0f}, {one.expected.p10:.0f} to {one.expected.p90:.0f})"
    return f" (forecast {one.expected.rise_k:.0f})" if name == "rise" and one.expected.rise_k is not None else ""


def _day(day: date) -> str:
    return day_words(day.year, day.month, day.day, date.today().year)


VERBS = {
    "list": Verb(_nothing, _list),
    "find": Verb(_find_options, _find),
    "last": Verb(_last_options, _last),
}
