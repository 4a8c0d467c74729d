"""At the pit: begun in two taps, logged once however often it comes, and what the page says then."""

from __future__ import annotations

import re
from concurrent.futures import ThreadPoolExecutor
from datetime import timedelta
from typing import Any

import pytest

from cookbook.kitchen.clock import now
from tests.page.visiting import HOME, Visitor, words


def begun(visitor: Visitor, recipe: str = "loin", **said: Any) -> str:
    """The entry of a cook that was just begun."""
    return str(visitor.do(f"/recipe/{recipe}/start", **said).headers["location"]).rpartition("/")[2]


def test_a_cook_begins_in_two_taps(small: Visitor) -> None:
    home = small.see("/")
    (first,) = re.findall(r'href="(/recipe/loin/start)"', home)
    page = small.see(first)
    fields: dict[str, Any] = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', page))
    small.do(first, **fields)
    (entry,) = small.kitchen.entries()
    assert entry.recipe == "loin"
    small.do(first, **fields)
    assert len(small.kitchen.entry_paths()) == 1, "the same tap, sent twice"


def test_a_cook_on_another_cooker_says_so(small: Visitor) -> None:
    small.do("/recipe/loin/start", 404, cooker="kettel")
    assert not small.kitchen.entry_paths()
    assert small.kitchen.entry(begun(small, cooker="kettle")).fields["cooker"] == "kettle"
    assert "cooker" not in small.kitchen.entry(begun(small)).fields


def test_readings_events_and_words_are_one_line_each(small: Visitor) -> None:
    name = begun(small)
    small.do(f"/cook/{name}/log", send="event lit")
    small.do(f"/cook/{name}/log", send="reading core", number="48", scale="C")
    small.do(f"/cook/{name}/log", send="reading pit", number="250", scale="F")
    small.do(f"/cook/{name}/log", send="line", words="surface 71C, fat side black")
    entry = small.kitchen.entry(name)
    assert [event.did for event in entry.events] == ["lit", None, None, None]
    assert entry.events[1].core is not None
    assert entry.events[1].core.c == 48
    assert entry.events[2].pit is not None
    assert entry.events[2].pit.c == pytest.approx(121.1, abs=0.1)
    assert "fat side black" in entry.document.text


def test_nothing_that_was_said_is_refused(small: Visitor) -> None:
    name = begun(small)
    for number in ("4800", "1.2.3", "hot"):
        small.do(f"/cook/{name}/log", send="reading core", number=number, scale="C")
    notes = small.kitchen.entry(name).notes
    assert [note.unread for note in notes] == [True] * 3
    assert "4800" in notes[0].text
    small.do(f"/cook/{name}/log", 400, send="reading core", number="", scale="C")
    small.do(f"/cook/{name}/log", 400, send="line", words="  ")


def test_a_line_that_comes_again_is_logged_once_and_answered_alike(small: Visitor) -> None:
    name = begun(small)
    script = {"origin": HOME, "x-page": "1", "x-token": small.page.keys.token("owner")}
    fields: dict[str, Any] = {"send": "reading core", "number": "48", "scale": "C", "id": "ab" * 16, "age": "0"}
    told = [small.browser.post(f"/cook/{name}/log", data=fields, headers=script).json() for _ in range(3)]
    assert [one["again"] for one in told] == [False, True, True]
    assert len({one["said"] for one in told}) == 1
    assert len(small.kitchen.entry(name).events) == 1
    small.do(f"/cook/{name}/log", **fields | {"id": "cd" * 16})
    assert len(small.kitchen.entry(name).events) == 2, "another tap that says the same is another line"
    for odd in ("1", "1", "../" * 4, "../" * 4):
        small.do(f"/cook/{name}/log", **fields | {"id": odd})
    assert len(small.kitchen.entry(name).events) == 6, "what is no name tells no two lines apart"


def test_a_line_that_waited_for_the_net_keeps_its_time(small: Visitor) -> None:
    name = begun(small)
    small.do(f"/cook/{name}/log", send="event on", age=str(25 * 60 * 1000))
    (event,) = small.kitchen.entry(name).events
    assert abs(now() - timedelta(minutes=25) - event.at) < timedelta(seconds=30)


def test_what_was_done_a_while_ago_is_said_in_one_tap_more(small: Visitor) -> None:
    name = begun(small)
    assert re.findall(r'name="ago" value="(\d+)"( checked)?', small.see(f"/cook/{name}"))[0] == ("0", " checked")
    small.do(f"/cook/{name}/log", send="event on", ago="20", age="60000")
    small.do(f"/cook/{name}/log", send="event turned", ago="²", age="٣")
    small.do(f"/cook/{name}/log", send="event lit", age=str(10**11))
    on, turned, lit = small.kitchen.entry(name).events
    assert abs(now() - timedelta(days=7) - lit.at) < timedelta(minutes=2), "no phone's clock is that far behind"
    assert abs(now() - timedelta(minutes=21) - on.at) < timedelta(seconds=30)
    assert abs(now() - turned.at) < timedelta(seconds=30)


def test_a_finished_cook_shows_what_it_was_and_takes_words_alone(small: Visitor) -> None:
    name = begun(small)
    small.do(f"/cook/{name}/log", send="event on")
    assert 'id="reading"' in small.see(f"/cook/{name}")
    small.do(f"/cook/{name}/finish")
    page = small.see(f"/cook/{name}")
    for gone in ('id="reading"', 'id="event"', 'id="awake"', ">Finish<"):
        assert gone not in page
    small.do(f"/cook/{name}/log", send="line", words="turned it")
    assert len(small.kitchen.entry(name).events) == 2


def test_the_same_line_from_many_at_once_is_one_and_different_ones_are_all(small: Visitor) -> None:
    name = begun(small)

    def send(number: int) -> int:
        ident = f"line-{number // 2:04d}"
        return int(small.do(f"/cook/{name}/log", send="event turned", id=ident).status_code)

    with ThreadPoolExecutor(8) as pool:
        assert set(pool.map(send, range(16))) == {303}
    assert len(small.kitchen.entry(name).events) == 8


def test_undo_takes_back_the_last_line_and_in_the_end_the_cook(small: Visitor) -> None:
    name = begun(small)
    small.do(f"/cook/{name}/log", send="event lit")
    small.do(f"/cook/{name}/log", send="event on")
    small.do(f"/cook/{name}/undo", id="one-tap-0001")
    small.do(f"/cook/{name}/undo", id="one-tap-0001")
    assert [event.did for event in small.kitchen.entry(name).events] == ["lit"], "one tap, sent twice"
    small.do(f"/cook/{name}/undo")
    assert small.kitchen.entry(name).events == ()
    assert small.do(f"/cook/{name}/undo").headers["location"] == "/"
    assert small.kitchen.entry_paths() == []


@pytest.mark.long
def test_the_answer_comes_first_by_the_clock(small: Visitor) -> None:
    name = begun(small, weight="1.2")
    small.do(f"/cook/{name}/log", send="event on", age=str(40 * 60000))
    small.do(f"/cook/{name}/log", send="reading core", number="19", scale="C", age=str(10 * 60000))
    small.do(f"/cook/{name}/log", send="event wood added", age=str(9 * 60000))
    first = words(small.see(f"/cook/{name}"))
    assert "being worked out" in first
    assert "Next read the core now and then" in first
    small.page.outlooks.wait(name, 60)
    page = small.see(f"/cook/{name}")
    assert re.search(r'class="line">on the table \d\d:\d\d to \d\d:\d\d; check from \d\d:\d\d<', page)
    read = words(page)
    assert re.search(r"after the pull it rises to \d+ °C \(\d+ to \d+\)", read)
    assert re.search(r"slice \d\d:\d\d to \d\d:\d\d, 25 min after the pull", read)
    assert re.search(r"Next look (at the thermometer from|every)", read)
    assert "data-since" in page
    assert 'class="course"' in page
    small.do(f"/cook/{name}/log", send="event pulled")
    assert "worked out again" in small.see(f"/cook/{name}/state"), "the last one stands there meanwhile"
    small.page.outlooks.wait(name, 60)
    assert re.search(r'class="line">slice from \d\d:\d\d', small.see(f"/cook/{name}/state"))


def test_a_cook_without_a_forecast_says_why_and_goes_on(small: Visitor) -> None:
    name = begun(small, "walnut-paste")
    small.see(f"/cook/{name}")
    small.page.outlooks.wait(name, 30)
    assert "no forecast: how hot is the pit?" in small.see(f"/cook/{name}/state")


def test_so_many_pages_listen_and_no_more(small: Visitor, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("cookbook.page.pit._MOST_STREAMS", 0)
    assert small.browser.get(f"/cook/{begun(small)}/changes").status_code == 503


def test_each_piece_of_a_cook_has_its_own_line(small: Visitor) -> None:
    from cookbook.kitchen.log import logbook

    entry = logbook.start(small.kitchen, "loin", {"big": {"weight": "2 kg"}, "small": {"weight": "1 kg"}}, now())
    small.do(f"/cook/{entry.name}/log", send="event on", piece="big", age="600000")
    small.do(f"/cook/{entry.name}/log", send="reading core", number="12", scale="C", piece="big")
    assert [event.piece for event in small.kitchen.entry(entry.name).events] == ["big", "big"]
    small.see(f"/cook/{entry.name}")
    small.page.outlooks.wait(entry.name, 60)
    lines = re.findall(r'class="line">([^<]*)', small.see(f"/cook/{entry.name}"))
    assert len(lines) == 2
    assert lines[0].startswith("on the table")
    assert lines[1].startswith("once on")


def test_the_film_that_keeps_the_screen_on_comes_whole_and_in_parts(small: Visitor) -> None:
    whole = small.browser.get("/still.mp4")
    assert whole.headers["content-type"] == "video/mp4"
    assert whole.content[4:8] == b"ftyp"
    part = small.browser.get("/still.mp4", headers={"range": "bytes=0-1"})
    assert (part.status_code, part.content) == (206, whole.content[:2])
    assert part.headers["content-range"] == f"bytes 0-1/{len(whole.content)}"
    for odd in ("bytes=\u00b2-", "bytes=0-\u00b2", "bytes=-5", "bytes=9999999-", "lines=1-2"):
        headers = {b"range": odd.encode("latin-1")}
        assert small.browser.get("/still.mp4", headers=headers).status_code in (200, 206)
    rest = small.browser.get("/still.mp4", headers={"range": "bytes=100-"})
    assert rest.content == whole.content[100:]


def test_the_page_weighs_less_than_150_kb(full: Visitor) -> None:
    name = begun(full, "pork-loin-over-cherry")
    for address in ("/", "/recipe/pork-loin-over-cherry", f"/cook/{name}"):
        page = full.browser.get(address).content
        loaded = set(re.findall(r'(?:src|href)="(/static/[^"]*)', page.decode())) | {
            "/still.mp4",
            "/static/page.js",
        }
        weight = len(page) + sum(len(full.browser.get(link).content) for link in loaded)
        assert weight < 150_000, address
