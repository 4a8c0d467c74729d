"""A curve by the clock, narrow enough for a phone held upright: what was read, the band of what is expected.

Drawn at about the size it is seen, so that its letters stay letters. The band is hatched and outlined, the lines are
told apart by their stroke and name: it reads in sun, in the dark, on paper and without colour.
"""

from __future__ import annotations

from typing import NamedTuple

from cookbook.picture.ink import hatch, label, path, sheet
from cookbook.picture.mark import Point, Table, ticks

WIDTH, HEIGHT = 390.0, 270.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 34.0, 12.0, 20.0, 30.0
_LETTER = 7.0


class Course(NamedTuple):
    """Values over time. `band` is x, low, high; `middle` its middle; `read` single values; `other` a second line.

    `x_ticks` name places on the x axis, `level` is a value to be reached and its name, `marks` are places in time and
    theirs.
    """

    title: str
    description: str
    unit: str
    band: tuple[tuple[float, float, float], ...]
    middle: tuple[Point, ...]
    read: tuple[Point, ...]
    other: tuple[Point, ...]
    other_name: str
    x_ticks: tuple[tuple[float, str], ...]
    level: tuple[float, str] | None
    marks: tuple[tuple[float, str], ...]
    table: Table

    def points(self) -> list[Point]:
        """Every point that must find room."""
        ends = [(x, y) for x, low, high in self.band for y in (low, high)]
        level = [(self.read[0][0] if self.read else self.band[0][0], self.level[0])] if self.level and ends else []
        return [*ends, *self.middle, *self.read, *level]


def course_svg(course: Course, ident: str = "course") -> str:
    """The curve as one `<svg>` element; `ident` begins its ids."""
    head = (course.title, course.description, course.table)
    return sheet(head, (WIDTH, HEIGHT), ident, _Sheet(course, ident).body(), 13, ' class="course"')


class _Sheet:
    """One course on its sheet: where values lie, and the parts that are drawn."""

    def __init__(self, course: Course, ident: str) -> None:
        self.course, self.ident = course, ident
        points = course.points() or [(0.0, 0.0)]
        self.low_x, self.high_x = min(x for x, _ in points), max(x for x, _ in points)
        values = [y for _, y in points] + [y for _, y in course.other]
        self.low_y = min(0.0, *values)
        self.high_y = max(values) * 1.04 or 1.0

    def x(self, value: float) -> float:
        """Across."""
        return _LEFT + (value - self.low_x) / ((self.high_x - self.low_x) or 1.0) * (WIDTH - _LEFT - _RIGHT)

    def y(self, value: float) -> float:
        """Down."""
        return _TOP + (self.high_y - value) / (self.high_y - self.low_y) * (HEIGHT - _TOP - _BOTTOM)

    def body(self) -> str:
        """Everything in the order it is drawn."""
        return "".join([self._axes(), self._band(), self._lines(), self._level(), self._marks(), self._read()])

    def _axes(self) -> str:
        floor = HEIGHT - _BOTTOM
        parts = [f'<path d="M{_LEFT:.1f} {_TOP:.1f}V{floor:.1f}H{WIDTH - _RIGHT:.1f}"/>']
        for value in ticks(self.low_y, self.high_y, 4):
            parts.append(f'<path d="M{_LEFT:.1f} {self.y(value):.1f}h-4"/>')
            parts.append(label(_LEFT - 7, self.y(value) + 4, f"{value:g}", "end"))
        parts.append(label(_LEFT - 7, _TOP - 7, self.course.unit, "end"))
        for value, name in self.course.x_ticks:
            if self.low_x <= value <= self.high_x:
                parts.append(f'<path d="M{self.x(value):.1f} {floor:.1f}v4"/>')
                parts.append(label(self.x(value), floor + 18, name, "middle"))
        return "".join(parts)

    def _band(self) -> str:
        if not self.course.band:
            return ""
        upper = [(self.x(x), self.y(high)) for x, _, high in self.course.band]
        lower = [(self.x(x), self.y(low)) for x, low, _ in reversed(self.course.band)]
        pattern = hatch(self.ident, 5, ".55")
        return f'{pattern}<path d="{path(upper + lower)}Z" fill="url(#{self.ident}-hatch)" stroke-width=".75"/>'

    def _lines(self) -> str:
        course = self.course
        parts = []
        if course.middle:
            parts.append(f'<path d="{path([(self.x(x), self.y(y)) for x, y in course.middle])}"/>')
        if course.other:
            line = [(self.x(x), self.y(y)) for x, y in course.other]
            parts.append(f'<path d="{path(line)}" stroke-dasharray="5 4"/>')
            parts.append(label(line[0][0], line[0][1] + 16, course.other_name, "start"))
        return "".join(parts)

    def _level(self) -> str:
        if self.course.level is None:
            return ""
        value, name = self.course.level
        y = self.y(value)
        across = f'<path d="M{_LEFT:.1f} {y:.1f}H{WIDTH - _RIGHT:.1f}" stroke-width="1" stroke-dasharray="1 3"/>'
        return across + label(_LEFT + 6, y - 5, name, "start")

    def _marks(self) -> str:
        parts, floor, taken = [], HEIGHT - _BOTTOM, 0.0
        for value, name in sorted(self.course.marks):
            if not self.low_x <= value <= self.high_x:
                continue
            x = self.x(value)
            parts.append(f'<path d="M{x:.1f} {_TOP - 2:.1f}V{floor:.1f}" stroke-width="1" stroke-dasharray="2 3"/>')
            half = _LETTER * len(name) / 2
            place = min(max(x, _LEFT + half, taken + half), WIDTH - half)
            taken = place + half + 6
            parts.append(label(place, _TOP - 7, name, "middle"))
        return "".join(parts)

    def _read(self) -> str:
        dots = [
            f'<circle cx="{self.x(x):.1f}" cy="{self.y(y):.1f}" r="2.6" fill="currentColor" stroke="none"/>'
            for x, y in self.course.read
        ]
        return "".join(dots)
