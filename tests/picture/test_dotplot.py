"""Dot plots and signed lines: readable without colour, with their numbers for whoever hears them."""

from __future__ import annotations

import re
from itertools import pairwise
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.picture import Chart, DotPlot, DotRow, Line, Table, svg, text
from cookbook.picture.mark import apart

PLOT = DotPlot(
    "crust by version",
    "Two versions.",
    "points",
    (DotRow("revision 1", (5.0, 6.0, 6.0), 5.7, 5.0, 6.4), DotRow("revision 2", (8.0,))),
    "rings are cooks",
    Table(("version", "mean"), (("revision 1", "5.7"), ("revision 2", "8.0"))),
)
SVG = "{http://www.w3.org/2000/svg}"


def test_a_dot_plot_has_a_ring_for_each_cook_a_bar_and_a_filled_lozenge() -> None:
    root = ElementTree.fromstring(svg(PLOT, "dots"))
    assert len(root.findall(f"{SVG}circle")) == 4
    assert len([path for path in root.findall(f"{SVG}path") if path.get("fill") == "currentColor"]) == 1
    title, told = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert title is not None
    assert title.text == "crust by version"
    assert told is not None
    assert "version: revision 1; mean: 5.7." in (told.text or "")
    assert not re.findall(r"#[0-9a-f]{3,6}|rgb", svg(PLOT, "dots"))


def test_in_the_terminal_cooks_that_fall_together_are_counted() -> None:
    lines = text(PLOT, 60).splitlines()
    assert lines[2].startswith("revision 1 │")
    assert lines[2].partition("│")[2].split() == ["o", "2"]
    assert re.fullmatch(r" +│ *├─*◆─*┤", lines[3])
    assert all(len(line) <= 60 for line in lines)


def test_values_stand_in_the_order_of_their_size() -> None:
    row = text(PLOT, 60).splitlines()
    assert row[2].index("o", 12) < row[4].index("o", 12)


@given(st.lists(st.floats(0, 100), min_size=1, max_size=12), st.floats(0.5, 20))
def test_names_are_never_nearer_than_the_gap_and_keep_their_order(places: list[float], gap: float) -> None:
    moved = apart(places, gap)
    assert all(new >= old for new, old in zip(moved, places, strict=True))
    kept = sorted(moved)
    assert all(two - one >= gap * 0.999999 for one, two in pairwise(kept))
    assert sorted(range(len(places)), key=lambda n: places[n]) == sorted(range(len(places)), key=lambda n: moved[n])


@pytest.mark.parametrize("lines", [2, 20])
def test_lines_that_end_together_keep_all_their_names_and_signs(lines: int) -> None:
    points = ((0, 0), (2, 10), (4, 20), (6, 30), (9, 60))
    curves = tuple(Line(f"cook {n}", points, n % 2 == 1, sign="abc"[n % 3]) for n in range(lines))
    chart = Chart("curves", "Some.", "minutes", "°C", curves, Table(("n",), (("1",),)))
    root = ElementTree.fromstring(svg(chart))
    places = [float(one.get("y", "0")) for one in root.iter(f"{SVG}text") if (one.text or "").startswith("cook ")]
    assert len(set(places)) == lines
    shown = text(chart, 70)
    assert all(f"cook {n}" in shown for n in range(lines))
    assert {"a", "b"} <= set(shown)


def test_a_steep_dashed_line_has_gaps() -> None:
    chart = Chart(
        "start", "One.", "months", "points",
        (Line("whole", ((0, 0), (4, 0))), Line("start", ((2, 0), (2, 9)), dashed=True)), Table(("n",), (("1",),)),
    )  # fmt: skip
    whole = Chart(
        "start", "One.", "months", "points", (chart.lines[0], chart.lines[1]._replace(dashed=False)), chart.table
    )
    dots = [
        sum(bin(ord(cell) - 0x2800).count("1") for cell in text(one) if 0x2800 <= ord(cell) <= 0x28FF)
        for one in (chart, whole)
    ]
    assert dots[0] < dots[1]
