"""Adopting how it was done: the fire, the pull, the rest, the steps; each line chosen, nothing else touched."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta, timezone

import pytest

from cookbook.errors import RequestError
from cookbook.journal import Entry
from cookbook.kitchen import Kitchen
from cookbook.kitchen.adopting import Adopted, adoptions, write
from cookbook.kitchen.adopting.method import Method
from cookbook.kitchen.log import logbook, loglines
from tests.conftest import COOK, PASTE

AT = datetime(2026, 11, 21, 11, 5, tzinfo=timezone(timedelta(hours=1)))
MakeKitchen = Callable[..., Kitchen]
STEPS = COOK + "steps:\n  - Coat it.   # the evening before\n  - Rest it.\n"


def log(kitchen: Kitchen, entry: Entry, what: str, minutes: int = 0, **said: object) -> Entry:
    line = loglines.line_of(entry, what, {"piece": None, **said}, AT + timedelta(minutes=minutes))
    return logbook.add(kitchen, entry, line.change, line.words)


def begun(make_kitchen: MakeKitchen, cook: str = STEPS, paste: str = PASTE) -> tuple[Kitchen, Entry]:
    kitchen = make_kitchen({"recipes/walnut-paste.yaml": paste, "recipes/loin.yaml": cook})
    return kitchen, logbook.start(kitchen, "loin", {"": {"weight": "2.2 kg"}}, AT)


def text(kitchen: Kitchen, entry: Entry, **options: object) -> str:
    write(kitchen, entry, adoptions(kitchen, entry, **options))  # type: ignore[arg-type]
    return (kitchen.root / "recipes" / "loin.yaml").read_text()


def test_fire_pull_rest_and_a_step_change_in_their_places_and_nothing_else(make_kitchen: MakeKitchen) -> None:
    kitchen, entry = begun(make_kitchen)
    entry = log(kitchen, entry, "otherwise", pit="140C", pull_at="58C", rest="40 min", wood="oak", because="late")
    entry = log(kitchen, entry, "otherwise", did=["Coat it in the morning."], step="1")
    assert text(kitchen, entry) == STEPS.replace(
        "title: Loin over cherry\n", "title: Loin over cherry\nrevision: 1\n"
    ).replace("130 °C", "140 °C").replace("cooker: drum", "cooker: drum\n  wood: oak").replace(
        "pull_at: 60 °C", "pull_at: 58 °C"
    ).replace("25 min", "40 min").replace("Coat it.   #", "Coat it in the morning.   #")
    assert kitchen.entry(entry.name).adopted == "loin revision 1"


def test_what_the_cook_did_as_the_recipe_says_is_no_change(make_kitchen: MakeKitchen) -> None:
    kitchen, entry = begun(make_kitchen)
    entry = log(kitchen, entry, "otherwise", pull_at="60 °C", cooker="drum")
    with pytest.raises(RequestError, match="nothing to adopt"):
        adoptions(kitchen, entry)


def test_a_remark_and_a_probes_pull_are_offered_but_taken_only_when_asked_for(make_kitchen: MakeKitchen) -> None:
    kitchen, entry = begun(make_kitchen)
    entry = log(kitchen, entry, "reading", 90, values=["core=57.6C"])
    entry = log(kitchen, entry, "event", 91, did=["pulled"])
    entry = log(kitchen, entry, "otherwise", did=["Turn the drum to the wind."])
    with pytest.raises(RequestError, match="nothing to adopt"):
        adoptions(kitchen, entry)
    (offered,) = adoptions(kitchen, entry, keep=lambda _recipe, _line: True)
    shown = [(line.item, line.today, line.sure) for line in offered.changes if isinstance(line, Method)]
    assert shown == [("a step more", "Turn the drum to the wind.", False), ("pull at", "58 °C", False)]
    found = text(kitchen, entry, keep=lambda _recipe, line: line.item == "a step more")
    assert found.endswith("  - Rest it.\n  - Turn the drum to the wind.\n")
    assert "pull_at: 60 °C" in found


def test_a_reading_long_before_the_pull_is_no_pull_temperature(make_kitchen: MakeKitchen) -> None:
    kitchen, entry = begun(make_kitchen)
    entry = log(kitchen, entry, "reading", 30, values=["core=48C"])
    entry = log(kitchen, entry, "event", 91, did=["pulled"])
    with pytest.raises(RequestError, match="nothing to adopt"):
        adoptions(kitchen, entry, keep=lambda _recipe, _line: True)


def test_a_range_is_tightened_to_what_was_used(make_kitchen: MakeKitchen) -> None:
    paste = PASTE.replace("amount: 80 ml", "amount: 3-5 tbsp")
    cook = STEPS.replace("pull_at: 60 °C", "pull_at: 58-62 °C")
    kitchen, entry = begun(make_kitchen, cook, paste)
    entry = log(kitchen, entry, "used", item="olive oil", amount="4 tbsp", into=None)
    entry = log(kitchen, entry, "otherwise", pull_at="59 °C")
    first, second = adoptions(kitchen, entry)
    (oil,) = first.changes
    assert isinstance(oil, Adopted)
    assert (oil.tightened, str(oil.in_recipe)) == (True, "4 tbsp")
    assert b"amount: 4 tbsp" in first.data
    assert b"pull_at: 59 \xc2\xb0C" in second.data


def test_a_step_that_the_recipe_has_not_is_said(make_kitchen: MakeKitchen) -> None:
    kitchen, entry = begun(make_kitchen)
    entry = log(kitchen, entry, "otherwise", did=["Later."], step="7")
    with pytest.raises(RequestError, match="has 2"):
        adoptions(kitchen, entry)


def test_the_scale_of_the_recipe_stays(make_kitchen: MakeKitchen) -> None:
    kitchen, entry = begun(make_kitchen, STEPS.replace("60 °C", "140 °F"))
    entry = log(kitchen, entry, "reading", 90, values=["core=58C"])
    entry = log(kitchen, entry, "event", 91, did=["pulled"])
    (found,) = adoptions(kitchen, entry, keep=lambda _recipe, _line: True)
    assert [line.json()["in_recipe"] for line in found.changes] == ["136 °F"]
