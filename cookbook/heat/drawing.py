"""A forecast as pictures: the curve with its band, the cross-section with its zones, the slices side by side.

Zones are told apart by hatching and by numbers that the caption explains, never by colour alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from cookbook.heat.body import Array, Body
from cookbook.heat.course import Spread
from cookbook.heat.outlook import Forecast, Setup
from cookbook.heat.zone import Zone, bands
from cookbook.picture import Chart, Drawing, Line, Outline, Panel, Table

_RAYS = 72
_NEAR = 4


def _span(low: float | None, high: float | None) -> str:
    if low is None:
        return f"below {high:g} °C"
    return f"{low:g} °C and above" if high is None else f"{low:g} to {high:g} °C"


def curve(told: Forecast, readings: Sequence[Any] = ()) -> Chart:
    """Core with its band, surface and pit over the minutes, with what was read so far."""
    points = [(point.minute, point) for point in told.curve]

    def line(name: str, value: Any, dashed: bool = False) -> Line:
        return Line(name, tuple((minute, float(value(point))) for minute, point in points), dashed)

    lines = [line("core, low", lambda p: p.core_c.p10, True), line("core", lambda p: p.core_c.p50),
             line("core, high", lambda p: p.core_c.p90, True), line("pit", lambda p: p.pit_c, True)]
    if readings:
        lines.append(Line("read", tuple((float(one[0]), float(one[1])) for one in readings)))
    pull = told.minutes_to_pull
    between = f"between minute {pull.p10:.0f} and {pull.p90:.0f}" if pull.p10 and pull.p90 else "at no certain time"
    rows = tuple((f"{minute:.0f}", f"{point.core_c.p10:.0f}", f"{point.core_c.p50:.0f}", f"{point.core_c.p90:.0f}",
                  f"{point.pit_c:.0f}") for minute, point in points[::6])
    return Chart(f"Core to {told.pull_c:g} °C {between}",
                 "Core temperature over the minutes from the meat going on: middle, and dashed the band that holds "
                 "eight of ten; the pit dashed above.",
                 "minutes", "°C", tuple(lines),
                 Table(("minute", "core low °C", "core °C", "core high °C", "pit °C"), rows))


def slices(told: Forecast) -> Drawing:
    """Each slice as a column of its zones, well done on top, hatched in turn and numbered from the coldest band."""
    panels = []
    for one in told.slices:
        top, outlines = 0.0, []
        for number, zone in reversed(list(enumerate(one.zones))):
            if zone.share > 0.005:
                low = top + 10.0 * zone.share
                outlines.append(Outline(((0.0, top), (4.0, top), (4.0, low), (0.0, low)), hatched=number % 2 == 1))
                top = low
        kind = "end cut" if one.end_cut else "slice"
        largest = max(range(len(one.zones)), key=lambda k, zones=one.zones: zones[k].share)  # type: ignore[misc]
        panels.append(Panel((f"{one.from_end_cm:.0f} cm", f"{kind}, most {largest + 1}"), 4.0, 10.0, tuple(outlines)))
    legend = "; ".join(f"{k + 1} {zone.words()}" for k, zone in enumerate(told.zones))
    rows = tuple((f"{one.from_end_cm:.1f} cm", *(f"{100 * zone.share:.0f} %" for zone in one.zones))
                 for one in told.slices)
    return Drawing("Slices from the end to the middle", f"Share of each zone in each slice. {legend}.",
                   tuple(tuple(panels[k:k + 6]) for k in range(0, len(panels), 6)),
                   Table(("from the end", *(zone.words() for zone in told.zones)), rows), "cm")


def cross_section(plan: Setup, spread: Spread) -> Drawing:
    """The middle slice with the lines between its zones, from the highest temperature each spot reached."""
    graph = spread.fine_cells.graph
    near = graph.centre_m[:, 1] < graph.pitch_m if "y" not in plan.roast.body.exposed else np.abs(
        graph.centre_m[:, 1] - graph.length_m * 0.4) < graph.pitch_m
    places, heat = graph.centre_m[near][:, (0, 2)], spread.fine.highest_c[near, 0]
    wide, tall = plan.roast.body.sizes_m[0], plan.roast.body.sizes_m[2]
    half = "z" in plan.roast.body.exposed
    outlines = [Outline(_edge(plan, half))]
    limits = [band for band in bands(plan.roast.species) if band.low_c is not None]
    rows = []
    for number, band in enumerate(limits):
        assert band.low_c is not None
        ring = _isotherm(places, heat, band.low_c, plan.roast.body, half)
        inside = ring is not None
        rows.append((f"{number + 2} {band.name}", _span(band.low_c, band.high_c),
                     "begins at its ring" if inside else "all of the slice is hotter"))
        if ring is not None:
            outlines.append(Outline(ring, hatched=number % 2 == 0))
    tallness = 100 * tall * (1 if half else 2)
    caption = ("middle slice", "rings: " + ", ".join(f"{band.low_c:g} °C" for band in limits))
    panel = Panel(caption, 200 * wide, tallness, tuple(outlines))
    return Drawing("The middle slice and its zones",
                   "Cross-section; each ring is where the meat just reached the temperature at which a zone begins.",
                   ((panel,),), Table(("zone", "temperature", "where"), tuple(rows)), "cm")


def _edge(plan: Setup, half: bool) -> tuple[tuple[float, float], ...]:
    """Outline of the section in cm, x from the left, y down."""
    body = plan.roast.body
    x = body.sizes_m[0] * np.sin(np.linspace(0.0, np.pi / 2, 19))
    z = body.z_of_xy(x, np.zeros_like(x))
    quarter = list(zip(x.tolist(), z.tolist(), strict=True))
    return _mirrored(quarter if half else quarter + [(at, -up) for at, up in reversed(quarter)], body)


def _mirrored(right: list[tuple[float, float]], body: Body) -> tuple[tuple[float, float], ...]:
    """The right side's points, from the top down, as the whole outline in cm."""
    wide, tall = body.sizes_m[0], body.sizes_m[2]
    left = [(-x, z) for x, z in reversed(right)]
    return tuple((100 * (wide + x), 100 * (tall - z)) for x, z in right + left)


def _isotherm(places: Array, heat: Array, level_c: float, body: Body,
              half: bool) -> tuple[tuple[float, float], ...] | None:
    """Where the field crosses a temperature on rays from the coldest spot; None where all of it is hotter."""
    height = float(places[np.argmin(heat), 1]) if half else 0.0
    if _at(places, heat, np.array([0.0, height])) >= level_c:
        return None
    right = []
    for turn in np.linspace(np.pi / 2, -np.pi / 2, _RAYS // 2 + 1):
        way = np.array([np.cos(turn), np.sin(turn)])
        point = np.array([0.0, height])
        for share in np.linspace(0.0, 1.0, 60):
            step = np.array([0.0, height]) + share * 1.5 * max(body.sizes_m) * way
            outside = step[0] > body.sizes_m[0] or (half and step[1] < 0) or abs(step[1]) > float(
                body.z_of_xy(np.array([min(step[0], body.sizes_m[0])]), np.zeros(1))[0])
            if outside or _at(places, heat, np.abs(step)) >= level_c:
                break
            point = step
        right.append((float(point[0]), float(point[1])))
    return _mirrored(right, body)


def _at(places: Array, heat: Array, point: Array) -> float:
    """The field at a point, from the nearest cells by inverse distance."""
    away = ((places - point) ** 2).sum(axis=1)
    near = np.argpartition(away, _NEAR)[:_NEAR]
    weight = 1.0 / (away[near] + 1e-7)
    return float((weight * heat[near]).sum() / weight.sum())


def in_words(zones: Sequence[Zone]) -> str:
    """The zones as one line: shares with their names and numbers."""
    return "; ".join(f"{100 * zone.share:.0f} % {zone.words()}" for zone in zones if zone.share >= 0.005)
