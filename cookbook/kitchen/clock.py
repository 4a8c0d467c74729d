"""Moments as people type them: RFC 3339, `14:05`, `yesterday 11:05`, `Saturday 9 pm`, `27 Nov 11:05`, `20 min ago`.

A time without a day is the last one that the clock showed, so that 23:50 typed after midnight is the evening before.
In the night when clocks go back, an hour comes twice: the later one is meant where it has passed by now. In the night
when they go forward, an hour is missing: such a time comes from a clock that nobody has set, and is read by that.
"""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta

from cookbook.errors import RequestError
from cookbook.journal.daytime import AGO, ago, worded

_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_DAY = (
    r"(?P<day>today|yesterday|day before yesterday|(?:last )?(?:"
    + "|".join(f"{day}|{day[:3]}" for day in _DAYS)
    + r")|\d{1,2} days? ago|\d{4}-\d{2}-\d{2}|\d{1,2}\.? (?:"
    + "|".join(_MONTHS)
    + r")[a-z]*(?: \d{4})?)"
)
_HOUR = (
    r"(?:at )?(?:(?P<hour>\d{1,2})(?:[:h](?P<minute>\d{2})(?::(?P<second>\d{2}))?)?\s?(?P<half>am|pm)?"
    r"|(?P<word>noon|midnight))"
)
_TIME = re.compile(rf"(?:{_DAY},? )?{_HOUR}", re.I)
_TIME_FIRST = re.compile(rf"{_HOUR},? {_DAY}", re.I)
_WORDED = re.compile(rf"(?:{_DAY},? )?(?:at )?(?P<time>[a-z].*|\d{{1,2}} o'?clock)", re.I)
_DATED = re.compile(r"(\d{1,2})\.? ((?!day)[a-z]{3})[a-z]*(?: (\d{4}))?$")
_AGO = re.compile(AGO, re.I)
_MEND = 'write it like 14:05, "yesterday 11:05" or 2026-11-21T11:05+01:00'
_AHEAD_DAYS = ("today", "tomorrow", "day after tomorrow")
_COMING = re.compile(
    r"(?:(?P<day>today|tomorrow|day after tomorrow|(?:next )?(?:"
    + "|".join(f"{day}|{day[:3]}" for day in _DAYS)
    + r")),? )?(?P<time>.+)",
    re.I,
)
_MEND_COMING = 'write it like 18:30, "tomorrow 18:30", "Saturday 18:30" or 2026-11-21T18:30'
AHEAD = timedelta(minutes=15)
"""How far a wristwatch may run ahead of this machine before its time is read as the day before's."""


def now() -> datetime:
    """This moment, with the zone of this machine, to the second."""
    return datetime.now().astimezone().replace(microsecond=0)


def moment(words: str | None, today: datetime | None = None, begun: date | None = None) -> datetime:
    """The moment that `words` name, with a zone; this one without words. Raises RequestError.

    `begun` is the day that the entry began: a time without a day is never read as one before it.
    """
    here = today or now()
    if words is None:
        return here
    said = " ".join(words.split())
    if said.casefold() in ("now", "just now", "right now"):
        return here
    if _AGO.fullmatch(said):
        return (here - timedelta(minutes=ago(said))).astimezone()
    found = _TIME.fullmatch(said) or _TIME_FIRST.fullmatch(said)
    if found is not None and (found.group("word") or found.group("minute") or found.group("half")):
        return _typed(found, words, here, begun)
    by_words = _WORDED.fullmatch(said)
    clock = worded(by_words.group("time")) if by_words is not None else None
    if by_words is not None and clock is not None:
        return _half_day(clock, _day(by_words.group("day"), here), here, begun)
    try:
        full = datetime.fromisoformat(said.upper().replace("T ", "T"))
    except ValueError:
        raise RequestError(f"'{words}' is no time", mend=_MEND, code="time") from None
    return full if full.tzinfo is not None else _zoned(full, here)


def coming(words: str, today: datetime | None = None) -> datetime:
    """The moment ahead that `words` name, with a zone: `18:30` of today, `tomorrow 18:30`, `Saturday 18:30`, or date
    and time in full. Raises RequestError.
    """
    here = today or now()
    said = " ".join(words.split())
    found = _COMING.fullmatch(said)
    if found is None or re.match(r"\d{4}-", said):
        return moment(said, here) if found is not None else _no_time(words)
    clock = _TIME.fullmatch(said[found.end("day") :].strip(" ,") if found["day"] else said)
    if clock is None or not (clock.group("word") or clock.group("minute") or clock.group("half")):
        return _no_time(words)
    if clock.group("day"):
        at = moment(said, here)
        dated = _DATED.match(clock.group("day").casefold())
        if dated is None or dated[3] or at >= here:
            return at
        return _no_time(words) if (at.month, at.day) == (2, 29) else at.replace(year=at.year + 1)
    day = (found["day"] or "today").casefold()
    ahead = ("today", "tomorrow", "day after tomorrow").index(day) if day in _AHEAD_DAYS else 0
    if day not in _AHEAD_DAYS:
        number = next(n for n, name in enumerate(_DAYS) if name.startswith(day.removeprefix("next ")[:3]))
        ahead = (number - here.weekday()) % 7 or 7
    return _at(here.date() + timedelta(days=ahead), _of_day(clock, words), here)


def _no_time(words: str) -> datetime:
    raise RequestError(f"'{words}' is no time", mend=_MEND_COMING, code="time")


def jumped(words: str | None, at: datetime) -> str | None:
    """A sentence where the clock jumped over the time that `words` name, so that it was read as one not yet set."""
    if words is None:
        return None
    typed = re.search(r"(\d{1,2})[:h](\d{2})", words)
    if typed is None or "ago" in words or re.search(r"([+-]\d{2}:\d{2}|Z)$", words.strip(), re.I):
        return None
    if (int(typed.group(1)) % 12, int(typed.group(2))) == (at.hour % 12, at.minute):
        return None
    return (
        f"the clocks went forward that night and left out {typed.group()}; "
        f"it was read by a clock not yet set, as {at:%H:%M}"
    )


def read_back(at: datetime, today: datetime | None = None) -> str:
    """A moment as it is read back: `14:05`, with its day where that isn't today, with its offset where the clock
    shows that time twice."""
    here = today or now()
    day = "" if at.date() == here.date() else f"{day_words(at.year, at.month, at.day, here.year)} "
    naive = at.replace(tzinfo=None)
    twice = naive.replace(fold=0).astimezone().utcoffset() != naive.replace(fold=1).astimezone().utcoffset()
    return f"{day}{at:%H:%M}" + (f" ({at:%z})" if twice else "")


def other_day(at: datetime, today: datetime | None = None) -> str:
    """`24 Nov 11:05, ` as a lead where a moment is of another day than today, else nothing."""
    here = today or now()
    return "" if at.date() == here.date() else f"{read_back(at, here)}, "


def _typed(found: re.Match[str], words: str, here: datetime, begun: date | None) -> datetime:
    clock = _of_day(found, words)
    day = _day(found.group("day"), here)
    if day is not None:
        return _at(day, clock, here)
    at = _at(here.date(), clock, here)
    before = here.date() - timedelta(days=1)
    late = at > here + (AHEAD if begun is not None else timedelta(hours=12))
    return _at(before, clock, here) if late and (begun is None or before >= begun) else at


def _of_day(found: re.Match[str], words: str) -> tuple[int, int, int]:
    """Hour, minute and second. Raises RequestError."""
    if found.group("word"):
        return (12 if found.group("word").casefold() == "noon" else 0), 0, 0
    hour, minute, second = (int(found.group(part) or 0) for part in ("hour", "minute", "second"))
    half = (found.group("half") or "").casefold()
    if hour > 23 or minute > 59 or second > 59 or (half and not 1 <= hour <= 12):
        raise RequestError(f"'{words}' is no time of day", mend=_MEND, code="time")
    return (hour % 12 + (12 if half == "pm" else 0) if half else hour), minute, second


def _half_day(clock: tuple[int, int], day: date | None, here: datetime, begun: date | None) -> datetime:
    """`half past two` by day or by night: the one that came last."""
    hour, minute = clock[0] % 12, clock[1]
    days = [day] if day is not None else [here.date(), here.date() - timedelta(days=1)]
    both = sorted(_at(one, (half, minute, 0), here) for one in days for half in (hour, hour + 12))
    fits = [at for at in both if at <= here + AHEAD and (begun is None or day is not None or at.date() >= begun)]
    return fits[-1] if fits else both[-1] if day is not None else both[2]


def _day(words: str | None, here: datetime) -> date | None:
    if words is None:
        return None
    said = words.casefold()
    if said[:4].isdigit():
        try:
            return date.fromisoformat(said)
        except ValueError:
            raise RequestError(f"'{words}' is no day", mend=_MEND, code="time") from None
    if (dated := _DATED.match(said)) is not None:
        return _dated(dated, here)
    if said.endswith("ago"):
        back = int(said.split()[0])
    elif said in ("today", "yesterday", "day before yesterday"):
        back = ("today", "yesterday", "day before yesterday").index(said)
    else:
        number = next(n for n, day in enumerate(_DAYS) if day.startswith(said.removeprefix("last ")[:3]))
        back = (here.weekday() - number) % 7
        back = back or (7 if said.startswith("last ") else 0)
    return here.date() - timedelta(days=back)


def _dated(said: re.Match[str], here: datetime) -> date:
    """`27 Nov`: of this year, or of the last one where it is still to come."""
    month = [name.casefold() for name in _MONTHS].index(said[2]) + 1
    try:
        day = date(int(said[3] or here.year), month, int(said[1]))
        return day.replace(year=day.year - 1) if said[3] is None and day > here.date() else day
    except ValueError:
        raise RequestError(f"'{said[0]}' is no day", mend=_MEND, code="time") from None


def _at(day: date, clock: tuple[int, int, int], here: datetime) -> datetime:
    return _zoned(datetime(day.year, day.month, day.day, *clock), here)


def _zoned(naive: datetime, here: datetime) -> datetime:
    """The moment when this machine's clock showed `naive`; of two, the later one where it has passed by `here`."""
    first, second = naive.replace(fold=0).astimezone(), naive.replace(fold=1).astimezone()
    return second if first < second <= here + AHEAD else first


def day_words(year: int, month: int, day: int, this_year: int) -> str:
    """A day as people say it: `14 Nov`, with its year where that is another one."""
    return f"{day} {_MONTHS[month - 1]}" + ("" if year == this_year else f" {year}")
