"""`conduction`: constant-property bodies through the forecast's own cells and operator, for checks.

Slab, cylinder and sphere are shells of one coordinate, the finite cylinder rings of two, the brick an octant of
cells; each is the same kind of graph as a roast.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from itertools import pairwise

import numpy as np

from cookbook.errors import RequestError
from cookbook.heat.body import Array
from cookbook.heat.grid import Graph
from cookbook.heat.network import Network, legendre_step, stages_for

_SIZES = {"Slab": 1, "Cylinder": 1, "Sphere": 1, "FiniteCylinder": 2, "Brick": 3}
_CELLS = {1: 48, 2: 24, 3: 12}
_STEPS = 400


def _shells(half_m: float, cells: int, power: int) -> tuple[Array, Array, Array]:
    """Edges' radii, volumes and areas of shells per unit of what the coordinate leaves out."""
    radius = np.linspace(0.0, half_m, cells + 1)
    factor = (1.0, 2.0 * np.pi, 4.0 * np.pi)[power]
    return radius, factor * np.diff(radius ** (power + 1)) / (power + 1), factor * radius ** power


def _parabola(cells: int) -> Array:
    weights = np.zeros(cells)
    weights[:2] = 9.0 / 8.0, -1.0 / 8.0
    return weights


def _product(parts: Sequence[tuple[float, int, int]]) -> Graph:
    """The graph of a product of one-coordinate bodies, each (half size, cells, power of the radius)."""
    radii, volumes, areas = zip(*(_shells(*part) for part in parts), strict=True)
    counts = tuple(part[1] for part in parts)
    number = np.arange(int(np.prod(counts))).reshape(counts)

    def outer(lists: Sequence[Array]) -> Array:
        whole = np.ones(())
        for values in lists:
            whole = np.multiply.outer(whole, values)
        return whole

    edge, strength, cell, face, depth = [], [], [], [], []
    for axis, (half, count, _power) in enumerate(parts):
        pitch = half / count
        here = np.moveaxis(number, axis, 0)
        between = outer([areas[axis][1:-1] if k == axis else volumes[k] for k in range(len(parts))])
        inner = np.moveaxis(between, axis, 0)
        edge.append(np.stack([here[:-1].ravel(), here[1:].ravel()]))
        strength.append(inner.ravel() / pitch)
        rim = outer([areas[axis][-1:] if k == axis else volumes[k] for k in range(len(parts))])
        cell.append(here[-1].ravel())
        face.append(np.moveaxis(rim, axis, 0).ravel())
        depth.append(np.full(here[-1].size, pitch / 2))
    volume = outer(volumes).ravel()
    centres = np.meshgrid(*[(radius[1:] + radius[:-1]) / 2 for radius in radii], indexing="ij")
    where = np.stack([part.ravel() for part in centres], axis=1)
    core = outer([_parabola(count) for count in counts]).ravel()
    cells = np.concatenate(cell)
    return Graph(volume, where, np.concatenate(edge, axis=1), np.concatenate(strength), cells, np.concatenate(face),
                 np.concatenate(depth), ("outer",) * cells.size, 1, core, core[None, :], np.zeros(1),
                 parts[0][0], parts[0][0], parts[0][0] / counts[0])


def simple_graph(shape: str, size_m: Sequence[float], cells: int | None = None) -> Graph:
    """The graph of one of the simple bodies; `size_m` are full outer sizes."""
    count = _SIZES.get(shape)
    if count is None:
        raise RequestError(f"'{shape}' is none of {', '.join(_SIZES)}")
    if len(size_m) != count or min(size_m) <= 0:
        raise RequestError(f"a {shape} has {count} full outer sizes above zero in metres, not {tuple(size_m)}")
    each = cells or _CELLS[count]
    powers = {"Slab": (0,), "Cylinder": (1,), "Sphere": (2,), "FiniteCylinder": (1, 0), "Brick": (0, 0, 0)}[shape]
    return _product([(size / 2, each, power) for size, power in zip(size_m, powers, strict=True)])


def linear_rate(graph: Graph, k: float, heat_capacity: float, h: float, air_c: float) -> tuple[
        Callable[[Array], Array], float]:
    """dT/dt of a body with constant properties in air of constant temperature, and the longest stable Euler step."""
    network = Network(graph)
    loss = np.bincount(graph.face_cell, graph.face_m2 / (1.0 / h + graph.face_depth_m / k), graph.cells)[:, None]
    capacity = (graph.volume_m3 * heat_capacity)[:, None]

    def rate(temp_c: Array) -> Array:
        return (k * network.inflow(temp_c) + loss * (air_c - temp_c)) / capacity

    worst = float(((k * network.total[:, None] + loss) / capacity).max())
    return rate, 1.0 / worst


def march(graph: Graph, rate: Callable[[Array], Array], euler_s: float, start_c: float,
          times_s: Sequence[float], steps: int = _STEPS) -> list[float]:
    """Core temperatures at `times_s` (rising), from a uniform start."""
    temp = np.full((graph.cells, 1), start_c)
    longest = max(times_s) / steps if times_s else 0.0
    now, cores = 0.0, []
    for wanted in times_s:
        count = int(np.ceil((wanted - now) / longest - 1e-9)) if wanted > now else 0
        for _ in range(count):
            step = (wanted - now) / count
            temp = legendre_step(rate, temp, step, stages_for(step, euler_s))
        now = max(now, wanted)
        cores.append(float(graph.core @ temp[:, 0]))
    return cores


def conduction(shape: str, size_m: Sequence[float], k: float, rho: float, cp: float, h: float, start_c: float,
               air_c: float, times_s: Sequence[float], cells: int | None = None) -> list[float]:
    """Core temperatures (°C) at `times_s` (s) of a simple body with constant properties and convection alone.

    `shape` is Slab, Cylinder, Sphere, FiniteCylinder or Brick, `size_m` the tuple of full outer sizes in m
    (thickness; diameter; diameter; diameter, length; length, width, height); k in W/(m K), rho in kg/m3, cp in
    J/(kg K), h in W/(m2 K). `cells` per half size (default 48, 24 or 12 for one, two or three coordinates).

    >>> core, = conduction("Sphere", (0.1,), k=0.5, rho=1050, cp=3500, h=25, start_c=5, air_c=120, times_s=[3600])
    >>> round(core, 1)
    49.8
    """
    if min(k, rho, cp, h) <= 0:
        raise RequestError("k, rho, cp and h must be above zero")
    times = [float(time) for time in times_s]
    if any(later < sooner for sooner, later in pairwise(times)) or min(times, default=0.0) < 0:
        raise RequestError("times must rise and begin at or after zero")
    graph = simple_graph(shape, size_m, cells)
    rate, euler_s = linear_rate(graph, k, rho * cp, h, air_c)
    return march(graph, rate, euler_s, start_c, times)
