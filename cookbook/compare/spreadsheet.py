"""The cooks of a comparison as CSV for a spreadsheet, a line for each outcome of each cook and taster.

Text cells that a spreadsheet would take for a formula get an apostrophe before them (OWASP, CSV injection).
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from cookbook.compare.cook import Cook
from cookbook.compare.groups import Comparison

HEAD = ("group", "entry", "date", "outcome", "taster", "value", "unit", "mass kg", "pit °C")
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "|", "%", "＝", "＋", "－", "＠")


def safe(words: str) -> str:
    """Text that no spreadsheet runs."""
    return f"'{words}" if words.lstrip().startswith(_FORMULA) or words.startswith(_FORMULA) else words


def csv_text(comparison: Comparison) -> str:
    """Every score and measure of every cook; numbers stay numbers, with a point."""
    out = io.StringIO()
    rows = csv.writer(out, lineterminator="\r\n")
    rows.writerow(HEAD)
    for group in comparison.groups:
        for cook in group.cooked:
            for outcome, taster, value, unit in _values(cook):
                rows.writerow(
                    [
                        safe(group.label),
                        safe(cook.entry.name),
                        cook.entry.date.isoformat(),
                        safe(outcome),
                        safe(taster),
                        f"{value:.6g}",
                        safe(unit),
                        "" if cook.mass_kg is None else f"{cook.mass_kg:.6g}",
                        "" if cook.pit_c is None else f"{cook.pit_c:.5g}",
                    ]
                )
    return out.getvalue()


def _values(cook: Cook) -> Iterator[tuple[str, str, float, str]]:
    for aspect, scores in cook.scores.items():
        for taster, score in scores.items():
            yield aspect, taster, score, "points"
    for one in cook.measures:
        yield one.name, "", one.value, one.unit
