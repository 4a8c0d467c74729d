"""One pass through tempering, cook, wrap, sear and rest for many members at once.

Explicit steps on the cut cells; each member has its own parameters and its own place in the list of phases, so that
every one is pulled at its own time and rests by its own clock. Where a member is asked for at several pulls, a branch
leaves it at each of them to rest, and it goes on in the fire itself. Members that are through are set aside. Many
members are carried in single precision, which halves the time; a run of few is in double.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from cookbook.heat.body import Array
from cookbook.heat.grid import Graph
from cookbook.heat.matter import Matter, kirchhoff, table_index
from cookbook.heat.network import Network
from cookbook.heat.phase import Members, Phase, Run, Skin
from cookbook.heat.surface import BOILING_C, Air, balance, let_through

_HOLD_SHARE, _HOLD_STEEP, _HOLD_MIDDLE_C = 0.31, 0.17, 41.85
_SAFETY = 0.9
_STIFFEST_FACE = 120.0
_MANY = 8
_WATER_EVERY_S = 180.0
_TIDY_EVERY = 12


def holding(temp_c: Array) -> Array:
    """Share of its water that meat gives up when held at `temp_c` (after Goni and Salvadori 2010; memory)."""
    return np.asarray(_HOLD_SHARE / (1.0 + 30.0 * np.exp(-_HOLD_STEEP * (temp_c - _HOLD_MIDDLE_C))))


def along_line(deep: Array, line_m: Array, away_m: Array) -> Array:
    """Temperatures (rows of `deep` at `line_m` from the core) at each member's distance, linear in its square."""
    line = line_m ** 2
    square = np.minimum(away_m ** 2, line[-1])
    place = np.clip(np.searchsorted(line, square, side="right") - 1, 0, line.size - 2)
    part = (square - line[place]) / (line[place + 1] - line[place])
    column = np.arange(deep.shape[1])
    return np.asarray((1 - part) * deep[place, column] + part * deep[place + 1, column])


class Surroundings:
    """The phases as arrays, and the air around each member at a moment."""

    def __init__(self, phases: Sequence[Phase], program_s: Array, program_c: Array, kind: Any) -> None:
        self.count = len(phases)
        self.program_s, self.program_c, self.kind = program_s, program_c, kind
        self.fixed = np.array([np.nan if p.air_c is None else p.air_c for p in phases])
        self.h = np.array([p.h for p in phases])
        self.emissivity = np.array([p.emissivity for p in phases])
        self.evaporation = np.array([p.evaporation for p in phases])
        self.vapour = np.array([p.vapour_pa for p in phases])
        self.pit, self.wrapped = np.array([p.pit for p in phases]), np.array([p.wrapped for p in phases])
        self.seconds = np.array([np.inf if p.minutes is None else 60.0 * p.minutes for p in phases])
        self.until = np.array([np.inf if p.until_min is None else 60.0 * p.until_min for p in phases])
        self.core = np.array([np.inf if p.core_c is None else p.core_c for p in phases])
        self.sliced = max(k for k, phase in enumerate(phases) if not phase.standing)

    def at(self, when_s: float, phase: Array, members: Members, hotter_k: Array | None = None) -> Air:
        """Surroundings of each member in its phase; by `hotter_k` hotter at each face while it is over the fire."""
        at = np.minimum(phase, self.count - 1)
        programmed = float(np.interp(when_s, self.program_s, self.program_c))
        fixed, pit = self.fixed[at], self.pit[at]
        air = np.where(np.isnan(fixed), programmed, fixed) + np.where(pit, members.pit_k, 0.0)
        if hotter_k is not None:
            air = air + np.where(pit, hotter_k, 0.0)
        h = self.h[at] * np.where(pit, members.h * np.where(self.wrapped[at], 1.0, members.fire), 1.0)
        vapour = self.vapour[at] * np.where(pit, members.vapour, 1.0)
        return Air(*(part.astype(self.kind) for part in (air, h, self.emissivity[at], self.evaporation[at], vapour)))


class Simulation:
    """The state of all members that are not through yet, and how it goes on."""

    def __init__(self, graph: Graph, skin: Skin, matter: Matter, members: Members, phases: Sequence[Phase], *,
                 program_s: Array, program_c: Array, deep: Array | None = None, step_s: float = 60.0,
                 by_probe: bool = False, pulls: tuple[int, Array] | None = None) -> None:
        m, n = members.number, graph.cells
        self.pulled, self.pulls = pulls if pulls is not None else (-1, np.array([np.inf]))
        columns = m * self.pulls.size
        kind: Any = np.float32 if m >= _MANY else np.float64
        self.around = Surroundings(phases, program_s, program_c, kind)
        self.network = Network(graph, kind)
        self.members = Members(*(values.astype(kind) for values in members))
        self.skin = Skin(skin.cell, *(values.astype(kind)[:, None] for values in skin[1:]))
        self.skin_m2 = self.skin.area_m2[:, 0]
        self.hotter_k = self.skin.hotter_k if skin.hotter_k.any() else None
        self.capacity, self.melting = matter.capacity_j_m3k.astype(kind), matter.melting_j_m3k.astype(kind)
        self.conductivity = matter.conductivity
        self.volume = graph.volume_m3.astype(kind)[:, None]
        self.core_weight = graph.core.astype(kind)
        self.deep = np.zeros((0, n), dtype=kind) if deep is None else deep.astype(kind)
        self.water_kg = (matter.density_kg_m3 * matter.water * graph.volume_m3).astype(kind)
        self.mass_kg = matter.density_kg_m3 * float(graph.volume_m3.sum())
        self.holding = (holding(np.arange(-20.0, 260.5, 0.5)) if matter.water > 0 else np.zeros(561)).astype(kind)
        self.boiling_c = BOILING_C if matter.water > 0 else np.inf
        self.by_probe = by_probe
        self.line_m = graph.line_m
        self.step = min(step_s, self._stable_s(matter, graph, members))
        self.now, self.crusted, self.fresh = 0.0, True, np.ones(m, dtype=bool)
        self.who = np.arange(1, m + 1) * self.pulls.size - 1
        self.rung = np.zeros(m, dtype=np.intp)
        self.branched: list[tuple[int, int, int]] = []
        self.temp = np.broadcast_to(self.members.start_c, (n, m)).copy()
        self.highest, self.held = self.temp.copy(), np.ones((n, m), dtype=kind)
        self.surface = self.temp[skin.cell].copy()
        self.dried, self.passing = np.zeros_like(self.surface), np.ones_like(self.surface)
        self.heat = np.ones_like(self.surface)
        self.juice, self.lost = np.zeros(m, dtype=kind), np.zeros(m, dtype=kind)
        self.peak, self.peak_s = np.full(m, -np.inf), np.zeros(m)
        self.phase = np.zeros(m, dtype=np.intp)
        self.began = np.zeros(m)
        shape = (self.around.count, columns)
        self.ended, self.core_end, self.loss_end = (np.full(shape, np.nan) for _ in range(3))
        self.out_highest = np.full((n, columns), np.nan)
        self.out_peak, self.out_peak_s = np.full(columns, np.nan), np.full(columns, np.nan)

    def _stable_s(self, matter: Matter, graph: Graph, members: Members) -> float:
        """Longest Euler step for the fastest member, by the stiffest cell."""
        a, b, c = matter.conductivity
        k = max(a + b * t + c * t * t for t in (0.0, 60.0, 120.0))
        inner = k * self.network.total.astype(np.float64)
        np.add.at(inner, self.skin.cell, (self.skin.area_m2 / (self.skin.depth_m / k + 1.0 / _STIFFEST_FACE))[:, 0])
        worst = float((inner / graph.volume_m3).max()) * float((members.kappa / members.size ** 2).max())
        return _SAFETY * float(matter.capacity_j_m3k.min()) / worst

    def advance(self) -> None:
        """One step of all members."""
        members, skin = self.members, self.skin
        self.index = table_index(self.temp)
        capacity = self.melting[self.index]
        capacity *= members.melt
        capacity += self.capacity[self.index]
        inflow = self.network.inflow(kirchhoff(self.temp, self.conductivity))
        inflow *= members.kappa / members.size ** 2
        cell = self.temp[skin.cell]
        a, b, c = self.conductivity
        inward = (a + cell * (b + cell * c)) / skin.depth_m * (members.kappa / members.size)
        air = self.around.at(self.now + self.step / 2, self.phase, members, self.hotter_k)
        wet = skin.wet * (members.wet * air.evaporation)
        fresh = np.flatnonzero(self.fresh)
        if fresh.size or self.crusted:
            self.heat = let_through(self.dried, self.surface, air)
            self.crusted = False
        given = cell, self.surface, inward, wet, self.passing, self.juice, self.heat
        if fresh.size:  # in other air than before, they are further from their balance than one round goes
            own = Air(*(one[..., fresh] for one in air))
            self.surface[:, fresh] = balance(*(one[..., fresh] for one in given), air=own, rounds=3,
                                             boiling_c=self.boiling_c).surface_c
            self.fresh[fresh] = False
        flux = balance(*given, air=air, rounds=1, boiling_c=self.boiling_c)
        self.surface = flux.surface_c
        inflow[skin.cell] += flux.heat * (skin.area_m2 / members.size)
        inflow /= self.volume
        inflow /= capacity
        inflow *= self.step
        self.temp += inflow
        net = (flux.water - self.juice) * self.step
        np.maximum(net, 0.0, out=net)
        self.dried += net
        self.lost += self.skin_m2 @ net / (members.size * self.mass_kg)
        np.maximum(self.highest, self.temp, out=self.highest)
        self.now += self.step

    def expel(self, over_s: float) -> None:
        """Juice that heat has driven out since the last time; part of it reaches the surface and can evaporate."""
        gap = self.held - (1.0 - self.holding[self.index])
        np.maximum(gap, 0.0, out=gap)
        gap *= 1.0 - np.exp(-over_s / self.members.hold_s)
        self.held -= gap
        out = self.water_kg @ gap
        self.lost += out / self.mass_kg
        self.juice = self.members.feed * out * self.members.size / (float(self.skin_m2.sum()) * over_s)
        self.passing = 1.0 / (1.0 + (self.dried / self.members.crust) ** self.members.fade)
        self.crusted = True

    def core(self) -> Array:
        """Core temperature of each member."""
        return np.asarray(self.core_weight @ self.temp)

    def probed(self, core: Array, deep: Array) -> Array:
        """What ends a phase: the core, or each member's probe where it sits."""
        return along_line(deep, self.line_m, self.members.depth / self.members.size) if self.by_probe else core

    def _turn(self, before: Array, after: Array) -> None:
        """Ends the phases that are over; the moment is interpolated within the step."""
        around = self.around
        at = np.minimum(self.phase, around.count - 1)
        running = self.phase < around.count
        core_end = np.where(at == self.pulled, self.pulls[self.rung], around.core[at])
        end = np.maximum(np.minimum(self.began + around.seconds[at], around.until[at]), self.began)
        by_core = running & (after >= core_end)
        by_time = running & (self.now >= end - 1e-6)
        share = np.clip((after - core_end) / np.maximum(after - before, 1e-9), 0.0, 1.0)
        when = np.where(by_time, end, self.now - share * self.step)
        for member in np.flatnonzero(by_core | by_time):
            here, who = self.phase[member], self.who[member]
            self.ended[here, who] = when[member]
            self.core_end[here, who] = core_end[member] if by_core[member] else after[member]
            self.loss_end[here, who] = self.lost[member]
            if here == around.sliced:
                self.out_highest[:, who] = self.highest[:, member]
            self.began[member] = when[member]
            self.phase[member] += 1
            self.fresh[member] = True

    def _set_aside(self, keep: Array) -> None:
        """Takes the members that are through out of the state."""
        gone = ~keep
        who = self.who[gone]
        self.out_peak[who], self.out_peak_s[who] = self.peak[gone], self.peak_s[gone]
        missing = np.isnan(self.out_highest[0, who])
        self.out_highest[:, who[missing]] = self.highest[:, gone][:, missing]
        self._take(np.flatnonzero(keep))

    def _take(self, places: Array) -> None:
        """The state of the members at these `places` alone; one that is named twice goes on twice."""
        self.members = Members(*(values[places] for values in self.members))
        for name in ("temp", "highest", "held", "surface", "dried", "passing", "heat"):
            setattr(self, name, np.ascontiguousarray(getattr(self, name)[:, places]))
        for name in ("juice", "lost", "peak", "peak_s", "phase", "began", "who", "rung", "fresh"):
            setattr(self, name, getattr(self, name)[places])

    def _branch(self, before: Array, after: Array, row: int) -> tuple[Array, Array]:
        """Leaves a branch to rest where a member reaches a pull that is not its last, the moment interpolated within
        the step; `row` is the next one of the record. `after` and `before` with the new ones at their ends."""
        last = self.pulls.size - 1
        while (stems := np.flatnonzero((self.phase == self.pulled) & (self.rung < last)
                                       & (after >= self.pulls[self.rung]))).size:
            pulls, stem = self.pulls[self.rung[stems]], self.who[stems]
            columns, number = stem - last + self.rung[stems], self.who.size
            share = (after[stems] - pulls) / np.maximum(after[stems] - before[stems], 1e-9)
            when = self.now - np.clip(share, 0.0, 1.0) * self.step
            for of in (self.ended, self.core_end, self.loss_end):
                of[:, columns] = of[:, stem]
            self.ended[self.pulled, columns], self.core_end[self.pulled, columns] = when, pulls
            self.loss_end[self.pulled, columns] = self.lost[stems]
            self.branched += zip(columns.tolist(), stem.tolist(), [row] * stems.size, strict=True)
            self.rung[stems] += 1
            places = np.concatenate([np.arange(number), stems])
            self._take(places)
            self.who[number:], self.rung[number:], self.began[number:] = columns, last, when
            self.phase[number:] += 1
            self.fresh[number:] = True
            before, after = before[places], after[places]
        return after, before

    def run(self, longest_s: float, enough: float = 1.0) -> Run:
        """Goes on until a share `enough` of the members is through its phases or `longest_s` is reached."""
        count = self.members.number
        slow = int(np.floor((1.0 - enough) * count))
        every = max(1, int(_WATER_EVERY_S // self.step))
        full_core, full_deep = self.core(), self.deep @ self.temp
        times, each = [0.0], self.pulls.size
        cores, surfaces, deeps = ([np.repeat(first, each, axis=-1)]
                                  for first in (full_core, self.surface.mean(axis=0), full_deep))
        weight = self.skin_m2 / self.skin_m2.sum()
        turn, before = 0, self.probed(full_core, full_deep)
        while self.now < longest_s and int((self.phase < self.around.count).sum()) > slow:
            turn += 1
            self.advance()
            if turn % every == 0:
                self.expel(every * self.step)
            after = self.core()
            better = (self.phase < self.around.count) & (after > self.peak)
            self.peak = np.where(better, after, self.peak)
            self.peak_s = np.where(better, self.now, self.peak_s)
            deep = self.deep @ self.temp
            shown = self.probed(after, deep)
            full_core, full_surface, full_deep = cores[-1].copy(), surfaces[-1].copy(), deeps[-1].copy()
            full_core[self.who], full_surface[self.who] = after, weight @ self.surface
            full_deep[:, self.who] = deep
            times.append(self.now)
            cores.append(full_core)
            surfaces.append(full_surface)
            deeps.append(full_deep)
            shown, before = self._branch(before, shown, len(times))
            self._turn(before, shown)
            through = self.phase >= self.around.count
            if turn % _TIDY_EVERY == 0 and through.mean() > 0.15 and not through.all():
                self._set_aside(~through)
                shown = shown[~through]
            before = shown
        self._set_aside(np.zeros(self.who.size, dtype=bool))
        record = np.array(cores), np.array(surfaces), np.array(deeps)
        for column, stem, row in self.branched:
            for of in record:
                of[:row, ..., column] = of[:row, ..., stem]
        return Run(np.array(times), *record, self.ended, self.core_end, self.out_peak, self.out_peak_s,
                   self.out_highest, self.loss_end)
