"""Times of day as cooks say them: `14:05`, `3pm`, `half past two`, `20 min ago`."""

from __future__ import annotations

import re

_HOURS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_PARTS = {"five": 5, "ten": 10, "quarter": 15, "a quarter": 15, "twenty": 20, "twenty-five": 25, "half": 30}
_WORDED = (
    rf"(?:(?:{'|'.join(reversed(_PARTS))}) (?:past|to) (?:{'|'.join(_HOURS)}|\d{{1,2}})"
    rf"|(?:{'|'.join(_HOURS)}|\d{{1,2}}) o'?clock)"
)
TIME = (
    rf"(?:(?:(?:yesterday|today) (?:at )?)?"
    rf"(?:\d{{1,2}}[:h]\d{{2}}(?: ?[ap]m)?|\d{{1,2}} ?[ap]m|noon|midnight|{_WORDED})"
    r"|\d{1,4} ?(?:min(?:ute)?s?|h(?:(?:ou)?rs?)?) ago|(?:just |right )?now)"
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
