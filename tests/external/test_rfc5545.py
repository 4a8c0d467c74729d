"""The plan's calendar against RFC 5545, read back by two parsers: icalendar and vobject.

Sections: 3.1 content lines of at most 75 octets, folded by CRLF and a blank; 3.3.11 backslash, comma, semicolon and
line breaks escaped in text; 3.3.5 form 2, date with UTC time; 3.6.1 a VEVENT needs UID and DTSTAMP; 3.6.6 a display
alarm needs ACTION, DESCRIPTION and TRIGGER; 3.8.4.7 UID persistent and globally unique; 3.8.7.4 SEQUENCE counts
revisions.
"""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import icalendar
import pytest
import vobject

from cookbook.errors import RequestError
from cookbook.plan import Step, calendar, write
from cookbook.plan.icalendar_file import ALARMS_MIN

DAY = date(2026, 12, 25)
NOW = datetime(2026, 12, 20, 9, 0, tzinfo=UTC)
ZONE = timezone(timedelta(hours=1))
HARD = "Tent it; rest, 40 min\\ or so\nBack \N{HOT BEVERAGE} to “65–75 °C”, in a box: " + "so that it keeps, " * 8


def step(key: str, hour: int, minute: int = 0, **said: Any) -> Step:
    at = datetime(2026, 12, 25, hour, minute, tzinfo=ZONE)
    plain = {"dish": "Rib roast; on oak, with öl", "note": "", **said}
    return Step(key, plain.pop("what", key), at, at, at + timedelta(minutes=plain.pop("wide", 0)), **plain)


STEPS = [step("light", 12), step("on", 13), step("pull", 16, wide=70, note=HARD), step("serve", 18)]


def bytes_of(steps: list[Step]) -> bytes:
    return calendar("rib-roast-on-oak", "Rib roast on oak", DAY, steps, NOW)


def events(data: bytes) -> dict[str, Any]:
    return {str(event["UID"]): event for event in icalendar.Calendar.from_ical(data).walk("VEVENT")}


def test_lines_are_folded_at_75_octets_and_end_in_crlf() -> None:
    data = bytes_of(STEPS)
    assert data.endswith(b"\r\n")
    lines = data.split(b"\r\n")[:-1]
    assert all(len(line) <= 75 for line in lines)
    assert any(line.startswith(b" ") for line in lines)
    assert not re.search(rb"(?<!\r)\n", data)
    data.decode("utf-8")


def test_text_comes_back_from_both_readers_as_it_was() -> None:
    data = bytes_of(STEPS)
    by_icalendar = next(event for event in events(data).values() if "Pull" in event["SUMMARY"])
    (by_vobject,) = [
        one for one in vobject.readOne(data.decode("utf-8")).vevent_list if one.summary.value.startswith("Pull")
    ]
    for told in (str(by_icalendar["DESCRIPTION"]), by_vobject.description.value):
        assert told == f"16:00 to 17:10\n{HARD}"
    assert by_vobject.summary.value == str(by_icalendar["SUMMARY"]) == "Pull (Rib roast; on oak, with öl)"


def test_times_are_utc_for_both_readers() -> None:
    data = bytes_of(STEPS)
    stamps = re.findall(rb"(?:DTSTART|DTEND|DTSTAMP)(\S*?):(\S+)\r", data)
    assert len(stamps) == 3 * len(STEPS)
    assert all(re.fullmatch(rb"\d{8}T\d{6}Z", value) and not parameters for parameters, value in stamps)
    starts = sorted(event["DTSTART"].dt for event in events(data).values())
    assert starts == sorted(one.dtstart.value for one in vobject.readOne(data.decode()).vevent_list)
    assert starts[0] == datetime(2026, 12, 25, 11, 0, tzinfo=UTC)
    assert all(event["DTEND"].dt > event["DTSTART"].dt for event in events(data).values())


def test_required_properties_and_alarms_that_ring_before() -> None:
    data = bytes_of(STEPS)
    found: Any = icalendar.Calendar.from_ical(data)
    assert (str(found["VERSION"]), bool(found["PRODID"])) == ("2.0", True)
    for event in found.walk("VEVENT"):
        assert event["UID"]
        assert event["DTSTAMP"]
        for alarm in event.walk("VALARM"):
            assert {"ACTION", "DESCRIPTION", "TRIGGER"} <= set(alarm)
            assert alarm["TRIGGER"].dt <= timedelta(0)
    rings = [bool(event.walk("VALARM")) for event in found.walk("VEVENT")]
    assert rings == [one.key in ALARMS_MIN for one in STEPS]
    assert [hasattr(one, "valarm") for one in vobject.readOne(data.decode()).vevent_list] == rings


def test_a_plan_made_again_keeps_its_names_and_counts_only_what_changed(tmp_path: Path) -> None:
    path = tmp_path / "plan.ics"

    def put(steps: list[Step], day: date = DAY, now: datetime = NOW) -> dict[str, Any]:
        write(path, "rib-roast-on-oak", "Rib roast on oak", day, steps, now)
        return events(path.read_bytes())

    first = put(STEPS)
    same = put(STEPS, now=NOW + timedelta(hours=1))
    assert set(first) == set(same)
    assert {int(event["SEQUENCE"]) for event in same.values()} == {0}
    later = [one._replace(at=one.at + timedelta(minutes=30), earliest=one.earliest + timedelta(minutes=30),
                          latest=one.latest + timedelta(minutes=30)) for one in STEPS]  # fmt: skip
    moved = put([*later[:2], *STEPS[2:]])
    assert set(moved) == set(first)
    counts = {name.split("-")[-2].split("@")[0]: int(event["SEQUENCE"]) for name, event in moved.items()}
    assert sorted(int(event["SEQUENCE"]) for event in moved.values()) == [0, 0, 1, 1], counts
    other_day = put([one._replace(at=one.at + timedelta(days=1)) for one in later], date(2026, 12, 26))
    assert set(other_day) == set(first)


def test_a_step_that_fell_away_is_cancelled_and_one_that_is_past_is_left(tmp_path: Path) -> None:
    path = tmp_path / "plan.ics"
    write(path, "rib-roast-on-oak", "Rib roast on oak", DAY, STEPS, NOW)
    during = datetime(2026, 12, 25, 11, 30, tzinfo=UTC)
    write(path, "rib-roast-on-oak", "Rib roast on oak", DAY, STEPS[2:], during)
    found = {str(event["SUMMARY"]).split(" ")[0]: event for event in events(path.read_bytes()).values()}
    assert str(found["Light"]["STATUS"]) == "CONFIRMED"
    assert str(found["On"]["STATUS"]) == "CANCELLED"
    assert int(found["On"]["SEQUENCE"]) == 1
    assert not found["On"].walk("VALARM")
    assert vobject.readOne(path.read_text(encoding="utf-8"))


def test_another_meal_stays_and_somebody_elses_calendar_is_not_touched(tmp_path: Path) -> None:
    path = tmp_path / "plan.ics"
    write(path, "rib-roast-on-oak", "Rib roast on oak", DAY, STEPS, NOW)
    write(path, "leg-of-lamb", "Leg of lamb", DAY, STEPS[:2], NOW)
    assert len(events(path.read_bytes())) == 6
    lines = ("BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:x", "BEGIN:VEVENT", "UID:mine@example.org",
             "DTSTAMP:20260101T000000Z", "DTSTART:20260101T000000Z", "END:VEVENT", "END:VCALENDAR", "")  # fmt: skip
    foreign = "\r\n".join(lines).encode()
    for data in (foreign, b"no calendar at all"):
        path.write_bytes(data)
        with pytest.raises(RequestError, match="something else"):
            write(path, "rib-roast-on-oak", "Rib roast on oak", DAY, STEPS, NOW)
        assert path.read_bytes() == data


def test_steps_alike_have_names_of_their_own() -> None:
    twice = [step("season", 9, what="season: paste"), step("season", 10, what="season: paste")]
    assert len(events(bytes_of(twice))) == 2
