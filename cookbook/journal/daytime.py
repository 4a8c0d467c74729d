"""Times of day as cooks say them: `14:05`, `3pm`, `half past two`, `20 min ago`."""

from __future__ import annotations

import re

_HOURS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_PARTS = {"five": 5, "ten": 10, "quarter": 15, "a quarter": 15, "twenty": 20, "twenty-five": 25, "half": 30}
_WORDED = (
    rf"(?:(?:{'|'.join(reversed(_PARTS))}) (?:past|to) (?:{'|'.join(_HOURS)}|\d{{1,2}})"
    rf"|(?:{'|'.join(_HOURS)}|\d{{1,2}}) o'?clock)"
)
AGO = (
    rf"(?:\d{{1,4}}|half an?|an?|{'|'.join(reversed(_HOURS))}|fifteen|twenty|thirty|forty) ?"
    r"(?:min(?:ute)?s?|h(?:(?:ou)?rs?)?) ago"
)
TIME = (
    rf"(?:(?:(?:yesterday|today) (?:at )?)?"
    rf"(?:\d{{1,2}}[:h]\d{{2}}(?: ?[ap]m)?|\d{{1,2}} ?[ap]m|noon|midnight|{_WORDED})"
    rf"|{AGO}|(?:just |right )?now)"
)
"""A time of day as a line may begin or end with it; `clock.moment` reads it."""


def worded(said: str) -> tuple[int, int] | None:
    """Hour from 1 to 12 and minute of `half past two`, `quarter to 3`, `two o'clock`; None for other words."""
    words = said.casefold().replace("o'clock", "oclock")
    found = re.fullmatch(r"(?:(?P<part>.+) (?P<way>past|to) )?(?P<hour>[\w]+)(?P<sharp> oclock)?", words)
    if found is None or (found["part"] is None) == (found["sharp"] is None):
        return None
    hour = _HOURS.index(found["hour"]) + 1 if found["hour"] in _HOURS else int(found["hour"]) if (
        found["hour"].isdecimal()) else 0
    minute = _PARTS.get(found["part"] or "", None if found["part"] else 0)
    if not 1 <= hour <= 12 or minute is None:
        return None
    return (((hour - 2) % 12 + 1), 60 - minute) if found["way"] == "to" else (hour, minute)


def ago(said: str) -> float:
    """The minutes of `20 min ago`, `half an hour ago`, `two hours ago`."""
    words = said.casefold().removesuffix(" ago")
    count, unit = re.split(r" ?(?=[mh][a-z]*$)", words, maxsplit=1)
    tens = {"fifteen": 15, "twenty": 20, "thirty": 30, "forty": 40, "half a": 0.5, "half an": 0.5, "a": 1, "an": 1}
    number = int(count) if count.isdecimal() else tens[count] if count in tens else _HOURS.index(count) + 1
    return number * (60 if unit[0] == "h" else 1)
