"""Each reader as a fuzzer calls it: bytes in; an answer, problems or a CookbookError out, and nothing else.

What was read goes on into what is made of it, so that a number which reads and cannot be worked with shows here.
"""

from __future__ import annotations

import tempfile
from collections.abc import Callable
from datetime import UTC, date
from functools import cache
from pathlib import Path

from cookbook import journal, recipe
from cookbook.errors import CookbookError, Problem
from cookbook.files import parse
from cookbook.journal import probelog, readings
from cookbook.journal.made import made
from cookbook.kitchen import Kitchen
from cookbook.kitchen.checking.doubts import entry_doubts, recipe_doubts
from cookbook.kitchen.checking.schema import faults
from cookbook.kitchen.importing import foreign
from cookbook.meat import Cut, scan
from cookbook.recipe.scaling import scaled_to
from cookbook.safety import entry_safety, recipe_safety
from tests.quantity.test_fuzz import checked

LONGEST = 2_000
"""Letters of a problem as it is printed, however long the line is that it is about."""


@cache
def _kitchen() -> Kitchen:
    folder = Path(tempfile.mkdtemp())
    (folder / "recipes").mkdir()
    return Kitchen.open(folder)


def _said(problems: list[Problem]) -> None:
    for problem in problems:
        assert problem.message
        assert len(problem.printed()) < LONGEST


def read_recipe(data: bytes) -> None:
    """A recipe's text: read, doubted, held against the schema, digested, scaled, judged."""
    document = parse(data, "fuzzed.yaml")
    found, problems = recipe.read(document, "fuzzed", "us")
    _said(problems)
    assert found is not None or problems
    if found is None:
        return
    assert not [one for one in faults(document, found.kind) if one.severity == "error"]
    list(recipe_doubts(_kitchen(), found))
    recipe_safety(found)
    recipe.digest(found, _kitchen().recipe)
    if found.made_for is not None:
        scaled = scaled_to(found, Cut.named("pork loin, boneless").piece(mass_g=4400))
        for line in scaled.ingredients:
            line.measured()


def read_entry(data: bytes) -> None:
    """An entry's text: read, doubted, held against the schema, its readings in order, judged."""
    path = _kitchen().root / "journal" / "2026" / "2026-11-21-fuzzed.yaml"
    document = parse(data, path.name, path)
    found, problems = journal.read(document, "2026-11-21-fuzzed", "us")
    _said(problems)
    assert found is not None or problems
    if found is None:
        return
    list(entry_doubts(_kitchen(), found))
    readings.in_order(readings.logged(found))
    for name, lines in found.as_made.items():
        made(lines, found.sheet.get(name, {}))
    entry_safety(found)


def read_log(data: bytes) -> None:
    """A probe's log, by the reader of any device's table and by that of our own."""
    _said(readings.read_csv(data, "log.csv")[1])
    log = probelog.understand(data, probelog.Said(), date(2026, 11, 21), "C", UTC)
    if not log.doubts:
        again, problems = readings.read_csv(log.sidecar(), "log.csv")
        assert not problems, "what is written down is read again"
        assert len(again) <= sum(len(probe.values) for probe in log.probes)


def read_amount(data: bytes) -> None:
    """An amount, a temperature, a time, a length."""
    checked(data.decode("utf-8", "replace"))


def read_mesh(data: bytes) -> None:
    """A scan; the first byte chooses its format."""
    if not data:
        return
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, f"scan{scan.KINDS[data[0] % len(scan.KINDS)]}")
        path.write_bytes(data[1:])
        scan.told(Cut.named("pork loin, boneless"), path.name, scan.read(path)[0], None, 3000.0)


def read_foreign(data: bytes) -> None:
    """A recipe of the open standard, in JSON."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder, "recipe.json")
        path.write_bytes(data)
        foreign.read(path)


READERS: dict[str, Callable[[bytes], None]] = {
    "recipe": read_recipe, "entry": read_entry, "log": read_log, "amount": read_amount, "mesh": read_mesh,
    "foreign": read_foreign,
}


def fed(reader: str, data: bytes) -> None:
    """One input to one reader."""
    try:
        READERS[reader](data)
    except CookbookError as fault:
        _said([fault.problem()])
