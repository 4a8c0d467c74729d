"""Synthetic twins: cooks made from another truth than the forecaster knows, with logs as a cook would have them.

A truth differs in every dimension, in how square its section is, in its meat, surface, fire, lids and where the probe
sits, and is run on finer cells; the forecaster knows the nominal shape, the set point and the two logs so far.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from cookbook.heat.body import Body, ellipsoid, prism
from cookbook.heat.course import Course, pull_minutes, run
from cookbook.heat.phase import Members
from cookbook.heat.prior import NAMES, members_of, priors
from cookbook.heat.roast import Roast, cells_of, roast_of
from cookbook.heat.setting import Cooker, phases_of
from cookbook.heat.simulate import along_line

Point = tuple[float, float]


class Kind(NamedTuple):
    """A class of cooks: nominal semi-axes (width, height) and length or third semi-axis in m, meat, pit, pull."""

    name: str
    form: str
    sizes_m: tuple[float, float, float]
    meat: tuple[float, float, float, float]
    cut: str
    pit_c: float
    pull_c: float


ROASTS = (
    Kind("five ribs", "prism", (0.09, 0.0665, 0.23), (0.58, 0.17, 0.24, 0.01), "rib roast, boneless", 121, 49),
    Kind("rolled rib", "prism", (0.0665, 0.0665, 0.2), (0.58, 0.17, 0.24, 0.01), "rib roast, boneless", 163, 57),
    Kind("leg of lamb", "ellipsoid", (0.0725, 0.0575, 0.15), (0.64, 0.18, 0.17, 0.01), "leg of lamb, boneless", 163,
         60),
)
LONG = (
    Kind("brisket", "ellipsoid", (0.135, 0.0435, 0.215), (0.61, 0.18, 0.20, 0.01), "brisket, whole", 114, 93),
    Kind("shoulder", "prism", (0.09, 0.063, 0.175), (0.63, 0.17, 0.19, 0.01), "pork shoulder", 114, 93),
)


class Twin(NamedTuple):
    """One cook: what the forecaster may know, and when the probe, without its noise, was at the pull temperature."""

    kind: Kind
    roast: Roast
    core_log: list[Point]
    pit_log: list[Point]
    true_min: float
    true_peak_c: float


def _body(kind: Kind, stretch: np.ndarray, power: float) -> Body:
    x, z, y = (size * float(factor) for size, factor in zip(kind.sizes_m, stretch, strict=True))
    return ellipsoid(x, y, z) if kind.form == "ellipsoid" else prism(x, z, y, power)


def nominal(kind: Kind) -> Roast:
    """The roast as the forecaster takes it."""
    meat = dict(zip(("water", "protein", "fat", "ash"), kind.meat, strict=True))
    return roast_of(_body(kind, np.ones(3), 2.4), meat, name=kind.cut, size_spread=0.045)


def _fire(kind: Kind, generator: np.random.Generator, bias_k: float) -> tuple[np.ndarray, np.ndarray]:
    """True air every two minutes: bias, a wandering fire (5 K, 30 min) and a few openings of the lid."""
    minute = np.arange(0.0, 40 * 60.0, 2.0)
    keep = np.exp(-2.0 / 30.0)
    swing = np.zeros(minute.size)
    for k in range(1, minute.size):
        swing[k] = keep * swing[k - 1] + 5.0 * np.sqrt(1 - keep ** 2) * generator.standard_normal()
    air = kind.pit_c + bias_k + swing
    for opened in np.cumsum(generator.uniform(50.0, 140.0, 25)):
        air -= 30.0 * ((minute >= opened) & (minute < opened + 4.0)) + 12.0 * (
            (minute >= opened + 4.0) & (minute < opened + 10.0))
    return minute, air


def _truth(generator: np.random.Generator) -> Members:
    """The cook's own meat, surface and air: within stated shares of the middle, fat that melts or does not."""
    members = members_of(np.zeros((len(NAMES), 1)), priors())

    def within(name: str, share: float) -> np.ndarray:
        return np.array([float(getattr(members, name)[0]) * (1.0 + generator.uniform(-share, share))])

    def around(name: str, spread: float) -> np.ndarray:
        return np.array([float(getattr(members, name)[0]) * np.exp(spread * generator.standard_normal())])

    return members._replace(
        kappa=around("kappa", 0.07), wet=within("wet", 0.4), crust=within("crust", 0.4), h=within("h", 0.25),
        hold_s=around("hold_s", 0.5), melt=np.array([float(generator.integers(2))]),
        feed=np.clip(members.feed + 0.12 * generator.standard_normal(1), 0.2, 1.0),
        start_c=np.array([4.4 + 1.5 * generator.standard_normal()]))


def twin(kind: Kind, seed: int) -> Twin:
    """One seeded twin."""
    generator = np.random.default_rng(seed)
    known = nominal(kind)
    body = _body(kind, np.exp(0.04 * generator.standard_normal(3)), generator.uniform(2.0, 3.0))
    truth = known._replace(body=body)
    phases, pulled, before = phases_of(Cooker("offset"), kind.pull_c, standing_min=60.0)
    minute, air = _fire(kind, generator, 4.0 * generator.standard_normal())
    course = Course(phases, pulled, before, 60.0 * minute, air)
    cells = cells_of(truth, 0.0095)
    off = np.array([generator.uniform(0.0, 0.02)])
    done = run(cells, truth, _truth(generator)._replace(depth=off), course, step_s=45.0, by_probe=True)
    true_min = float(pull_minutes(done, course)[0])
    probe = np.array([along_line(row, cells.graph.line_m, off)[0] for row in done.deep_c])
    at = np.arange(5.0, min(true_min, 39 * 60.0), 5.0)
    gap = generator.uniform(0.1, 0.8) * true_min
    kept = at[(generator.random(at.size) > 0.2) & ~((at > gap) & (at < gap + generator.uniform(20.0, 40.0)))]
    core = np.interp(kept, done.time_s / 60.0, probe) + 0.5 * generator.standard_normal(kept.size)
    bias = float(np.mean(air - kind.pit_c))
    pit = np.interp(kept, minute, air) - bias + 2.0 * generator.standard_normal(kept.size)
    return Twin(kind, known, list(zip(kept.tolist(), core.tolist(), strict=True)),
                list(zip(kept.tolist(), pit.tolist(), strict=True)), true_min, float(done.peak_c[0]))


def straight_line(log: list[Point], pull_c: float) -> float:
    """The last half hour's slope carried on."""
    recent = [point for point in log if point[0] >= log[-1][0] - 30.0]
    if len(recent) < 2:
        return 900.0
    slope, start = np.polyfit([p[0] for p in recent], [p[1] for p in recent], 1)
    return float((pull_c - start) / slope) if slope > 1e-4 else 900.0 + log[-1][0]


def exponential(log: list[Point], pull_c: float, pit_c: float) -> float:
    """The last hour's approach to the pit's temperature carried on."""
    recent = [point for point in log if point[0] >= log[-1][0] - 60.0]
    if len(recent) < 2:
        return 900.0
    slope, start = np.polyfit([p[0] for p in recent], [np.log(max(pit_c - p[1], 0.5)) for p in recent], 1)
    return float((np.log(pit_c - pull_c) - start) / slope) if slope < -1e-5 else 900.0 + log[-1][0]
