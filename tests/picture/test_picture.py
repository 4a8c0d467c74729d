"""Pictures from marks: valid SVG with words for those who hear it, terminal text within its width."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.picture import Chart, Drawing, Line, Outline, Panel, Table, figure, svg, text
from cookbook.picture.canvas import Canvas
from cookbook.picture.mark import bar_length, ticks

SVG = "{http://www.w3.org/2000/svg}"
SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))
TABLE = Table(("face", "cm²"), (("top & bottom", "100"), ("<edges>", "40")))
DRAWING = Drawing("A box, 2 kg", "One of two faces hatched.", (
    (Panel(("top & bottom", "100 cm²"), 10, 10, (Outline(SQUARE, True),)),
     Panel(("<edges>", "40 cm², bare"), 10, 4, (Outline(((0, 0), (10, 0), (10, 4), (0, 4))),))),), TABLE, "cm")
CHART = Chart("Two lines", "One rises faster.", "ribs", "times", (
    Line("by weight", ((2, 1), (7, 3.5)), dashed=True), Line("by surface", ((2, 1), (7, 2.2)))), TABLE)


@pytest.mark.parametrize("picture", [DRAWING, CHART], ids=["drawing", "chart"])
def test_svg_is_well_formed_and_says_what_it_shows(picture: Drawing | Chart) -> None:
    tree = ElementTree.fromstring(svg(picture, "one"))
    assert tree.tag == f"{SVG}svg"
    assert tree.get("role") == "img"
    title, desc = tree.find(f"{SVG}title"), tree.find(f"{SVG}desc")
    assert title is not None
    assert desc is not None
    assert title.text == picture.title
    assert f"{title.get('id')} {desc.get('id')}" == tree.get("aria-labelledby")
    assert "face: <edges>; cm²: 40." in (desc.text or "")


def test_hatched_faces_are_a_pattern_and_bare_ones_are_open() -> None:
    drawn = svg(DRAWING, "one")
    assert drawn.count('fill="url(#one-hatch)"') == 1
    assert drawn.count('Z" fill="none"') == 1
    assert 'pattern id="one-hatch"' in drawn
    assert svg(DRAWING, "two").count("one-") == 0


def test_colour_is_the_texts_own() -> None:
    for picture in (DRAWING, CHART):
        assert "currentColor" in svg(picture)
        assert "#" not in svg(picture).replace("url(#picture-hatch)", "")


def test_both_panels_are_at_one_scale() -> None:
    tree = ElementTree.fromstring(svg(DRAWING))
    outlines = [path.get("d", "") for path in tree.iter(f"{SVG}path") if "Z" in path.get("d", "")]
    widths = []
    for path in outlines:
        xs = [float(point.split()[0]) for point in path.strip("MZ").split("L")]
        widths.append(max(xs) - min(xs))
    assert widths[0] == pytest.approx(widths[1], abs=0.11)


def test_everything_lies_on_the_sheet() -> None:
    for picture in (DRAWING, CHART):
        tree = ElementTree.fromstring(svg(picture))
        _, _, width, height = (float(one) for one in tree.get("viewBox", "").split())
        for label in tree.iter(f"{SVG}text"):
            assert 0 <= float(label.get("x", -1)) <= width
            assert 0 <= float(label.get("y", -1)) <= height


def test_a_figure_carries_its_numbers_as_a_table() -> None:
    html = figure(DRAWING)
    assert html.startswith("<figure><svg")
    assert "<figcaption>A box, 2 kg</figcaption>" in html
    assert '<th scope="col">face</th>' in html
    assert "<td>&lt;edges&gt;</td>" in html


@pytest.mark.parametrize("columns", [40, 78, 120])
def test_terminal_text_keeps_its_width(columns: int) -> None:
    for picture in (DRAWING, CHART):
        lines = text(picture, columns).splitlines()
        assert lines[0] == picture.title
        assert max(map(len, lines)) <= columns


def test_terminal_shows_captions_scale_bar_axes_and_names() -> None:
    drawn, charted = text(DRAWING), text(CHART)
    assert "top & bottom" in drawn
    assert "40 cm², bare" in drawn
    assert drawn.splitlines()[-1].endswith(" cm")
    for words in ("by weight", "by surface", "ribs", "times", "3.5", "7"):
        assert words in charted


def test_hatching_fills_only_the_inside() -> None:
    def dots(hatched: bool) -> int:
        canvas = Canvas(12, 6)
        canvas.outline([(2, 2), (20, 2), (20, 20), (2, 20)], hatched)
        return sum((ord(cell) - 0x2800).bit_count() for line in canvas.lines() for cell in line if cell != " ")

    assert dots(True) > dots(False) + 30


def test_dots_outside_the_sheet_are_left_out() -> None:
    canvas = Canvas(2, 1)
    canvas.line((-5, 0), (50, 0))
    assert canvas.lines() == ["⠉⠉"]


@given(st.floats(-1000, 1000), st.floats(0.01, 1000))
def test_ticks_are_round_and_inside(low: float, extent: float) -> None:
    found = ticks(low, low + extent)
    assert 2 <= len(found) <= 12
    assert all(low - 1e-6 * extent <= one <= low + extent * (1 + 1e-6) for one in found)


def test_ticks_of_no_extent_and_of_whole_numbers() -> None:
    assert ticks(3, 3) == [3]
    assert ticks(2, 7) == [2, 3, 4, 5, 6, 7]


def test_a_scale_bar_has_a_round_length() -> None:
    assert bar_length(10, 60) == 10
    assert bar_length(40, 60) == 2
    assert bar_length(0.001, 60) == 1000
