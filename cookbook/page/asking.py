"""From a request to one call of the library and back: what was asked, and how answers and faults are shown."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable, Mapping
from functools import cached_property
from traceback import format_exception
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from starlette.concurrency import run_in_threadpool
from starlette.datastructures import FormData, UploadFile
from starlette.exceptions import HTTPException
from starlette.requests import Request
from starlette.responses import HTMLResponse, RedirectResponse, Response

from cookbook.errors import Busy, Conflict, CookbookError, FileError, Problem, StorageError, UnknownName
from cookbook.journal import Entry
from cookbook.kitchen import Kitchen
from cookbook.page.desk import Later
from cookbook.page.guard import CutOff
from cookbook.page.keys import same
from cookbook.page.opening import opened
from cookbook.page.showing import by_hand, handled, page
from cookbook.publish.wording import both_scales

if TYPE_CHECKING:
    from cookbook.page.routing import Page

MOST_FIELDS, MOST_FIELD_BYTES = 600, 1 << 21
_MOST_WORDS = 2000


class Ask:
    """One request: what it names, what its form holds, and whose it is."""

    def __init__(self, request: Request, form: FormData | None = None) -> None:
        self.request = request
        self.form = form if form is not None else FormData()
        self.page: Page = request.app.state.page

    @cached_property
    def kitchen(self) -> Kitchen:
        """The kitchen as its files stand now."""
        return opened(self.page.setting.root)

    @property
    def us(self) -> bool:
        """Whether a bare size is pounds and inches: where the kitchen shows US units alone."""
        return self.units == "us"

    @property
    def units(self) -> str:
        """What is shown: us, metric or both; both as long as the folder is no kitchen."""
        if not (self.page.setting.root / "recipes").is_dir():
            return "both"
        return str(self.page.setting.units or self.kitchen.settings.get("units") or "both")

    @property
    def who(self) -> str:
        """The owner on this machine, or a device."""
        return str(self.request.scope["state"]["who"])

    @property
    def by_script(self) -> bool:
        """Whether our own script asks, which wants data instead of a page."""
        return "x-page" in self.request.headers

    def part(self, name: str) -> str:
        """A part of the address."""
        return str(self.request.path_params[name])

    def words(self, name: str, most: int = _MOST_WORDS) -> str:
        """A field of the form, on one line, without what no keyboard writes."""
        return tidy(self.raw(name), most)

    def raw(self, name: str) -> str:
        """A field of the form as it was sent; a text in several lines."""
        value = self.form.get(name)
        return value if isinstance(value, str) else ""

    def queried(self, name: str, most: int = 200) -> str:
        """A field of the address."""
        return tidy(self.request.query_params.get(name, ""), most)

    def file(self, name: str) -> UploadFile | None:
        """A file of the form."""
        value = self.form.get(name)
        return value if isinstance(value, UploadFile) else None

    def titled(self, name: str) -> str:
        """A recipe's title; its name where that can't be read."""
        try:
            return self.kitchen.recipe(name).title if self.kitchen.has_recipe(name) else name
        except CookbookError:
            return name

    def show(self, template: str, status: int = 200, **told: Any) -> Response:
        """A page."""
        return HTMLResponse(page(self, template, **({"us": self.us, "tell": self.tell} | told)), status)

    def tell(self, words: object) -> str:
        """A sentence with the other scale behind each temperature, where both are shown."""
        return str(words) if self.units == "metric" else both_scales(str(words))

    def went(self, to: str, said: str = "", warnings: Iterable[str] = (), **more: Any) -> Response:
        """Something was done: on to its page, or to our script what it was."""
        if self.by_script:
            return data({"to": to, "said": said, "warnings": [*map(handled, warnings)], **more})
        return RedirectResponse(to, 303)


Handler = Callable[[Ask], Response]


def tidy(words: str, most: int = _MOST_WORDS) -> str:
    """On one line, without signs that cannot be written into a file."""
    kept = "".join(sign if sign.isprintable() else " " for sign in words[: 4 * most])
    return " ".join(kept.split())[:most]


def only_to_change(handler: Handler) -> Handler:
    """A page that is nothing but a form: where the page may only be looked at, it says so instead."""

    def told(ask: Ask) -> Response:
        if ask.page.setting.read_only:
            fault = CookbookError("this page may only be looked at", mend="whoever started it can let it be changed")
            return fault_page(ask, fault, 403)
        return handler(ask)

    return told


def shown(handler: Handler) -> Callable[[Request], Any]:
    """An endpoint that only looks."""

    async def endpoint(request: Request) -> Response:
        return await run_in_threadpool(_answered, handler, Ask(request))

    return endpoint


def posted(handler: Handler) -> Callable[[Request], Any]:
    """An endpoint that does something: its form must carry the token that our own pages hold."""

    async def endpoint(request: Request) -> Response:
        form = await _form(request)
        try:
            ask = Ask(request, form)
            held = request.headers.get("x-token") or ask.raw("token")
            if not same(held, ask.page.keys.token(token_of(ask))):
                raise HTTPException(403, "this form is from before the page was started again: load it anew")
            return await run_in_threadpool(_in_turn, handler, ask)
        finally:
            await form.close()

    return endpoint


async def _form(request: Request) -> FormData:
    try:
        return await request.form(max_files=1, max_fields=MOST_FIELDS, max_part_size=MOST_FIELD_BYTES)
    except HTTPException as fault:
        raise fault.__context__ if isinstance(fault.__context__, CutOff) else fault from None


def _in_turn(handler: Handler, ask: Ask) -> Response:
    """Who sends waits for those before, however many they are; the kitchen's lock alone gives up after a while."""
    with ask.page.turn:
        return _answered(handler, ask)


def token_of(ask: Ask) -> str:
    """Whose token a form carries: a guest's link has one of its own."""
    guest = ask.request.path_params.get("guest")
    return f"guest {guest}" if guest is not None else ask.who


def _answered(handler: Handler, ask: Ask) -> Response:
    try:
        return handler(ask)
    except Later as late:
        return ask.show("late.html.j2", 202, late=late)
    except CookbookError as fault:
        return fault_page(ask, fault)
    except OSError as fault:
        return fault_page(ask, StorageError("a file of this kitchen", fault.strerror or "it can't be reached"))
    except UnicodeError:
        return fault_page(ask, CookbookError("this text holds signs that no file can keep"), 400)


def status_of(fault: CookbookError) -> int:
    """The status that a fault is answered with."""
    kinds: tuple[tuple[type[CookbookError], int], ...] = (
        (UnknownName, 404), (Conflict, 409), (Busy, 503), (StorageError, 503), (FileError, 422),
    )  # fmt: skip
    return next((status for kind, status in kinds if isinstance(fault, kind)), 400)


def fault_page(ask: Ask, fault: CookbookError, status: int | None = None) -> Response:
    """What went wrong, for people or for our script."""
    number = status or status_of(fault)
    problems = fault.problems if isinstance(fault, FileError) else [fault.problem()]
    if ask.by_script:
        mend = fault.mend if by_hand(fault.mend) else None
        return data({"error": fault.message, "mend": mend, "problems": told(problems)}, number)
    head = "Not found" if number == 404 else "Not done"
    try:
        return ask.show("fault.html.j2", number, head=head, problems=problems)
    except CookbookError:
        return HTMLResponse(page(None, "fault.html.j2", head=head, problems=problems), number)


def told(problems: Iterable[Problem]) -> list[Mapping[str, object]]:
    """Problems as our script takes them, each with its mend where that can be done here."""
    return [{**problem.json(), "mend": problem.mend if by_hand(problem.mend) else None} for problem in problems]


def data(known: Mapping[str, Any], status: int = 200) -> Response:
    """Data for our script."""
    return Response(json.dumps(known, ensure_ascii=False), status, media_type="application/json")


def title_of(kitchen: Kitchen, entry: Entry) -> str:
    """What people call a cook: its own title, or its recipe's."""
    if entry.title is None and entry.recipe is not None and kitchen.has_recipe(entry.recipe):
        try:
            return kitchen.recipe(entry.recipe).title
        except FileError:
            pass
    return entry.shown_title()


def to(*parts: str) -> str:
    """An address of the page, each part written so that it stays one part."""
    return "/" + "/".join(quote(part, safe="") for part in parts)


async def refused(request: Request, fault: Exception) -> Response:
    """What the server itself refuses: an address that is none, a form that is too big or too old."""
    status, reason = (fault.status_code, fault.detail) if isinstance(fault, HTTPException) else (500, "")
    if status == 404:
        reason = "there is no such page"
    if "x-page" in request.headers:
        return data({"error": reason}, status)
    return alone("Not found" if status == 404 else "Not done", reason, status)


async def broken(request: Request, fault: Exception) -> Response:
    """A fault of this program: said plainly, its place on standard error."""
    sys.stderr.write(f"the page failed at {request.url.path}:\n{''.join(format_exception(fault))}")
    reason = "this program failed here; nothing was lost, and what it says stands where it was started"
    if "x-page" in request.headers:
        return data({"error": reason}, 500)
    return alone("Not done", reason, 500)


def alone(head: str, reason: str, status: int) -> Response:
    """A page that needs no kitchen."""
    return HTMLResponse(page(None, "fault.html.j2", head=head, problems=[CookbookError(reason).problem()]), status)
