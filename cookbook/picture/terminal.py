"""Marks as terminal text: drawings and charts in braille dots, captions and numbers in words."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import zip_longest
from textwrap import wrap

from cookbook.picture.canvas import Canvas
from cookbook.picture.mark import Chart, DotPlot, DotRow, Drawing, Panel, apart, bar_length, extent, ticks

GAP, NARROW = 3, 14
"""Cells between two panels, and the width that a panel's caption has at least."""
MOST_ROWS = 26
"""Rows of dots in a whole drawing, so that it stays on one screen."""
_CHART_ROWS = 14


def text(picture: Drawing | Chart | DotPlot, columns: int = 78) -> str:
    """The picture for a terminal `columns` wide, its title above."""
    if isinstance(picture, Drawing):
        body = _drawing(picture, columns)
    else:
        body = _chart(picture, columns) if isinstance(picture, Chart) else _dot_plot(picture, columns)
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
        canvas.outline([(x * scale, y * scale) for x, y in outline.points], outline.hatched, outline.edged)
    wide = max(canvas.columns, NARROW)
    return canvas.lines(), [piece for line in panel.caption for piece in wrap(line, wide)]


def _beside(blocks: list[list[str]], widths: list[int], tall: int) -> list[str]:
    lines = [(" " * GAP).join(cell.ljust(width) for cell, width in zip(cells, widths, strict=True)).rstrip()
             for cells in zip_longest(*blocks, fillvalue="")]
    return lines + [""] * (tall - len(lines))


def _chart(chart: Chart, columns: int) -> list[str]:
    low_x, high_x, low_y, high_y = extent(chart)
    named = [line.name if line.joined else f"o {line.name}" for line in chart.lines]
    names = max(map(len, named))
    marks = {f"{y:g}": y for y in ticks(low_y, high_y)}
    margin = max(map(len, marks)) + 1
    wide = max(16, columns - margin - names - 3)
    canvas = Canvas(wide, _CHART_ROWS)
    across, down = 2 * wide - 1, 4 * _CHART_ROWS - 1

    def at(x: float, y: float) -> tuple[float, float]:
        return (x - low_x) / (high_x - low_x) * across, (high_y - y) / (high_y - low_y) * down

    for line in (one for one in chart.lines if one.joined):
        for start, end in zip(line.points, line.points[1:], strict=False):
            canvas.line(at(*start), at(*end), line.dashed)
    left = {round(at(low_x, y)[1]) // 4: mark for mark, y in marks.items()}
    places = apart([round(at(*line.points[-1])[1]) // 4 for line in chart.lines], 1)
    ends = {round(place): name for place, name in zip(places, named, strict=True)}
    sheet = [list(cells.ljust(wide)) for cells in canvas.lines()]
    for across_at, down_at in (at(*point) for line in chart.lines if line.ringed for point in line.points):
        sheet[round(down_at) // 4][round(across_at) // 2] = "o"
    for number, line in enumerate(chart.lines):
        if line.sign:
            across_at, down_at = at(*line.signed_at(number, len(places)))
            sheet[round(down_at) // 4][round(across_at) // 2] = line.sign
    below = range(len(sheet), max([len(sheet) - 1, *ends]) + 1)
    rows = [f"{left.get(place, ''):>{margin - 1}} │{''.join(cells)} {ends.get(place, '')}".rstrip()
            for place, cells in enumerate(sheet)]
    rows += [f"{'':>{margin - 1}} │{' ' * wide} {ends.get(place, '')}".rstrip() for place in below]
    marked = _x_marks(low_x, high_x, wide, margin, _plain(low_x, high_x))
    return [chart.y_label, *rows, " " * margin + "└" + "─" * wide, marked,
            " " * margin + chart.x_label.center(wide).rstrip()]


def _plain(low: float, high: float) -> list[tuple[float, str]]:
    return [(value, f"{value:g}") for value in ticks(low, high)]


def _x_marks(low: float, high: float, wide: int, margin: int, marks: Sequence[tuple[float, str]]) -> str:
    cells = [" "] * (wide + margin + 8)
    free = 0
    for x, words in marks:
        place = margin + 1 + round((x - low) / (high - low) * (wide - 1)) - len(words) // 2
        if place < free:
            continue
        free = place + len(words) + 1
        cells[place:place + len(words)] = words
    return "".join(cells).rstrip()


def _dot_plot(plot: DotPlot, columns: int) -> list[str]:
    low, high = plot.extent()
    names = min(30, max((len(row.name) for row in plot.rows), default=0))
    wide = max(16, columns - names - 3)
    rows = [line for row in plot.rows for line in _dot_row(row, names, wide, low, high)]
    return [*rows, " " * (names + 1) + "└" + "─" * wide, _x_marks(low, high, wide, names + 1, plot.marked()),
            " " * (names + 2) + plot.label.center(wide).rstrip(), *wrap(plot.key, columns)]


def _dot_row(row: DotRow, names: int, wide: int, low: float, high: float) -> list[str]:
    """Two lines: the single values as rings (a number where several fall together), then the interval."""
    def at(value: float) -> int:
        return round((value - low) / (high - low) * (wide - 1))

    dots, bar = [" "] * wide, [" "] * wide
    for value in row.dots:
        seen = dots[at(value)]
        dots[at(value)] = "o" if seen == " " else str(min(9, 2 if seen == "o" else int(seen) + 1))
    if row.low is not None and row.high is not None:
        start, end = at(row.low), at(row.high)
        bar[start:end + 1] = "─" * (end - start + 1)
        bar[start], bar[end] = "├", "┤"
    if row.middle is not None:
        bar[at(row.middle)] = "◆"
    name = row.name if len(row.name) <= names else row.name[:names - 1] + "…"
    return [f"{name:<{names}} │{''.join(dots)}".rstrip(), f"{'':<{names}} │{''.join(bar)}".rstrip()]
