"""Where a cook stands, in words that agree with the forecast behind them."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import datetime, timedelta
from functools import partial

import pytest

from cookbook.heat import forecast
from cookbook.kitchen import Kitchen
from cookbook.kitchen.care import of_entry
from cookbook.kitchen.clock import now
from cookbook.kitchen.forecasting.clockcurve import clock_curve
from cookbook.kitchen.forecasting.standing import Ahead, Standing, ahead, last_wood, safety_so_far, standing
from cookbook.kitchen.log import logbook, once
from tests.conftest import COOK, PASTE

HERE = now().replace(hour=15, minute=2, second=0)


class Cook:
    """One small cook, told line by line."""

    def __init__(self, kitchen: Kitchen) -> None:
        self.kitchen = kitchen
        self.name = logbook.start(kitchen, "loin", {"": {"weight": "1.2 kg"}}, HERE - timedelta(hours=2)).name

    def did(self, what: str, minutes_ago: int) -> None:
        once.log(self.kitchen, self.name, "event", {"did": [what]}, HERE - timedelta(minutes=minutes_ago))

    def read(self, core: str, minutes_ago: int) -> None:
        once.log(self.kitchen, self.name, "reading", {"values": [core]}, HERE - timedelta(minutes=minutes_ago))

    def stands(self, at: datetime = HERE) -> tuple[Ahead, Standing]:
        entry = self.kitchen.entry(self.name)
        (one,) = ahead(self.kitchen, entry)
        return one, standing(self.kitchen, entry, one, at)


@pytest.fixture(autouse=True)
def few_members(monkeypatch: pytest.MonkeyPatch) -> None:
    """The words are asked for, not the forecast: a small ensemble tells enough."""
    monkeypatch.setattr("cookbook.kitchen.forecasting.outlook.forecast", partial(forecast, members=30))


@pytest.fixture
def cook(make_kitchen: Callable[..., Kitchen]) -> Cook:
    return Cook(make_kitchen())


def minutes_of(line: str) -> list[int]:
    """The times of day in a sentence, in minutes from two hours before it was said."""
    return [
        (int(hour) * 60 + int(minute) - HERE.hour * 60 - HERE.minute + 120) % 1440
        for hour, minute in re.findall(r"(\d\d):(\d\d)", line)
    ]


def test_before_the_fire_it_says_how_long_and_what_first(cook: Cook) -> None:
    _, stands = cook.stands()
    assert re.fullmatch(r"once on, .* to the pull at 60 °C", stands.line)
    assert stands.next == "light the fire"
    cook.did("lit", 10)
    assert cook.stands()[1].next == "put it on, and say so"


def test_on_the_fire_the_line_holds_the_forecast_to_five_minutes(cook: Cook) -> None:
    cook.did("on", 40)
    one, stands = cook.stands()
    assert one.forecast is not None
    pull = one.forecast.minutes_to_pull
    assert pull.p10 is not None
    assert pull.p90 is not None
    early, late, check = minutes_of(stands.line)
    on = 120 - 40
    assert 0 <= on + pull.p10 + 25 - early < 5
    assert 0 <= late - (on + pull.p90 + 25) < 5
    assert 0 <= on + pull.p10 - check < 5
    assert stands.slicing is not None
    assert minutes_of(stands.slicing)[:2] == [early, late]
    assert stands.peak is not None


def test_what_comes_next_follows_the_core_and_the_clock(cook: Cook) -> None:
    cook.did("on", 40)
    one, stands = cook.stands(HERE - timedelta(minutes=39))
    assert re.fullmatch(r"look at the thermometer from \d\d:\d\d; pull at 60 °C", stands.next)
    assert one.forecast is not None
    entry, (on, pull) = cook.kitchen.entry(cook.name), (HERE - timedelta(minutes=40), one.forecast.minutes_to_pull)
    assert pull.p10 is not None
    assert pull.p90 is not None
    near = on + timedelta(minutes=pull.p90 - 1)
    stands = standing(cook.kitchen, entry, one, near)
    assert stands.next == "look every 10 minutes; pull at 60 °C"
    assert stands.line.startswith("on the table")
    before = standing(cook.kitchen, entry, one, on + timedelta(minutes=pull.p10 - 60))
    assert minutes_of(before.line)[0] < minutes_of(stands.line)[0], "no time is promised that has passed"
    late = standing(cook.kitchen, entry, one, HERE + timedelta(hours=5))
    assert late.next == "read the core now; pull at 60 °C"
    assert late.slicing is None
    assert minutes_of(late.line)[0] in range(120 + 5 * 60 + 25, 120 + 5 * 60 + 31), "five hours on, and the rest"
    deep = {"values": ["core=63C"], "depth": "1cm"}
    once.log(cook.kitchen, cook.name, "reading", deep, HERE - timedelta(minutes=2))
    assert not cook.stands()[1].next.startswith("pull it now"), "a probe near the surface is no core"
    cook.read("core=61C", 1)
    assert cook.stands()[1].next == "pull it now: the core is at 61 °C"


@pytest.mark.long
@pytest.mark.tenth
def test_after_the_pull_it_says_from_when_to_when(cook: Cook) -> None:
    cook.did("on", 80)
    cook.read("core=59C", 3)
    cook.did("pulled", 2)
    one, stands = cook.stands()
    (begin, *end) = minutes_of(stands.line)
    assert stands.line.startswith("slice from")
    assert 118 + 25 <= begin < 118 + 30
    if end:
        assert one.keeps_min is not None
        assert 0 <= 118 + one.keeps_min - end[0] < 5
    assert stands.next.startswith("let it rest until")
    assert cook.stands(HERE + timedelta(minutes=40))[1].next == "slice"
    cook.did("sliced", 0)
    assert cook.stands()[1].line.startswith("sliced")


def test_the_kitchen_s_scale_is_the_one_on_the_screen(make_kitchen: Callable[..., Kitchen]) -> None:
    files = {
        "recipes/walnut-paste.yaml": PASTE,
        "recipes/loin.yaml": COOK,
        "shared/kitchen.yaml": "temperature: F\n",
    }
    cook = Cook(make_kitchen(files))
    cook.did("on", 30)
    one, stands = cook.stands()
    assert "140 °F" in stands.next
    curve = clock_curve(cook.kitchen, cook.kitchen.entry(cook.name), one, HERE)
    assert curve is not None
    assert curve.unit == "°F"
    assert curve.level is not None
    assert curve.level[0] == pytest.approx(140)


def test_the_curve_is_drawn_by_the_clock_with_every_reading(cook: Cook) -> None:
    cook.did("on", 40)
    for core, ago in (("core=9C", 30), ("core=16C", 15), ("core=25C", 1)):
        cook.read(core, ago)
    one, _ = cook.stands()
    curve = clock_curve(cook.kitchen, cook.kitchen.entry(cook.name), one, HERE)
    assert curve is not None
    assert list(curve.read) == [(10, 9), (25, 16), (39, 25)]
    assert all(low <= high for _, low, high in curve.band)
    marks = [name for _, name in sorted(curve.marks)]
    assert marks == ["now", "check"]
    for minute, name in curve.x_ticks:
        at = HERE - timedelta(minutes=40) + timedelta(minutes=minute)
        assert f"{at:%H:%M}" == name


def test_the_last_wood_is_wood_or_fuel(cook: Cook) -> None:
    found = [last_wood(cook.kitchen.entry(cook.name))]
    for what, ago in (("wood added", 50), ("fuel added", 20), ("turned", 5)):
        cook.did(what, ago)
        found.append(last_wood(cook.kitchen.entry(cook.name)))
    wood, fuel = HERE - timedelta(minutes=50), HERE - timedelta(minutes=20)
    assert found == [None, wood, fuel, fuel]
    cook.did("pulled", 2)
    assert last_wood(cook.kitchen.entry(cook.name)) is None


def test_a_pit_that_is_too_cold_promises_nothing(make_kitchen: Callable[..., Kitchen]) -> None:
    cold = COOK.replace("130 °C", "62 °C").replace("pull_at: 60 °C", "pull_at: 75 °C")
    cook = Cook(make_kitchen({"recipes/walnut-paste.yaml": PASTE, "recipes/loin.yaml": cold}))
    cook.did("on", 30)
    _, stands = cook.stands()
    assert stands.line == "it does not get there as it is"
    assert "never reaches" in stands.warnings[0]


def test_before_the_pull_it_is_no_warning_that_the_core_is_not_there_yet(cook: Cook) -> None:
    cook.did("on", 60)
    cook.read("core=24", 20)
    cook.read("core=31", 5)
    entry = cook.kitchen.entry(cook.name)
    found = safety_so_far(cook.kitchen, entry)
    assert "household minimum" in [one.rule for one in found.to_come]
    assert found.urgent == []
    assert {one.level for one in found.found} == {"note"}
    cook.did("pulled", 1)
    after = safety_so_far(cook.kitchen, cook.kitchen.entry(cook.name))
    assert after.to_come == []
    assert "household minimum" in {one.rule for one in after.found if one.level != "note"}


def test_what_cannot_wait_comes_first(cook: Cook) -> None:
    once.log(cook.kitchen, cook.name, "line", {"words": ["it lay out raw"]}, HERE - timedelta(hours=9))
    cook.did("on", 10)
    every = of_entry(cook.kitchen, cook.kitchen.entry(cook.name))
    found = safety_so_far(cook.kitchen, cook.kitchen.entry(cook.name))
    grave = [one for one in every if one.level != "note"]
    assert sorted(one.rule for one in [*found.urgent, *found.to_come]) == sorted(one.rule for one in grave)
