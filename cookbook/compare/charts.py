"""What a comparison looks like: scores as dots with intervals, coat and salt over time, versions with their outcomes.

Every chart is marks of the picture room, so that one style serves the screen, the page and the paper.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import inf
from statistics import fmean
from string import ascii_lowercase
from typing import NamedTuple

from cookbook.compare.difference import Measured, signed
from cookbook.compare.groups import Comparison
from cookbook.compare.judging import FINEST, USUAL, USUAL_FREEDOM, of_unit
from cookbook.compare.linear import fit
from cookbook.compare.student import quantile
from cookbook.errors import RequestError
from cookbook.picture import Chart, DotPlot, DotRow, Line, Table
from cookbook.quantity.number import digits

KEY = "rings: single cooks; lozenge and bar: the mean and where it lies with 80 % chance"
DAYS_A_MONTH = 30.4
_MOST_POINTS = 10.0


class Mean(NamedTuple):
    """A group's mean and the interval that holds the true one with 80 % chance."""

    value: float
    low: float
    high: float


def group_mean(one: Measured, group: int) -> Mean | None:
    """A group's mean, its interval resting on the scatter in all groups; None without a cook."""
    values = one.values(group)
    if not values:
        return None
    groups = sorted({day.group for day in one.days})
    found = fit(
        [[float(day.group == other) for other in groups] for day in one.days], [day.value for day in one.days]
    )
    spread = found.spread if found is not None else None
    freedom = found.freedom if found is not None and spread is not None else USUAL_FREEDOM
    if spread is None:
        spread = of_unit(USUAL, one.unit, [day.value for day in one.days])
    reach = quantile(0.9, freedom) * max(spread, FINEST.get(one.unit, 0.0) / 12**0.5) / len(values) ** 0.5
    least, most = (0.0, _MOST_POINTS) if one.unit == "points" else (-inf, inf)
    return Mean(fmean(values), max(least, fmean(values) - reach), min(most, fmean(values) + reach))


def score_chart(comparison: Comparison, outcome: str | None = None) -> DotPlot:
    """The cooks of every group as dots, with each group's mean: of one outcome, or of every score.

    Raises RequestError where there is nothing to draw.
    """
    shown = [
        one
        for one in comparison.table.measured
        if (one.outcome == outcome if outcome else one.unit == "points") and not one.logs
    ]
    if not shown:
        raise RequestError(
            f"no {outcome or 'score'} was written down for these cooks",
            mend="`cookbook log finish --score crust=8` scores a cook",
        )
    short = _short([group.label for group in comparison.groups])
    rows, table = [], []
    for one in shown:
        for place, group in enumerate(comparison.groups):
            mean = group_mean(one, place)
            if mean is None:
                continue
            values = tuple(one.values(place))
            name = f"{one.outcome}, {short[place]}" if len(shown) > 1 else short[place]
            rows.append(DotRow(name, values, mean.value, mean.low, mean.high))
            table.append(
                (
                    one.outcome,
                    group.label,
                    f"{len(values)}",
                    f"{mean.value:.1f}",
                    f"{mean.low:.1f} to {mean.high:.1f}",
                )
            )
    told = f"{len(rows)} rows; {_pairs_told(comparison, shown)}".rstrip("; ") + "."
    label = f"{shown[0].outcome}, {shown[0].unit}" if len(shown) == 1 else f"scores, {shown[0].unit}"
    head = ("outcome", "group", "cooks", "mean", "80 % interval")
    return DotPlot(f"{label} by group", told, label, tuple(rows), KEY, Table(head, tuple(table)))


def _short(labels: Sequence[str]) -> list[str]:
    """Labels without what stands in brackets, where they still tell the groups apart."""
    cut = [label.partition(" (")[0] for label in labels]
    return [
        one if cut.count(one) == 1 else label.partition(",")[0].rstrip(")") + ")"
        for one, label in zip(cut, labels, strict=True)
    ]


def _pairs_told(comparison: Comparison, shown: Sequence[Measured]) -> str:
    names = {one.outcome for one in shown}
    return "; ".join(
        f"{one.outcome}, {one.b} against {one.a}: {signed(one.estimate)} {one.unit}, {one.verdict}"
        for one in comparison.differences
        if one.outcome in names
    )


def over_time(comparison: Comparison, outcome: str) -> Chart:
    """One measure of every cook (`coat`, `salt`, `cook loss`, …) in the order of the days.

    Raises RequestError where fewer than two cooks have it.
    """
    points = sorted(
        (cook.entry.date, one.value, group.label, cook.entry.name, one.unit)
        for group in comparison.groups
        for cook in group.cooked
        if (one := cook.measure(outcome)) is not None
    )
    if len(points) < 2:
        raise RequestError(
            f"{outcome} is known of {len(points)} cook{'' if len(points) == 1 else 's'}; a line needs two",
            mend="weigh the bowl: `cookbook log used bowl --before 412g --after 96g`" if outcome == "coat" else None,
        )
    first, unit = points[0][0], points[0][4]
    run = tuple(((day - first).days / DAYS_A_MONTH, value) for day, value, *_ in points)
    line = Line(outcome, run, ringed=True)
    rows = tuple((f"{day}", label, name, f"{digits(value, 4)}") for day, value, label, name, _ in points)
    told = f"From {digits(points[0][1], 3)} on {first} to {digits(points[-1][1], 3)} {unit} on {points[-1][0]}."
    head = ("day", "group", "entry", f"{outcome}, {unit}")
    return Chart(
        f"{outcome} over time", told, f"months since {first}", f"{outcome}, {unit}", (line,), Table(head, rows)
    )


def timeline(comparison: Comparison) -> Chart:
    """The mean scores of each version from its first cook on, a dashed line where each begins.

    Raises RequestError where nothing was scored.
    """
    starts = [min(cook.entry.date for cook in group.cooked) for group in comparison.groups]
    origin = min(starts)
    months = [(start - origin).days / DAYS_A_MONTH for start in starts]
    scored = [one for one in comparison.table.measured if one.unit == "points"]
    lines, rows = [], []
    for number, one in enumerate(scored, 1):
        means = [(place, mean) for place in range(len(starts)) if (mean := group_mean(one, place)) is not None]
        lines.append(
            Line(
                f"{number} {one.outcome}",
                tuple((months[place], mean.value) for place, mean in means),
                sign=f"{number}",
                ringed=True,
            )
        )
        rows += [
            (comparison.groups[place].label, f"{starts[place]}", one.outcome, f"{mean.value:.1f}")
            for place, mean in means
        ]
    if not lines:
        raise RequestError("no cook of these was scored", mend="`cookbook log finish --score crust=8` scores a cook")
    heights = [y for line in lines for _, y in line.points]
    floor, ceiling = min(heights) - 0.5, max(heights) + 0.5
    names = _short([group.label for group in comparison.groups])
    for place, (month, name) in enumerate(zip(months, names, strict=True)):
        letter = ascii_lowercase[place % 26]
        lines.append(Line(f"{letter} {name}", ((month, floor), (month, ceiling)), dashed=True, sign=letter))
    told = " ".join(f"{group.label}, from {start}." for group, start in zip(comparison.groups, starts, strict=True))
    return Chart(
        "versions and their scores",
        told,
        f"months since {origin}",
        "mean score",
        tuple(lines),
        Table(("version", "from", "outcome", "mean"), tuple(rows)),
    )
