"""Moments as people type them: RFC 3339, `14:05` of today, `yesterday 11:05`."""

from __future__ import annotations

import re
from datetime import datetime, timedelta

from cookbook.errors import RequestError

_TIME = re.compile(r"(?:(today|yesterday)\s+)?(\d{1,2}):(\d{2})")
_MEND = 'write it like 14:05, "yesterday 11:05" or 2026-11-21T11:05+01:00'


def now() -> datetime:
    """This moment, with the zone of this machine, to the second."""
    return datetime.now().astimezone().replace(microsecond=0)


def moment(words: str | None, today: datetime | None = None) -> datetime:
    """The moment that `words` name, with a zone; this one without words. Raises RequestError."""
    today = today or now()
    if words is None:
        return today
    found = _TIME.fullmatch(words.strip())
    if found is not None:
        day, hour, minute = found.group(1), int(found.group(2)), int(found.group(3))
        if hour > 23 or minute > 59:
            raise RequestError(f"'{words}' is no time of day", mend=_MEND, code="time")
        date = today.date() - timedelta(days=1 if day == "yesterday" else 0)
        return datetime(date.year, date.month, date.day, hour, minute).astimezone()
    try:
        said = datetime.fromisoformat(words.strip())
    except ValueError:
        raise RequestError(f"'{words}' is no time", mend=_MEND, code="time") from None
    return said if said.tzinfo is not None else said.astimezone()


def day_words(year: int, month: int, day: int, this_year: int) -> str:
    """A day as people say it: `14 Nov`, with its year where that is another one."""
    names = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
    return f"{day} {names[month - 1]}" + ("" if year == this_year else f" {year}")
