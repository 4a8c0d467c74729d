"""`demo`: the main job, end to end, on a copy of the demonstration kitchen in a temporary folder."""

from __future__ import annotations

import argparse
import io
import shlex
import sys
import tempfile
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from typing import Any

from cookbook.cli.running import Answer, Parser, Verb, bold, run
from cookbook.kitchen.starter import new

PASTE = "fennel-sage-paste"

STEPS = (
    ("read the paste", ["show", PASTE]),
    ("scale it to a larger roast, by the surface it coats", ["scale", PASTE, "--weight", "4.4kg"]),
    ("begin a cook, tied to the exact version", [
        "log", "start", "pork-loin-over-cherry", "--weight", "3.1kg", "--length", "40cm", "--girth", "32cm",
        "--at", "2026-11-21T09:30"]),
    ("write in what really went in", [
        "log", "used", "garlic", "--more", "8 g", "--in", PASTE, "--at", "2026-11-21T09:40"]),
    ("by the spoon, too", ["log", "used", "olive oil", "--less", "10 ml", "--in", PASTE, "--at", "2026-11-21T09:42"]),
    ("on the fire", ["log", "event", "on", "--at", "2026-11-21T11:05"]),
    ("a reading", ["log", "reading", "core=48C", "pit=128C", "--at", "2026-11-21T12:50"]),
    ("off the fire", ["log", "event", "pulled", "--at", "2026-11-21T13:20"]),
    ("how it came out", ["log", "finish", "--score", "crust=8.5", "--score", "juiciness=8", "--served", "64C",
                         "--at", "2026-11-21T14:00"]),
    ("what was made becomes the next revision", ["adopt", "2026-11-21-pork-loin-over-cherry", "--yes"]),
    ("what changed from version to version", ["versions", PASTE]),
    ("was it better?", ["compare", PASTE]),
    ("the card for the film's description", ["card", PASTE, "--as", "description"]),
    ("everything still reads", ["check"]),
)
"""What the demo shows: a few words and the command."""


def _options(parser: Parser) -> None:
    del parser


def _demo(arguments: argparse.Namespace) -> Answer:
    folder = Path(tempfile.mkdtemp(prefix="carryover-cookbook-"))
    kitchen = new(folder / "kitchen", example=True)
    page = folder / "fennel-sage-paste.html"
    steps: list[dict[str, Any]] = []
    for about, words in (*STEPS, ("the page, for a browser", ["card", PASTE, "--as", "page", "--out", str(page)])):
        code, out = _one(words, kitchen)
        command = "cookbook " + shlex.join(words)
        steps.append({"about": about, "command": command, "exit": code, "output": out})
        if not arguments.json:
            sys.stdout.write(f"{bold(f'— {about}')}\n$ {command}\n{out.rstrip()}\n\n")
        if code:
            return Answer({"steps": steps, "page": None}, f"the demo stopped at: {command}", 1)
    closing = f"The kitchen of this walk is in {kitchen}\nThe page: {page}"
    return Answer({"steps": steps, "page": str(page)}, closing)


def _one(words: list[str], kitchen: Path) -> tuple[int, str]:
    from cookbook.cli import VERBS as ALL

    out = io.StringIO()
    with redirect_stdout(out), redirect_stderr(out):
        code = run([*words, "--kitchen", str(kitchen)], ALL)
    return code, out.getvalue()


VERBS = {"demo": Verb(_options, _demo)}
