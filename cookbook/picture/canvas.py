"""A sheet of dots, two by four in every character cell, as braille patterns show them. Dots are square."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil, floor

from cookbook.picture.mark import Point

_BITS = ((0x01, 0x08), (0x02, 0x10), (0x04, 0x20), (0x40, 0x80))


class Canvas:
    """`columns` × `rows` character cells; dots are counted from the upper left."""

    __slots__ = ("_cells", "columns", "rows")

    def __init__(self, columns: int, rows: int) -> None:
        self.columns, self.rows = columns, rows
        self._cells = [[0] * columns for _ in range(rows)]

    def dot(self, x: int, y: int) -> None:
        """Set a dot; outside the sheet nothing happens."""
        if 0 <= x < 2 * self.columns and 0 <= y < 4 * self.rows:
            self._cells[y // 4][x // 2] |= _BITS[y % 4][x % 2]

    def line(self, start: Point, end: Point, dashed: bool = False) -> None:
        """A straight line between two points, in dots."""
        steps = max(1, ceil(max(abs(end[0] - start[0]), abs(end[1] - start[1]))))
        for step in range(steps + 1):
            x = start[0] + (end[0] - start[0]) * step / steps
            y = start[1] + (end[1] - start[1]) * step / steps
            if not dashed or (round(max(abs(x - start[0]), abs(y - start[1]))) // 3) % 2 == 0:
                self.dot(round(x), round(y))

    def outline(self, points: Sequence[Point], hatched: bool, edged: bool = True) -> None:
        """A closed outline; slanting lines inside where hatched."""
        for start, end in zip(points, [*points[1:], points[0]], strict=True) if edged else ():
            self.line(start, end)
        if not hatched:
            return
        for y in range(floor(min(y for _, y in points)), ceil(max(y for _, y in points)) + 1):
            for left, right in _inside(points, y):
                for x in range(ceil(left), floor(right) + 1):
                    if (x + y) % 6 == 0:
                        self.dot(x, y)

    def lines(self) -> list[str]:
        """The sheet as text, a line a row, trailing blanks cut."""
        return ["".join(chr(0x2800 + cell) if cell else " " for cell in row).rstrip() for row in self._cells]


def _inside(points: Sequence[Point], y: float) -> list[tuple[float, float]]:
    """The stretches of a horizontal line that lie inside an outline."""
    crossings = []
    for (x_1, y_1), (x_2, y_2) in zip(points, [*points[1:], points[0]], strict=True):
        if (y_1 <= y) != (y_2 <= y):
            crossings.append(x_1 + (y - y_1) / (y_2 - y_1) * (x_2 - x_1))
    crossings.sort()
    return list(zip(crossings[::2], crossings[1::2], strict=False))
