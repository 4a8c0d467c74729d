"""Where a cook stands: what the forecast says by the clock, what comes next, when wood went on last.

`ahead` is the heavy part, one forecast a piece; `standing` turns it into sentences at any later moment.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from math import ceil, floor
from typing import TYPE_CHECKING, NamedTuple

from cookbook.errors import CookbookError
from cookbook.journal import Entry
from cookbook.journal.outcome import moment_of
from cookbook.kitchen.clock import read_back
from cookbook.kitchen.kitchen import Kitchen
from cookbook.quantity.number import digits

if TYPE_CHECKING:
    from cookbook.heat import Forecast
    from cookbook.kitchen.forecasting.outlook import Taught, Wanted
    from cookbook.safety import Finding

WOOD = ("wood added", "fuel added")
_OF_THE_CORE = ("household minimum", "non-intact", "trichinella", "dwell table", "fully cooked guests")
"""Rules that ask how hot the core came, and for how long."""
_STEP_MIN = 5
_SAME_NIGHT = timedelta(hours=18)
_LOOK_EVERY_MIN = 10


class Ahead(NamedTuple):
    """The forecast of one piece; `reason` says why there is none. `keeps_min` is how long after the pull its core
    stays near what it is meant to be sliced at."""

    piece: str
    wanted: Wanted | None
    forecast: Forecast | None
    keeps_min: float | None
    reason: str | None


class Safety(NamedTuple):
    """What a cook runs into: what to act on now, what else is found, and, while it is on the fire, the lines that its
    core has yet to reach."""

    urgent: list[Finding]
    found: list[Finding]
    to_come: list[Finding]


class Standing(NamedTuple):
    """One piece of a cook at a moment, in words: the line that matters, the peak, the slicing, what comes next."""

    piece: str
    line: str
    peak: str | None
    slicing: str | None
    next: str
    warnings: tuple[str, ...]


def safety_so_far(kitchen: Kitchen, entry: Entry) -> Safety:
    """The findings of an entry, sorted for somebody who stands at the fire: before the pull it is no warning that the
    core is not there yet. Nothing is found where the entry's recipe can't be read."""
    from cookbook.kitchen.care import of_entry
    from cookbook.safety.finding import NOTE

    try:
        found = of_entry(kitchen, entry)
    except CookbookError:
        return Safety([], [], [])
    on_fire = entry.finished is None and moment_of(entry, "pulled") is None
    to_come = [one for one in found if one.rule in _OF_THE_CORE and one.level != NOTE and on_fire]
    urgent = [
        one
        for one in found
        if one.level != NOTE and one.rule not in _OF_THE_CORE and not one.rule.startswith("readings") and entry.open
    ]
    return Safety(urgent, [one for one in found if one not in urgent and one not in to_come], to_come)


def ahead(kitchen: Kitchen, entry: Entry) -> list[Ahead]:
    """The forecasts of an entry's pieces, from its readings so far; seconds where cooks are first learned."""
    from cookbook.kitchen.forecasting import outlook

    found = []
    for name in [piece.name for piece in entry.pieces] or [""]:
        try:
            wanted = outlook.of_entry(kitchen, entry, outlook.Asked(), name)
            known = outlook.taught(kitchen, wanted)
            told = outlook.told_by(wanted, known)
        except CookbookError as fault:
            mend = f"; {fault.mend}" if fault.mend and "--" not in fault.mend else ""
            found.append(Ahead(name, None, None, None, f"{fault.message}{mend}"))
            continue
        found.append(Ahead(name, wanted, told, _keeps(wanted, known), None))
    return found


def _keeps(wanted: Wanted, known: Taught) -> float | None:
    """Minutes after the pull up to which the core stays near what it was meant to be sliced at, or above."""
    from cookbook.kitchen.forecasting import outlook

    slicing = outlook.when_to_slice(wanted, known)
    return slicing.waits_min.get(wanted.rest.cover) if slicing is not None and wanted.rest is not None else None


def last_wood(entry: Entry) -> datetime | None:
    """When wood or fuel went on last; None where nobody said, and once the meat is off the fire."""
    if any(event.did in ("pulled", "rested", "sliced") for event in entry.events):
        return None
    return max((event.at for event in entry.events if event.did in WOOD), default=None)


def standing(kitchen: Kitchen, entry: Entry, one: Ahead, now: datetime) -> Standing:
    """The sentences for one piece at `now`."""
    on, pulled = (moment_of(entry, did, one.piece or None) for did in ("on", "pulled"))
    words = _Words(kitchen.settings.get("temperature") or "C", one, now)
    if entry.finished is not None:
        return Standing(one.piece, f"finished {read_back(entry.finished, now)}", None, None, "nothing more to do", ())
    sliced = moment_of(entry, "sliced", one.piece or None)
    warnings = tuple(one.forecast.warnings) if one.forecast is not None else ()
    if sliced is not None:
        return Standing(one.piece, f"sliced {read_back(sliced, now)}", None, None, "say how it was, and finish", ())
    if one.forecast is None or one.wanted is None:
        nothing = f"no forecast: {one.reason}"
        step = _without_forecast(on, pulled)
        return Standing(one.piece, nothing, None, None, step, ())
    if not one.forecast.reaches:
        return Standing(one.piece, "it does not get there as it is", None, None, "a hotter pit", warnings)
    if pulled is not None and on is not None:
        return words.resting(pulled, warnings)
    if on is None:
        return words.before(entry, warnings)
    return words.on_the_fire(on, entry, warnings)


def meanwhile(entry: Entry) -> str:
    """What comes next as long as no forecast is there."""
    return _without_forecast(moment_of(entry, "on"), moment_of(entry, "pulled"))


def _without_forecast(on: datetime | None, pulled: datetime | None) -> str:
    if on is None:
        return "put it on, and say so"
    return "read the core now and then" if pulled is None else "let it rest, then slice"


class _Words:
    """Sentences from one forecast, times by the clock, temperatures in the kitchen's scale."""

    def __init__(self, scale: str, one: Ahead, now: datetime) -> None:
        self.scale, self.one, self.now = scale, one, now

    @property
    def told(self) -> Forecast:
        """The forecast, which is there."""
        assert self.one.forecast is not None
        return self.one.forecast

    @property
    def wanted(self) -> Wanted:
        """What was asked of it."""
        assert self.one.wanted is not None
        return self.one.wanted

    def degrees(self, c: float) -> str:
        """`60 °C`, or in the other scale."""
        return f"{digits(round(c if self.scale == 'C' else c * 9 / 5 + 32), 3)} °{self.scale}"

    def clock(self, on: datetime, minutes: float, up: bool = False) -> str:
        """A time of day, to five minutes: early ends rounded down, late ones up."""
        at = on + timedelta(minutes=minutes)
        whole = (ceil if up else floor)(at.timestamp() / (60 * _STEP_MIN)) * 60 * _STEP_MIN
        rounded = datetime.fromtimestamp(whole, at.tzinfo)
        return f"{rounded:%H:%M}" if abs(rounded - self.now) < _SAME_NIGHT else read_back(rounded, self.now)

    def between(self, on: datetime, low: float, high: float) -> str:
        """`18:40 to 19:10`."""
        early, late = self.clock(on, low), self.clock(on, high, up=True)
        return early if early == late else f"{early} to {late}"

    def rest_min(self) -> float:
        """How long it rests."""
        return self.wanted.rest.minutes if self.wanted.rest is not None else 0.0

    def peak(self, from_pull: datetime | None = None) -> str | None:
        """`rises to 64 °C (62 to 66)`."""
        peak, later = self.told.peak_c, self.told.minutes_to_peak.p50
        if peak.p10 is None or peak.p50 is None or peak.p90 is None:
            return None
        low, high = self.degrees(peak.p10).split()[0], self.degrees(peak.p90).split()[0]
        when = "" if from_pull is None or later is None else f" about {self.clock(from_pull, later)}"
        span = "" if low == high else f" ({low} to {high})"
        return f"after the pull it rises to {self.degrees(peak.p50)}{span}{when}"

    def before(self, entry: Entry, warnings: tuple[str, ...]) -> Standing:
        """Not on yet: how long it would take from now."""
        pull = self.told.minutes_to_pull
        line = f"once on, {self.stretch(pull.p10, pull.p90)} to the pull at {self.degrees(self.told.pull_c)}"
        lit = moment_of(entry, "lit")
        fire = self.wanted.cooker is not None and "oven" not in self.wanted.cooker.kind
        step = "light the fire" if lit is None and fire else "put it on, and say so"
        return Standing(self.one.piece, line, self.peak(), self.slicing_after(), step, warnings)

    def stretch(self, low: float | None, high: float | None) -> str:
        """`1 h 50 min to 2 h 20 min`."""
        if low is None or high is None:
            return "an uncertain time"
        early, late = (_minutes(step(x / _STEP_MIN) * _STEP_MIN) for x, step in ((low, floor), (high, ceil)))
        return early if early == late else f"{early} to {late}"

    def slicing_after(self) -> str:
        """When to slice, counted from the pull."""
        core = self.told.core_at_slicing_c.p50
        at = f", at {self.degrees(core)} in the middle" if core is not None else ""
        return f"slice {_minutes(self.rest_min())} after the pull{at}"

    def on_the_fire(self, on: datetime, entry: Entry, warnings: tuple[str, ...]) -> Standing:
        """From the time it went on to the pull."""
        pull, check = self.told.minutes_to_pull, self.told.check_from_minutes
        if pull.p10 is None or pull.p90 is None or check is None:
            return Standing(
                self.one.piece, "when it is done can't be told", self.peak(), None, "read the core", warnings
            )
        rest, waited = self.rest_min(), (self.now - on).total_seconds() / 60
        if waited >= pull.p90:
            line = f"it should be done; on the table {self.clock(on, waited + rest, up=True)} at the earliest"
            slicing = None
        else:
            between = self.between(on, max(pull.p10, waited) + rest, pull.p90 + rest)
            line = f"on the table {between}; check from {self.clock(on, check)}"
            slicing = f"slice {between}, {_minutes(rest)} after the pull"
        step = self.next_step(on, check, entry)
        return Standing(self.one.piece, line, self.peak(), slicing, step, warnings)

    def next_step(self, on: datetime, check: float, entry: Entry) -> str:
        """What to do next, and when."""
        core = next((one.temp_c for one in reversed(self.wanted.readings) if one.depth_cm is None), None)
        goal = self.degrees(self.told.pull_c)
        if core is not None and core >= self.told.pull_c:
            return f"pull it now: the core is at {self.degrees(core)}"
        wrap = self.wanted.wrap
        if wrap is not None and wrap.core_c is not None and moment_of(entry, "wrapped") is None:
            there = next((p.minute for p in self.told.curve if p.core_c.p50 and p.core_c.p50 >= wrap.core_c), None)
            when = f", about {self.clock(on, there)}" if there is not None else ""
            if there is None or there < check:
                return f"wrap it at {self.degrees(wrap.core_c)}{when}"
        begin = on + timedelta(minutes=check)
        if self.now < begin:
            return f"look at the thermometer from {self.clock(on, check)}; pull at {goal}"
        late = self.told.minutes_to_pull.p90
        if late is not None and self.now >= on + timedelta(minutes=late):
            return f"read the core now; pull at {goal}"
        return f"look every {_LOOK_EVERY_MIN} minutes; pull at {goal}"

    def resting(self, pulled: datetime, warnings: tuple[str, ...]) -> Standing:
        """From the pull to the board."""
        rest, keeps = self.rest_min(), self.one.keeps_min
        begin = self.clock(pulled, rest, up=True)
        late = self.clock(pulled, keeps) if keeps is not None and keeps > rest + _STEP_MIN else None
        line = f"slice from {begin}" + (f" to {late}" if late else "")
        after = self.now >= pulled + timedelta(minutes=rest)
        step = "slice" if after else f"let it rest until {begin}"
        return Standing(self.one.piece, line, self.peak(pulled), None, step, warnings)


def _minutes(minutes: float) -> str:
    hours, rest = divmod(round(minutes), 60)
    return (f"{hours} h {rest} min" if rest else f"{hours} h") if hours else f"{rest} min"
