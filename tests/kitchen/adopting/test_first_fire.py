"""A cook that had no recipe becomes one: its cut, its fire, its pull and its rest, as they were read that day."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta

import pytest

from cookbook.errors import RequestError
from cookbook.journal.writing import append
from cookbook.kitchen import Kitchen
from cookbook.kitchen.adopting.adopt import adoptions, write
from cookbook.kitchen.checking import check
from cookbook.kitchen.log import logbook
from cookbook.kitchen.log.loglines import line_of

BEGUN = datetime.fromisoformat("2026-11-21T10:00:00+01:00")


def cooked(kitchen: Kitchen, *lines: tuple[int, str, dict[str, object]], kind: str = "cook") -> str:
    """An entry without a recipe, with lines so many minutes after it began; its name."""
    entry = logbook.start_new(kitchen, "Roast", kind, "rib roast, bone in", {"": {"weight": "5.2 kg"}}, BEGUN)
    for minutes, what, said in lines:
        line = line_of(kitchen.entry(entry.name), what, said, BEGUN + timedelta(minutes=minutes))
        logbook.add(kitchen, kitchen.entry(entry.name), line.change, line.words)
    return entry.name


LINES: tuple[tuple[int, str, dict[str, object]], ...] = (
    (0, "reading", {"values": ["pit=90C"]}),
    (10, "event", {"did": ["on"]}),
    (20, "reading", {"values": ["core=6C", "pit=131C"]}),
    (60, "reading", {"values": ["pit=125C"]}),
    (90, "reading", {"values": ["core=40C", "pit=124C"]}),
    (150, "reading", {"values": ["core=49.6C"]}),
    (155, "event", {"did": ["pulled"]}),
    (170, "reading", {"values": ["core=56C", "pit=22C"]}),
    (193, "event", {"did": ["sliced"]}),
)


def test_the_fire_the_pull_and_the_rest_are_what_was_read(make_kitchen: Callable[..., Kitchen]) -> None:
    kitchen = make_kitchen()
    name = cooked(kitchen, *LINES, (5, "about", {"field": "wood", "words": ["oak"]}))
    entry = kitchen.entry(name)
    write(kitchen, entry, adoptions(kitchen, entry))
    recipe = Kitchen.open(kitchen.root).recipe("roast")
    assert (recipe.kind, recipe.cut, recipe.revision) == ("cook", "rib roast, bone in", 1)
    assert recipe.pit is not None
    assert (str(recipe.pit.temperature), recipe.pit.wood) == ("125 °C", "oak")
    assert str(recipe.pull_at) == "50 °C"
    assert recipe.rest is not None
    assert str(recipe.rest.time) == "40 min"
    assert "# the middle of 3 readings" in recipe.document.text
    assert recipe.ingredients == ()
    assert check(Kitchen.open(kitchen.root)).errors == 0
    with pytest.raises(RequestError, match="nothing to adopt"):
        adoptions(Kitchen.open(kitchen.root), Kitchen.open(kitchen.root).entry(name))


def test_what_nobody_read_is_left_out_and_a_fahrenheit_kitchen_reads_fahrenheit(
    make_kitchen: Callable[..., Kitchen],
) -> None:
    kitchen = make_kitchen()
    entry = kitchen.entry(cooked(kitchen))
    (found,) = adoptions(kitchen, entry)
    assert all(word not in found.data.decode() for word in ("pit:", "pull_at:", "rest:", "ingredients:"))
    kitchen = make_kitchen({"shared/kitchen.yaml": "measures: us\ntemperature: F\n"})
    (found,) = adoptions(kitchen, kitchen.entry(cooked(kitchen, *LINES)))
    assert "temperature: 257 °F" in found.data.decode()
    assert "pull_at: 121 °F" in found.data.decode()


def test_what_went_in_stands_below_the_fire(make_kitchen: Callable[..., Kitchen]) -> None:
    kitchen = make_kitchen()
    name = cooked(kitchen, *LINES)
    oak = {"item": "oak", "amount": "1 kg"}
    logbook.add(kitchen, kitchen.entry(name), lambda edit: append(edit, ["as_made", "roast"], oak), "")
    (found,) = adoptions(kitchen, kitchen.entry(name))
    assert [line.item for line in found.changes] == ["oak"]
    assert found.data.decode().index("pit:") < found.data.decode().index("ingredients:")


def test_a_paste_without_amounts_is_still_none(make_kitchen: Callable[..., Kitchen]) -> None:
    kitchen = make_kitchen()
    with pytest.raises(RequestError, match="nothing to adopt"):
        adoptions(kitchen, kitchen.entry(cooked(kitchen, kind="paste")))
