"""Speed of the forecast on one core, and beside it a general finite-element solver on the same body at equal error.

Run it with one thread: OPENBLAS_NUM_THREADS=1 OMP_NUM_THREADS=1 python -m tests.bench.bench_heat
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np

from cookbook.heat import Cooker, forecast
from cookbook.heat import course as running
from cookbook.heat.body import Array, box
from cookbook.heat.check import linear_rate
from cookbook.heat.grid import graph_of
from cookbook.heat.matter import Matter, kirchhoff, matter_of, table_index
from cookbook.heat.network import Network
from cookbook.heat.outlook import setup
from cookbook.heat.prior import draw, members_of
from cookbook.heat.roast import FINE_M, cells_of
from tests.bench.heat_twins import LONG, ROASTS, Kind, nominal, twin
from tests.bench.turns import turns

LIMITS_S = {"one roast": 0.15, "one long cook": 0.4, "200 roasts": 1.0, "200 long cooks": 3.0,
            "update of a roast": 1.5, "update of a long cook": 1.5}


def one(kind: Kind) -> Callable[[], object]:
    """One fine run of the middle, grid included."""

    def work() -> None:
        plan = setup(nominal(kind), pit_c=kind.pit_c, pull_c=kind.pull_c, cooker=Cooker("offset"))
        members = members_of(draw(1, 0), plan.priors)
        cells = cells_of(plan.roast, FINE_M)
        running.run(cells, plan.roast, members, plan.course, step_s=running.step_for(plan.roast))

    return work


def many(kind: Kind) -> Callable[[], object]:
    """The whole forecast with 200 members."""
    return lambda: forecast(nominal(kind), pit_c=kind.pit_c, pull_c=kind.pull_c, cooker=Cooker("offset"))


def update(kind: Kind) -> Callable[[], object]:
    """An update three quarters through."""
    cook = twin(kind, 7)
    log = [point for point in cook.core_log if point[0] <= 0.75 * cook.true_min]
    pit = [point for point in cook.pit_log if point[0] <= 0.75 * cook.true_min]
    return lambda: forecast(cook.roast, pit_c=kind.pit_c, pull_c=kind.pull_c, cooker=Cooker("offset"),
                            readings=log, pit_log=pit)


def speeds() -> dict[str, float]:
    """Seconds by task, one core."""
    roast, long = ROASTS[0], LONG[0]._replace(pit_c=110)
    acts = {"one roast": one(roast), "one long cook": one(long), "200 roasts": many(roast),
            "200 long cooks": many(long), "update of a roast": update(roast), "update of a long cook": update(long)}
    return dict(zip(acts, turns(*acts.values(), times=3), strict=True))


SIZE_M, H, START_C, AIR_C, UNTIL_S = (0.18, 0.22, 0.12), 16.0, 5.0, 121.0, 4 * 3600.0


def ours(matter: Matter, step_m: float) -> float:
    """Core of a brick after four hours with temperature-dependent properties."""
    graph = graph_of(box(*SIZE_M), step_m)
    network = Network(graph)
    a, b, c = matter.conductivity
    volume, depth = graph.volume_m3[:, None], graph.face_depth_m

    def rate(temp: Array) -> Array:
        cell = temp[graph.face_cell, 0]
        k = a + cell * (b + cell * c)
        inflow = network.inflow(kirchhoff(temp, matter.conductivity))[:, 0]
        into = graph.face_m2 * (AIR_C - cell) / (1 / H + depth / k)
        inflow = inflow + np.bincount(graph.face_cell, into, graph.cells)
        return np.asarray(inflow[:, None] / volume / matter.capacity_j_m3k[table_index(temp)])

    _, euler_s = linear_rate(graph, a + 120 * b + 14400 * c, float(matter.capacity_j_m3k.min()), H, AIR_C)
    count = int(np.ceil(UNTIL_S / (0.9 * euler_s)))
    temp = np.full((graph.cells, 1), START_C)
    for _ in range(count):
        temp += UNTIL_S / count * rate(temp)
    return float(graph.core @ temp[:, 0])


class Elements:
    """The same with scikit-fem: trilinear bricks on an octant, Crank-Nicolson with properties at the last step."""

    def __init__(self, matter: Matter, cells: int) -> None:
        import skfem

        self.axes = [np.linspace(0, size / 2, cells + 1) for size in SIZE_M]
        self.mesh = skfem.MeshHex.init_tensor(*self.axes)
        self.basis = skfem.Basis(self.mesh, skfem.ElementHex1())
        outer = self.mesh.facets_satisfying(self._outside)
        self.facets = skfem.FacetBasis(self.mesh, skfem.ElementHex1(), facets=outer)
        self.asm = skfem.asm
        a, b, c = matter.conductivity
        grid = np.arange(-20.0, 260.5, 0.5)
        self.stiffness = skfem.BilinearForm(lambda u, v, w: (a + w["temp"] * (b + w["temp"] * c)) * (
            u.grad[0] * v.grad[0] + u.grad[1] * v.grad[1] + u.grad[2] * v.grad[2]))
        self.storage = skfem.BilinearForm(lambda u, v, w: np.interp(w["temp"], grid, matter.capacity_j_m3k) * u * v)
        self.exchange = skfem.BilinearForm(lambda u, v, _: H * u * v)
        self.supply = skfem.LinearForm(lambda v, _: H * AIR_C * v)

    def _outside(self, x: Any) -> Any:
        return np.isclose(x[0], self.axes[0][-1]) | np.isclose(x[1], self.axes[1][-1]) | np.isclose(
            x[2], self.axes[2][-1])

    def run(self, steps: int) -> float:
        """Core after the time in so many steps."""
        from scipy.sparse.linalg import splu

        border, load = self.asm(self.exchange, self.facets), self.asm(self.supply, self.facets)
        temp, step = np.full(self.basis.N, START_C), UNTIL_S / steps
        for _ in range(steps):
            now = self.basis.interpolate(temp)
            mass = self.asm(self.storage, self.basis, temp=now) / step
            half = (self.asm(self.stiffness, self.basis, temp=now) + border) / 2
            temp = splu((mass + half).tocsc()).solve((mass - half) @ temp + load)
        return float(temp[int(np.argmin((self.mesh.p ** 2).sum(axis=0)))])


def beside() -> tuple[tuple[float, float], tuple[float, float], float]:
    """Ours and the finite elements on one body: (error of the core K, seconds) of each, and how much faster ours is.

    The finite elements are the cheapest of a few settings whose error is within half a kelvin; ours errs no more.
    """
    matter = matter_of({"water": 0.65, "protein": 0.2, "fat": 0.14, "ash": 0.01})
    reference = ours(matter, 0.0025)
    for cells, steps in ((4, 12), (6, 12), (6, 24), (8, 12), (10, 12), (12, 24)):
        their_error = abs(Elements(matter, cells).run(steps) - reference)
        if their_error <= 0.5:
            break
    for step_m in (0.02, 0.015, 0.0125, 0.01, 0.008, 0.006):
        error = abs(ours(matter, step_m) - reference)
        if error <= their_error:
            break
    mine_s, their_s = turns(lambda: ours(matter, step_m), lambda: Elements(matter, cells).run(steps), times=3)
    return (error, mine_s), (their_error, their_s), their_s / mine_s


if __name__ == "__main__":
    for name, seconds in speeds().items():
        print(f"{name}: {seconds:.3f} s (at most {LIMITS_S[name]:g})")
    (error, seconds), (other_error, other_seconds), ratio = beside()
    print(f"brick, four hours: ours {error:.3f} K in {seconds:.3f} s, finite elements {other_error:.3f} K in "
          f"{other_seconds:.2f} s: {ratio:.0f} times faster")
