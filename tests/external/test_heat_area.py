"""The solver's skin against the same shapes' exact area: within 0.2 % on the forecast's grids."""

from __future__ import annotations

import pytest

from cookbook.heat.body import body_of
from cookbook.heat.grid import graph_of
from cookbook.meat import shapes

BODIES = [
    shapes.Box(27.3, 18.4, 11.9), shapes.RoundedBox(40, 26, 8, 3), shapes.EllipticCylinder(9, 6.5, 30),
    shapes.EllipticCylinder(15, 3.5, 42), shapes.Ellipsoid(16, 10, 7), shapes.Ellipsoid(20, 9, 9),
    shapes.Ellipsoid(14, 14, 5), shapes.Frustum(11, 6, 34), shapes.HalfEllipsePrism(20, 14.5, 16.5),
    shapes.HalfEllipsoid(16, 11, 9), shapes.StadiumPrism(14, 5, 28), shapes.EllipticFrustum(12, 8, 9, 6, 30),
    shapes.EllipticFrustum(11, 7, 9, 6.5, 33),
]


@pytest.mark.parametrize("shape", BODIES, ids=lambda shape: type(shape).__name__)
@pytest.mark.parametrize("step_m", [0.0125, 0.008])
def test_area_and_volume_are_those_of_the_shape_that_coats_are_scaled_by(shape: shapes.Shape, step_m: float) -> None:
    graph = graph_of(body_of(shape), step_m)
    assert graph.area_m2 * 1e4 == pytest.approx(shape.area_cm2, rel=0.002)
    assert float(graph.volume_m3.sum()) * graph.copies * 1e6 == pytest.approx(shape.volume_cm3, rel=1e-6)
