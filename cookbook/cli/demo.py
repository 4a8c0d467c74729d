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

PASTE, COOK = "fennel-sage-paste", "pork-loin-over-cherry"

STEPS = (
    ("read the paste", f"show {PASTE}"),
    ("scale it to a larger roast, by the surface it coats", f"scale {PASTE} --weight 4.4kg"),
    (
        "begin a cook, tied to the exact version",
        f"log start {COOK} --weight 3.1kg --length 40cm --girth 32cm --start 6C --at 2026-11-21T09:30",
    ),
    ("write in what really went in", f"log used garlic --more '8 g' --in {PASTE}"),
    ("by the spoon, too", f"log used 'olive oil' --less '10 ml' --in {PASTE}"),
    ("on the fire", "log event on --at 2026-11-21T11:05"),
    ("a reading", "log reading core=48C pit=128C --at 2026-11-21T12:30"),
    ("off the fire", "log reading core=60C --at 2026-11-21T13:06"),
    ("and said so", "log event pulled --at 2026-11-21T13:06"),
    (
        "how it came out",
        "log finish --score crust=8.5 --score juiciness=8 --served 64C --at 2026-11-21T14:00",
    ),
    ("what was made becomes the next revision", f"adopt 2026-11-21-{COOK} --yes"),
    ("what changed from version to version", f"versions {PASTE}"),
    ("was it better?", f"compare {PASTE} --no-forecast"),
    ("the card for the film's description", f"card {PASTE} --as description"),
    ("everything still reads", "check"),
)
"""What the demo shows: a few words and the command."""


def _options(parser: Parser) -> None:
    del parser


def _demo(arguments: argparse.Namespace) -> Answer:
    folder = Path(tempfile.mkdtemp(prefix="carryover-cookbook-"))
    kitchen = new(folder / "kitchen", example=True)
    page = folder / "fennel-sage-paste.html"
    steps: list[dict[str, Any]] = []
    last = f"card {PASTE} --as page --out {shlex.quote(str(page))}"
    for about, line in (*STEPS, ("the page, for a browser", last)):
        code, out = _one(shlex.split(line), kitchen)
        command = f"cookbook {line}"
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
