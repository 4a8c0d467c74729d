"""The page at the pit: begin in two taps, log by big targets, and what the forecast says by the clock."""

from __future__ import annotations

import asyncio
import re
import time
from collections.abc import AsyncIterator
from datetime import datetime, timedelta
from typing import Any, NamedTuple

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from cookbook.errors import CookbookError, RequestError
from cookbook.heat.setting import cooker_row
from cookbook.journal import Entry
from cookbook.kitchen import Kitchen
from cookbook.kitchen.clock import now, read_back
from cookbook.kitchen.forecasting.clockcurve import clock_curve
from cookbook.kitchen.forecasting.outlook import cooker_of
from cookbook.kitchen.forecasting.standing import Safety, last_wood, meanwhile, safety_so_far, standing
from cookbook.kitchen.log import once
from cookbook.kitchen.log.reminders import for_recipe
from cookbook.page.asking import Ask, title_of, to
from cookbook.page.before import SIZES, said_of, sizes_of, with_scale, with_unit
from cookbook.page.publishing import cookers
from cookbook.page.showing import markup
from cookbook.picture import course_svg

EVENTS = (
    "lit", "on", "wood added", "turned", "sprayed", "wrapped", "lid open", "lid shut", "pulled", "rested", "sliced",
)  # fmt: skip
"""What is said with one tap; anything else in words."""
AGO_MIN = (0, 5, 10, 20, 30, 60)
"""So long ago it may have been, where hands were not free; any other time is said in words."""
_LINES = 12
_TOKEN = re.compile(r"\d+(?:\.\d+)?|[^\W\d_]+")
_TIME_FIRST = re.compile(r"(?:at )?(\d{1,2}:\d\d)\b[,;:]?\s*")
_IDENT = re.compile(r"[A-Za-z0-9_-]{8,64}")
_OLDEST_S = 7 * 24 * 3600.0
_KEEP_ALIVE_S, _LOOK_S, _MOST_STREAMS = 15.0, 1.0, 64


def start(ask: Ask) -> Response:
    """The second tap: what is cooked, on which piece."""
    found = ask.kitchen.recipe(ask.part("recipe"))
    return ask.show(
        "start.html.j2", recipe=found, sizes=sizes_of(ask.kitchen, found), said=said_of(ask),
        lines=for_recipe(ask.kitchen, found), ident=ask.page.ident(), scale=scale_of(ask),
        cookers=cookers(ask.kitchen),
    )  # fmt: skip


def begin(ask: Ask) -> Response:
    """Begin the cook."""
    known = {word: with_unit(word, value, ask.us) for word in SIZES if (value := ask.words(word, 20))}
    recipe = ask.kitchen.recipe(ask.part("recipe"))
    known = known or {word: value for word, value in sizes_of(ask.kitchen, recipe) if value}
    core = ask.words("start", 20) or None
    if core is not None:
        core = with_scale(core, scale_of(ask))
    cooker = ask.words("cooker", 60)
    if cooker:
        cooker_row(cooker_of(ask.kitchen, cooker).kind)  # one that nobody knows is refused before anything is begun
    done = once.start(ask.kitchen, recipe.name, {"": known} if known else {}, now(), ident_of(ask), core)
    if cooker and not done.again:
        once.log(ask.kitchen, done.entry, "about", {"field": "cooker", "words": [cooker]}, now())
    return ask.went(to("cook", done.entry), done.words)


def scale_of(ask: Ask) -> str:
    """The scale of a number that is tapped without one."""
    return str(ask.kitchen.settings.get("temperature") or "C")


def cook(ask: Ask) -> Response:
    """The page that lies beside the fire."""
    entry = ask.kitchen.entry(ask.part("entry"))
    return ask.show(
        "cook.html.j2",
        entry=entry,
        title=title_of(ask.kitchen, entry),
        events=EVENTS,
        pieces=[piece.name for piece in entry.pieces if piece.name],
        scale=scale_of(ask),
        ago=AGO_MIN,
        state=state_of(ask, entry),
    )


def state(ask: Ask) -> Response:
    """What changes while the page lies open, alone."""
    entry = ask.kitchen.entry(ask.part("entry"))
    return ask.show("state.html.j2", entry=entry, state=state_of(ask, entry))


class State(NamedTuple):
    """How a cook stands: sentences and curves piece by piece, the last wood, what is unsafe, the last lines."""

    standings: list[Any]
    curves: list[Any]
    fresh: bool
    wood: datetime | None
    safety: Safety
    lines: list[tuple[str, str]]
    meanwhile: str


def state_of(ask: Ask, entry: Entry) -> State:
    """Everything that the top of the page shows."""
    kitchen, here = ask.kitchen, now()
    known, fresh = ask.page.outlooks.of(kitchen, entry)
    curves = [clock_curve(kitchen, entry, one, here) for one in known]
    return State(
        [standing(kitchen, entry, one, here) for one in known],
        [markup(course_svg(curve, f"course-{place}")) for place, curve in enumerate(curves) if curve is not None],
        fresh,
        last_wood(entry),
        safety_so_far(kitchen, entry),
        lines_of(entry, here),
        meanwhile(entry),
    )


def lines_of(entry: Entry, here: datetime) -> list[tuple[str, str]]:
    """The last lines of the journal, newest first: when, and what."""
    found: list[tuple[datetime, str]] = []
    for event in entry.events:
        said = [event.did] if event.did else []
        said += [
            f"{probe} {value}" for probe in ("core", "surface", "pit") if (value := getattr(event, probe)) is not None
        ]
        note = event.note or ""
        if (first := _TIME_FIRST.match(note)) is not None and first[1].zfill(5) == f"{event.at:%H:%M}":
            note = note[first.end() :]
        more = "" if _says_no_more(note, said) else note
        words = ", ".join(said) + (f": {more}" if more else "")
        found.append((event.at, f"{event.piece}: {words}" if event.piece else words))
    found += [(note.at, note.text + (" (kept, not read)" if note.unread else "")) for note in entry.notes if note.at]
    found.sort(key=lambda one: one[0], reverse=True)
    return [(read_back(at, here), words) for at, words in found[:_LINES]]


def _says_no_more(note: str, said: list[str]) -> bool:
    """Whether the words of a line are only what was read in them."""
    read, words = (set(_TOKEN.findall(one.casefold())) for one in (" ".join(said), note))
    return words <= read | {"and", "at", "is", "it", "now", "the", "c", "f"}


def log(ask: Ask) -> Response:
    """One line; sent again under the same name it is not logged again."""
    what, _, rest = ask.words("send", 80).partition(" ")
    said = _said(ask, what, rest)
    piece = ask.words("piece", 60)
    if piece and what != "line":
        said["piece"] = piece
    done = once.log(ask.kitchen, ask.part("entry"), what, said, at_of(ask), ident_of(ask))
    return ask.went(to("cook", done.entry), done.words, done.warnings, again=done.again)


def _said(ask: Ask, what: str, rest: str) -> dict[str, Any]:
    """What a button and the field beside it say."""
    if what == "reading":
        number = ask.words("number", 12).replace(",", ".")
        if not number:
            raise RequestError("no number was given", mend="type it first, then say where it was read")
        return {"values": [f"{rest or 'core'}={number}"], "scale": ask.words("scale", 1)}
    words = rest or ask.words("words")
    if what not in ("event", "line"):
        raise RequestError("what is to be logged?", mend="a reading, what was done, or words")
    if not words:
        raise RequestError("nothing was said", mend="say something first")
    return {"did": [words]} if what == "event" else {"words": [words]}


def at_of(ask: Ask) -> datetime:
    """When it happened: now, less what the cook says, less how long the phone kept it for want of a net."""
    age, ago = (float(value) if value.isascii() and value.isdigit() else 0.0
                for value in (ask.words("age", 12), ask.words("ago", 4)))  # fmt: skip
    seconds = min(age / 1000 + ago * 60, _OLDEST_S)
    return (now() - timedelta(seconds=seconds)).replace(microsecond=0)


def ident_of(ask: Ask) -> str:
    """The name that whoever sends gave the line, '' without a usable one."""
    ident = ask.words("id", 64)
    return ident if _IDENT.fullmatch(ident) else ""


def take_back(ask: Ask) -> Response:
    """Take the last line back, once however often the same tap comes."""
    name = ask.part("entry")
    done = once.take_back(ask.kitchen, name, ident_of(ask))
    gone = not any(path.stem == name for path in ask.kitchen.entry_paths())
    return ask.went("/" if gone else to("cook", name), f"taken back: {done.words}", gone=gone)


async def changes(request: Request) -> Response:
    """Server-sent events: `changed` when the entry or its forecast is another one."""
    page = request.app.state.page
    name = request.path_params["entry"]
    if page.streams >= _MOST_STREAMS:
        return Response("too many pages are open", 503)

    async def told() -> AsyncIterator[str]:
        page.streams += 1
        try:
            before, quiet = await run_in_threadpool(_stamp, page, name), time.monotonic()
            yield "retry: 2000\n\n"
            while not page.stopping:
                await asyncio.sleep(_LOOK_S)
                stamp = await run_in_threadpool(_stamp, page, name)
                if stamp != before:
                    before, quiet = stamp, time.monotonic()
                    yield "event: changed\ndata: 1\n\n"
                elif time.monotonic() - quiet > _KEEP_ALIVE_S:
                    quiet = time.monotonic()
                    yield ": still here\n\n"
        finally:
            page.streams -= 1

    return StreamingResponse(told(), media_type="text/event-stream")


def _stamp(page: Any, name: str) -> str:
    kitchen = Kitchen.open(page.setting.root)
    try:
        told = kitchen.entry_path(kitchen.entry(name)).stat()
    except (CookbookError, OSError):
        return "gone"
    return f"{told.st_mtime_ns} {told.st_size} {page.outlooks.known_stamp(name)}"
