"""Marks as terminal text: drawings and charts in braille dots, captions and numbers in words."""

from __future__ import annotations

from itertools import zip_longest
from textwrap import wrap

from cookbook.picture.canvas import Canvas
from cookbook.picture.mark import Chart, Drawing, Panel, bar_length, extent, ticks

GAP, NARROW = 3, 14
"""Cells between two panels, and the width that a panel's caption has at least."""
MOST_ROWS = 26
"""Rows of dots in a whole drawing, so that it stays on one screen."""
_CHART_ROWS = 14


def text(picture: Drawing | Chart, columns: int = 78) -> str:
    """The picture for a terminal `columns` wide, its title above."""
    body = _drawing(picture, columns) if isinstance(picture, Drawing) else _chart(picture, columns)
    return "\n".join([picture.title, "", *body])


def _drawing(drawing: Drawing, columns: int) -> list[str]:
    # Two dots a cell, one cell to spare for the outline's own width.
    scale = min((2 * (columns - GAP * (len(row) - 1) - 2 * len(row))) / sum(panel.width for panel in row)
                for row in drawing.rows)
    scale = min(scale, 4 * MOST_ROWS / sum(max(panel.height for panel in row) for row in drawing.rows))
    out: list[str] = []
    for row in drawing.rows:
        blocks = [_panel(panel, scale) for panel in row]
        tall = max(len(picture) for picture, _ in blocks)
        widths = [max(map(len, [*picture, *caption]), default=0) for picture, caption in blocks]
        padded = [[""] * ((tall - len(picture)) // 2) + picture for picture, _ in blocks]
        out += _beside([*padded], widths, tall) + _beside([caption for _, caption in blocks], widths, 0) + [""]
    length = bar_length(scale, 12)
    right = round(length * scale)
    bar = Canvas(right // 2 + 1, 1)
    for start, end in (((0, 0), (0, 3)), ((0, 2), (right, 2)), ((right, 0), (right, 3))):
        bar.line(start, end)
    return [*out, f"{bar.lines()[0]} {length} {drawing.unit}"]


def _panel(panel: Panel, scale: float) -> tuple[list[str], list[str]]:
    """A view's dots, and its caption wrapped to its width."""
    canvas = Canvas(round(panel.width * scale / 2) + 1, round(panel.height * scale / 4) + 1)
    for outline in panel.outlines:
        canvas.outline([(x * scale, y * scale) for x, y in outline.points], outline.hatched)
    wide = max(canvas.columns, NARROW)
    return canvas.lines(), [piece for line in panel.caption for piece in wrap(line, wide)]


def _beside(blocks: list[list[str]], widths: list[int], tall: int) -> list[str]:
    lines = [(" " * GAP).join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True)).rstrip()
             for cells in zip_longest(*blocks, fillvalue="")]
    return lines + [""] * (tall - len(lines))


def _chart(chart: Chart, columns: int) -> list[str]:
    low_x, high_x, low_y, high_y = extent(chart)
    names = max(len(line.name) for line in chart.lines)
    marks = {f"{y:g}": y for y in ticks(low_y, high_y)}
    margin = max(map(len, marks)) + 1
    wide = max(16, columns - margin - names - 3)
    canvas = Canvas(wide, _CHART_ROWS)
    across, down = 2 * wide - 1, 4 * _CHART_ROWS - 1

    def at(x: float, y: float) -> tuple[float, float]:
        return (x - low_x) / (high_x - low_x) * across, (high_y - y) / (high_y - low_y) * down

    for line in chart.lines:
        for start, end in zip(line.points, line.points[1:], strict=False):
            canvas.line(at(*start), at(*end), line.dashed)
    left = {round(at(low_x, y)[1]) // 4: mark for mark, y in marks.items()}
    ends = {round(at(*line.points[-1])[1]) // 4: line.name for line in reversed(chart.lines)}
    rows = [f"{left.get(place, ''):>{margin - 1}} │{cells.ljust(wide)} {ends.get(place, '')}".rstrip()
            for place, cells in enumerate(canvas.lines())]
    return [chart.y_label, *rows, " " * margin + "└" + "─" * wide, _x_marks(low_x, high_x, wide, margin),
            " " * margin + chart.x_label.center(wide).rstrip()]


def _x_marks(low: float, high: float, wide: int, margin: int) -> str:
    cells = [" "] * (wide + margin + 8)
    for x in ticks(low, high):
        words = f"{x:g}"
        place = margin + 1 + round((x - low) / (high - low) * (wide - 1)) - len(words) // 2
        cells[place:place + len(words)] = words
    return "".join(cells).rstrip()
