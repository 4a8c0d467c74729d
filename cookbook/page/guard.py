"""What stands before every page: who asks, under which name, from which page, how much they send.

A page of another origin gets nothing: its `Host` may be forged, its `Origin` is not ours, it has no cookie of ours
and no token, and no answer lets it read, frame or open us.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable, MutableMapping
from http.cookies import CookieError, SimpleCookie
from ipaddress import ip_address
from typing import Any

from python_multipart.multipart import parse_options_header
from starlette.exceptions import HTTPException
from starlette.formparsers import MultiPartException

from cookbook.page.keys import Keys
from cookbook.page.setting import LOOPBACK, Setting

Scope = MutableMapping[str, Any]
Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]

COOKIE = "cookbook_device"
MOST_BYTES = 4 << 20
MOST_PICTURE_BYTES = 40 << 20
_TOO_MUCH = "more was sent than this page takes"
_TAIL_BYTES = 256
"""A form's last boundary, of 70 letters at most (RFC 2046, 5.1.1), and a line end or two lie within."""
OWNER, NOBODY = "owner", "nobody"
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; media-src 'self'; "
    "connect-src 'self'; frame-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
_HEADERS = {
    b"content-security-policy": POLICY.encode(),
    b"x-content-type-options": b"nosniff",
    b"x-frame-options": b"DENY",
    b"referrer-policy": b"same-origin",
    b"cross-origin-resource-policy": b"same-origin",
    b"permissions-policy": b"camera=(), microphone=(), geolocation=(), interest-cohort=()",
    b"cache-control": b"no-store",
}
_OPEN = ("/pair", "/static/")
"""What somebody may see who is not known yet."""
_STILL_OPEN = ("/pair", "/devices/")
"""What may be sent to a page that may only be looked at: who looks."""


class Guard:
    """The application behind its guard: an ASGI application."""

    def __init__(self, inside: Any, setting: Setting, keys: Keys) -> None:
        self._inside, self._setting, self._keys = inside, setting, keys

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request: refused, or handed on with `who` in its state."""
        if scope["type"] == "lifespan":
            await self._inside(scope, receive, send)
            return
        if scope["type"] != "http":
            return
        headers = _headers(scope)
        who = self._who(scope, headers)
        refused = self._refusal(scope, headers, who)
        if refused is not None:
            await _refuse(send, *refused)
            return
        scope.setdefault("state", {})["who"] = who

        name = headers["host"][0].rpartition(":")[0].casefold()
        apart = {b"cross-origin-opener-policy": b"same-origin"} if name in LOOPBACK else {}

        async def sending(message: Message) -> None:
            if message["type"] == "http.response.start":
                message["headers"] = _guarded(message.get("headers", ()), apart)
            await send(message)

        receiving = _limited(receive, _limit(scope["path"]), scope["method"] == "POST", _last(headers))
        await self._inside(scope, receiving, sending)

    def _who(self, scope: Scope, headers: dict[str, list[str]]) -> str:
        """`owner` on this machine, a device's digest, or `nobody`."""
        client = (scope.get("client") or ("", 0))[0]
        name = (headers.get("host") or [""])[0].rpartition(":")[0] or (headers.get("host") or [""])[0]
        if _is_loopback(client) and name.casefold() in LOOPBACK:
            return OWNER
        try:
            cookies = SimpleCookie("; ".join(headers.get("cookie", [])))
        except CookieError:
            return NOBODY
        return self._keys.device(cookies[COOKIE].value) or NOBODY if COOKIE in cookies else NOBODY

    def _refusal(
        self, scope: Scope, headers: dict[str, list[str]], who: str
    ) -> tuple[int, str, str] | tuple[int, str] | None:
        """Status, reason and where to go instead; None where the request may pass."""
        hosts = headers.get("host", [])
        if len(hosts) != 1 or hosts[0].casefold() not in self._setting.hosts:
            return 421, "this page does not answer to that name"
        path, method = scope["path"], scope["method"]
        guest = path.startswith("/guest/")
        reads = method in ("GET", "HEAD")
        if not reads and method != "POST":
            return 405, "this page is read and posted to, nothing else"
        if not self._from_here(headers, f"http://{hosts[0].casefold()}", reads, guest):
            return 403, "this request comes from another page"
        length = headers.get("content-length", ["0"])[0]
        if not length.isdecimal() or int(length) > _limit(path):
            return 413, _TOO_MUCH
        if who == NOBODY and not guest and not path.startswith(_OPEN):
            return (303, "pair this device first", "/pair") if reads else (401, "pair this device first")
        if self._setting.read_only and not reads and not path.startswith(_STILL_OPEN):
            return 403, "this page may only be looked at: it was started with --read-only"
        return None

    @staticmethod
    def _from_here(headers: dict[str, list[str]], home: str, reads: bool, guest: bool) -> bool:
        """Whether the request comes from a page of ours; a reading one may also come from nowhere, as typed."""
        origins = headers.get("origin", [])
        if any(origin.casefold() != home for origin in origins) or (not reads and len(origins) != 1):
            return False
        site = headers.get("sec-fetch-site", ["none"])[0]
        opened = guest and reads and headers.get("sec-fetch-mode", [""])[0] == "navigate"
        return site in ("same-origin", "none") or opened


def _headers(scope: Scope) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for name, value in scope["headers"]:
        found.setdefault(name.decode("latin-1").casefold(), []).append(value.decode("latin-1"))
    return found


def _is_loopback(address: str) -> bool:
    try:
        return ip_address(address).is_loopback
    except ValueError:
        return False


def _limit(path: str) -> int:
    return MOST_PICTURE_BYTES if path.endswith("/photos") else MOST_BYTES


class CutOff(MultiPartException, HTTPException):
    """A body that did not come whole. Whoever reads a form lets go of the files in it for the first of its bases."""

    def __init__(self, status: int, reason: str) -> None:
        MultiPartException.__init__(self, reason)
        HTTPException.__init__(self, status, reason)


def _last(headers: dict[str, list[str]]) -> bytes:
    """What stands at the end of a form in parts, by its headers; b'' for any other body."""
    kind, more = parse_options_header(headers.get("content-type", [""])[0])
    boundary = more.get(b"boundary", b"")
    return b"--" + boundary + b"--" if kind == b"multipart/form-data" and boundary else b""


def _limited(receive: Receive, most: int, sent: bool, last: bytes) -> Receive:
    """The body, cut off where it is more than `most` bytes; one that is `sent` must come to its end, and to what is
    `last` in it."""
    taken, whole, tail = 0, not sent, b""

    async def receiving() -> Message:
        nonlocal taken, whole, tail
        message = await receive()
        if message["type"] == "http.request":
            body = message.get("body", b"")
            taken += len(body)
            tail = (tail + body[-_TAIL_BYTES:])[-_TAIL_BYTES:]
            whole = whole or not message.get("more_body", False)
            if sent and whole and last not in tail:
                raise CutOff(400, "this form was cut off before its end")
        elif not whole:
            raise CutOff(400, "the connection was dropped before all was there")
        if taken > most:
            raise CutOff(413, _TOO_MUCH)
        return message

    return receiving


def _guarded(headers: Any, apart: dict[bytes, bytes] | None = None) -> list[tuple[bytes, bytes]]:
    """The answer's headers with ours; what a handler set itself wins. Browsers heed `apart` on loopback alone."""
    said = [(bytes(name), bytes(value)) for name, value in headers if bytes(name).lower() not in (b"server",)]
    names = {name.lower() for name, _ in said}
    return [*said, *((name, value) for name, value in (_HEADERS | (apart or {})).items() if name not in names)]


async def _refuse(send: Send, status: int, reason: str, to: str | None = None) -> None:
    body = f"{reason}\n".encode()
    headers = [(b"content-type", b"text/plain; charset=utf-8"), (b"content-length", str(len(body)).encode())]
    if to is not None:
        headers.append((b"location", to.encode()))
    await send({"type": "http.response.start", "status": status, "headers": _guarded(headers)})
    await send({"type": "http.response.body", "body": body})
