"""What a picture is made of. Plain records; x runs to the right, y down, in the drawing's own unit."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from typing import NamedTuple

Point = tuple[float, float]


class Outline(NamedTuple):
    """A closed outline; hatched inside or left bare; not `edged` where its edge is drawn by others."""

    points: tuple[Point, ...]
    hatched: bool = False
    edged: bool = True


class Panel(NamedTuple):
    """One view in a drawing, `width` × `height` large, with the lines that stand under it."""

    caption: tuple[str, ...]
    width: float
    height: float
    outlines: tuple[Outline, ...]


class Table(NamedTuple):
    """The numbers behind a picture, as text."""

    head: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


class Drawing(NamedTuple):
    """Views side by side in rows, all at one scale. `unit` is what one unit of the panels is called."""

    title: str
    description: str
    rows: tuple[tuple[Panel, ...], ...]
    table: Table
    unit: str

    def _repr_html_(self) -> str:
        from cookbook.picture.notebook import picture_shown

        return picture_shown(self)

    def __repr__(self) -> str:
        return f"<{type(self).__name__} {self.title!r}>"


class Line(NamedTuple):
    """A line of a chart through its points, whole or dashed, with its name at its end; `sign` is a letter or number
    that stands on it, to tell lines apart without colour; `ringed` where each of its points is a thing by itself, and
    not `joined` where nothing is known between them."""

    name: str
    points: tuple[Point, ...]
    dashed: bool = False
    sign: str = ""
    ringed: bool = False
    joined: bool = True

    def signed_at(self, place: int, of: int) -> Point:
        """Where its sign stands as the line at `place` of so many: each further on, so that none hides another.
        Lines of two points carry it at their end."""
        if len(self.points) < 3:
            return self.points[-1]
        return self.points[round((place + 1) / (of + 1) * (len(self.points) - 1))]


class Chart(NamedTuple):
    """Lines on two axes."""

    title: str
    description: str
    x_label: str
    y_label: str
    lines: tuple[Line, ...]
    table: Table

    def _repr_html_(self) -> str:
        from cookbook.picture.notebook import picture_shown

        return picture_shown(self)

    def __repr__(self) -> str:
        return f"<{type(self).__name__} {self.title!r}>"


class DotRow(NamedTuple):
    """A row of a dot plot: single values, and their middle with an interval (None where there is none)."""

    name: str
    dots: tuple[float, ...]
    middle: float | None = None
    low: float | None = None
    high: float | None = None

    @property
    def values(self) -> tuple[float, ...]:
        """Everything that must find room on the axis."""
        return (*self.dots, *(one for one in (self.middle, self.low, self.high) if one is not None))


class DotPlot(NamedTuple):
    """Rows of dots over one axis. `key` says in words what dots and bars are; `marks` are the axis' own places and
    words, round numbers where there are none; `lead` is a line of words above it all."""

    title: str
    description: str
    label: str
    rows: tuple[DotRow, ...]
    key: str
    table: Table
    marks: tuple[tuple[float, str], ...] = ()
    lead: str = ""

    def marked(self) -> list[tuple[float, str]]:
        """What stands on the axis, and where."""
        return list(self.marks) or [(value, f"{value:g}") for value in ticks(*self.extent())]

    def extent(self) -> tuple[float, float]:
        """The ends of the axis, a twentieth beyond the outermost values."""
        values = [value for row in self.rows for value in row.values] or [0.0]
        room = 0.05 * (max(values) - min(values)) or 0.5
        return min(values) - room, max(values) + room

    def _repr_html_(self) -> str:
        from cookbook.picture.notebook import picture_shown

        return picture_shown(self)

    def __repr__(self) -> str:
        return f"<{type(self).__name__} {self.title!r}>"


def apart(places: Sequence[float], gap: float) -> list[float]:
    """Places of labels pushed down just so far that none is nearer than `gap` to another; the order is kept."""
    moved = list(places)
    order = sorted(range(len(places)), key=lambda index: places[index])
    for before, after in pairwise(order):
        moved[after] = max(moved[after], moved[before] + gap)
    return moved


def ticks(low: float, high: float, wanted: int = 5) -> list[float]:
    """Round numbers from `low` to `high`, about `wanted` of them: steps of 1, 2 or 5 times a power of ten."""
    from math import ceil, floor, log10

    if not high > low:
        return [low]
    rough = (high - low) / wanted
    power = 10.0 ** floor(log10(rough))
    step = next(factor * power for factor in (1, 2, 5, 10) if factor * power >= rough * 0.999)
    first = ceil(low / step - 1e-9)
    return [place * step for place in range(first, floor(high / step + 1e-9) + 1)]


def bar_length(scale: float, least: float) -> int:
    """The shortest round length that shows at least `least` long at this scale: the length of a scale bar."""
    return next((size for size in (1, 2, 5, 10, 20, 50, 100, 200, 500) if size * scale >= least), 1000)


def extent(chart: Chart) -> tuple[float, float, float, float]:
    """Lowest x, highest x, lowest y, highest y of all lines; an axis without extent is widened by 1."""
    xs = [x for line in chart.lines for x, _ in line.points]
    ys = [y for line in chart.lines for _, y in line.points]
    right = max(xs) if max(xs) > min(xs) else min(xs) + 1
    top = max(ys) if max(ys) > min(ys) else min(ys) + 1
    return min(xs), right, min(ys), top
