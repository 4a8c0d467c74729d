"""What must not keep a person waiting: finishing in seconds, long work that is waited for on the page itself."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from typing import Any

import pytest

from cookbook.kitchen import Kitchen
from cookbook.kitchen.clock import now
from cookbook.kitchen.log import logbook, once
from tests.browser.page.conftest import Seat, Served

pytestmark = pytest.mark.browser

MOST_TAPS = 5
"""To the form, a score, the line's field, the line as one word of dictation, the end."""


def test_done_in_seconds(browser: Any, served: Served) -> None:
    kitchen = Kitchen.open(served.root)
    entry = logbook.start(kitchen, "pork-loin-over-cherry", {"": {"weight": "2.1 kg"}}, now())
    once.log(kitchen, entry.name, "event", {"did": ["sliced"]}, now())
    seat = Seat(browser, served.home)
    page, taps = seat.page, 0
    page.goto(f"/cook/{entry.name}")
    begun = time.monotonic()
    steps: tuple[Callable[[], Any], ...] = (
        lambda: page.get_by_role("link", name="Finish").click(),
        lambda: page.get_by_role("radio", name="8", exact=True).first.check(),
        lambda: page.get_by_label("Next time").click(),
        lambda: page.keyboard.insert_text("light it half an hour earlier"),
        lambda: page.get_by_role("button", name="Finish").click(),
    )
    for step in steps:
        step()
        taps += 1
    page.get_by_role("heading", name="Pork loin over cherry wood").wait_for()
    took = time.monotonic() - begun
    sys.stdout.write(f"done after {taps} taps and words; the page itself took {took:.1f} s of the 20\n")
    assert taps <= MOST_TAPS
    done = Kitchen.open(served.root).entry(entry.name)
    assert done.finished is not None
    assert done.scores["overall"] == {"the cook": 8}
    assert [one.line for one in done.next_time] == ["light it half an hour earlier"]
    # all that has to be tapped lies on one screen, without scrolling
    page.goto(f"/cook/{logbook.start(kitchen, 'rib-roast-on-oak', {}, now()).name}/after")
    for part in (page.get_by_role("radio", name="10", exact=True).first, page.get_by_role("button", name="Finish")):
        box = part.bounding_box()
        assert box["y"] + box["height"] <= page.viewport_size["height"]
    seat.leave()


def test_long_work_is_waited_for_on_its_page_and_comes_by_itself(browser: Any, served: Served) -> None:
    seat = Seat(browser, served.home)
    page = seat.page
    page.goto("/recipe/fennel-sage-paste/card?form=label&weight=2.9")
    page.locator(".preview").wait_for(timeout=60_000)
    late = page.goto("/recipe/rib-roast-on-oak/plan?eat=tomorrow+18:30&who=6+adults")
    assert late.status == 202
    assert "worked out" in str(page.locator("[data-late]").text_content())
    assert page.get_by_label("On the table").input_value() == "tomorrow 18:30", "what was asked stays"
    # meanwhile everything else answers, as the fire does not wait
    other = seat.context.new_page()
    other.goto("/recipe/rib-roast-on-oak/start")
    other.get_by_role("button", name="Start").click()
    other.wait_for_url("**/cook/*")
    other.get_by_role("button", name="on", exact=True).click()
    other.get_by_text(", on", exact=False).first.wait_for()
    page.get_by_role("heading", name="The day", exact=True).wait_for(timeout=300_000)
    page.get_by_role("heading", name="Shopping").wait_for()
    assert page.locator("[data-late]").count() == 0
    seat.leave()


def test_without_a_script_long_work_comes_by_itself_too(browser: Any, served: Served) -> None:
    seat = Seat(browser, served.home, java_script_enabled=False)
    page = seat.page
    page.goto("/recipe/pork-loin-over-cherry/compare")
    page.get_by_role("heading", name="point", exact=False).first.wait_for(timeout=60_000)
    seat.leave()


def test_two_tabs_and_a_clock_that_is_set_lose_and_double_nothing(browser: Any, served: Served) -> None:
    kitchen = Kitchen.open(served.root)
    name = logbook.start(kitchen, "pork-loin-over-cherry", {"": {"weight": "2.1 kg"}}, now()).name
    seat = Seat(browser, served.home)
    one, two = seat.page, seat.context.new_page()
    for page in (one, two):
        page.goto(f"/cook/{name}")
    seat.context.set_offline(True)
    tapped = {one: ["lit", "turned"], two: ["sprayed", "wrapped"]}
    for page, names in tapped.items():
        for tap in names:
            page.get_by_role("button", name=tap, exact=True).click()
            page.get_by_text("for the net").wait_for()
    # the phone's clock jumps back an hour while the lines wait: their times stay within the cook
    one.evaluate("() => { const real = Date.now; Date.now = () => real() - 3600e3; }")
    seat.context.set_offline(False)

    def did() -> list[str]:
        return sorted(str(event.did) for event in Kitchen.open(served.root).entry(name).events)

    seat.until(lambda: len(did()) >= 4, 40)
    one.wait_for_timeout(1500)
    assert did() == ["lit", "sprayed", "turned", "wrapped"]
    for event in Kitchen.open(served.root).entry(name).events:
        assert abs((now() - event.at).total_seconds()) < 180
    seat.leave()
