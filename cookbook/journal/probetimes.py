"""The times of a probe log: which column holds them, how they are written, and the moments they mean."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Sequence
from contextlib import suppress
from datetime import UTC, date, datetime, timedelta, timezone
from typing import NamedTuple

from cookbook.journal.probetable import NUMBER, Table

_ISO = re.compile(r"(\d{4})[-/](\d{1,2})[-/](\d{1,2})(?:[T ]\s*(.+))?", re.I)
_LOCAL = re.compile(r"(\d{1,2})([./-])(\d{1,2})[./-](\d{4}|\d{2})(?:[T, ]+(.+))?")
_CLOCK = re.compile(r"(\d{1,3}):(\d{2})(?::(\d{2})(?:[.,](\d+))?)?\s*([ap]\.?m\.?)?\s*(Z|[+-]\d{2}:?\d{2})?", re.I)
_UNITS = (
    ("ms", 0.001, r"\bms\b|milli"),
    ("h", 3600.0, r"\bh(?:(?:ou)?rs?)?\b"),
    ("min", 60.0, r"\bmin(?:ute)?s?\b"),
    ("s", 1.0, r"\bs(?:ec(?:ond)?s?)?\b"),
)
_TIME_NAME = re.compile(r"time|zeit|elapsed|duration|clock|\bdate\b|\bat\b|since|\bt\b|timestamp|epoch", re.I)
_COUNT_NAME = re.compile(r"^(?:#|no\.?|nr\.?|index|id|record|row|sample|seq\w*)$", re.I)
DAY_S = 86400.0
_NO_MOMENT = (ValueError, OverflowError, OSError)
"""What Python raises for the 32nd, a zone of four days, the year 60,000."""

Instant = datetime | float
"""A moment with or without a zone, or seconds since the log began."""


class Times(NamedTuple):
    """The columns that hold times, each row's instant (None where it can't be read), and how they are written."""

    columns: tuple[int, ...]
    instants: tuple[Instant | None, ...]
    kind: str
    said: str
    doubt: tuple[str, str] | None = None


def read(table: Table, unit: str | None, day_first: bool | None, near: date | None) -> Times | None:
    """The times of a table; None where no column holds any.

    `unit` (s, min, h) is said of elapsed times, `day_first` of dates; `near` is the day of the cook, which decides
    between 3/4 and 4/3 where only one of them is near it.
    """
    columns = list(zip(*(row.cells for row in table.rows), strict=True))
    kinds = [_kind(cells) for cells in columns]
    names = table.header or ("",) * len(columns)
    if "stamp" in kinds:
        place = kinds.index("stamp")
        return _dated((place,), columns[place], day_first, near)
    if "date" in kinds and "clock" in kinds:
        both = (kinds.index("date"), kinds.index("clock"))
        cells = [f"{day} {clock}" for day, clock in zip(columns[both[0]], columns[both[1]], strict=True)]
        return _dated(both, cells, day_first, near)
    if "clock" in kinds:
        place = kinds.index("clock")
        return _clocked(place, columns[place], names[place])
    for place, column in enumerate(columns):
        numbers = [_plain(cell) for cell in column]
        rising = _rises(numbers)
        if (
            kinds[place] == "number"
            and rising
            and not _COUNT_NAME.match(names[place].strip())
            and (place == 0 or _TIME_NAME.search(names[place]))
        ):
            return _numbered(place, numbers, names[place], unit)
    return None


def moments(times: Times, start: datetime | None, day: date | None, zone: timezone | None) -> list[datetime | None]:
    """Every row's moment with its zone. `start` is the moment of the first row, `day` the day of the first one where
    only a clock was written; `zone` is that of clocks, this machine's where it is None.

    A clock that jumps back by an hour in the night when clocks go back is read on; one that falls by half a day or
    more has passed midnight.
    """
    found: list[datetime | None] = []
    last: datetime | None = None
    begin = next((one for one in times.instants if isinstance(one, float)), 0.0)
    days = timedelta(0)
    before = -1.0
    for instant in times.instants:
        if instant is None:
            found.append(None)
            continue
        at = None
        with suppress(*_NO_MOMENT):
            if isinstance(instant, float) and times.kind == "clock":
                if instant < before - DAY_S / 2:
                    days += timedelta(days=1)
                before = instant
                first = start.date() if start is not None else day
                assert first is not None
                naive = datetime(first.year, first.month, first.day) + days + timedelta(seconds=instant)
                at = _zoned(naive, last, zone)
            elif isinstance(instant, float):
                assert start is not None
                at = start + timedelta(seconds=instant - begin)
            else:
                at = instant if instant.tzinfo is not None else _zoned(instant, last, zone)
            last = at
        found.append(at)
    return found


def _zoned(naive: datetime, last: datetime | None, zone: timezone | None) -> datetime:
    if zone is not None:
        return naive.replace(tzinfo=zone)
    first, second = naive.replace(fold=0).astimezone(), naive.replace(fold=1).astimezone()
    return second if last is not None and first < last <= second else first


def _kind(cells: Sequence[str]) -> str:
    """What most cells of a column are: stamp, date, clock, number, or nothing of these."""
    tests: dict[str, Callable[[str], bool]] = {
        "stamp": lambda cell: bool((hit := _ISO.fullmatch(cell) or _LOCAL.fullmatch(cell)) and hit.groups()[-1]),
        "date": lambda cell: bool((hit := _ISO.fullmatch(cell) or _LOCAL.fullmatch(cell)) and not hit.groups()[-1]),
        "clock": lambda cell: bool(_CLOCK.fullmatch(cell)),
        "number": lambda cell: bool(NUMBER.fullmatch(cell)),
    }
    full = [cell.strip() for cell in cells if cell.strip()]
    for kind, test in tests.items():
        if full and sum(map(test, full)) * 10 >= 9 * len(full):
            return kind
    return ""


def _dated(columns: tuple[int, ...], cells: Sequence[str], day_first: bool | None, near: date | None) -> Times:
    local = [hit for cell in cells if (hit := _LOCAL.fullmatch(cell.strip()))]
    order, said, doubt = day_first, "date and time", None
    if local and order is None:
        order, said, doubt = _order([(int(one[1]), int(one[3]), int(one[4])) for one in local], local[0][2], near)
    instants = tuple(_stamp(cell.strip(), bool(order)) for cell in cells)
    return Times(columns, instants, "absolute", said, doubt)


def _order(
    days: Sequence[tuple[int, int, int]], sign: str, near: date | None
) -> tuple[bool, str, tuple[str, str] | None]:
    """Whether the day stands first, the words for it, and the doubt where nothing decides."""
    if any(one > 12 for one, _, _ in days) or sign == ".":
        return True, "date and time, the day first", None
    if any(two > 12 for _, two, _ in days):
        return False, "date and time, the month first", None
    one, two, year = days[0]
    year += 2000 if year < 100 else 0
    if one == two:
        return True, "date and time", None
    if near is not None:
        close = []
        for first, month, day in ((True, two, one), (False, one, two)):
            with suppress(*_NO_MOMENT):
                if abs((date(year, month, day) - near).days) <= 2:
                    close.append(first)
        if len(close) == 1:
            return (
                close[0],
                f"date and time, the {'day' if close[0] else 'month'} first, as on the day of the cook",
                None,
            )
    return (
        True,
        "date and time",
        (f"whether {one}/{two} has the day or the month first", "--dates day-first or --dates month-first"),
    )


def _stamp(cell: str, day_first: bool) -> datetime | None:
    iso, local = _ISO.fullmatch(cell), _LOCAL.fullmatch(cell)
    if iso is not None:
        day, clock = (int(iso[1]), int(iso[2]), int(iso[3])), iso[4]
    elif local is not None:
        year = int(local[4]) + (2000 if len(local[4]) == 2 else 0)
        one, two = int(local[1]), int(local[3])
        day, clock = (year, two, one) if day_first else (year, one, two), local[5]
    else:
        return None
    seconds = _seconds(clock or "0:00")
    zone = re.search(r"(Z|[+-]\d{2}:?\d{2})$", (clock or "").strip(), re.I)
    if seconds is None:
        return None
    with suppress(*_NO_MOMENT):
        at = datetime(*day) + timedelta(seconds=seconds)
        if zone is None:
            return at
        return at.replace(tzinfo=datetime.fromisoformat(f"2000-01-01T00:00{zone[1].upper()}").tzinfo)
    return None


def _seconds(clock: str) -> float | None:
    found = _CLOCK.fullmatch(clock.strip())
    if found is None:
        return None
    hour, minute, second = int(found[1]), int(found[2]), int(found[3] or 0)
    half = (found[5] or "")[:1].casefold()
    if half:
        hour = hour % 12 + (12 if half == "p" else 0)
    return hour * 3600 + minute * 60 + second + float(f"0.{found[4] or 0}")


def _clocked(place: int, cells: Sequence[str], name: str) -> Times:
    """A column of `11:05` or `0:00:10`: a clock, or the time since the beginning."""
    seconds = tuple(_seconds(cell) for cell in cells)
    known = [one for one in seconds if one is not None]
    elapsed = max(known) >= DAY_S or known[0] < 60 or re.search(r"elapsed|duration|since|timer", name, re.I)
    if elapsed:
        return Times((place,), seconds, "elapsed", "hours, minutes and seconds since the log began")
    return Times((place,), seconds, "clock", "the clock's time, without a date")


def _numbered(place: int, numbers: Sequence[float | None], name: str, unit: str | None) -> Times:
    top = max(one for one in numbers if one is not None)
    if top >= 1e9:
        size = 1000.0 if top >= 1e11 else 1.0
        instants = tuple(_since_1970(one, size) for one in numbers)
        return Times((place,), instants, "absolute", "seconds since 1970" if size == 1 else "milliseconds since 1970")
    found = next((one for one in _UNITS if one[0] == unit), None) or next(
        (one for one in _UNITS if re.search(one[2], re.sub(r"[_()\[\]]", " ", name), re.I)), None
    )
    doubt = None
    if found is None:
        doubt = (
            f"whether the times up to {top:g} are seconds, minutes or hours",
            "--elapsed s or --elapsed min or --elapsed h",
        )
        found = _UNITS[3]
    seconds = tuple(None if one is None else one * found[1] for one in numbers)
    return Times((place,), seconds, "elapsed", f"{found[0]} since the log began", doubt)


def _since_1970(number: float | None, size: float) -> datetime | None:
    if number is not None:
        with suppress(*_NO_MOMENT):
            return datetime.fromtimestamp(number / size, UTC).astimezone()
    return None


def _plain(cell: str) -> float | None:
    found = NUMBER.fullmatch(cell)
    return float(found.group(1).replace(",", ".")) if found else None


def _rises(numbers: Sequence[float | None]) -> bool:
    known = [one for one in numbers if one is not None]
    return len(known) > 1 and all(one < two for one, two in itertools.pairwise(known))
