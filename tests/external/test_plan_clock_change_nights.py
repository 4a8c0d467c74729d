"""Plans over the nights in which clocks change, in two zones by the laws that set them (POSIX rules).

European Union: Directive 2000/84/EC, from 01:00 UTC of the last Sunday in March to 01:00 UTC of the last Sunday in
October. United States: Energy Policy Act of 2005, section 110 (15 U.S.C. 260a): from 02:00 of the second Sunday in
March to 02:00 of the first Sunday in November. Meat takes the minutes it takes, whatever the clock does meanwhile.
"""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from cookbook.kitchen.clock import coming
from cookbook.plan.step import Wall
from cookbook.plan.timeline import Wishes, day, in_order
from tests.external.conftest import BERLIN, NEW_YORK
from tests.plan.days import FIRE, dish

NIGHTS = [
    # zone, serving by the clock of that day, hours in that day, hours from UTC when it goes on and when it is cut
    (BERLIN, (2026, 3, 29, 12, 0), 23, 1, 2),
    (BERLIN, (2026, 10, 25, 12, 0), 25, 2, 1),
    (NEW_YORK, (2026, 3, 8, 12, 0), 23, -5, -4),
    (NEW_YORK, (2026, 11, 1, 12, 0), 25, -4, -5),
]


@pytest.mark.parametrize(("zone", "eat", "hours", "before", "after"), NIGHTS, indirect=["zone"])
@pytest.mark.usefixtures("zone")
def test_the_meat_takes_its_minutes_and_every_time_is_told_by_the_clock_of_its_moment(
    eat: tuple[int, ...], hours: int, before: int, after: int
) -> None:
    serve = datetime(*eat).astimezone()  # type: ignore[arg-type]
    midnight = datetime(*eat[:3]).astimezone()  # type: ignore[arg-type]
    assert datetime(*eat[:3]).replace(hour=23, minute=59).astimezone() - midnight == timedelta(  # type: ignore[arg-type]
        hours=hours, minutes=-1
    )
    # Twelve to fourteen hours on the heat: it goes on before the change and comes off after it.
    one = dish((600.0, 660.0, 720.0))
    wall = Wall(serve)
    found = day(one, [], FIRE, serve, Wishes(), wall)
    told = {step.key: step for step in in_order([found], wall)}
    took = told["pull"].latest.astimezone(UTC) - told["on"].at.astimezone(UTC)
    assert took.total_seconds() / 60 == pytest.approx(720, abs=1)
    assert told["on"].at.utcoffset() == timedelta(hours=before)
    assert told["slice"].at.utcoffset() == timedelta(hours=after)
    # By hand: 720 min on the heat, 25 of rest, 12 to slice, before 12:00; the clock shows an hour more or less.
    on_clock = datetime(*eat) - timedelta(minutes=757) + timedelta(hours=before - after)  # type: ignore[arg-type]
    shown = told["on"].at.replace(tzinfo=None)
    assert timedelta(0) <= on_clock - shown < timedelta(minutes=5)
    assert told["on"].at.isoformat().endswith(f"{before:+03d}:00")


@pytest.mark.parametrize(
    ("zone", "now", "typed", "expected"),
    [
        (BERLIN, (2026, 10, 24, 12, 0), "tomorrow 12:00", (2026, 10, 25, 11, 0)),
        (BERLIN, (2026, 3, 28, 12, 0), "tomorrow 12:00", (2026, 3, 29, 10, 0)),
        (NEW_YORK, (2026, 10, 31, 12, 0), "Sunday noon", (2026, 11, 1, 17, 0)),
        (NEW_YORK, (2026, 3, 7, 12, 0), "Sunday 6 pm", (2026, 3, 8, 22, 0)),
    ],
    indirect=["zone"],
)
@pytest.mark.usefixtures("zone")
def test_a_time_ahead_is_by_the_clock_of_its_own_day(
    now: tuple[int, ...], typed: str, expected: tuple[int, ...]
) -> None:
    here = datetime(*now).astimezone()  # type: ignore[arg-type]
    assert coming(typed, here) == datetime(*expected).replace(tzinfo=UTC)  # type: ignore[arg-type]


@pytest.mark.parametrize("zone", [BERLIN], indirect=True)
@pytest.mark.usefixtures("zone")
def test_a_meal_in_another_zone_is_told_in_that_one() -> None:
    serve = datetime.fromisoformat("2026-12-25T18:00:00-05:00")
    wall = Wall(serve)
    found = in_order([day(dish(), [], FIRE, serve, Wishes(), wall)], wall)
    assert {step.at.utcoffset() for step in found} == {timedelta(hours=-5)}
