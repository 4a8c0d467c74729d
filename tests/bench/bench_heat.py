"""Speed of the forecast on one core, and beside it a general finite-element solver on the same body at equal error.

Run it with one thread: OPENBLAS_NUM_THREADS=1 OMP_NUM_THREADS=1 python -m tests.bench.bench_heat
"""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import Any

import numpy as np

from cookbook.heat import Cooker, forecast
from cookbook.heat import course as running
from cookbook.heat.body import Array
from cookbook.heat.check import linear_rate
from cookbook.heat.grid import graph_of
from cookbook.heat.matter import Matter, kirchhoff, table_index
from cookbook.heat.network import Network
from cookbook.heat.outlook import setup
from cookbook.heat.prior import draw, members_of
from cookbook.heat.roast import FINE_M, cells_of
from tests.bench.heat_twins import LONG, ROASTS, Kind, nominal, twin

LIMITS_S = {"one roast": 0.15, "one long cook": 0.4, "200 roasts": 1.0, "200 long cooks": 3.0, "update of a roast": 1.5,
            "update of a long cook": 1.5}


def best(work: Callable[[], object], times: int = 3) -> float:
    """Shortest of a few runs, seconds."""
    spent = []
    for _ in range(times):
        before = time.perf_counter()
        work()
        spent.append(time.perf_counter() - before)
    return min(spent)


def one(kind: Kind) -> float:
    """One fine run of the middle, grid included."""

    def work() -> None:
        plan = setup(nominal(kind), pit_c=kind.pit_c, pull_c=kind.pull_c, cooker=Cooker("offset"))
        members = members_of(draw(1, 0), plan.priors)
        running.run(cells_of(plan.roast, FINE_M), plan.roast, members, plan.course, step_s=running.step_for(plan.roast))

    return best(work)


def many(kind: Kind) -> float:
    """The whole forecast with 200 members."""
    return best(lambda: forecast(nominal(kind), pit_c=kind.pit_c, pull_c=kind.pull_c, cooker=Cooker("offset")), 2)


def update(kind: Kind) -> float:
    """An update three quarters through."""
    cook = twin(kind, 7)
    log = [point for point in cook.core_log if point[0] <= 0.75 * cook.true_min]
    pit = [point for point in cook.pit_log if point[0] <= 0.75 * cook.true_min]
    return best(lambda: forecast(cook.roast, pit_c=kind.pit_c, pull_c=kind.pull_c, cooker=Cooker("offset"), readings=log,
                                 pit_log=pit), 2)


def speeds() -> dict[str, float]:
    """Seconds by task, one core."""
    roast, long = ROASTS[0], LONG[0]._replace(pit_c=110)
    return {"one roast": one(roast), "one long cook": one(long), "200 roasts": many(roast), "200 long cooks": many(long),
            "update of a roast": update(roast), "update of a long cook": update(long)}


SIZE_M, H, START_C, AIR_C, UNTIL_S = (0.18, 0.22, 0.12), 16.0, 5.0, 121.0, 4 * 3600.0


def ours(matter: Matter, step_m: float) -> tuple[float, float]:
    """Core of a brick after four hours with temperature-dependent properties, and the seconds it took."""
    from cookbook.heat.body import box

    before = time.perf_counter()
    graph = graph_of(box(*SIZE_M), step_m)
    network = Network(graph, 1)
    a, b, c = matter.conductivity
    volume = graph.volume_m3[:, None]
    depth = graph.face_depth_m

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
    return float(graph.core @ temp[:, 0]), time.perf_counter() - before


def elements(matter: Matter, cells: int, steps: int) -> tuple[float, float]:
    """The same with scikit-fem: trilinear bricks on an octant, implicit Euler, properties at the last step."""
    from scipy.sparse.linalg import splu
    from skfem import Basis, BilinearForm, ElementHex1, FacetBasis, LinearForm, MeshHex, asm

    a, b, c = matter.conductivity
    before = time.perf_counter()
    axes = [np.linspace(0, size / 2, cells + 1) for size in SIZE_M]
    mesh = MeshHex.init_tensor(*axes)
    basis = Basis(mesh, ElementHex1())
    outer = mesh.facets_satisfying(
        lambda x: np.isclose(x[0], axes[0][-1]) | np.isclose(x[1], axes[1][-1]) | np.isclose(x[2], axes[2][-1]))
    facets = FacetBasis(mesh, ElementHex1(), facets=outer)

    @BilinearForm
    def stiffness(u: Any, v: Any, w: Any) -> Any:
        temp = w["temp"]
        return (a + temp * (b + temp * c)) * sum(p * q for p, q in zip(u.grad, v.grad, strict=True))

    @BilinearForm
    def storage(u: Any, v: Any, w: Any) -> Any:
        return np.interp(w["temp"], np.arange(-20.0, 260.5, 0.5), matter.capacity_j_m3k) * u * v

    @BilinearForm
    def exchange(u: Any, v: Any, w: Any) -> Any:
        return H * u * v

    @LinearForm
    def supply(v: Any, w: Any) -> Any:
        return H * AIR_C * v

    border, load = asm(exchange, facets), asm(supply, facets)
    temp = np.full(basis.N, START_C)
    step = UNTIL_S / steps
    for _ in range(steps):
        now = basis.interpolate(temp)
        mass, stiff = asm(storage, basis, temp=now) / step, asm(stiffness, basis, temp=now)
        temp = splu((mass + stiff + border).tocsc()).solve(mass @ temp + load)
    centre = int(np.argmin((mesh.p ** 2).sum(axis=0)))
    return float(temp[centre]), time.perf_counter() - before


def beside() -> tuple[tuple[float, float], tuple[float, float], float]:
    """Ours and the finite elements at about equal error of the core: (error K, seconds) of each, and the ratio."""
    from cookbook.heat.matter import matter_of

    matter = matter_of({"water": 0.65, "protein": 0.2, "fat": 0.14, "ash": 0.01})
    reference = ours(matter, 0.0025)[0]
    core, spent = min((ours(matter, 0.01) for _ in range(3)), key=lambda pair: pair[1])
    mine = (abs(core - reference), spent)
    for cells, steps in ((5, 60), (6, 120), (8, 240), (10, 480)):
        core, spent = elements(matter, cells, steps)
        theirs = (abs(core - reference), spent)
        if theirs[0] <= max(mine[0], 0.1):
            break
    return mine, theirs, theirs[1] / mine[1]


if __name__ == "__main__":
    for name, seconds in speeds().items():
        print(f"{name}: {seconds:.3f} s (at most {LIMITS_S[name]:g})")
    (error, seconds), (other_error, other_seconds), ratio = beside()
    print(f"brick, four hours: ours {error:.3f} K in {seconds:.3f} s, finite elements {other_error:.3f} K in "
          f"{other_seconds:.2f} s: {ratio:.0f} times faster")
