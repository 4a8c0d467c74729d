"""A plan as one plain record, for `plan --json` and for programs."""

from __future__ import annotations

from typing import Any

from cookbook.plan.meal import Meal
from cookbook.plan.shopping import as_text


def answer(meal: Meal) -> dict[str, Any]:
    """The keys of `plan --json`; times are RFC 3339, weights g, temperatures °C."""
    return {
        "summary": meal.summary(),
        "recipe": meal.name,
        "eat": _time(meal.eat),
        "table": {"from": _time(meal.eat), "to": _time(meal.late_until)},
        "check_from": _time(meal.check_from),
        "confidence": meal.chance,
        "last": meal.last.json(),
        "eaters": [one.json() for one in meal.eaters],
        "need_g": meal.need_g.json(),
        "buy": [one.json() for one in meal.buys],
        "edible_share": [one.edible.json() for one in meal.shares],
        "choices": [one.json() for one in meal.choices],
        "timeline": [one.json() for one in meal.steps],
        "hold": [{"dish": one.dish.name, **one.dish.hold.json(), "slack_min": one.slack_min} for one in meal.days],
        "slices": [
            {"dish": one.dish.name, **cut.json()}
            for one, served in zip(meal.days, meal.served, strict=True)
            for cut in served.cuts
        ],
        "servings": [
            {"dish": one.dish.name, **serving.json()}
            for one, served in zip(meal.days, meal.served, strict=True)
            for serving in served.servings
        ],
        "pulls": [one.json() for one in meal.pulls],
        "shopping": [one.json() for one in meal.lines],
        "shopping_text": as_text(meal.lines, meal.title),
        "fuel": [one.json() for one in meal.fuel],
        "cost": meal.cost.json(),
        "film": [{**one._asdict(), "sentence": one.sentence()} for one in meal.film],
        "clashes": list(meal.clashes),
        "forecast": meal.forecast.json(),
        "notes": list(meal.notes),
        "warnings": list(meal.warnings),
        "cautions": list(meal.cautions),
    }


def _time(moment: Any) -> str:
    text: str = moment.isoformat(timespec="seconds")
    return text
