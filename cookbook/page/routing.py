"""The whole page as one application: its routes, what it keeps while it runs, the guard around it."""

from __future__ import annotations

import secrets
import threading
from collections.abc import AsyncIterator, Callable
from contextlib import asynccontextmanager
from pathlib import Path
from typing import Any

from starlette.applications import Starlette
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from cookbook.kitchen.cache import cache_folder
from cookbook.page import after, before, fresh, guests, pit, planning, publishing
from cookbook.page.asking import Ask, broken, data, only_to_change, posted, refused, shown
from cookbook.page.desk import Desk
from cookbook.page.guard import Guard
from cookbook.page.keys import Keys
from cookbook.page.outlooks import Outlooks
from cookbook.page.setting import Setting
from cookbook.page.showing import STATIC, static, tag
from cookbook.page.still import still_film


class Page:
    """What the page keeps while it runs; everything that counts lies in the kitchen's files."""

    def __init__(self, setting: Setting, keys: Keys, apart: bool) -> None:
        self.setting, self.keys = setting, keys
        self.outlooks, self.desk = Outlooks(setting.root, apart), Desk(setting.root, apart)
        self.guest_links: dict[str, str] = {}
        if setting.lan:
            keys.new_code()
        self.turn = threading.Lock()
        self.streams = 0
        self.stopping = False

    @staticmethod
    def ident() -> str:
        """A name for one form, so that it counts once where no script makes one."""
        return secrets.token_urlsafe(16)


class Guarded(Guard):
    """The guard with what the page behind it keeps."""

    def __init__(self, inside: Starlette, page: Page) -> None:
        super().__init__(inside, page.setting, page.keys)
        self.page = page


def application(setting: Setting, keys: Keys | None = None, apart: bool = True) -> Guarded:
    """The page of one kitchen behind its guard; `apart` works things out in processes of their own."""
    known = keys if keys is not None else Keys(keys_file(setting.root))
    page = Page(setting, known, apart)

    @asynccontextmanager
    async def life(_: Starlette) -> AsyncIterator[None]:
        yield
        page.stopping = True
        page.outlooks.stop()
        page.desk.stop()

    app = Starlette(
        routes=routes(),
        lifespan=life,
        exception_handlers={HTTPException: refused, Exception: broken},
    )
    app.state.page = page
    return Guarded(app, page)


def keys_file(root: Path) -> Path:
    """Where the digests of devices and guests' links lie: in the cache, safe to delete."""
    return cache_folder(root) / "page.json"


def _look(path: str, handler: Callable[[Ask], Response]) -> Route:
    return Route(path, shown(handler), methods=["GET"])


def _do(path: str, handler: Callable[[Ask], Response]) -> Route:
    return Route(path, posted(handler), methods=["POST"])


def routes() -> list[Route]:
    """Every address of the page."""
    return [
        _look("/", before.home),
        _do("/kitchen", before.make_kitchen),
        _look("/kitchen.zip", before.whole),
        _look("/new", only_to_change(fresh.new_recipe)),
        _do("/new", fresh.begin_recipe),
        _look("/recipe/{recipe}", before.recipe),
        _look("/recipe/{recipe}/scaled", before.scaled_part),
        _look("/recipe/{recipe}/text", before.text),
        _do("/recipe/{recipe}/text", before.save_text),
        _do("/recipe/{recipe}/check", before.check_text),
        _look("/recipe/{recipe}/plan", planning.plan),
        _look("/recipe/{recipe}/plan.ics", planning.plan_file),
        _look("/recipe/{recipe}/start", only_to_change(pit.start)),
        _do("/recipe/{recipe}/start", pit.begin),
        _look("/recipe/{recipe}/compare", publishing.compare),
        _look("/recipe/{recipe}/compare.csv", publishing.compare_file),
        _look("/recipe/{recipe}/card", publishing.card),
        _look("/recipe/{recipe}/card/{form}", publishing.card_file),
        _look("/cook/{entry}", pit.cook),
        _look("/cook/{entry}/state", pit.state),
        Route("/cook/{entry}/changes", pit.changes, methods=["GET"]),
        _do("/cook/{entry}/log", pit.log),
        _do("/cook/{entry}/undo", pit.take_back),
        _look("/cook/{entry}/after", after.after),
        _do("/cook/{entry}/finish", after.finish),
        _do("/cook/{entry}/score", after.score),
        _do("/cook/{entry}/photos", after.add_photo),
        _look("/cook/{entry}/photo/{number}", after.photo),
        _look("/cook/{entry}/made", after.made),
        _do("/cook/{entry}/made", after.add_made),
        _look("/cook/{entry}/adopt", only_to_change(after.adopting)),
        _do("/cook/{entry}/adopt", after.adopt),
        _do("/cook/{entry}/guests", guests.link),
        _do("/cook/{entry}/guests/end", guests.end),
        _look("/guest/{guest}", only_to_change(guests.guest)),
        _do("/guest/{guest}", guests.guest_scores),
        _look("/pair", guests.pairing),
        _do("/pair", guests.pair),
        _look("/devices", guests.devices),
        _do("/devices/code", guests.new_code),
        _do("/devices/forget", guests.forget),
        _look("/token", _token),
        _look("/still.mp4", _film),
        Route("/static/{name}", _static, methods=["GET"]),
    ]


def _token(ask: Ask) -> Response:
    """The token of forms, for a page that lay open while this one was started again."""
    return data({"token": ask.page.keys.token(ask.who)})


def _film(ask: Ask) -> Response:
    """The silent film that keeps a screen on; players ask for parts of it."""
    film = still_film()
    wanted = ask.request.headers.get("range", "")
    first, _, last = wanted.removeprefix("bytes=").partition("-")
    if not wanted.startswith("bytes=") or not first.isdecimal() or len(first) > 9 or int(first) >= len(film):
        return Response(film, media_type="video/mp4", headers={"accept-ranges": "bytes"})
    end = min(int(last), len(film) - 1) if last.isdecimal() and len(last) < 10 else len(film) - 1
    part = film[int(first) : end + 1]
    told = {"accept-ranges": "bytes", "content-range": f"bytes {first}-{end}/{len(film)}"}
    return Response(part, 206, media_type="video/mp4", headers=told)


async def _static(request: Request) -> Response:
    name: Any = request.path_params["name"]
    if name not in STATIC:
        raise HTTPException(404)
    kept = {"cache-control": "no-cache", "etag": tag(name)}
    if request.headers.get("if-none-match") == tag(name):
        return Response(status_code=304, headers=kept)
    return Response(static(name), media_type=STATIC[name], headers=kept)
