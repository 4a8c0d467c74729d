"""The plan as an iCalendar file (RFC 5545): UTC times, alarms, and names that a later plan keeps.

Each step has a UID made of what it is a step of, never of its time: a calendar that reads the file again moves what
it has. SEQUENCE counts up where a step changed since the file that is there; one still ahead that fell away is
cancelled.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cookbook.errors import RequestError, StorageError
from cookbook.files import hand_out
from cookbook.journal import slug
from cookbook.plan.step import Step

if TYPE_CHECKING:
    from icalendar import Calendar, Event

MAKER = "-//Carryover Cookbook//plan//EN"
DOMAIN = "carryover-cookbook"
ALARMS_MIN = {
    "buy": 0, "thaw": 0, "season": 0, "light": 15, "out": 5, "on": 10, "wrap": 10, "check": 10, "pull": 5,
    "slice": 10,
}  # fmt: skip
"""Minutes before a step at which the calendar calls; a step that isn't here is silent."""
_SHORTEST = timedelta(minutes=5)
_SAME = ("DTSTART", "DTEND", "SUMMARY", "DESCRIPTION", "STATUS")


def uid(meal: str, day: date, step: Step) -> str:
    """The lasting name of a step of the meal on a day."""
    dish = f"-{slug(step.dish)}" if step.dish else ""
    about = f"-{slug(step.what.partition(':')[2])}" if step.key == "season" else ""
    return f"{slug(meal)}-{day.isoformat()}{dish}-{step.key}{about}@{DOMAIN}"


def write(path: Path, meal: str, title: str, day: date, steps: Sequence[Step], now: datetime) -> int:
    """Write the plan to `path`, a plan of ours in it brought up to date; the number of its steps.

    Raises RequestError where the file holds somebody else's calendar, StorageError where the disk refuses.
    """
    before = _events(path)
    data = calendar(meal, title, day, steps, now, before)
    hand_out(path, data)
    return len(steps)


def calendar(
    meal: str, title: str, day: date, steps: Sequence[Step], now: datetime, before: Sequence[Any] = ()
) -> bytes:
    """The calendar's bytes; `before` are the events of the file that it takes the place of."""
    from icalendar import Calendar

    known = {str(event["UID"]): event for event in before}
    day = _first_planned(before, meal, now) or day
    found: Calendar = Calendar()
    found.add("PRODID", MAKER)
    found.add("VERSION", "2.0")
    found.add("CALSCALE", "GREGORIAN")
    found.add("METHOD", "PUBLISH")
    names: dict[str, int] = {}
    for step in steps:
        name = uid(meal, day, step)
        names[name] = names.get(name, 0) + 1
        if names[name] > 1:
            name = name.replace("@", f"-{names[name]}@")
        found.add_component(_numbered(_event(name, title, step, now), known.pop(name, None)))
    own = f"{slug(meal)}-{day.isoformat()}-"
    for name, event in known.items():
        ahead = name.startswith(own) and event["DTSTART"].dt >= now.astimezone(UTC)
        found.add_component(_cancelled(event, now) if ahead else event)
    data: bytes = found.to_ical()
    return data


def _first_planned(before: Sequence[Any], meal: str, now: datetime) -> date | None:
    """The day that a plan of this meal in the file was first made for, while it is ahead: a dinner that moves to
    another day stays the same dinner."""
    named = re.compile(rf"{re.escape(slug(meal))}-(\d{{4}}-\d{{2}}-\d{{2}})-")
    for event in before:
        match = named.match(str(event["UID"]))
        if match and str(event.get("STATUS")) != "CANCELLED" and event["DTSTART"].dt >= now.astimezone(UTC):
            return date.fromisoformat(match[1])
    return None


def _event(name: str, title: str, step: Step, now: datetime) -> Event:
    from icalendar import Alarm, Event

    event: Event = Event()
    start = (step.earliest if step.key in ("check", "pull") else step.at).astimezone(UTC)
    end = max(step.latest.astimezone(UTC), start + _SHORTEST) if step.key in ("pull", "stall") else start + _SHORTEST
    event.add("UID", name)
    event.add("DTSTAMP", now.astimezone(UTC))
    event.add("DTSTART", start)
    event.add("DTEND", end)
    event.add("SUMMARY", _capital(f"{step.what} ({step.dish or title})"))
    told = [f"{step.earliest:%H:%M} to {step.latest:%H:%M}"] if step.earliest != step.latest else []
    event.add("DESCRIPTION", "\n".join([*told, *(words for words in (step.note, step.shot) if words)]) or step.what)
    event.add("TRANSP", "TRANSPARENT")
    event.add("STATUS", "CONFIRMED")
    if step.key in ALARMS_MIN and not step.done:
        alarm: Alarm = Alarm()
        alarm.add("ACTION", "DISPLAY")
        alarm.add("DESCRIPTION", _capital(step.what))
        alarm.add("TRIGGER", timedelta(minutes=-ALARMS_MIN[step.key]))
        event.add_component(alarm)
    return event


def _capital(words: str) -> str:
    return words[:1].upper() + words[1:]


def _numbered(event: Event, old: Any) -> Event:
    """With the next number where the step changed, else as it was."""
    if old is None:
        event.add("SEQUENCE", 0)
        return event
    last = int(old.get("SEQUENCE", 0))
    same = all(_text(event, key) == _text(old, key) for key in _SAME)
    event.add("SEQUENCE", last if same else last + 1)
    return event


def _text(event: Any, key: str) -> object:
    value = event.get(key)
    return value.dt if hasattr(value, "dt") else str(value)


def _cancelled(event: Any, now: datetime) -> Any:
    if str(event.get("STATUS")) == "CANCELLED":
        return event
    last = int(event.pop("SEQUENCE", 0))
    for key in ("STATUS", "DTSTAMP"):
        event.pop(key, None)
    event.add("STATUS", "CANCELLED")
    event.add("DTSTAMP", now.astimezone(UTC))
    event.add("SEQUENCE", last + 1)
    event.subcomponents = []
    return event


def _events(path: Path) -> list[Any]:
    """The events of the plan in the file; none where there is no file."""
    from icalendar import Calendar

    try:
        data = path.read_bytes()
    except FileNotFoundError:
        return []
    except OSError as fault:
        raise StorageError(str(path), fault.strerror or str(fault)) from None
    try:
        found = Calendar.from_ical(data)
        events = list(found.walk("VEVENT"))
    except ValueError:
        events, found = [], None
    if found is None or any(not str(event.get("UID", "")).endswith(f"@{DOMAIN}") for event in events):
        raise RequestError(
            f"{path} holds something else than plans of this cookbook; nothing was written",
            mend="name another file with --ics",
        )
    return events
