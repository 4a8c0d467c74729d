"""A real page on a port of its own, and Debian's browser in front of it."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from tests.page.visiting import demonstration


class Served(NamedTuple):
    """A page that runs: its address on this machine, what it printed, its kitchen."""

    home: str
    said: str
    root: Path
    process: subprocess.Popen[str]

    @property
    def elsewhere(self) -> str:
        """Its address for phones, where it has one."""
        found = re.search(r"for phones in this net at (\S+)", self.said)
        assert found, self.said
        return found[1]

    @property
    def code(self) -> str:
        """Its pairing code."""
        found = re.search(r"pairing code (\w{4}) (\w{4})", self.said)
        assert found, self.said
        return found[1] + found[2]


def serve(root: Path, *options: str, port: int | None = None) -> Served:
    """Start the page as a cook does."""
    command = [sys.executable, "-m", "cookbook", "page", "--port", str(port or free_port()), *options]
    home = Path(__file__).resolve().parent.parent.parent.parent
    process = subprocess.Popen(
        command, cwd=root, stdout=subprocess.PIPE, text=True, env={**os.environ, "PYTHONPATH": str(home)}
    )
    assert process.stdout is not None
    said = ""
    while "Ctrl-C" not in said:
        line = process.stdout.readline()
        assert line, said
        said += line
    found = re.search(r"the page is at (http://127\.0\.0\.1:\d+)", said)
    assert found, said
    return Served(found[1], said, root, process)


def free_port() -> int:
    """A port that nobody uses now."""
    import socket

    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])


def stop(served: Served) -> None:
    """End the page."""
    served.process.terminate()
    served.process.wait(10)
    if served.process.stdout is not None:
        served.process.stdout.close()


@pytest.fixture
def kitchen(tmp_path: Path) -> Path:
    return demonstration(tmp_path / "kitchen")


@pytest.fixture
def served(kitchen: Path) -> Iterator[Served]:
    page = serve(kitchen)
    yield page
    stop(page)


@pytest.fixture
def in_net(kitchen: Path) -> Iterator[Served]:
    page = serve(kitchen, "--lan")
    yield page
    stop(page)


SIZES = {"phone": {"width": 390, "height": 844}, "desk": {"width": 1280, "height": 800}}


class Seat:
    """One person's browser; whatever it complains about, or asks of anybody else, fails the test at its end."""

    def __init__(self, browser: Any, home: str, size: str = "phone", scheme: str = "light", **more: Any) -> None:
        self.home = home
        self.context = browser.new_context(
            viewport=SIZES[size], has_touch=size == "phone", color_scheme=scheme, base_url=home, **more
        )
        self.page = self.context.new_page()
        self.page.set_default_timeout(20_000)
        self.complaints: list[str] = []
        self.strangers: list[str] = []
        self.page.on("pageerror", lambda fault: self.complaints.append(str(fault)))
        self.page.on("console", self._hear)
        self.page.on("request", self._see)

    def _hear(self, message: Any) -> None:
        if message.type == "error" and "Failed to load resource" not in message.text:
            self.complaints.append(message.text)

    def _see(self, request: Any) -> None:
        if not request.url.startswith((self.home, "data:", "blob:")):
            self.strangers.append(request.url)

    def until(self, what: Callable[[], Any], seconds: float = 15.0) -> Any:
        """The first true answer of `what`, asked again and again while the browser goes on."""
        end = time.monotonic() + seconds
        while not (found := what()):
            assert time.monotonic() < end, "it never came"
            self.page.wait_for_timeout(100)
        return found

    def give(self, question: str, number: str) -> None:
        """Tap a score."""
        self.page.get_by_role("group", name=question).get_by_role("radio", name=number, exact=True).check()

    def leave(self) -> None:
        """Close it: nothing was complained about, nobody else was asked."""
        self.context.close()
        assert self.complaints == []
        assert self.strangers == []
