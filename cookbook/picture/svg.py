"""Marks as SVG: one self-contained drawing with title and description, strokes in the text's own colour.

Hatching is a pattern, so it reads without colour, in light and dark, and on paper.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from html import escape
from textwrap import wrap

from cookbook.picture.ink import hatch, label, path, sheet
from cookbook.picture.mark import (
    Chart,
    DotPlot,
    DotRow,
    Drawing,
    Outline,
    Panel,
    apart,
    bar_length,
    extent,
    ticks,
)

WIDTH, GAP, LINE, LETTER = 480.0, 24.0, 19.0, 7.4
"""Narrow enough that words in it are still eleven points high on a telephone held upright; 15 a letter's size."""
_CHART_HEIGHT = 340.0
_LEFT, _RIGHT, _TOP, _BOTTOM = 68.0, 150.0, 16.0, 54.0
_RIGHT_MOST, _NAME_GAP, _DIGIT = 210.0, 8.0, 8.0
_ROW, _BAR = 50.0, 36.0
"""How tall a row of dots is with its name above it, and how deep in it its bar lies."""
_A_LINE = int((WIDTH - 2 * GAP) / LETTER)

Picture = Drawing | Chart | DotPlot


def svg(picture: Picture, ident: str = "picture") -> str:
    """The picture as one `<svg>` element. `ident` begins its ids: give each picture of a page its own."""
    body, width, height = _body(picture, ident)
    return sheet((picture.title, picture.description, picture.table), (width, height), ident, body)


def figure(picture: Picture, ident: str = "picture") -> str:
    """The picture with its caption and its numbers as a table, as an HTML `<figure>`."""
    head = "".join(f'<th scope="col">{escape(cell)}</th>' for cell in picture.table.head)
    rows = "".join("<tr>" + "".join(f"<td>{escape(cell)}</td>" for cell in row) + "</tr>"
                   for row in picture.table.rows)
    return (f"<figure>{svg(picture, ident)}<figcaption>{escape(picture.title)}</figcaption>"
            f"<details><summary>Numbers</summary><table><thead><tr>{head}</tr></thead><tbody>{rows}</tbody></table>"
            f"</details></figure>")


def _body(picture: Picture, ident: str) -> tuple[str, float, float]:
    if isinstance(picture, Drawing):
        return _drawing(picture, ident)
    return _chart(picture) if isinstance(picture, Chart) else _dot_plot(picture)


def _drawing(drawing: Drawing, ident: str) -> tuple[str, float, float]:
    scale = _scale(drawing)
    parts = [hatch(ident)]
    top = GAP
    for row in drawing.rows:
        left = GAP
        tall = max(panel.height for panel in row) * scale
        for panel in row:
            parts.append(_panel(panel, left, top, scale, tall, ident))
            left += _room(panel, scale) + GAP
        top += tall + LINE * max(len(panel.caption) for panel in row) + GAP
    parts.append(_scale_bar(scale, top, drawing.unit))
    return "".join(parts), WIDTH, top + LINE + GAP


def _room(panel: Panel, scale: float) -> float:
    """How wide a panel is with its caption."""
    return max(panel.width * scale, LETTER * max(map(len, panel.caption), default=0))


def _scale(drawing: Drawing) -> float:
    """The largest scale at which every row fits the width, and the whole is at most as tall as wide."""
    tall = sum(max(panel.height for panel in row) for row in drawing.rows)
    scale = min(WIDTH / max(sum(panel.width for panel in row) for row in drawing.rows), WIDTH / tall)
    room = WIDTH - GAP
    while scale > 0.1 and any(sum(_room(panel, scale) + GAP for panel in row) > room for row in drawing.rows):
        scale *= 0.97
    return scale


def _panel(panel: Panel, left: float, top: float, scale: float, tall: float, ident: str) -> str:
    drop = top + (tall - panel.height * scale) / 2
    shapes = "".join(_outline(outline, left, drop, scale, ident) for outline in panel.outlines)
    lines = "".join(label(left, top + tall + LINE * (place + 1), line) for place, line in enumerate(panel.caption))
    return f"<g>{shapes}{lines}</g>"


def _outline(outline: Outline, left: float, top: float, scale: float, ident: str) -> str:
    line = path([(left + x * scale, top + y * scale) for x, y in outline.points])
    fill = f"url(#{ident}-hatch)" if outline.hatched else "none"
    edge = "" if outline.edged else ' stroke="none"'
    return f'<path d="{line}Z" fill="{fill}"{edge}/>'


def _scale_bar(scale: float, top: float, unit: str) -> str:
    length = bar_length(scale, 60)
    right = GAP + length * scale
    return (f'<path d="M{GAP:.1f} {top - 4:.1f}v8M{GAP:.1f} {top:.1f}H{right:.1f}M{right:.1f} {top - 4:.1f}v8"/>'
            + label(right + 8, top + 4, f"{length} {unit}"))


def _chart(chart: Chart) -> tuple[str, float, float]:
    low_x, high_x, low_y, high_y = extent(chart)
    marks_y = [(y, f"{y:g}") for y in ticks(low_y, high_y)]
    left = _LEFT + _DIGIT * max(0, max((len(words) for _, words in marks_y), default=0) - 4)
    right = min(_RIGHT_MOST, max([_RIGHT, *(2 * _NAME_GAP + LETTER * len(line.name) for line in chart.lines)]))
    wide, tall = WIDTH - left - right, _CHART_HEIGHT - _TOP - _BOTTOM

    def at(x: float, y: float) -> tuple[float, float]:
        return (left + (x - low_x) / (high_x - low_x) * wide, _TOP + (high_y - y) / (high_y - low_y) * tall)

    floor = _TOP + tall
    parts = [f'<path d="M{left:.1f} {_TOP:.1f}V{floor:.1f}H{left + wide:.1f}"/>']
    for x in ticks(low_x, high_x):
        place, _ = at(x, low_y)
        parts.append(f'<path d="M{place:.1f} {floor:.1f}v5"/>' + label(place, floor + 19, f"{x:g}", "middle"))
    for y, words in marks_y:
        _, place = at(low_x, y)
        parts.append(f'<path d="M{left:.1f} {place:.1f}h-5"/>' + label(left - 9, place + 4, words, "end"))
    parts.append(label(left + wide / 2, _CHART_HEIGHT - 8, chart.x_label, "middle"))
    turn = f' transform="rotate(-90 16 {_TOP + tall / 2:.1f})"'
    parts.append(label(16, _TOP + tall / 2, chart.y_label, "middle", turn))
    return "".join(parts + _lines(chart, at, left + wide)), WIDTH, _CHART_HEIGHT


def _lines(chart: Chart, at: Callable[[float, float], tuple[float, float]], edge: float) -> list[str]:
    """Every line with its rings, its sign, and its name at its end; a line with a sign has its name at the edge."""
    ends = [(edge if line.sign else x, y) for line in chart.lines for x, y in [at(*line.points[-1])]]
    parts = []
    for number, (line, (name_x, name_y)) in enumerate(zip(chart.lines, _name_places(ends), strict=True)):
        dash = ' stroke-dasharray="6 4"' if line.dashed else ""
        if line.joined:
            parts.append(f'<path d="{path([at(*point) for point in line.points])}"{dash}/>')
        rings = [at(*point) for point in line.points if line.ringed]
        parts += [f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4"/>' for x, y in rings]
        parts.append(label(name_x + _NAME_GAP, name_y + 4, line.name))
        if line.sign:
            sign_x, sign_y = at(*line.signed_at(number, len(ends)))
            parts.append(label(sign_x, sign_y - 5, line.sign, "middle"))
    return parts


def _name_places(ends: Sequence[tuple[float, float]]) -> list[tuple[float, float]]:
    """Where each line's name stands: at the line's end, in one column with others near, lower where one is in the
    way."""
    found = list(ends)
    for column in {round(x / _RIGHT) for x, _ in ends}:
        own = [place for place, (x, _) in enumerate(ends) if round(x / _RIGHT) == column]
        right = max(ends[place][0] for place in own)
        for place, y in zip(own, apart([ends[place][1] for place in own], LINE), strict=True):
            found[place] = (right, y)
    return found


def _dot_plot(plot: DotPlot) -> tuple[str, float, float]:
    low, high = plot.extent()
    wide = WIDTH - 2 * GAP

    def at(value: float) -> float:
        return GAP + (value - low) / (high - low) * wide

    lead = wrap(plot.lead, _A_LINE)
    top = _TOP + LINE * len(lead)
    parts = [label(GAP, _TOP + LINE * place, words) for place, words in enumerate(lead)]
    parts += [_dot_row(row, top + _ROW * place, at) for place, row in enumerate(plot.rows)]
    floor = top + _ROW * len(plot.rows)
    parts.append(f'<path d="M{GAP:.1f} {floor:.1f}H{GAP + wide:.1f}"/>')
    for value, words in plot.marked():
        parts.append(f'<path d="M{at(value):.1f} {floor:.1f}v5"/>')
        parts.append(label(at(value), floor + LINE, words, "middle"))
    below = [plot.label, *wrap(plot.key, _A_LINE)]
    parts += [label(GAP, floor + LINE * (place + 2) + 4, words) for place, words in enumerate(below)]
    return "".join(parts), WIDTH, floor + LINE * (len(below) + 2)


def _dot_row(row: DotRow, top: float, at: Callable[[float], float]) -> str:
    """Its name; below it rings for single values, a bar with end marks for the interval, a lozenge in its middle."""
    name = row.name if len(row.name) <= _A_LINE else row.name[: _A_LINE - 1] + "…"
    y = top + _BAR
    parts = [label(GAP, top + LINE - 3, name)]
    parts += [f'<circle cx="{at(value):.1f}" cy="{y - 9:.1f}" r="4"/>' for value in row.dots]
    if row.low is not None and row.high is not None:
        start, end = at(row.low), at(row.high)
        ends = f"M{start:.1f} {y - 5:.1f}v10M{end:.1f} {y - 5:.1f}v10"
        parts.append(f'<path d="{ends}M{start:.1f} {y:.1f}H{end:.1f}"/>')
    if row.middle is not None:
        x = at(row.middle)
        parts.append(f'<path d="M{x - 5:.1f} {y:.1f}l5 -5l5 5l-5 5Z" fill="currentColor"/>')
    return "".join(parts)
