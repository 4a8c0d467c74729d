"""Heat flow between cells: the graph as an operator, and a stabilised two-stage-order step for stiff grids.

Reference for the step: Meyer, Balsara and Aslam, "A stabilized Runge-Kutta-Legendre method for explicit
super-time-stepping of parabolic equations", J. Comput. Phys. 257 (2014) 594-626 (memory).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from cookbook.heat.body import Array
from cookbook.heat.grid import Graph


class Network:
    """Net inflow to each cell from its neighbours, for one column of temperatures or many members at once.

    By neighbours and not as one matrix: that is as fast on one core, and on a busy machine four to ten times faster
    than a product that BLAS spreads over cores which others use.
    """

    def __init__(self, graph: Graph, kind: Any = np.float64) -> None:
        cells = graph.cells
        first, second = graph.edge
        row = np.concatenate([first, second])
        column = np.concatenate([second, first])
        weight = np.concatenate([graph.edge_m, graph.edge_m])
        self.total = np.bincount(row, weight, cells).astype(kind)
        order = np.argsort(row, kind="stable")
        row, column, weight = row[order], column[order], weight[order]
        rank = np.arange(row.size) - np.searchsorted(row, row)
        self._near = np.zeros((int(rank.max()) + 1, cells), dtype=np.intp)
        self._near[:] = np.arange(cells)
        self._weight = np.zeros(self._near.shape, dtype=kind)
        self._near[rank, row] = column
        self._weight[rank, row] = weight

    def inflow(self, potential: Array) -> Array:
        """Sum over neighbours of conductance times the difference in `potential` (cells, members)."""
        if potential.shape[1] == 1:
            flat = potential[:, 0]
            one = np.einsum("kn,kn->n", self._weight, flat[self._near]) - self.total * flat
            return np.asarray(one[:, None])
        flow: Array = -self.total[:, None] * potential
        for near, weight in zip(self._near, self._weight, strict=True):
            flow += weight[:, None] * potential[near]
        return np.asarray(flow)


def stages_for(step_s: float, euler_s: float) -> int:
    """Stages that make a step of `step_s` stable where one explicit Euler step may be `euler_s` at most."""
    stages = int(np.ceil((np.sqrt(9.0 + 16.0 * step_s / euler_s) - 1.0) / 2.0))
    return max(3, stages + 1 - stages % 2)


def legendre_step(rate: Callable[[Array], Array], start: Array, step_s: float, stages: int) -> Array:
    """One second-order Runge-Kutta-Legendre step of dT/dt = rate(T)."""
    s = stages
    weight = 4.0 / (s * s + s - 2.0)
    b = [1.0 / 3.0] * 3 + [(j * j + j - 2.0) / (2.0 * j * (j + 1.0)) for j in range(3, s + 1)]
    first_rate = rate(start)
    before, now = start, start + b[1] * weight * step_s * first_rate
    for j in range(2, s + 1):
        mu = (2.0 * j - 1.0) / j * b[j] / b[j - 1]
        nu = -(j - 1.0) / j * b[j] / b[j - 2]
        gamma = -(1.0 - b[j - 1]) * mu * weight
        after = (mu * now + nu * before + (1.0 - mu - nu) * start
                 + mu * weight * step_s * rate(now) + gamma * step_s * first_rate)
        before, now = now, after
    return now
