"""A forecast as pictures: the curve with its band, the cross-section with its zones, the slices side by side.

Zones are told apart by hatching and by numbers that the caption explains, never by colour alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from cookbook.heat.advice import Sensitivity, informed
from cookbook.heat.body import Array, Body
from cookbook.heat.course import Spread, ensemble
from cookbook.heat.outlook import Forecast, Setup, setup
from cookbook.heat.prior import members_of
from cookbook.heat.zone import Zone, bands
from cookbook.picture import Chart, DotPlot, DotRow, Drawing, Line, Outline, Panel, Table
from cookbook.quantity.number import tenth

if TYPE_CHECKING:
    from cookbook.meat import Piece

Ring = tuple[tuple[float, float], ...]

_RAYS, _STEPS = 96, 40
_NEAR = 9
_A_ROW = 4


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
    cores = [one for one in readings if len(one) < 3 or one[2] is None]
    if cores:
        read = tuple((float(one[0]), float(one[1])) for one in cores)
        lines.append(Line("read", read, ringed=True, joined=False))
    pull = told.minutes_to_pull
    between = "at no certain time"
    if pull.p10 and pull.p90:
        same = round(pull.p10) == round(pull.p90)
        between = f"at minute {pull.p10:.0f}" if same else f"between minute {pull.p10:.0f} and {pull.p90:.0f}"
    rows = tuple((f"{minute:.0f}", f"{point.core_c.p10:.0f}", f"{point.core_c.p50:.0f}", f"{point.core_c.p90:.0f}",
                  f"{point.pit_c:.0f}") for minute, point in points[::6])
    return Chart(f"Core to {tenth(told.pull_c)} °C {between}",
                 "Core temperature over the minutes from the meat going on: middle, and dashed the band that holds "
                 "eight of ten; the pit dashed above." + (" Rings are what was read." if cores else ""),
                 "minutes", "°C", tuple(lines),
                 Table(("minute", "core low °C", "core °C", "core high °C", "pit °C"), rows))


def slices(told: Forecast) -> Drawing:
    """Each slice as a column of its zones, the hottest on top, hatched in turn; numbers count from the coldest."""
    panels = []
    for one in told.slices:
        top, outlines, lines = 0.0, [], []
        for number, zone in reversed(list(enumerate(one.zones))):
            if zone.share > 0.005:
                low = top + 10.0 * zone.share
                outlines.append(Outline(((0.0, top), (4.0, top), (4.0, low), (0.0, low)), hatched=number % 2 == 1))
                lines.append(f"{number + 1}: {100 * zone.share:.0f} %")
                top = low
        place = f"{one.from_end_cm:.0f} to {one.from_end_cm + one.thickness_cm:.0f} cm"
        panels.append(Panel((place, "end cut" if one.end_cut else "slice", *lines), 4.0, 10.0, tuple(outlines)))
    legend = [f"{k + 1} {zone.name}, {_span(zone.low_c, zone.high_c)}" for k, zone in enumerate(told.zones)]
    rows = tuple((f"{one.from_end_cm:.1f} cm", *(f"{100 * zone.share:.0f} %" for zone in one.zones))
                 for one in told.slices)
    columns = [tuple(panels[k:k + _A_ROW]) for k in range(0, len(panels), _A_ROW)]
    return Drawing("Slices from the end to the middle", f"Share of each zone in each slice. {'; '.join(legend)}.",
                   (*columns, (Panel(tuple(legend), 4.0 * _A_ROW, 0.1, ()),)),
                   Table(("from the end", *(zone.words() for zone in told.zones)), rows), "tenths of a slice")


def tornado(bars: Sequence[Sensitivity]) -> DotPlot:
    """What the time to the pull hangs on: a bar from P10 to P90 of each thing not known, moved alone."""
    rows = tuple(DotRow(bar.cause, (), None, min(bar.low_min, bar.high_min), max(bar.low_min, bar.high_min))
                 for bar in bars)
    table = Table(("not known", "minutes to the pull"),
                  tuple((row.name, f"{row.low:.0f} to {row.high:.0f}") for row in rows))
    return DotPlot("What the time to the pull hangs on", "The widest first; each moved alone.", "minutes to the pull",
                   rows, "bar: eight of ten", table)


def section(piece: Piece, *, readings: Sequence[Any] = (), seed: int = 0, **settings: Any) -> Drawing:
    """The middle slice of a piece as `forecast` would cook it; keywords as there."""
    plan = setup(piece, **settings)
    drawn = members_of(informed(plan, readings, seed)[:, :2], plan.priors)
    return cross_section(plan, ensemble(plan.roast, drawn, plan.course))


def cross_section(plan: Setup, spread: Spread) -> Drawing:
    """The middle slice with its zones, every second one hatched, from the highest temperature each spot reached."""
    graph = spread.fine_cells.graph
    near = graph.centre_m[:, 1] < graph.pitch_m if "y" not in plan.roast.body.exposed else np.abs(
        graph.centre_m[:, 1] - graph.length_m * 0.4) < graph.pitch_m
    half = "z" in plan.roast.body.exposed
    field = Section(graph.centre_m[near][:, (0, 2)], spread.fine.highest_c[near, 0], plan.roast.body)
    edge = field.ring(np.inf)
    wide, tall = plan.roast.body.sizes_m[0], plan.roast.body.sizes_m[2]
    known = bands(plan.roast.species)
    outlines, rows, seen = [Outline(edge)], [], []
    for number, band in enumerate(known):
        inner = None if band.low_c is None or band.low_c <= field.coldest else field.ring(band.low_c)
        outer = edge if band.high_c is None else field.ring(band.high_c)
        if band.high_c is not None and band.high_c <= field.coldest:
            continue
        if band.low_c is not None and band.low_c >= field.hottest:
            continue
        if number % 2:
            outlines.append(Outline(_between(outer, inner), hatched=True, edged=False))
        outlines += [] if inner is None else [Outline(inner)]
        seen.append(f"{number + 1} {band.name}, {_span(band.low_c, band.high_c)}")
        drawn = "hatched" if number % 2 else "bare"
        rows.append((f"{number + 1} {band.name}", _span(band.low_c, band.high_c), drawn))
    side = f"{plan.cooker.warmer} on the right, {tenth(plan.roast.side_k)} K hotter" if plan.roast.side_k else ""
    panel = Panel(("middle slice, from its coldest spot outwards:", *seen, *([side] if side else [])), 200 * wide,
                  100 * tall * (1 if half else 2), tuple(outlines))
    return Drawing("The middle slice and its zones",
                   "Cross-section; every second zone is hatched, by the highest temperature a spot reached."
                   + (f" The {side}." if side else ""),
                   ((panel,),), Table(("zone", "temperature", "drawn"), tuple(rows)), "cm")


def _between(outer: Ring, inner: Ring | None) -> Ring:
    """The band between two rings as one outline; the way in and out is one line at the top."""
    return outer if inner is None else (*outer, outer[0], inner[0], *reversed(inner))


class Section:
    """The highest temperatures on a section, known on rays from its coldest spot; a half is mirrored."""

    def __init__(self, places: Array, heat: Array, body: Body) -> None:
        self.places, self.heat, self.body = places, heat, body
        self.floor = "z" in body.exposed
        for axis, folded in enumerate((bool((places[:, 0] >= 0).all()),
                                       not self.floor and bool((places[:, 1] >= 0).all()))):
            if folded:
                mirror = (-1.0, 1.0) if axis == 0 else (1.0, -1.0)
                self.places = np.concatenate([self.places, self.places * mirror])
                self.heat = np.concatenate([self.heat, self.heat])
        cold = self.places[self.heat <= self.heat.min() + 1e-9]
        self.middle = np.asarray(cold.mean(axis=0))
        self.spokes = self._outline() - self.middle
        self.shares = np.linspace(0.0, 1.0, _STEPS)
        points = self.middle + self.shares[:, None, None] * self.spokes
        self.field = self._at(points.reshape(-1, 2)).reshape(points.shape[:2])
        self.coldest, self.hottest = float(self.field[0, 0]), float(self.field.max())

    def _outline(self) -> Array:
        """Points on the edge, as many on the flanks of a flat piece as on those of a round one."""
        wide, _, tall = self.body.sizes_m
        turns = np.linspace(0.0, 2 * np.pi, _RAYS, endpoint=False) + np.pi / 2
        origin = np.array([0.0, tall / 2 if self.floor else 0.0])
        ways = np.stack([wide * np.cos(turns), tall * np.sin(turns)], axis=1)
        if self.floor:
            ways = np.concatenate([ways, np.array([[-wide, 0.0], [wide, 0.0]]) - origin])
            ways = ways[np.argsort((np.arctan2(ways[:, 1], ways[:, 0]) - np.pi / 2) % (2 * np.pi), kind="stable")]
        near, far = np.zeros(len(ways)), np.full(len(ways), 3.0)
        for _ in range(40):
            at = (near + far) / 2
            x, z = np.abs((origin + at[:, None] * ways).T)
            below = self.floor & ((origin + at[:, None] * ways)[:, 1] < -1e-9)
            high = self.body.z_of_xy(np.minimum(x, wide)[:, None], np.zeros((len(ways), 1)))[:, 0]
            inside = (x <= wide * (1 + 1e-9)) & (z <= high + 1e-9) & ~below
            near, far = np.where(inside, at, near), np.where(inside, far, at)
        return np.asarray(origin + near[:, None] * ways)

    def _at(self, points: Array) -> Array:
        """At each point a plane through the nearest cells."""
        away = ((self.places - points[:, None]) ** 2).sum(axis=2)
        near = np.argpartition(away, _NEAR, axis=1)[:, :_NEAR]
        close = np.take_along_axis(away, near, axis=1)
        weight = 1.0 / (close + close.mean(axis=1, keepdims=True) / 4)
        columns = np.concatenate([np.ones((*near.shape, 1)), self.places[near] - points[:, None]], axis=2)
        moment = columns.transpose(0, 2, 1) * weight[:, None]
        solved = np.linalg.solve(moment @ columns + 1e-12 * np.eye(3), moment @ self.heat[near][..., None])
        return np.asarray(solved[:, 0, 0])

    def ring(self, level_c: float) -> Ring:
        """Where the field first crosses a temperature on each ray; the edge where it does not."""
        hot = np.maximum.accumulate(self.field, axis=0)
        share = [float(np.interp(level_c, column, self.shares)) if column[-1] >= level_c else 1.0 for column in hot.T]
        wide, tall = self.body.sizes_m[0], self.body.sizes_m[2]
        points = self.middle + np.array(share)[:, None] * self.spokes
        return tuple((100 * (wide + float(x)), 100 * (tall - float(z))) for x, z in points)


def in_words(zones: Sequence[Zone]) -> str:
    """The zones as one line: shares with their names and numbers."""
    return "; ".join(f"{100 * zone.share:.0f} % {zone.words()}" for zone in zones if zone.share >= 0.005)
