"""The day of a meal on a page: who comes and when, what to buy, when to light the fire, the list with its ticks."""

from __future__ import annotations

from datetime import datetime
from itertools import groupby
from pathlib import Path

from starlette.responses import Response

from cookbook.errors import CookbookError, RequestError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.clock import coming, now
from cookbook.kitchen.forecasting import outlook
from cookbook.page.apart import Told
from cookbook.page.asking import Ask
from cookbook.page.before import said_of, sizes_of
from cookbook.page.desk import Later
from cookbook.page.publishing import cookers
from cookbook.page.showing import markup
from cookbook.picture import figure
from cookbook.plan import Asked, Meal, calendar, eaters, plan_meal
from cookbook.plan.drawing import day_chart
from cookbook.plan.shopping import COUNTERS
from cookbook.publish.wording import mass

_ANSWER = ("cooker", "want")
"""What may be otherwise than the recipe says."""


def plan(ask: Ask) -> Response:
    """The form, and below it the plan that it asks for."""
    recipe = ask.kitchen.recipe(ask.part("recipe"))
    meal, fault, late = None, None, None
    if ask.queried("eat"):
        try:
            meal = _meal(ask)
        except Later as found_later:
            late = found_later
        except CookbookError as found:
            fault = found
    counters = [
        (name, [one for one in meal.lines if one.counter == name and one.buy]) for name in COUNTERS
    ] if meal is not None else []  # fmt: skip
    return ask.show(
        "plan.html.j2",
        202 if late else 200,
        late=late,
        recipe=recipe,
        sizes=sizes_of(ask.kitchen, recipe),
        said=said_of(ask),
        eat=ask.queried("eat"),
        who=ask.queried("who"),
        answer={word: ask.queried(word, 60) for word in _ANSWER},
        cookers=cookers(ask.kitchen),
        known=list(ask.kitchen.shared("eaters.yaml") or ()),
        meal=meal,
        fault=fault,
        days=[(day, list(steps)) for day, steps in groupby(meal.steps, key=lambda step: step.at.date())]
        if meal
        else [],
        counters=[(name, lines) for name, lines in counters if lines],
        chart=markup(figure(day_chart(meal), "day")) if meal is not None and day_chart(meal).rows else None,
        served=[(day, served) for day, served in zip(meal.days, meal.served, strict=True) if not day.dish.falls_apart]
        if meal
        else [],
        query=ask.request.url.query,
        show_pounds=ask.units != "metric",
        pounds=lambda grams: mass(grams)[1],
    )


def plan_file(ask: Ask) -> Response:
    """The steps as a calendar file, to be taken into the phone's own."""
    meal = _meal(ask)
    data = calendar(meal.name, meal.title, meal.eat.date(), meal.steps, now())
    answer = Response(data, media_type="text/calendar")
    answer.headers["content-disposition"] = f'attachment; filename="{meal.name}.ics"'
    return answer


def _meal(ask: Ask) -> Meal:
    """The plan, worked out at the desk."""
    name, said = ask.kitchen.recipe(ask.part("recipe")).name, tuple(said_of(ask).items())
    answer = tuple(ask.queried(word, 60) for word in _ANSWER)
    found: Meal = ask.page.desk.ask(planned, name, _when(ask), _who(ask), said, answer)
    return found


def planned(
    told: Told, root: Path, name: str, eat: datetime, who: str, said: tuple[tuple[str, str], ...],
    answer: tuple[str, str],
) -> Meal:  # fmt: skip
    """The plan of a meal round a recipe, on the cooker and to the doneness of `answer` where it names them."""
    kitchen = Kitchen.open(root)
    heat = outlook.Asked(cooker=answer[0] or None, want=answer[1] or None)
    asked = Asked(eat, eaters(kitchen, who or None), {"": dict(said)} if said else {}, heat)
    return plan_meal(kitchen, name, asked, now(), told)


def _when(ask: Ask) -> datetime:
    """When it is on the table: in words, or as a form's own field for it writes it."""
    words = ask.queried("eat", 60)
    if not words:
        raise RequestError("when is it to be eaten?", mend="say it like 18:30 or Saturday 18:30")
    return coming(words)


def _who(ask: Ask) -> str:
    """Who comes, in words; a file is named on the command line alone."""
    words = ask.queried("who", 200)
    if words.casefold().endswith((".yaml", ".yml")):
        raise RequestError("who is coming?", mend="say it like 6 adults, 3 children, 2 want medium")
    return words
