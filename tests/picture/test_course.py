"""A curve by the clock: everything in its place, told in words too."""

from __future__ import annotations

import re
from xml.etree import ElementTree

from cookbook.picture import Course, Table, course_svg
from cookbook.picture.course import HEIGHT, WIDTH

COURSE = Course(
    "Core <and> pit",
    "Dots were read.",
    "°C",
    ((0, 4, 6), (60, 30, 40), (120, 55, 64)),
    ((0, 5), (60, 35), (120, 60)),
    ((10, 7), (30, 18)),
    ((0, 120), (120, 130)),
    "pit",
    ((0, "12:00"), (60, "13:00"), (500, "20:00")),
    (60, "pull 60"),
    ((40, "now"), (44, "check"), (999, "never")),
    Table(("at", "low"), (("12:00", "4"),)),
)


def test_it_is_well_formed_named_and_told() -> None:
    found = ElementTree.fromstring(course_svg(COURSE, "one"))
    title, told = (child.text or "" for child in list(found)[:2])
    assert title == "Core <and> pit"
    assert told == "Dots were read. at: 12:00; low: 4."
    assert found.get("aria-labelledby") == "one-title one-desc"


def test_everything_lies_on_the_sheet_and_labels_do_not_meet() -> None:
    drawn = course_svg(COURSE)
    for x, y in re.findall(r"[ML](-?[\d.]+) (-?[\d.]+)", drawn):
        assert 0 <= float(x) <= WIDTH
        assert 0 <= float(y) <= HEIGHT
    assert "20:00" not in drawn
    assert "never" not in drawn
    places = {name: float(x) for x, name in re.findall(r'<text x="([\d.]+)"[^>]*>(now|check)<', drawn)}
    assert places["check"] - places["now"] >= 7 * (len("now") + len("check")) / 2


def test_readings_are_dots_the_band_is_hatched_and_nothing_needs_a_colour() -> None:
    drawn = course_svg(COURSE)
    assert drawn.count("<circle") == 2
    assert 'fill="url(#course-hatch)"' in drawn
    assert set(re.findall(r'(?:fill|stroke)="([^"]*)"', drawn)) == {"none", "currentColor", "url(#course-hatch)"}


def test_readings_alone_are_drawn_too() -> None:
    assert "<circle" in course_svg(COURSE._replace(band=(), middle=(), other=(), level=None))
