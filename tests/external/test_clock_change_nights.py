"""Nights in which clocks change, by the laws that set them; the rules are written as POSIX time zones.

European Union: Directive 2000/84/EC, articles 1 to 3: from 01:00 UTC of the last Sunday in March to 01:00 UTC of the
last Sunday in October. United States: Energy Policy Act of 2005, section 110 (15 U.S.C. 260a): from 02:00 of the
second Sunday in March to 02:00 of the first Sunday in November. Lord Howe Island goes by half an hour (Standard Time
Act 1987 of New South Wales, section 3 and its order).
"""

from __future__ import annotations

import time
from datetime import UTC, datetime, timedelta

import pytest

from cookbook.journal.probelog import Said, understand
from cookbook.kitchen.clock import jumped, moment, read_back
from tests.external.conftest import BERLIN, NEW_YORK

LORD_HOWE = "LHST-10:30LHDT-11,M10.1.0/2,M4.1.0/2"

def local(*utc: int) -> datetime:
    return datetime(*utc, tzinfo=UTC).astimezone()  # type: ignore[arg-type, misc]


@pytest.mark.parametrize(
    ("zone", "before", "after"),
    [(BERLIN, (2026, 10, 25, 0, 40), (2026, 10, 25, 1, 40)), (NEW_YORK, (2026, 11, 1, 5, 40), (2026, 11, 1, 6, 40))],
    indirect=["zone"],
)
@pytest.mark.usefixtures("zone")
def test_in_autumn_the_hour_that_comes_twice_is_the_last_one_that_passed(
    before: tuple[int, ...], after: tuple[int, ...]
) -> None:
    first, second = local(*before), local(*after)
    typed = f"{first:%H}:30"
    assert typed == f"{second:%H}:30"
    early, late = moment(typed, first), moment(typed, second)
    assert late - early == timedelta(hours=1)
    assert first - early == second - late == timedelta(minutes=10)
    assert read_back(early, first).endswith(f"({early:%z})")


@pytest.mark.parametrize(
    ("zone", "now", "typed", "meant"),
    [
        (BERLIN, (2026, 3, 29, 6, 0), "02:30", (2026, 3, 29, 1, 30)),
        (NEW_YORK, (2026, 3, 8, 12, 0), "02:30", (2026, 3, 8, 7, 30)),
        (LORD_HOWE, (2026, 10, 3, 20, 0), "02:15", (2026, 10, 3, 15, 45)),
    ],
    indirect=["zone"],
)
@pytest.mark.usefixtures("zone")
def test_in_spring_a_time_that_was_left_out_comes_from_a_clock_not_yet_set_and_is_said(
    now: tuple[int, ...], typed: str, meant: tuple[int, ...]
) -> None:
    at = moment(typed, local(*now))
    assert at == local(*meant)
    said = jumped(typed, at)
    assert said is not None
    assert typed in said
    assert f"{at:%H:%M}" in said
    assert jumped("04:30", moment("04:30", local(*now))) is None


@pytest.mark.parametrize("zone", [BERLIN], indirect=True)
@pytest.mark.usefixtures("zone")
def test_a_roast_through_the_autumn_night_takes_its_real_time() -> None:
    here = local(2026, 10, 25, 9, 0)
    on, pulled = moment("2026-10-24 22:00", here), moment("08:00", here)
    assert pulled - on == timedelta(hours=11)


@pytest.mark.parametrize("zone", [BERLIN, NEW_YORK], indirect=True)
@pytest.mark.usefixtures("zone")
def test_a_log_by_a_local_clock_through_the_autumn_night_never_goes_back() -> None:
    start = local(2026, 10, 24, 22, 0) if time.tzname[0] == "CET" else local(2026, 11, 1, 2, 0)
    instants = [start + timedelta(minutes=20 * n) for n in range(20)]
    text = "time,core °C\n" + "".join(f"{at.astimezone():%Y-%m-%d %H:%M},{5 + n}\n" for n, at in enumerate(instants))
    assert list(understand(text.encode(), Said()).at) == instants


@pytest.mark.parametrize("zone", [BERLIN], indirect=True)
@pytest.mark.usefixtures("zone")
def test_a_log_with_a_clock_alone_goes_through_midnight_and_the_autumn_hour() -> None:
    instants = [local(2026, 10, 24, 18, 0) + timedelta(minutes=30 * n) for n in range(24)]
    text = "time,core °C\n" + "".join(f"{at.astimezone():%H:%M},{5 + n}\n" for n, at in enumerate(instants))
    assert list(understand(text.encode(), Said(), near=instants[0].date()).at) == instants
