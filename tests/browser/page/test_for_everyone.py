"""For everyone: screen readers and contrast (axe-core), the keyboard alone, a knuckle, the dark, paper, no script."""

from __future__ import annotations

from importlib.resources import files
from typing import Any

import pytest

from cookbook.kitchen import Kitchen
from cookbook.kitchen.clock import now
from cookbook.kitchen.log import logbook, once
from tests.browser.page.conftest import SIZES, Seat, Served

pytestmark = pytest.mark.browser

TAP = 44
PAGES = (
    "/",
    "/?words=cherry",
    "/new",
    "/devices",
    "/pair",
    "/nothing",
    "/recipe/pork-loin-over-cherry",
    "/recipe/fennel-sage-paste?weight=4.4",
    "/recipe/fennel-sage-paste/text",
    "/recipe/rib-roast-on-oak/start",
    "/recipe/pork-loin-over-cherry/plan",
    "/recipe/pork-loin-over-cherry/compare",
    "/recipe/pork-loin-over-cherry/card",
    "/recipe/pork-loin-over-cherry/card?form=page",
    "/cook/{on}",
    "/cook/{on}/after",
    "/cook/{on}/made",
    "/cook/2026-10-17-pork-loin-over-cherry",
    "/cook/2026-10-17-pork-loin-over-cherry/after",
    "/cook/2026-10-17-pork-loin-over-cherry/adopt",
)


@pytest.fixture(scope="module")
def axe() -> str:
    """The text of axe-core, as its package brings it."""
    return (files("axe_playwright_python") / "axe.min.js").read_text(encoding="utf-8")


@pytest.fixture
def on(served: Served) -> str:
    """A cook that is on, half an hour in."""
    kitchen = Kitchen.open(served.root)
    entry = logbook.start(kitchen, "pork-loin-over-cherry", {"": {"weight": "1.2 kg"}}, now())
    once.log(kitchen, entry.name, "event", {"did": ["on"]}, now())
    once.log(kitchen, entry.name, "event", {"did": ["wood added"]}, now())
    once.log(kitchen, entry.name, "reading", {"values": ["core=19"]}, now())
    return entry.name


def visit(seat: Seat, address: str, on: str) -> Any:
    seat.page.goto(address.format(on=on))
    seat.page.wait_for_function("() => !document.querySelector('[data-late]')", timeout=300_000)
    if address == "/cook/{on}":
        seat.page.locator("svg.course").wait_for(timeout=120_000)
    seat.page.wait_for_timeout(300)
    return seat.page


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("size", list(SIZES))
def test_axe_has_no_serious_finding(browser: Any, served: Served, on: str, axe: str, size: str, scheme: str) -> None:
    seat = Seat(browser, served.home, size, scheme, bypass_csp=True)
    found = []
    for address in PAGES:
        page = visit(seat, address, on)
        page.evaluate(axe)
        told = page.evaluate("async () => (await axe.run(document, {iframes: false})).violations")
        found += [
            (address, one["id"], one["impact"], [node["html"][:120] for node in one["nodes"]][:3])
            for one in told
            if one["impact"] in ("serious", "critical")
        ]
    assert found == []
    seat.leave()


def test_everything_that_is_tapped_is_big_enough_and_nothing_is_wider_than_the_phone(
    browser: Any, served: Served, on: str
) -> None:
    seat = Seat(browser, served.home)
    for address in PAGES:
        page = visit(seat, address, on)
        small = page.evaluate(
            """(tap) => [...document.querySelectorAll("a, button, input, textarea, summary")].filter((one) => {
              const choice = one.type === "checkbox" || one.type === "radio";
              const box = (choice ? one.closest("label") : one).getBoundingClientRect();
              return one.type !== "hidden" && box.width && box.height && (box.width < tap || box.height < tap);
            }).map((one) => one.outerHTML.slice(0, 120))""",
            TAP,
        )
        assert small == [], address
        assert page.evaluate("document.documentElement.scrollWidth") <= SIZES["phone"]["width"], address
    seat.leave()


def test_the_keyboard_alone_cooks(browser: Any, served: Served) -> None:
    seat = Seat(browser, served.home, "desk")
    page = seat.page
    page.goto("/")
    tab_to(page, "Cook Rib roast on oak")
    page.keyboard.press("Enter")
    page.wait_for_url("**/start")
    tab_to(page, "Start")
    page.keyboard.press("Enter")
    page.wait_for_url("**/cook/*")
    name = page.url.rpartition("/")[2]
    page.locator("#number").focus()
    page.keyboard.type("21")
    page.keyboard.press("Enter")

    def events() -> list[Any]:
        return list(Kitchen.open(served.root).entry(name).events)

    seat.until(lambda: len(events()) == 1)
    assert events()[0].core.c == 21
    tab_to(page, "lit")
    page.keyboard.press("Space")
    seat.until(lambda: len(events()) == 2)
    tab_to(page, "Finish")
    page.keyboard.press("Enter")
    page.wait_for_url("**/after")
    page.get_by_role("radio", name="0", exact=True).first.focus()
    page.keyboard.press("Space")
    for _ in range(8):
        page.keyboard.press("ArrowRight")
    tab_to(page, "Finish")
    page.keyboard.press("Enter")
    page.get_by_role("heading", name="Rib roast on oak").wait_for()
    assert Kitchen.open(served.root).entry(name).scores["overall"] == {"the cook": 8}
    seat.leave()


def tab_to(page: Any, name: str) -> None:
    """Press Tab until what is called `name` has the focus, which can be seen."""
    for _ in range(200):
        page.keyboard.press("Tab")
        here = page.evaluate(
            "() => { const one = document.activeElement; return [one.ariaLabel || one.textContent.trim(), "
            "getComputedStyle(one).outlineStyle]; }"
        )
        if here[0] == name:
            assert here[1] != "none"
            return
    raise AssertionError(f"no Tab leads to {name}")


def test_without_any_script_it_still_cooks(browser: Any, served: Served) -> None:
    seat = Seat(browser, served.home, java_script_enabled=False)
    page = seat.page
    page.goto("/recipe/rib-roast-on-oak/start")
    page.get_by_role("button", name="Start").click()
    name = page.url.rpartition("/")[2]
    page.get_by_label("Temperature").fill("21")
    page.get_by_role("button", name="Core").click()
    page.get_by_role("button", name="turned").click()
    assert len(Kitchen.open(served.root).entry(name).events) == 2
    page.get_by_role("button", name="Undo").click()
    assert len(Kitchen.open(served.root).entry(name).events) == 1
    seat.leave()


def test_on_paper_only_what_is_read_is_left(browser: Any, served: Served) -> None:
    seat = Seat(browser, served.home, "desk", "dark")
    page = seat.page
    page.goto("/recipe/fennel-sage-paste")
    page.emulate_media(media="print")
    assert not page.get_by_role("link", name="Cook it").is_visible()
    assert page.get_by_text("Crush garlic and salt").is_visible()
    assert page.evaluate("getComputedStyle(document.body).backgroundColor") == "rgb(255, 255, 255)"
    seat.leave()
