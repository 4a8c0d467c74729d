"""The page beside a bare Starlette hello and a bare durable write, in one run: `python -m tests.bench.bench_page`.

Both run in processes of their own behind the same server; requests go over one connection each and take turns. Only
ratios are asserted.
"""

from __future__ import annotations

import http.client
import json
import os
import secrets
import socket
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from multiprocessing import get_context
from pathlib import Path
from typing import Any, NamedTuple
from urllib.parse import urlencode

from cookbook.files import save
from tests.bench.turns import turns
from tests.page.visiting import demonstration

RUNS = 80
PAUSE_S = 0.005
"""Who has only just let go of the kitchen's lock lets others in first."""
FIRST_PAGE, READING = 10.0, 5.0
SCALED_S = 0.1
"""Within a tenth of a second an answer seems to come at once (common practice, memory)."""


class Line(NamedTuple):
    """What was measured: ours, the bare thing, how often it may be."""

    what: str
    ours_s: float
    bare_s: float
    bound: float

    @property
    def holds(self) -> bool:
        """Whether it stays within its bound."""
        return self.ours_s <= self.bound * self.bare_s


def hello(port: int) -> None:
    """A bare Starlette that says hello."""
    from starlette.applications import Starlette
    from starlette.requests import Request
    from starlette.responses import PlainTextResponse
    from starlette.routing import Route

    async def answer(_: Request) -> PlainTextResponse:
        return PlainTextResponse("hello")

    run(Starlette(routes=[Route("/", answer)]), port)


def page(port: int, root: Path) -> None:
    """The page."""
    from cookbook.page import Setting, application
    from cookbook.page.keys import Keys

    run(application(Setting(root, port), Keys(None)), port)


def run(app: Any, port: int) -> None:
    """Serve an application, in the process that this is called in."""
    import uvicorn

    uvicorn.run(app, port=port, log_level="critical", access_log=False)


@contextmanager
def running(serve: Callable[..., None], *more: Any) -> Iterator[http.client.HTTPConnection]:
    """A server in a process of its own, and a connection to it."""
    port = free_port()
    process = get_context("spawn").Process(target=serve, args=(port, *more), daemon=True)
    process.start()
    connection = http.client.HTTPConnection("127.0.0.1", port)
    for _ in range(600):
        try:
            connection.connect()
            break
        except OSError:
            time.sleep(0.05)
    assert connection.sock is not None
    connection.sock.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
    try:
        yield connection
    finally:
        connection.close()
        process.terminate()
        process.join(10)


def free_port() -> int:
    """A port that nobody uses now."""
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


def get(connection: http.client.HTTPConnection, address: str) -> bytes:
    """One page."""
    connection.request("GET", address)
    answer = connection.getresponse()
    body = answer.read()
    assert answer.status == 200, body[:300]
    return body


def measure(folder: Path) -> list[Line]:
    """The lines of the table."""
    from cookbook.kitchen import Kitchen
    from cookbook.kitchen.clock import now
    from cookbook.kitchen.log import logbook

    root = demonstration(folder / "kitchen")
    os.environ["XDG_CACHE_HOME"] = str(folder / "cache")
    entry = logbook.start(Kitchen.open(root), "pork-loin-over-cherry", {"": {"weight": "3.1 kg"}}, now())
    target = folder / "written.yaml"
    target.write_bytes(entry.document.data)
    time.sleep(2.1)  # files written within the last two seconds are never trusted to the cache
    with running(hello) as bare, running(page, root) as ours:
        home = f"http://127.0.0.1:{ours.port}"
        headers = {"x-page": "1", "origin": home, "content-type": "application/x-www-form-urlencoded"}
        headers["x-token"] = json.loads(get(ours, "/token"))["token"]

        def reading() -> None:
            fields = {"send": "reading core", "number": "48", "scale": "C", "id": secrets.token_hex(16)}
            ours.request("POST", f"/cook/{entry.name}/log", urlencode(fields), headers)
            answer = ours.getresponse()
            body = answer.read()
            assert answer.status == 200, body[:300]

        def hi() -> bytes:
            return get(bare, "/")

        def scale() -> bytes:
            return get(ours, "/recipe/fennel-sage-paste/scaled?weight=4.4")

        def write() -> None:
            save(target, entry.document.data)

        first, hello_s, scaled = turns(lambda: get(ours, "/"), hi, scale, times=RUNS, pause_s=PAUSE_S)
        logged, *bare_s = turns(reading, hi, write, times=RUNS, pause_s=PAUSE_S)
    return [
        Line("first page, beside hello", first, hello_s, FIRST_PAGE),
        Line("reading, beside hello and a durable write", logged, sum(bare_s), READING),
        Line("scaled while typing, beside a tenth of a second", scaled, SCALED_S, 1.0),
    ]


def main() -> int:
    """Print the table; 1 where a bound is passed."""
    with tempfile.TemporaryDirectory() as name:
        lines = measure(Path(name))
    for line in lines:
        print(
            f"{line.what:<50} {line.ours_s * 1000:7.2f} ms   bare {line.bare_s * 1000:6.2f} ms   "
            f"{line.ours_s / line.bare_s:5.2f} times, at most {line.bound:g}"
        )
    return 0 if all(line.holds for line in lines) else 1


if __name__ == "__main__":
    sys.exit(main())
