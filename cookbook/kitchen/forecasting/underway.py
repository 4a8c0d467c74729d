"""A cook under way as its entry tells it: readings, pit, lids, wrap and pull, in minutes from the meat going on."""

from __future__ import annotations

from datetime import datetime
from statistics import fmean
from typing import NamedTuple

from cookbook.heat import Event, Reading
from cookbook.journal import Entry
from cookbook.journal.outcome import moment_of
from cookbook.journal.readings import of_one_core
from cookbook.kitchen.kitchen import Kitchen

LONGEST_LID_MIN = 15.0
"""A lid that was never logged as shut didn't stand open for longer."""
LAST_LOOK_MIN = 6.0
"""A reading so long before the pull still says at what core it was pulled."""


class Underway(NamedTuple):
    """What an entry says since the meat went on; nothing where it isn't on yet."""

    readings: tuple[Reading, ...] = ()
    pit_log: tuple[tuple[float, float], ...] = ()
    lids: tuple[Event, ...] = ()
    wrapped_min: float | None = None
    pulled_min: float | None = None

    @property
    def pulled_c(self) -> float | None:
        """The core as it was read last before the pull; None where nobody looked shortly before it."""
        cores = [one for one in self.readings if one.depth_cm is None and self.pulled_min is not None
                 and -LAST_LOOK_MIN <= one.minute - self.pulled_min <= 1.0]
        return cores[-1].temp_c if cores else None

    def pit_c(self, planned_c: float | None, asked_c: float | None) -> float | None:
        """The pit that the cook was planned for or had; one that is asked for counts where nothing was read yet."""
        if asked_c is not None and not self.readings:
            return asked_c
        if planned_c is None and self.pit_log:
            return fmean(temp_c for _, temp_c in self.pit_log)
        return planned_c if planned_c is not None else asked_c


def underway(kitchen: Kitchen, entry: Entry, piece: str | None = None) -> Underway:
    """The cook of an entry so far, of `piece` or of its first one: one core, every probe with a depth, the pit up to
    the pull.

    What names another piece is not its own. Lids count where nobody read the pit: a log of the pit shows them itself.
    """
    piece = piece or next((one.name for one in entry.pieces), "") or None
    on, wrapped, pulled = (moment_of(entry, did, piece) for did in ("on", "wrapped", "pulled"))
    if on is None:
        return Underway()

    def minute(at: datetime) -> float:
        return (at - on).total_seconds() / 60

    logged = [one for one in kitchen.readings(entry) if one.at >= on]
    rows = [one for one in logged if piece is None or one.piece in (None, piece)]
    read = [*of_one_core(rows), *(one for one in rows if one.depth_cm is not None)]
    readings = {(minute(one.at), one.core_c, one.depth_cm): None for one in read if one.core_c is not None}
    before = [one for one in logged if pulled is None or one.at <= pulled]
    pit = [(minute(one.at), one.pit_c) for one in before if one.pit_c is not None]
    return Underway(
        tuple(Reading(*one) for one in sorted(readings, key=lambda one: one[0])),
        tuple(pit),
        () if pit else _lids(entry, on),
        minute(wrapped) if wrapped is not None else None,
        minute(pulled) if pulled is not None else None,
    )


def _lids(entry: Entry, on: datetime) -> tuple[Event, ...]:
    found = []
    for event in entry.events:
        if event.did == "lid open" and event.at >= on:
            shut = next((one.at for one in entry.events if one.did == "lid shut" and one.at >= event.at), event.at)
            open_min = min((shut - event.at).total_seconds() / 60, LONGEST_LID_MIN)
            found.append(Event((event.at - on).total_seconds() / 60, "lid", open_min))
    return tuple(found)
