"""Pictures from marks: outlines to scale with hatching, and lines on axes, in one style for every screen.

In it: the marks, their SVG (title, description, data table) and their terminal text. Knows nothing of the trade.
Imports nothing of the package; any room above the lowest may import it.
"""

from __future__ import annotations

from cookbook.picture.mark import Chart, Drawing, Line, Outline, Panel, Table
from cookbook.picture.svg import figure, svg
from cookbook.picture.terminal import text

__all__ = ["Chart", "Drawing", "Line", "Outline", "Panel", "Table", "figure", "svg", "text"]
