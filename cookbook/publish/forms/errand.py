"""The shopping list of a plan as a page to print: by counter, a box before each line, the day's steps below."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cookbook.plan.shopping import COUNTERS
from cookbook.publish.rendering import rendered

if TYPE_CHECKING:
    from cookbook.plan import Meal


def shopping_page(meal: Meal) -> str:
    """The list as an HTML document for paper and phone; it asks nothing of anybody."""
    found = [line for line in meal.lines if line.buy]
    counters = [(counter, [line for line in found if line.counter == counter]) for counter in COUNTERS]
    return rendered(
        "errand.html.j2",
        title=meal.title,
        first_line=meal.summary(),
        counters=[(counter, lines) for counter, lines in counters if lines],
        home=[line for line in meal.lines if not line.buy],
        steps=[(f"{step.at:%a %H:%M}", step.what) for step in meal.steps],
    )
