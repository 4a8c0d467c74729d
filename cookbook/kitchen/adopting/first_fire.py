"""How a cook without a recipe was done at the fire, as the lines of its first revision: pit, pull and rest."""

from __future__ import annotations

from datetime import datetime, timedelta
from statistics import median

from cookbook.files import quote
from cookbook.journal import Entry
from cookbook.journal.outcome import moment_of
from cookbook.kitchen.kitchen import Kitchen
from cookbook.quantity import Temperature

_LATEST = timedelta(minutes=30)
"""A core read longer before the pull than that says nothing of it."""
_STEP_MIN = 5


def fire_lines(kitchen: Kitchen, entry: Entry) -> list[str]:
    """The keys of a recipe of kind cook as its file has them, each with where it comes from; what nobody read or said
    is left out."""
    on, pulled, sliced = (moment_of(entry, did) for did in ("on", "pulled", "sliced"))
    readings = kitchen.readings(entry)
    pits = [one.pit_c for one in readings if one.pit_c is not None and _within(one.at, on, pulled)]
    pit = [f"  temperature: {_shown(kitchen, median(pits))}   # {_middle(len(pits))}"] if pits else []
    for word in ("cooker", "fuel", "wood"):
        if entry.fields.get(word):
            pit.append(f"  {word}: {quote(str(entry.fields[word]))}")
    lines = ["pit:", *pit] if pit else []
    cores = [
        one.core_c
        for one in readings
        if one.core_c is not None and pulled is not None and pulled - _LATEST <= one.at <= pulled
    ]
    if cores:
        lines.append(f"pull_at: {_shown(kitchen, cores[-1])}   # read last before it came off")
    if pulled is not None and sliced is not None and sliced > pulled:
        minutes = max(_STEP_MIN, round((sliced - pulled).total_seconds() / 60 / _STEP_MIN) * _STEP_MIN)
        lines += ["rest:", f"  time: {minutes} min   # from the pull to the slicing"]
    return lines


def _within(at: datetime, first: datetime | None, last: datetime | None) -> bool:
    return (first is None or at >= first) and (last is None or at <= last)


def _middle(many: int) -> str:
    return "read once" if many == 1 else f"the middle of {many} readings"


def _shown(kitchen: Kitchen, temp_c: float) -> str:
    """A whole degree on the kitchen's scale."""
    if kitchen.settings.get("temperature") == "F":
        return str(Temperature.parse(f"{temp_c * 9 / 5 + 32:.0f} °F"))
    return str(Temperature.parse(f"{temp_c:.0f} °C"))
