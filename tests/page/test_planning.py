"""The day of a meal: the same plan as the library's, the list by counter, the calendar."""

from __future__ import annotations

from datetime import timedelta

import pytest

from cookbook.kitchen.clock import coming, now
from cookbook.page.planning import planned
from cookbook.plan import Meal, eaters
from tests.page.visiting import Visitor, words

EAT = f"{now() + timedelta(days=2):%Y-%m-%d}T18:30"
ADDRESS = f"/recipe/loin/plan?eat={EAT}&who=6 adults"


@pytest.mark.long
@pytest.mark.tenth
def test_the_page_says_what_the_library_plans(small: Visitor) -> None:
    page = words(small.see(ADDRESS))
    meal: Meal = small.page.desk.ask(planned, "loin", coming(EAT), "6 adults", (), ("", ""))
    assert meal.eat == coming(EAT)
    assert meal.eaters == eaters(small.kitchen, "6 adults")
    assert meal.summary() in page
    for step in meal.steps:
        assert step.what in page
        assert f"{step.at:%H:%M}" in page
    for line in meal.lines:
        assert not line.buy or f"{line.item} {line.buy}" in page
    for one in meal.buys:
        assert one.words() in page


@pytest.mark.long
def test_the_page_answers_at_once_and_shows_the_plan_when_it_is_there(small: Visitor) -> None:
    desk = small.page.desk
    desk.patience_s = 0.0
    first = small.browser.get(ADDRESS)
    assert first.status_code == 202
    assert "data-late" in first.text
    assert '<noscript><meta http-equiv="refresh"' in first.text
    assert small.browser.get(ADDRESS.replace("/plan?", "/plan.ics?")).status_code == 202
    desk.patience_s = 60.0
    page = small.see(ADDRESS)
    assert "data-late" not in page
    assert "refresh" not in page
    desk.patience_s = 0.0
    assert small.see(ADDRESS), "what is known is shown at once"


def test_the_steps_come_as_a_calendar_on_another_cooker_too(small: Visitor) -> None:
    answer = small.browser.get(ADDRESS.replace("/plan?", "/plan.ics?") + "&cooker=kettle")
    assert answer.headers["content-type"].startswith("text/calendar")
    assert answer.text.startswith("BEGIN:VCALENDAR")
    assert answer.text.count("BEGIN:VEVENT") >= 4
    assert "kettle" in answer.text


@pytest.mark.parametrize(
    "said",
    [f"eat={EAT}&who=4 adults&cooker=kettel", f"eat={EAT}&who=4 adults&want=purple",
     "eat=yesterday 18:30&who=4 adults", "eat=whenever&who=4 adults", f"eat={EAT}&who=", f"eat={EAT}&who=nobody"],
)
def test_what_cannot_be_planned_is_said_beside_the_form(small: Visitor, said: str) -> None:
    page = small.see(f"/recipe/loin/plan?{said}")
    assert 'class="fault"' in page
    assert 'name="eat"' in page


@pytest.mark.parametrize("file", ["/etc/secret.yaml", "../../x.yml", "shared/eaters.yaml"])
def test_no_file_is_named_from_a_page(small: Visitor, file: str) -> None:
    page = words(small.see(f"/recipe/loin/plan?eat={EAT}&who={file}"))
    assert "6 adults, 3 children" in page
    assert "there is no file" not in page
