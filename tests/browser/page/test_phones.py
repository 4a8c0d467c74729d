"""Phones in the house's net, over an address of this machine that is not loopback, in plain http."""

from __future__ import annotations

from typing import Any

import pytest

from cookbook.kitchen import Kitchen
from tests.browser.page.conftest import Seat, Served

pytestmark = pytest.mark.browser


def test_a_phone_pairs_cooks_and_keeps_its_screen_on(browser: Any, in_net: Served) -> None:
    assert "plain http" in in_net.said
    phone = Seat(browser, in_net.elsewhere)
    page = phone.page
    page.goto("/")
    page.get_by_role("heading", name="Pair this device").wait_for()
    assert not page.evaluate("isSecureContext")
    page.goto("about:blank")
    page.goto(f"{in_net.elsewhere}/pair#{in_net.code}")
    assert page.locator("#code").input_value() == in_net.code
    page.get_by_role("button", name="Pair").click()
    page.get_by_role("heading", name="Recipes").wait_for()
    (cookie,) = phone.context.cookies()
    assert cookie["httpOnly"]
    assert cookie["sameSite"] == "Strict"

    page.get_by_role("link", name="Cook Rib roast on oak").click()
    page.get_by_role("button", name="Start").click()
    page.wait_for_url("**/cook/*")
    name = page.url.rpartition("/")[2]
    assert "screen stays on" in phone.until(lambda: page.locator("#awake").text_content())
    film = page.locator("video")
    phone.until(lambda: film.evaluate("film => film.currentTime > 0 && !film.paused && film.loop"))
    page.get_by_role("button", name="on", exact=True).click()
    phone.until(lambda: [one.did for one in Kitchen.open(in_net.root).entry(name).events] == ["on"])

    # refused: the page says so
    page.reload()
    page.evaluate("() => { HTMLMediaElement.prototype.play = () => Promise.reject(new Error('no')); }")
    page.get_by_role("heading", name="Reading").click()
    page.get_by_text("lets the screen go off").wait_for()
    phone.leave()


def test_guests_score_from_their_own_phones_and_reach_nothing_else(browser: Any, in_net: Served) -> None:
    cook = Seat(browser, in_net.home, "desk")
    cook.page.goto("/cook/2026-10-17-pork-loin-over-cherry/after")
    cook.page.goto("/recipe/rib-roast-on-oak/start")
    cook.page.get_by_role("button", name="Start").click()
    cook.page.wait_for_url("**/cook/*")
    name = cook.page.url.rpartition("/")[2]
    cook.page.goto(f"/cook/{name}/after")
    cook.page.get_by_role("button", name="Make a link").click()
    link = str(cook.page.locator(".address").text_content())
    assert link.startswith(in_net.elsewhere)
    assert cook.page.locator("svg.qr").count() == 1
    for who, number in (("Ada", "8"), ("Ben", "6")):
        guest = Seat(browser, in_net.elsewhere)
        guest.page.goto(link)
        guest.page.get_by_label("Your name").fill(who)
        guest.page.get_by_role("radio", name=number, exact=True).first.check()
        guest.page.get_by_role("button", name="Send").click()
        guest.page.get_by_text("Thank you").wait_for()
        guest.page.goto("/")
        guest.page.get_by_role("heading", name="Pair this device").wait_for()
        guest.leave()
    scores = Kitchen.open(in_net.root).entry(name).scores
    assert next(iter(scores.values())) == {"Ada": 8, "Ben": 6}
    cook.leave()


def test_a_hostile_page_gets_nothing(browser: Any, served: Served) -> None:
    """A page of another origin loads, fetches, posts, frames and opens ours: it learns and changes nothing."""
    import http.server
    import threading

    class Hostile(http.server.BaseHTTPRequestHandler):
        def do_GET(self) -> None:  # the library's name
            body = b"<!doctype html><title>hostile</title><body></body>"
            self.send_response(200)
            self.send_header("content-type", "text/html")
            self.send_header("content-length", str(len(body)))
            self.end_headers()
            self.wfile.write(body)

        def log_message(self, *_: Any) -> None:
            """Say nothing."""

    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Hostile)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    before = {path: path.read_bytes() for path in served.root.rglob("*") if path.is_file()}
    context = browser.new_context()
    page = context.new_page()
    page.goto(f"http://127.0.0.1:{server.server_port}/")
    found = page.evaluate(
        """async (home) => {
          const learned = [];
          for (const path of ["/", "/token", "/recipe/fennel-sage-paste", "/static/page.js"]) {
            for (const mode of ["cors", "no-cors"]) {
              const told = await fetch(home + path, {mode}).then((answer) => answer.text()).catch(() => "");
              learned.push(told);
            }
          }
          const loads = (kind, to) => new Promise((done) => {
            const one = Object.assign(document.createElement(kind), {src: home + to});
            one.onload = () => done(true); one.onerror = () => done(false);
            document.body.append(one); setTimeout(() => done(false), 1500);
          });
          const loaded = [await loads("script", "/static/page.js"), await loads("img", "/still.mp4")];
          const body = new URLSearchParams({title: "x", kind: "rub", send: "event lit", text: "x", seen: ""});
          for (const path of ["/recipe/loin/start", "/recipe/rib-roast-on-oak/start", "/recipe/evil/text"]) {
            const how = {method: "POST", mode: "no-cors", credentials: "include", body};
            await fetch(home + path, how).catch(() => null);
          }
          const frame = Object.assign(document.createElement("iframe"), {src: home + "/"});
          document.body.append(frame);
          await new Promise((done) => setTimeout(done, 1000));
          let inside = null;
          try { inside = frame.contentDocument && frame.contentDocument.body.textContent; } catch {}
          return {learned, loaded, inside};
        }""",
        served.home,
    )
    assert set(found["learned"]) == {""}
    assert found["loaded"] == [False, False]
    assert not found["inside"]
    assert {path: path.read_bytes() for path in served.root.rglob("*") if path.is_file()} == before
    context.close()
    server.shutdown()
    server.server_close()
