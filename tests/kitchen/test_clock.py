"""Times as people type them, read by the clock they look at."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from cookbook.errors import RequestError
from cookbook.kitchen.clock import coming, moment

SUNDAY = datetime(2026, 11, 22, 0, 10).astimezone()


def said(words: str, here: datetime = SUNDAY, begun: date | None = None) -> str:
    return f"{moment(words, here, begun):%Y-%m-%d %H:%M:%S}"


@pytest.mark.parametrize(
    ("words", "meant"),
    [
        ("00:05", "2026-11-22 00:05:00"),
        ("0:05", "2026-11-22 00:05:00"),
        ("23:50", "2026-11-21 23:50:00"),
        ("23:50:30", "2026-11-21 23:50:30"),
        ("yesterday 11:05", "2026-11-21 11:05:00"),
        ("11:05 yesterday", "2026-11-21 11:05:00"),
        ("day before yesterday 11:05", "2026-11-20 11:05:00"),
        ("2 days ago, 11:05", "2026-11-20 11:05:00"),
        ("Saturday 9 pm", "2026-11-21 21:00:00"),
        ("sat at 9:30pm", "2026-11-21 21:30:00"),
        ("Sunday 0:05", "2026-11-22 00:05:00"),
        ("last Sunday 11:05", "2026-11-15 11:05:00"),
        ("yesterday noon", "2026-11-21 12:00:00"),
        ("12 am", "2026-11-22 00:00:00"),
        ("14h05", "2026-11-21 14:05:00"),
        ("20 min ago", "2026-11-21 23:50:00"),
        ("2 hours ago", "2026-11-21 22:10:00"),
        ("half past two", "2026-11-21 14:30:00"),
        ("quarter to three", "2026-11-21 14:45:00"),
        ("at ten past 12", "2026-11-22 00:10:00"),
        ("yesterday half past nine", "2026-11-21 21:30:00"),
        ("two o'clock", "2026-11-21 14:00:00"),
        ("one o'clock", "2026-11-21 13:00:00"),
        ("an hour ago", "2026-11-21 23:10:00"),
        ("half an hour ago", "2026-11-21 23:40:00"),
        ("two hours ago", "2026-11-21 22:10:00"),
        ("twenty minutes ago", "2026-11-21 23:50:00"),
        ("half a minute ago", "2026-11-22 00:09:30"),
        ("ten min ago", "2026-11-22 00:00:00"),
        ("14 Nov 11:05", "2026-11-14 11:05:00"),
        ("14. november 11:05", "2026-11-14 11:05:00"),
        ("11:05 14 Nov", "2026-11-14 11:05:00"),
        ("31 Dec 23:50", "2025-12-31 23:50:00"),
        ("14 Nov 2024, 11:05", "2024-11-14 11:05:00"),
        ("12 o'clock", "2026-11-22 00:00:00"),
        ("just now", "2026-11-22 00:10:00"),
        ("2026-11-14 11:05", "2026-11-14 11:05:00"),
        ("2026-11-21T11:05:00+01:00", "2026-11-21 11:05:00"),
    ],
)
def test_times_as_people_type_them(words: str, meant: str) -> None:
    assert said(words) == meant


def test_a_time_without_a_day_is_never_before_the_day_the_entry_began() -> None:
    morning = datetime(2026, 11, 21, 9, 0).astimezone()
    assert said("14:05", morning, date(2026, 11, 21)) == "2026-11-21 14:05:00"
    assert said("14:05", morning, date(2026, 11, 20)) == "2026-11-20 14:05:00"


def test_a_watch_that_runs_ahead_a_little_is_still_todays() -> None:
    morning = datetime(2026, 11, 21, 9, 0).astimezone()
    assert said("9:10", morning, date(2026, 11, 20)) == "2026-11-21 09:10:00"


NO_TIMES = ("", "25:00", "14:61", "9", "13 pm", "soon", "2026-02-30 11:05", "14.05", "half past 13", "two")


@pytest.mark.parametrize("words", NO_TIMES)
def test_what_is_no_time_says_how_to_write_one(words: str) -> None:
    with pytest.raises(RequestError) as caught:
        moment(words, SUNDAY)
    assert caught.value.mend is not None
    assert "14:05" in caught.value.mend


@pytest.mark.parametrize(
    ("words", "day", "hour", "minute"),
    [
        ("18:30", 21, 18, 30),
        ("tomorrow 18:30", 22, 18, 30),
        ("day after tomorrow 7 pm", 23, 19, 0),
        ("Sunday noon", 22, 12, 0),
        ("next Saturday 18:30", 28, 18, 30),
        ("2026-11-30T18:30", 30, 18, 30),
    ],
)
def test_a_time_ahead(words: str, day: int, hour: int, minute: int) -> None:
    saturday = datetime(2026, 11, 21, 12, 0).astimezone()
    found = coming(words, saturday)
    assert (found.day, found.hour, found.minute) == (day, hour, minute)
    assert found.utcoffset() is not None


@pytest.mark.parametrize("words", ["purple", "18", "tomorrow", "Saturday", "25:00", "tomorrow 25:00", ""])
def test_what_is_no_time_ahead_is_refused_with_examples(words: str) -> None:
    with pytest.raises(RequestError) as fault:
        coming(words, datetime(2026, 11, 21, 12, 0).astimezone())
    assert fault.value.mend


def test_days_and_seconds_are_said_and_bounded() -> None:
    from cookbook.kitchen.clock import day_words

    assert day_words(2026, 1, 3, 2026) == "3 Jan"
    assert day_words(2025, 12, 31, 2026) == "31 Dec 2025"
    assert said("2026-11-14 11:05:59") == "2026-11-14 11:05:59"
    with pytest.raises(RequestError):
        said("11:05:60")


def test_words_for_the_hour_mean_the_last_one_by_day_or_by_night() -> None:
    early = datetime(2026, 11, 21, 1, 0).astimezone()
    assert said("half past two", early) == "2026-11-20 14:30:00"
    assert said("half past twelve", early) == "2026-11-21 00:30:00"
    assert said("today half past two", early) == "2026-11-21 14:30:00"


@pytest.mark.parametrize(
    ("words", "meant"),
    [
        ("24 Dec 18:30", "2026-12-24 18:30"),
        ("3 Jan 12:00", "2027-01-03 12:00"),
        ("21 Nov 18:30", "2026-11-21 18:30"),
        ("21 Nov 9:00", "2027-11-21 09:00"),
        ("24 Dec 2026 18:30", "2026-12-24 18:30"),
    ],
)
def test_a_date_ahead_is_the_next_one(words: str, meant: str) -> None:
    assert f"{coming(words, datetime(2026, 11, 21, 12, 0).astimezone()):%Y-%m-%d %H:%M}" == meant
