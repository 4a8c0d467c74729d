"""One step of the day with its doubt, and the clock on the wall that it is told by."""

from __future__ import annotations

from datetime import UTC, date, datetime, time, timedelta
from typing import NamedTuple
from zoneinfo import ZoneInfo

ORDER = (
    "buy", "thaw", "season", "light", "steady", "out", "on", "stall", "wrap", "check", "pull", "rest", "slice",
    "serve",
)  # fmt: skip
"""The steps of a day by their keys, in the order in which they come."""
_WHOLE_S = 300


class Step(NamedTuple):
    """A step: `at` is when the plan means it, `earliest` and `latest` are its interval; `key` is one of `ORDER`."""

    key: str
    what: str
    at: datetime
    earliest: datetime
    latest: datetime
    dish: str = ""
    note: str = ""
    shot: str = ""
    done: bool = False

    def within(self) -> str:
        """`16:10 to 17:40`: to five minutes outwards, since nobody knows it closer; '' where nothing is open.

        Each has its day where that is not the step's own.
        """
        if self.earliest == self.latest:
            return ""
        ends = (five(self.earliest).astimezone(self.earliest.tzinfo), up_to_five(self.latest))
        return " to ".join(f"{end:%H:%M}" if end.date() == self.at.date() else f"{end:%a %H:%M}" for end in ends)

    def json(self) -> dict[str, object]:
        """As `plan --json` lists it, times as RFC 3339."""
        times = {name: getattr(self, name).isoformat(timespec="seconds") for name in ("at", "earliest", "latest")}
        return {**self._asdict(), **times}


class Wall(NamedTuple):
    """The clock on the wall: this machine's, or that of `like` where its offset is another one or it names a zone.

    Sums are made in UTC, so that a night in which clocks change takes what it takes.
    """

    like: datetime

    def shown(self, moment: datetime) -> datetime:
        """The same moment by this clock."""
        zone = self.like.tzinfo
        if isinstance(zone, ZoneInfo) or self.like.utcoffset() != self.like.astimezone().utcoffset():
            return moment.astimezone(zone)
        return moment.astimezone()

    def at(self, day: date, hour: int, minute: int = 0) -> datetime:
        """When this clock shows that time on that day, in UTC."""
        naive = datetime.combine(day, time(hour, minute))
        zone = self.like.tzinfo
        if isinstance(zone, ZoneInfo) or self.like.utcoffset() != self.like.astimezone().utcoffset():
            return naive.replace(tzinfo=zone).astimezone(UTC)
        return naive.astimezone(UTC)

    def day(self, moment: datetime) -> date:
        """The day that this clock shows."""
        return self.shown(moment).date()

    def step(self, step: Step) -> Step:
        """A step by this clock: the start down to five minutes, its ends to the minute, in their order."""
        low, high = sorted((minute(step.earliest), minute(step.latest)))
        at = min(max(minute(step.at), low), high)
        return step._replace(at=self.shown(at), earliest=self.shown(low), latest=self.shown(high))


def spoken(minutes: float) -> str:
    """Minutes as people say them: `25 min`, `3 h 20 min`, from an hour on to five minutes."""
    whole = round(minutes / 5) * 5 if minutes >= 60 else round(minutes)
    hours, rest = divmod(int(whole), 60)
    return (f"{hours} h {rest} min" if rest else f"{hours} h") if hours else f"{rest} min"


def after(moment: datetime, minutes: float) -> datetime:
    """So many minutes later, in UTC."""
    return moment.astimezone(UTC) + timedelta(minutes=minutes)


def before(moment: datetime, minutes: float) -> datetime:
    """So many minutes earlier, in UTC."""
    return after(moment, -minutes)


def five(moment: datetime) -> datetime:
    """The whole five minutes before."""
    moment = moment.astimezone(UTC)
    over_s = (moment.minute * 60 + moment.second) % _WHOLE_S
    return moment - timedelta(seconds=over_s, microseconds=moment.microsecond)


def up_to_five(moment: datetime) -> datetime:
    """The whole five minutes behind, by the moment's own clock."""
    before_it = five(moment)
    return (before_it if before_it == moment else after(before_it, 5)).astimezone(moment.tzinfo)


def minute(moment: datetime) -> datetime:
    """The nearest whole minute."""
    moment = moment.astimezone(UTC)
    return (moment + timedelta(seconds=30)).replace(second=0, microsecond=0)
