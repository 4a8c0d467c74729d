"""The forecast's pictures: readable without colour, with the numbers beside the words."""

from __future__ import annotations

import pytest

from cookbook.heat import Cooker, forecast
from cookbook.heat.course import ensemble
from cookbook.heat.drawing import cross_section, curve, in_words, slices
from cookbook.heat.outlook import setup
from cookbook.heat.prior import draw, members_of
from cookbook.meat import Cut
from cookbook.picture import svg, text

PIECE = Cut.named("rib roast, bone in").piece(ribs=3)
TOLD = forecast(PIECE, pit_c=121, pull_c=49, members=24)


def test_the_curve_shows_its_band_the_pit_and_what_was_read() -> None:
    chart = curve(TOLD, [(30.0, 8.0), (60.0, 14.0)])
    assert [line.name for line in chart.lines] == ["core, low", "core", "core, high", "pit", "read"]
    assert "49 °C between minute" in chart.title
    drawn = svg(chart)
    assert "<title" in drawn
    assert "<desc" in drawn
    assert len(text(chart).splitlines()) > 8


def test_readings_are_rings_that_no_line_joins_in_the_picture_and_in_the_terminal() -> None:
    bare, read = curve(TOLD), curve(TOLD, [(30.0, 8.0), (60.0, 14.0), (90.0, 30.0), (61.0, 40.0, 3.0)])
    assert "Rings are what was read" in read.description
    assert "Rings" not in bare.description
    drawn, lines = svg(read), text(read).splitlines()
    assert (drawn.count("<circle"), svg(bare).count("<circle")) == (3, 0)
    assert drawn.count("<path") == svg(bare).count("<path")
    body = [line.partition("│")[2] for line in lines if "│" in line]
    assert sum(line.split(" core")[0].split(" o read")[0].count("o") for line in body) == 3
    assert any(line.rstrip().endswith("o read") for line in body)


def test_slices_are_columns_that_are_full_and_the_legend_names_the_numbers() -> None:
    drawing = slices(TOLD)
    for row in drawing.rows[:-1]:
        for panel in row:
            assert max(y for outline in panel.outlines for _, y in outline.points) > 9.6
    assert "4 medium rare, 54 to 60 °C" in drawing.rows[-1][0].caption
    assert "4 medium rare, 54 to 60 °C" in drawing.description
    assert "slice" in text(drawing)


def test_the_rings_of_the_cross_section_lie_inside_one_another() -> None:
    plan = setup(PIECE, pit_c=121, pull_c=49)
    spread = ensemble(plan.roast, members_of(draw(8, 0), plan.priors), plan.course)
    drawing = cross_section(plan, spread)
    outlines = drawing.rows[0][0].outlines
    assert any(one.hatched for one in outlines)
    widths = [max(x for x, _ in one.points) - min(x for x, _ in one.points) for one in outlines if not one.hatched]
    rings = widths[1:]
    assert len(rings) >= 2
    assert rings == sorted(rings)
    assert widths[0] >= rings[-1]
    assert "°C" in svg(drawing)


def test_the_coldest_ring_lies_in_the_middle_or_away_from_the_hot_side() -> None:
    places, captions = [], []
    for cooker in (Cooker("drum"), Cooker("drum", hot_side="back", hotter_k=30.0)):
        plan = setup(PIECE, pit_c=121, pull_c=49, cooker=cooker)
        drawing = cross_section(plan, ensemble(plan.roast, members_of(draw(2, 0), plan.priors), plan.course))
        panel = drawing.rows[0][0]
        coldest = [x for x, _ in next(one for one in panel.outlines[1:] if not one.hatched).points]
        places.append((min(coldest) + max(coldest)) / 2 - panel.width / 2)
        captions.append(panel.caption[-1])
    assert places[0] == pytest.approx(0.0, abs=0.05)
    assert places[1] < -0.1
    assert captions[1] == "back on the right, 30 K hotter"
    assert "hotter" not in captions[0]


def test_zones_in_words_keep_the_numbers_beside_the_names() -> None:
    said = in_words(TOLD.zones)
    assert "°C" in said
    assert "%" in said
