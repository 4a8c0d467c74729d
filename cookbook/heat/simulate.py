"""One pass through tempering, cook, wrap, sear and rest for many members at once.

Explicit steps on the cut cells; each member has its own parameters and its own place in the list of phases, so that
every one is pulled at its own time and rests by its own clock.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from cookbook.heat.body import Array
from cookbook.heat.grid import Graph
from cookbook.heat.matter import Matter, kirchhoff, table_index
from cookbook.heat.network import Network
from cookbook.heat.surface import Air, balance

_HOLD_SHARE, _HOLD_STEEP, _HOLD_MIDDLE_C = 0.31, 0.17, 41.85
_SAFETY = 0.9
_STIFFEST_FACE = 120.0


class Members(NamedTuple):
    """Parameters of each member, arrays of one length; scales are relative to the middle estimate."""

    size: Array
    kappa: Array
    wet: Array
    crust: Array
    feed: Array
    melt: Array
    hold_s: Array
    h: Array
    pit_k: Array
    vapour: Array
    start_c: Array
    depth: Array
    fade: Array

    @property
    def count(self) -> int:
        """How many members there are."""
        return len(self.size)


class Phase(NamedTuple):
    """A stretch with its own surroundings; it ends after `minutes`, at a core of `core_c`, or with the program.

    `air_c` None means the pit program plus the member's own offset; `pit` says that offset and pit humidity apply; `standing` is
    what comes after slicing was planned, to see how the core goes on.
    """

    name: str
    air_c: float | None
    h: float
    emissivity: float
    evaporation: float
    vapour_pa: float
    minutes: float | None = None
    core_c: float | None = None
    pit: bool = True
    standing: bool = False


class Skin(NamedTuple):
    """Faces added up by cell: share of the face that evaporates."""

    cell: NDArray[np.int64]
    area_m2: Array
    depth_m: Array
    wet: Array


class Run(NamedTuple):
    """What came out: per step the clock and core, per member the ends of phases, peaks and losses."""

    time_s: Array
    core_c: Array
    surface_c: Array
    deep_c: Array
    air_c: Array
    ended_s: Array
    core_end_c: Array
    peak_c: Array
    peak_s: Array
    highest_c: Array
    final_c: Array
    loss_end: Array


def skin_of(graph: Graph, wet: Array) -> Skin:
    """One face per cell: areas added, conductances to the cell added, covered shares averaged by area."""
    cell, inverse = np.unique(graph.face_cell, return_inverse=True)
    area = np.bincount(inverse, graph.face_m2)
    conductance = np.bincount(inverse, graph.face_m2 / graph.face_depth_m)
    return Skin(cell, area, area / conductance, np.bincount(inverse, graph.face_m2 * wet) / area)


def holding(temp_c: Array) -> Array:
    """Share of its water that meat gives up when held at `temp_c` (after Goni and Salvadori 2010; memory)."""
    return np.asarray(_HOLD_SHARE / (1.0 + 30.0 * np.exp(-_HOLD_STEEP * (temp_c - _HOLD_MIDDLE_C))), dtype=np.float64)


class Simulation:
    """The state of all members and how it goes on."""

    def __init__(self, graph: Graph, skin: Skin, matter: Matter, members: Members, phases: Sequence[Phase], *,
                 program_s: Array, program_c: Array, deep: Array | None = None,
                 step_s: float = 60.0) -> None:
        self.graph, self.skin, self.matter, self.members, self.phases = graph, skin, matter, members, tuple(phases)
        self.program_s, self.program_c = program_s, program_c
        m, n = members.count, graph.cells
        self.network = Network(graph, m)
        self.temp = np.broadcast_to(members.start_c, (n, m)).copy()
        self.highest = self.temp.copy()
        self.at_slicing = np.full((n, m), np.nan)
        self.sliced = max(k for k, phase in enumerate(phases) if not phase.standing)
        self.held = np.ones((n, m))
        self.dried = np.zeros((len(skin.cell), m))
        self.juice = np.zeros(m)
        self.lost = np.zeros(m)
        self.phase = np.zeros(m, dtype=np.intp)
        self.began = np.zeros(m)
        self.ended = np.full((len(self.phases), m), np.nan)
        self.core_end = np.full((len(self.phases), m), np.nan)
        self.loss_end = np.full((len(self.phases), m), np.nan)
        self.peak = np.full(m, -np.inf)
        self.peak_s = np.zeros(m)
        self.deep = deep
        self.now = 0.0
        self.per_volume = members.kappa / members.size ** 2
        self.water_kg = matter.density_kg_m3 * matter.water * graph.volume_m3
        self.mass_kg = matter.density_kg_m3 * float(graph.volume_m3.sum())
        self.holding = holding(np.arange(-20.0, 260.5, 0.5)) if matter.water > 0 else np.zeros(561)
        self.surface = self.temp[skin.cell].copy()
        self.fresh = True
        self.step = min(step_s, self._stable_s())
        self._tables()

    def _tables(self) -> None:
        phases = self.phases
        self._fixed = np.array([np.nan if p.air_c is None else p.air_c for p in phases])
        self._h = np.array([p.h for p in phases])
        self._emissivity = np.array([p.emissivity for p in phases])
        self._evaporation = np.array([p.evaporation for p in phases])
        self._vapour = np.array([p.vapour_pa for p in phases])
        self._pit = np.array([p.pit for p in phases])
        self._seconds = np.array([np.inf if p.minutes is None else 60.0 * p.minutes for p in phases])
        self._core = np.array([np.inf if p.core_c is None else p.core_c for p in phases])

    def _stable_s(self) -> float:
        """Longest Euler step for the fastest member, by the stiffest cell."""
        a, b, c = self.matter.conductivity
        k = max(a + b * t + c * t * t for t in (0.0, 60.0, 120.0))
        inner = k * self.network.total
        np.add.at(inner, self.skin.cell, self.skin.area_m2 / (self.skin.depth_m / k + 1.0 / _STIFFEST_FACE))
        worst = float((inner / self.graph.volume_m3).max()) * float(self.per_volume.max())
        return _SAFETY * float(self.matter.capacity_j_m3k.min()) / worst

    def _air(self) -> Air:
        """Surroundings of each member in its phase, at the middle of the coming step."""
        at = np.minimum(self.phase, len(self.phases) - 1)
        programmed = float(np.interp(self.now + self.step / 2, self.program_s, self.program_c))
        fixed, pit = self._fixed[at], self._pit[at]
        air = np.where(np.isnan(fixed), programmed, fixed) + np.where(pit, self.members.pit_k, 0.0)
        h = self._h[at] * np.where(pit, self.members.h, 1.0)
        vapour = self._vapour[at] * np.where(pit, self.members.vapour, 1.0)
        return Air(air, h, self._emissivity[at], self._evaporation[at], vapour)

    def advance(self, water_now: bool, water_s: float) -> None:
        """One step of all members."""
        members, skin, graph = self.members, self.skin, self.graph
        index = table_index(self.temp)
        capacity = self.matter.capacity_j_m3k[index] + members.melt * self.matter.melting_j_m3k[index]
        inflow = self.network.inflow(kirchhoff(self.temp, self.matter.conductivity))
        inflow *= self.per_volume
        cell = self.temp[skin.cell]
        a, b, c = self.matter.conductivity
        inward = (a + cell * (b + cell * c)) * (1.0 / skin.depth_m)[:, None] * (members.kappa / members.size)
        air = self._air()
        self.air = air.air_c
        wet = skin.wet[:, None] * (members.wet * air.evaporation)
        passing = 1.0 / (1.0 + (self.dried / members.crust) ** members.fade)
        flux = balance(cell, self.surface, inward, wet, passing, self.juice, air, 4 if self.fresh else 1)
        self.fresh = False
        self.surface = flux.surface_c
        inflow[skin.cell] += flux.heat * (skin.area_m2[:, None] / members.size)
        inflow /= graph.volume_m3[:, None]
        inflow /= capacity
        self.temp += self.step * inflow
        net = (flux.water - self.juice) * self.step
        np.maximum(net, 0.0, out=net)
        self.dried += net
        self.lost += skin.area_m2 @ net / (members.size * self.mass_kg)
        np.maximum(self.highest, self.temp, out=self.highest)
        if water_now:
            self._expel(index, water_s)
        self.now += self.step

    def _expel(self, index: Array, over_s: float) -> None:
        """Juice that heat has driven out since the last time; part of it reaches the surface and can evaporate."""
        gap = self.held - (1.0 - self.holding[index])
        np.maximum(gap, 0.0, out=gap)
        gap *= 1.0 - np.exp(-over_s / self.members.hold_s)
        self.held -= gap
        out = self.water_kg @ gap
        self.lost += out / self.mass_kg
        area = float(self.skin.area_m2.sum())
        self.juice = self.members.feed * out * self.members.size / (area * over_s)

    def core(self) -> Array:
        """Core temperature of each member."""
        return self.graph.core @ self.temp

    def _turn(self, before: Array, after: Array) -> None:
        """Ends the phases that are over; the moment is interpolated within the step."""
        last = len(self.phases)
        running = self.phase < last
        at = np.minimum(self.phase, last - 1)
        core_end, span = self._core[at], self._seconds[at]
        by_core = running & (after >= core_end)
        by_time = running & (self.now - self.began >= span - 1e-6)
        rise = np.maximum(after - before, 1e-9)
        share = np.clip((after - core_end) / rise, 0.0, 1.0)
        when = np.where(by_time, self.began + span, self.now - share * self.step)
        for member in np.flatnonzero(by_core | by_time):
            here = self.phase[member]
            self.ended[here, member] = when[member]
            self.core_end[here, member] = core_end[member] if by_core[member] else after[member]
            self.loss_end[here, member] = self.lost[member]
            if here == self.sliced:
                self.at_slicing[:, member] = self.highest[:, member]
            self.began[member] = when[member]
            self.phase[member] += 1
            self.fresh = True

    def run(self, longest_s: float, enough: float = 1.0, water_every_s: float = 180.0) -> Run:
        """Goes on until a share `enough` of the members is through its phases or `longest_s` is reached."""
        slow = int(np.floor((1.0 - enough) * self.members.count))
        every = max(1, int(water_every_s // self.step))
        times, cores, surfaces, deeps, airs = [0.0], [self.core()], [self.surface.mean(axis=0)], [], [self.members.pit_k]
        deeps.append(self.deep @ self.temp if self.deep is not None else np.zeros((0, self.members.count)))
        area = self.skin.area_m2 / self.skin.area_m2.sum()
        turn, before = 0, cores[0]
        while self.now < longest_s and int((self.phase < len(self.phases)).sum()) > slow:
            turn += 1
            self.advance(turn % every == 0, every * self.step)
            after = self.core()
            resting = self.phase < len(self.phases)
            better = resting & (after > self.peak)
            self.peak = np.where(better, after, self.peak)
            self.peak_s = np.where(better, self.now, self.peak_s)
            self._turn(before, after)
            before = after
            times.append(self.now)
            cores.append(after)
            surfaces.append(area @ self.surface)
            airs.append(self.air)
            deeps.append(self.deep @ self.temp if self.deep is not None else deeps[0])
        return Run(np.array(times), np.array(cores), np.array(surfaces), np.array(deeps), np.array(airs), self.ended,
                   self.core_end, self.peak, self.peak_s,
                   np.where(np.isnan(self.at_slicing), self.highest, self.at_slicing), self.temp, self.loss_end)
