"""`plan`: the day of a meal, from who is coming to who gets which slice."""

from __future__ import annotations

import argparse
import os
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cookbook.cli.option import piece_options, said
from cookbook.cli.running import Answer, Parser, Verb, filled, progress
from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.quantity import Temperature

if TYPE_CHECKING:
    from cookbook.plan import Asked, Meal

WORDS = {
    "--eat": ("TIME", 'when it is to be on the table: 18:30, "tomorrow 18:30", "Saturday 18:30", 2026-12-25T18:30'),
    "--eaters": ("FILE|SPEC", 'who is coming: "6 adults, 3 children, 2 want medium"; without it shared/eaters.yaml'),
    "--apart": ("NAMES", "eaters who get something else, with commas"),
    "--leftovers": ("N", "so many portions to keep"),
    "--confidence": ("CHANCE", "how surely it is to be in time: 90 %% where unsaid"),
    "--pit": ("T", "the air around the meat: 121C"),
    "--pull": ("T", "core temperature at which it comes off: 54C"),
    "--start": ("T", "core temperature when it goes on; 4C where unsaid"),
    "--want": ("DONENESS", "doneness on the board, in place of --pull"),
    "--cooker": ("NAME", "by its name in shared/cookers.yaml, or its kind"),
    "--carvers": ("N", "how many people carve: 1 where unsaid"),
    "--further": ("DONENESS", "take the smallest of several pieces to this doneness"),
    "--ics": ("FILE", "the steps as a calendar file; a plan in it is brought up to date"),
    "--list": ("FILE", "the shopping list: text for a phone, or with .html a page to print"),
    "--svg": ("FILE", "the day as a picture file"),
    "--slices-svg": ("FILE", "who gets which slice as a picture file"),
}


def _options(parser: Parser) -> None:
    parser.add_argument("recipe", metavar="RECIPE", help="the cook that is planned")
    for word, (like, about) in WORDS.items():
        parser.add_argument(word, metavar=like, help=about, type=filled if like == "FILE" else str)
    parser.add_argument(
        "--with", dest="beside", metavar='"RECIPE on COOKER"', action="append", default=[],
        help="another cook of the same meal; as often as there are",
    )  # fmt: skip
    parser.add_argument("--frozen", action="store_true", help="the meat comes from the freezer")
    parser.add_argument(
        "--film", action="store_true", help="with the shots of each step and what they do to the meat"
    )
    parser.add_argument("--now", action="store_true", help="plan again from the open cook's readings")
    parser.add_argument("--no-learning", action="store_true", help="without what this kitchen's cooks have taught")
    piece_options(parser)


def _run(arguments: argparse.Namespace) -> Answer:
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from cookbook.kitchen import clock
    from cookbook.plan import answer

    kitchen = Kitchen.open(arguments.kitchen)
    now = clock.now()
    asked = _asked(kitchen, arguments, clock.coming(arguments.eat, now) if arguments.eat else None)
    told = progress(arguments, "learning once from")
    if arguments.now:
        from cookbook.plan.underway import plan_now

        meal = plan_now(kitchen, arguments.recipe, asked, now, told)
    else:
        from cookbook.plan import plan_meal

        meal = plan_meal(kitchen, arguments.recipe, asked, now, told)
    data = {**answer(meal), **_written(meal, arguments, now)}
    units = arguments.units or kitchen.settings.get("units") or "both"
    return Answer(data, lambda: _text(meal, arguments.why, units))


def _text(meal: Meal, why: bool, units: str) -> str:
    from cookbook.cli.planned import meal_text

    return meal_text(meal, why, units)


def _asked(kitchen: Kitchen, arguments: argparse.Namespace, eat: Any) -> Asked:
    from cookbook.kitchen.forecasting import outlook
    from cookbook.plan import Asked, eaters

    pit_c, pull_c, start_c = (
        Temperature.parse(words).c if words else None for words in (arguments.pit, arguments.pull, arguments.start)
    )
    heat = outlook.Asked(pit_c, pull_c, start_c, arguments.cooker, arguments.want)
    coming = eaters(kitchen, arguments.eaters)
    return Asked(
        eat,
        _without(coming, arguments.apart),
        said(arguments),
        heat,
        _chance(arguments.confidence),
        _count(arguments.leftovers, "--leftovers", 0),
        tuple(_beside(words) for words in arguments.beside),
        _count(arguments.carvers, "--carvers", 1),
        arguments.frozen,
        arguments.film,
        not arguments.no_learning,
        arguments.further,
    )


def _without(coming: Any, apart: str | None) -> Any:
    names = [name.strip() for name in (apart or "").split(",") if name.strip()]
    known = {one.name.casefold() for one in coming}
    for name in names:
        if name.casefold() not in known:
            from cookbook.errors import UnknownName

            raise UnknownName("eater", name, [one.name for one in coming])
    away = {name.casefold() for name in names}
    left = tuple(one for one in coming if one.name.casefold() not in away)
    if not left:
        raise RequestError("nobody eats of it then", mend="leave --apart out")
    return left


def _chance(words: str | None) -> float:
    if words is None:
        return 0.9
    plain = words.strip().removesuffix("%").strip().replace(",", ".")
    try:
        value = float(plain) / (100 if "%" in words or float(plain) > 1 else 1)
    except ValueError:
        value = 0.0
    if not 0.5 <= value <= 0.99:
        raise RequestError(f"a confidence of '{words}'", mend="give one from 50 % to 99 %: --confidence 90%")
    return value


def _count(words: str | None, option: str, usual: int) -> int:
    if words is None:
        return usual
    if not words.strip().isdigit() or int(words) > 500 or int(words) < min(usual, 1):
        raise RequestError(f"{option} '{words}' is no number of them", mend=f"write it like {option} 2", code="usage")
    return int(words)


def _beside(words: str) -> tuple[str, str | None]:
    name, on, cooker = words.partition(" on ")
    return name.strip(), cooker.strip() if on else None


def _written(meal: Meal, arguments: argparse.Namespace, now: Any) -> dict[str, Any]:
    """The files that were asked for, by their keys."""
    found: dict[str, Any] = {}
    if arguments.ics:
        from cookbook.plan import write

        write(Path(arguments.ics), meal.name, meal.title, meal.eat.date(), meal.steps, now)
        found["ics"] = arguments.ics
    if arguments.list:
        _write(arguments.list, _list(meal, arguments.list))
        found["list"] = arguments.list
    if arguments.svg:
        from cookbook.picture import svg
        from cookbook.plan.drawing import day_chart

        _write(arguments.svg, svg(day_chart(meal)))
        found["svg"] = arguments.svg
    if arguments.slices_svg:
        from cookbook.picture import svg
        from cookbook.plan.drawing import slices_drawing

        drawn = slices_drawing(meal)
        if drawn is None:
            raise RequestError("no slices are known for this cook", mend="leave --slices-svg out")
        _write(arguments.slices_svg, svg(drawn))
        found["slices_svg"] = arguments.slices_svg
    return found


def _list(meal: Meal, file: str) -> str:
    if file.endswith((".html", ".htm")):
        from cookbook.publish.forms.errand import shopping_page

        return shopping_page(meal)
    from cookbook.plan import as_text

    return as_text(meal.lines, f"{meal.title}, {meal.eat:%a} {meal.eat.day} {meal.eat:%b}") + "\n"


def _write(file: str, words: str) -> None:
    from cookbook.files import hand_out

    hand_out(file, words.encode("utf-8"))


VERBS = {"plan": Verb(_options, _run)}
