"""Pictures from marks: outlines to scale with hatching, and lines on axes, in one style for every screen.

In it: the marks, their SVG (title, description, data table) and terminal text; what a notebook shows. Knows no trade.
Imports nothing of the package; any room above the lowest may import it.
"""

from __future__ import annotations

from cookbook.picture.course import Course, course_svg
from cookbook.picture.mark import Chart, DotPlot, DotRow, Drawing, Line, Outline, Panel, Table
from cookbook.picture.svg import figure, svg
from cookbook.picture.terminal import text

__all__ = [
    "Chart",
    "Course",
    "DotPlot",
    "DotRow",
    "Drawing",
    "Line",
    "Outline",
    "Panel",
    "Table",
    "course_svg",
    "figure",
    "svg",
    "text",
]
