"""Charts of a comparison: what stands in them is what was measured, and each has its numbers as a table."""

from __future__ import annotations

from pathlib import Path
from xml.etree import ElementTree

import pytest
from scipy import stats

from cookbook.compare import compare_versions
from cookbook.compare.charts import group_mean, over_time, score_chart, timeline
from cookbook.compare.curves import curves
from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.picture import svg, text
from tests.compare.journals import Told, kitchen_of, one

ROOT = Path(__file__).resolve().parent.parent.parent


@pytest.fixture
def demo() -> Kitchen:
    """The demonstration kitchen."""
    return Kitchen.open(ROOT)


def test_group_means_have_students_interval_with_the_scatter_of_all_groups(tmp_path: Path) -> None:
    """scipy.stats.t with the pooled standard deviation of a one-way layout."""
    cooks = [Told(1, one(s)) for s in (5, 6, 7)] + [Told(2, one(s)) for s in (8, 8.5, 9)]
    table = compare_versions(kitchen_of(tmp_path, cooks), "loin").table
    mean = group_mean(next(found for found in table.measured if found.outcome == "crust"), 1)
    pooled = ((2 * 1.0 + 2 * 0.25) / 4) ** 0.5
    assert mean is not None
    assert (mean.low, mean.high) == pytest.approx(stats.t.interval(0.8, 4, 8.5, pooled / 3**0.5))


def test_no_mean_of_scores_reaches_past_the_scale(tmp_path: Path) -> None:
    cooks = [Told(1, one(s)) for s in (1, 9)] + [Told(2, one(s)) for s in (2, 10)]
    crust = next(
        found
        for found in compare_versions(kitchen_of(tmp_path, cooks), "loin").table.measured
        if found.outcome == "crust"
    )
    low, high = group_mean(crust, 0), group_mean(crust, 1)
    assert low is not None
    assert high is not None
    assert (low.low, high.high) == (0, 10)


def test_scores_are_drawn_as_single_cooks_with_the_mean_between(tmp_path: Path) -> None:
    cooks = [Told(1, one(5)), Told(1, one(6)), Told(2, one(8)), Told(2, one(9))]
    plot = score_chart(compare_versions(kitchen_of(tmp_path, cooks), "loin"))
    assert [row.dots for row in plot.rows] == [(5, 6), (8, 9)]
    assert [row.middle for row in plot.rows] == [5.5, 8.5]
    assert len(plot.table.rows) == 2
    assert "can't tell yet" in plot.description


def test_coat_and_salt_run_over_the_days(demo: Kitchen) -> None:
    found = compare_versions(demo, "fennel-sage-paste")
    for outcome, unit in (("coat", "mg/cm²"), ("salt", "g/kg")):
        chart = over_time(found, outcome)
        xs = [x for x, _ in chart.lines[0].points]
        assert xs == sorted(xs)
        assert unit in chart.y_label
        assert len(chart.table.rows) == len(xs)


def test_the_timeline_has_a_dashed_line_where_each_version_begins(demo: Kitchen) -> None:
    chart = timeline(compare_versions(demo, "fennel-sage-paste"))
    starts = [line for line in chart.lines if line.dashed]
    assert len(starts) == 3
    assert [line.points[0][0] for line in starts] == sorted(line.points[0][0] for line in starts)
    assert {line.name for line in chart.lines if not line.dashed} == {"1 crust", "2 juiciness"}


@pytest.mark.parametrize("align", ["on", "pull", "30C", "86F"])
def test_curves_meet_where_they_are_aligned(demo: Kitchen, align: str) -> None:
    entries = [entry for entry in demo.entries(naming=["fennel-sage-paste"]) if entry.readings]
    chart = curves(demo, entries, align)
    assert len(chart.lines) == len(entries) == len(chart.table.rows)
    for line in chart.lines:
        before, after = line.points[0][0], line.points[-1][0]
        assert before <= 0 <= after
        if align in ("30C", "86F"):
            near = [core for minute, core in line.points if abs(minute) <= 10]
            assert min(near) <= 30 <= max(near)


def test_every_chart_is_one_well_formed_picture_with_title_and_numbers_and_has_its_terminal_form(
    demo: Kitchen,
) -> None:
    found = compare_versions(demo, "fennel-sage-paste")
    entries = [cook.entry for group in found.groups for cook in group.cooked]
    for picture in (score_chart(found), over_time(found, "coat"), timeline(found), curves(demo, entries, "pull")):
        root = ElementTree.fromstring(svg(picture))
        assert root.get("role") == "img"
        assert picture.table.rows
        assert text(picture).startswith(picture.title)


def test_what_cannot_be_drawn_is_said(tmp_path: Path) -> None:
    kitchen = kitchen_of(tmp_path, [Told(1), Told(2)])
    found = compare_versions(kitchen, "loin")
    for draw in (lambda: score_chart(found), lambda: timeline(found), lambda: over_time(found, "coat")):
        with pytest.raises(RequestError) as caught:
            draw()
        assert caught.value.mend
    with pytest.raises(RequestError, match="core readings"):
        curves(kitchen, list(kitchen.entries()))
