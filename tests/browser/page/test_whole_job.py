"""The whole job clicked through in a real browser, on a phone and at a desk."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from cookbook.kitchen import Kitchen
from tests.browser.page.conftest import Seat, Served
from tests.page.visiting import PIXEL

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("size", ["phone", "desk"])
def test_from_the_recipe_to_the_next_revision(browser: Any, served: Served, size: str, tmp_path: Path) -> None:
    seat = Seat(browser, served.home, size)
    page = seat.page
    page.goto("/")
    page.get_by_role("searchbox").fill("cherry loin")
    page.get_by_role("button", name="Search").click()
    page.get_by_role("link", name="Pork loin over cherry wood").first.click()

    # scaled while one types
    page.get_by_label("weight, kg").fill("4.4")
    page.get_by_text("1.86 times").first.wait_for()
    assert "weight=4.4" in page.url
    assert page.locator("#scaled svg").count() == 1

    # begun in two taps: from home, Cook and Start
    page.goto("/")
    page.get_by_role("link", name="Cook Pork loin over cherry wood").click()
    page.get_by_role("button", name="Start").click()
    page.wait_for_url("**/cook/*")
    name = page.url.rpartition("/")[2]
    assert "screen stays on" in seat.until(lambda: page.locator("#awake").text_content())

    # one tap an event, a reading by the number pad, words, undo
    def entry() -> Any:
        return Kitchen.open(served.root).entry(name)

    page.get_by_role("button", name="on", exact=True).click()
    seat.until(lambda: [event.did for event in entry().events] == ["on"])
    for key in "19.5":
        page.locator(f"[data-key='{key}']").click()
    page.locator("[data-key=back]").click()
    page.locator("[data-key='4']").click()
    page.get_by_role("button", name="Core").click()
    seat.until(lambda: len(entry().events) == 2)
    assert entry().events[1].core.c == pytest.approx(19.4)
    page.get_by_role("textbox", name="In your own words").fill("pit 128, a split on")
    page.get_by_role("button", name="Keep it").click()
    seat.until(lambda: "a split on" in entry().document.text)
    page.get_by_text("last wood 0 min ago", exact=False).wait_for()
    page.get_by_role("button", name="turned").click()
    seat.until(lambda: "turned" in entry().document.text)
    page.get_by_role("button", name="Undo").click()
    seat.until(lambda: "turned" not in entry().document.text)

    # the answer comes first: one line of words, then the curve
    page.locator(".line", has_text="on the table").wait_for(timeout=180_000)
    assert "check from" in str(page.locator(".line").text_content())
    assert page.locator("svg.course").count() == 1

    page.get_by_role("button", name="pulled").click()
    page.locator(".line", has_text="slice from").wait_for(timeout=180_000)

    # what went in, done in three taps, another score, a photo
    page.get_by_role("link", name="What went in").click()
    page.get_by_text("garlic").first.click()
    page.get_by_label("How much, or what instead").first.fill("80 g")
    page.get_by_role("button", name="all of it").first.click()
    page.get_by_text("all that went in").wait_for()
    page.goto(f"/cook/{name}/after")
    seat.give("All in all", "8")
    page.get_by_label("Next time").fill("light it half an hour earlier")
    page.get_by_role("button", name="Finish").click()
    page.get_by_role("heading", name="Pork loin over cherry wood").wait_for()
    assert entry().finished is not None
    assert entry().scores["overall"]
    page.get_by_label("Of what, in your word").fill("bark")
    page.get_by_label("Whose, if not yours").fill("Ada")
    seat.give("How good", "7")
    page.locator("form[action$=score]").get_by_role("button").click()
    seat.until(lambda: "bark" in entry().scores)
    picture = tmp_path / "crust.png"
    picture.write_bytes(PIXEL)
    page.get_by_label("A picture").set_input_files(picture)
    page.locator("form[action$=photos] button").click()
    page.locator(".photos img").wait_for()
    seat.until(lambda: page.evaluate("document.querySelector('.photos img').naturalWidth") == 1)

    # into the recipe, compared, published
    page.get_by_role("link", name="Take it into the recipe").click()
    page.get_by_role("button", name="Write the revision").click()
    page.wait_for_url("**/recipe/fennel-sage-paste")
    assert Kitchen.open(served.root).recipe("fennel-sage-paste").revision == 4
    page.goto("/recipe/pork-loin-over-cherry/compare")
    page.locator("h1").wait_for()
    page.goto("/recipe/pork-loin-over-cherry/card")
    for form in ("under a film", "a page to scale on", "for search engines", "plain text"):
        page.get_by_role("button", name=form, exact=True).click()
        page.locator(".preview").wait_for(timeout=300_000)
    with page.expect_download() as taken:
        page.get_by_role("link", name="Take it away as a file").click()
    assert taken.value.suggested_filename == "pork-loin-over-cherry-text.txt"
    seat.leave()


def test_the_net_drops_and_nothing_is_lost_or_doubled(browser: Any, served: Served) -> None:
    seat = Seat(browser, served.home)
    page = seat.page
    page.goto("/recipe/pork-loin-over-cherry/start")
    page.get_by_role("button", name="Start").click()
    page.wait_for_url("**/cook/*")
    name = page.url.rpartition("/")[2]

    def did() -> list[str | None]:
        return [event.did for event in Kitchen.open(served.root).entry(name).events]

    page.get_by_role("button", name="lit").click()
    seat.until(lambda: did() == ["lit"])
    seat.context.set_offline(True)
    for event in ("on", "turned", "sprayed"):
        page.get_by_role("navigation", name="On this page").get_by_role("link", name="Happened").click()
        page.get_by_role("button", name=event, exact=True).click()
    page.get_by_text("3 lines wait").wait_for()
    assert did() == ["lit"]
    seat.context.set_offline(False)
    seat.until(lambda: did() == ["lit", "on", "turned", "sprayed"])

    # an answer that is lost on its way: the line was logged, the phone does not know, and sends it again
    lost: list[int] = []

    def lose(route: Any) -> None:
        if len(lost) < 2:
            lost.append(route.fetch().status)
            route.abort()
        else:
            route.continue_()

    page.route("**/log", lose)
    page.get_by_role("button", name="wrapped").click()
    seat.until(lambda: len(lost) == 2)
    page.get_by_text("1 line waits").wait_for(state="hidden")
    page.wait_for_function("document.getElementById('said').textContent.includes('wrapped')")
    assert did().count("wrapped") == 1

    # the queue outlives the page: closed without a net, opened again with one
    page.unroute("**/log")
    seat.context.set_offline(True)
    page.get_by_role("button", name="pulled").click()
    page.get_by_text("1 line waits").wait_for()
    page.close()
    seat.page = again = seat.context.new_page()
    seat.context.set_offline(False)
    again.goto(f"{served.home}/cook/{name}")
    seat.until(lambda: "pulled" in did())
    assert did() == ["lit", "on", "turned", "sprayed", "wrapped", "pulled"]

    # the last form keeps what was written into it, and finishes once
    again.goto(f"{served.home}/cook/{name}/after")
    seat.context.set_offline(True)
    again.get_by_label("Next time").fill("more wood")
    again.get_by_role("button", name="Finish").click()
    again.get_by_text("Nothing is lost").wait_for()
    assert again.get_by_label("Next time").input_value() == "more wood"
    seat.context.set_offline(False)
    again.get_by_role("button", name="Finish").click()
    again.get_by_role("heading", name="Pork loin over cherry wood").wait_for()
    entry = Kitchen.open(served.root).entry(name)
    assert entry.finished is not None
    assert [line.line for line in entry.next_time] == ["more wood"]
    seat.leave()


def test_the_page_is_started_again_while_the_phone_lies_open(browser: Any, served: Served) -> None:
    from tests.browser.page.conftest import serve, stop

    seat = Seat(browser, served.home)
    page = seat.page
    page.goto("/recipe/pork-loin-over-cherry/start")
    page.get_by_role("button", name="Start").click()
    page.wait_for_url("**/cook/*")
    name = page.url.rpartition("/")[2]
    port = int(served.home.rpartition(":")[2])
    served.process.terminate()
    served.process.wait(10)
    page.get_by_role("button", name="on", exact=True).click()
    page.get_by_text("1 line waits").wait_for()
    again = serve(served.root, port=port)
    try:
        seat.until(lambda: [one.did for one in Kitchen.open(served.root).entry(name).events] == ["on"], 30)
    finally:
        stop(again)
    seat.leave()


def test_two_browsers_that_change_the_same_recipe(browser: Any, served: Served) -> None:
    one, two = Seat(browser, served.home, "desk"), Seat(browser, served.home)
    for seat, amount in ((one, "61 g"), (two, "62 g")):
        seat.page.goto("/recipe/fennel-sage-paste/text")
        text = seat.page.locator("#text").input_value()
        seat.page.locator("#text").fill(text.replace("59 g", amount))
        seat.page.get_by_text("Every line can be read").wait_for()
    one.page.get_by_role("button", name="Save").click()
    one.page.wait_for_url("**/recipe/fennel-sage-paste")
    two.page.get_by_role("button", name="Save").click()
    two.page.get_by_text("Two texts, neither lost").wait_for()
    assert "62 g" in two.page.locator("#text").input_value()
    assert "61 g" in two.page.locator("#theirs").input_value()
    path = served.root / "recipes/fennel-sage-paste.yaml"
    assert "61 g" in path.read_text()
    two.page.get_by_role("button", name="Save").click()
    two.page.wait_for_url("**/recipe/fennel-sage-paste")
    assert "62 g" in path.read_text()
    one.leave()
    two.leave()


def test_a_fault_stands_beside_its_line_while_one_writes(browser: Any, served: Served) -> None:
    seat = Seat(browser, served.home, "desk")
    page = seat.page
    page.goto("/recipe/fennel-sage-paste/text")
    text = page.locator("#text").input_value()
    page.locator("#text").fill(text.replace("amount: 59 g", "amount: lots"))
    line = text[: text.index("amount: 59 g")].count("\n") + 1
    fault = page.locator(f".problems a[data-line='{line}']")
    fault.wait_for()
    beside = page.locator("#text").bounding_box()["y"] + 8 + (line - 1) * 24
    assert abs(fault.bounding_box()["y"] - beside) < 24
    fault.click()
    assert page.evaluate("document.activeElement.id") == "text"
    page.get_by_role("button", name="Save").click()
    page.locator(f".problems a[data-line='{line}']").wait_for()
    assert "amount: lots" in page.locator("#text").input_value()
    assert "lots" not in (served.root / "recipes/fennel-sage-paste.yaml").read_text()
    seat.leave()
