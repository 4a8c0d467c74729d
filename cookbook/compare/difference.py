"""Every outcome of two groups of cooks held against each other, and how it was done."""

from __future__ import annotations

from collections.abc import Sequence
from statistics import fmean
from typing import NamedTuple

from cookbook.compare.cook import ZONE_UNIT, Cook
from cookbook.compare.judging import FOR_ITS_SIZE, MATTERS, Asked, Day, Gap, as_percent, gap, of_unit, verdicts
from cookbook.compare.size import sized
from cookbook.compare.tasters import Evened, evened
from cookbook.quantity.number import digits

RISE_EXPECTED = "rise against the forecast"
_MATTERS_MORE = {FOR_ITS_SIZE: 10.0}
LEAST_ZONE = 5.0
"""Percent of the meat below which a zone is not compared."""
ONE_POINT = 2.0
"""The difference whose price in cooks is told, in units of what matters: one point of a score."""


class Difference(NamedTuple):
    """Group b against group a in one outcome: the estimate b - a, an 80 and a 95 % interval, and a plain verdict.

    `more_cooks` are how many more, on both sides together, would tell it where it is what it looks like; `cooks` the
    independent days on each side; `rests_on` says what the interval rests on; `cooks_a_side` how many would tell a
    difference of `one_point` four times in five.
    """

    outcome: str
    unit: str
    a: str
    b: str
    estimate: float
    low: float
    high: float
    low_95: float
    high_95: float
    probability_better: float | None
    verdict: str
    why: str | None
    more_cooks: int | None
    cooks: tuple[int, int]
    one_point: float
    cooks_a_side: int | None
    rests_on: str

    def json(self) -> dict[str, object]:
        """The difference as `compare --json` lists it."""
        return {key: round(value, 4) if isinstance(value, float) else value for key, value in self._asdict().items()}

    def cells(self) -> tuple[str, str, str, str, str, str]:
        """In words: the outcome, the difference, its 80 and its 95 % interval, the chance of better, the verdict."""
        return (
            self.outcome,
            f"{signed(self.estimate)} {self.unit}",
            f"{signed(self.low)} to {signed(self.high)}",
            f"{signed(self.low_95)} to {signed(self.high_95)}",
            "" if self.probability_better is None else f"{self.probability_better:.0%}",
            self.verdict + (f" ({self.why})" if self.why else ""),
        )

    def __repr__(self) -> str:
        return f"<Difference {': '.join(self.cells()[:2])} ({self.cells()[2]}), {self.cells()[5]}>"


def signed(value: float) -> str:
    """A difference with its sign, to a tenth: `+0.9`; what rounds to nothing is `0.0`."""
    said = f"{value:+.1f}"
    return said if float(said) else "0.0"


class Measured(NamedTuple):
    """One outcome over all groups: each day's value with what is taken out, and whether to read it as percent.

    `parts` tells apart cooks that no common taster connects; `days` and `parts` have the same order.
    """

    outcome: str
    unit: str
    better: int
    days: tuple[Day, ...]
    parts: tuple[int, ...] = ()
    logs: bool = False

    def values(self, group: int) -> list[float]:
        """The values of one group, one a day."""
        return [day.value for day in self.days if day.group == group]


class Table(NamedTuple):
    """Everything that was measured in the groups, the tasters' hands by aspect, and sentences on how."""

    measured: tuple[Measured, ...]
    hands: dict[str, Evened]
    notes: tuple[str, ...]


def measured(groups: Sequence[Sequence[Cook]]) -> Table:
    """All outcomes of these groups, tasters evened out, size taken out of the time where it can be."""
    cooks = [(place, cook) for place, group in enumerate(groups) for cook in group]
    found: list[Measured] = []
    hands: dict[str, Evened] = {}
    notes: list[str] = []
    for aspect in dict.fromkeys(aspect for _, cook in cooks for aspect in cook.scores):
        scored = [(place, cook) for place, cook in cooks if aspect in cook.scores]
        hands[aspect] = even = evened([cook.scores[aspect] for _, cook in scored])
        days, parts = _days(scored, even.cooks, even.parts)
        found.append(Measured(aspect, "points", 1, days, parts))
    kinds = {one.name: one for _, cook in cooks for one in cook.measures}
    kinds = {name: kind for name, kind in kinds.items() if kind.unit != ZONE_UNIT or _is_there(cooks, name)}
    if any(kind.unit == ZONE_UNIT for kind in kinds.values()):
        notes.append("zones are the forecast's, set right by what each cook's probe read; nobody measured them")
    for name, kind in kinds.items():
        having = [
            (place, cook, one) for place, cook in cooks if (one := cook.measure(name)) and one.unit == kind.unit
        ]
        days, _ = _days([(place, cook) for place, cook, _ in having], [one.value for *_, one in having])
        found.append(Measured(name, kind.unit, kind.better, days))
        if name == "time to pull":
            timed = [(place, cook) for place, cook, _ in having]
            found += _for_its_size(timed, notes)
    return Table((*found, *_against_forecast(cooks)), hands, tuple(notes))


def _is_there(cooks: Sequence[tuple[int, Cook]], zone: str) -> bool:
    """Whether so much of some cook's meat is in a zone that it is worth a line."""
    return any((one := cook.measure(zone)) is not None and one.value >= LEAST_ZONE for _, cook in cooks)


def _for_its_size(timed: Sequence[tuple[int, Cook]], notes: list[str]) -> list[Measured]:
    size = sized([cook for _, cook in timed], [place for place, _ in timed])
    notes.append(size if isinstance(size, str) else size.how)
    if isinstance(size, str):
        return []
    days, _ = _days(timed, size.times, None, size.taken_out)
    return [Measured(FOR_ITS_SIZE, "%", 0, days, logs=True)]


def _against_forecast(cooks: Sequence[tuple[int, Cook]]) -> list[Measured]:
    having = [
        (place, cook, rise.value - cook.expectation.rise_k)
        for place, cook in cooks
        if cook.expectation and cook.expectation.rise_k is not None and (rise := cook.measure("rise"))
    ]
    if not having:
        return []
    days, _ = _days([(place, cook) for place, cook, _ in having], [value for *_, value in having])
    return [Measured(RISE_EXPECTED, "K", 0, days)]


def _days(
    cooks: Sequence[tuple[int, Cook]],
    values: Sequence[float],
    parts: Sequence[int] | None = None,
    taken_out: Sequence[tuple[float, ...]] | None = None,
) -> tuple[tuple[Day, ...], tuple[int, ...]]:
    """Cooks of one group that shared a day and a cooker as one value."""
    together: dict[tuple[int, str], list[int]] = {}
    for index, (place, cook) in enumerate(cooks):
        together.setdefault((place, cook.day), []).append(index)
    days = tuple(
        Day(
            fmean(values[index] for index in same),
            place,
            tuple(map(fmean, zip(*(taken_out[index] for index in same), strict=True))) if taken_out else (),
        )
        for (place, _), same in together.items()
    )
    return days, tuple(parts[same[0]] for same in together.values()) if parts else ()


def differences(table: Table, labels: Sequence[str], pairs: Sequence[tuple[int, int]]) -> tuple[Difference, ...]:
    """Group b against group a for every pair, judged together."""
    rows = [
        (one, a, b, found)
        for a, b in pairs
        for one in table.measured
        if (found := gap(one.days, a, b, FOR_ITS_SIZE if one.logs else one.unit)) is not None
    ]
    matters = [_matters(one) for one, *_ in rows]
    asked = [
        Asked(found, one.better, matter, _comparable(one, a, b))
        for (one, a, b, found), matter in zip(rows, matters, strict=True)
    ]
    points = [ONE_POINT * matter for matter in matters]
    judged = verdicts(asked, points)
    return tuple(
        _difference(one, (labels[a], labels[b]), found)._replace(
            verdict=said.word, why=said.why, more_cooks=said.more, one_point=point, cooks_a_side=said.cooks_a_side
        )
        for (one, a, b, found), said, point in zip(rows, judged, points, strict=True)
    )


def _matters(one: Measured) -> float:
    return _MATTERS_MORE.get(one.outcome) or of_unit(MATTERS, one.unit, [day.value for day in one.days])


def _comparable(one: Measured, a: int, b: int) -> bool:
    """Whether a chain of common tasters joins the two groups."""
    if not one.parts:
        return True
    sides: tuple[set[int], set[int]] = (set(), set())
    for day, part in zip(one.days, one.parts, strict=True):
        for side, group in zip(sides, (a, b), strict=True):
            if day.group == group:
                side.add(part)
    return bool(sides[0] & sides[1])


def _difference(one: Measured, labels: tuple[str, str], found: Gap) -> Difference:
    numbers = [found.estimate, *found.interval(0.8), *found.interval(0.95)]
    if one.logs:
        numbers = [as_percent(number) for number in numbers]
    better = found.chance_above() if one.better > 0 else 1 - found.chance_above() if one.better < 0 else None
    scatter = (
        "the usual scatter, nothing was cooked twice"
        if found.assumed
        else f"cooks that scatter by {digits(found.spread, 2)}"
    )
    estimate, low, high, low_95, high_95 = numbers
    return Difference(
        outcome=one.outcome,
        unit=one.unit,
        a=labels[0],
        b=labels[1],
        estimate=estimate,
        low=low,
        high=high,
        low_95=low_95,
        high_95=high_95,
        probability_better=better,
        verdict="",
        why=None,
        more_cooks=None,
        cooks=found.cooks,
        one_point=0.0,
        cooks_a_side=None,
        rests_on=scatter,
    )
