"""The sizes of a piece from whatever was measured, by weighted least squares on logarithms.

Three unknowns (length, width, height, as logarithms) have prior ratios from the cut and from how it grows; each thing
measured adds a line with its own doubt. The result is exact where nothing contradicts, and its doubt shrinks with each
measurement. What lies more than three standard deviations from the rest is named.
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, log, sqrt
from typing import NamedTuple

from cookbook.meat.cut import Cut

Vector = tuple[float, float, float]

FAR = 1e-9
"""Weight of the prior on the overall size: next to nothing, it only keeps the sum solvable."""

ASSUMED, MEASURED_CUT = 0.10, 0.06
"""Doubt (one standard deviation of the logarithm) of a size that nobody has measured, and of one from carcass audits."""
TAPE, SCALE, PITCH, DENSITY, FORM = 0.03, 0.005, 0.09, 0.02, 0.02
"""Doubt of a tape measure, of a weight, of the rib pitch (0.5 in 5.5 cm), of density, of the solid itself."""

MEASURED = {"length": "length", "width": "width", "thickness": "thickness", "girth": "girth", "ribs": "ribs",
            "weight": "weight"}


class Line(NamedTuple):
    """One thing known: `of(sizes)` should be `value` (a logarithm) with the standard deviation `doubt`."""

    name: str
    of: Callable[[Vector], float]
    value: float
    doubt: float


class Estimate(NamedTuple):
    """The sizes in cm, the covariance of their logarithms, and how far each measurement lies from the rest."""

    sizes: Vector
    covariance: tuple[Vector, Vector, Vector]
    strain: dict[str, float]

    def doubt(self, of: Callable[[Vector], float]) -> float:
        """Standard deviation of the logarithm of what `of` computes from the sizes."""
        slope = _slope(lambda x: log(of(_exp(x))), _log(self.sizes))
        return sqrt(max(0.0, sum(slope[i] * self.covariance[i][j] * slope[j] for i in range(3) for j in range(3))))


def estimate(cut: Cut, lines: list[Line]) -> Estimate:
    """The sizes of a piece of `cut` under `lines`."""
    known = [*_prior(cut), *lines]
    x = _log(cut.sizes)
    for _ in range(12):
        matrix, right = _normal(known, x)
        step = _solve(matrix, right)
        x = (x[0] + step[0], x[1] + step[1], x[2] + step[2])
        if max(map(abs, step)) < 1e-12:
            break
    covariance = _inverse(_normal(known, x)[0])
    return Estimate(_exp(x), covariance, {line.name: _strain(line, known, x) for line in lines})


def _prior(cut: Cut) -> list[Line]:
    """What the cut says before anything is measured: ratios of sizes, and which size stays as the piece grows."""
    length, width, height = _log(cut.sizes)
    doubt = ASSUMED if cut.assumed else MEASURED_CUT
    lines = [Line("", lambda x: sum(x), length + width + height, 1 / sqrt(FAR))]
    if cut.growth == "longer":
        lines += [Line("", lambda x: x[1] + x[2], width + height, doubt * 2 ** 0.5),
                  Line("", lambda x: x[1] - x[2], width - height, doubt)]
    elif cut.growth == "wider":
        lines += [Line("", lambda x: x[2], height, doubt), Line("", lambda x: x[0] - x[1], length - width, doubt)]
    else:
        lines += [Line("", lambda x: x[0] - (x[1] + x[2]) / 2, length - (width + height) / 2, doubt),
                  Line("", lambda x: x[1] - x[2], width - height, doubt if width != height else doubt / 4)]
    return lines


def _strain(line: Line, known: list[Line], x: Vector) -> float:
    """How many standard deviations a measurement lies from what all the others say of it."""
    others = [other for other in known if other is not line]
    y = x
    for _ in range(12):
        matrix, right = _normal(others, y)
        step = _solve(matrix, right)
        y = (y[0] + step[0], y[1] + step[1], y[2] + step[2])
        if max(map(abs, step)) < 1e-10:
            break
    slope = _slope(line.of, y)
    spread = _inverse(_normal(others, y)[0])
    variance = sum(slope[i] * spread[i][j] * slope[j] for i in range(3) for j in range(3)) + line.doubt ** 2
    return (line.value - line.of(y)) / sqrt(variance)


def _slope(of: Callable[[Vector], float], x: Vector) -> Vector:
    found = []
    for place in range(3):
        up = [x[0], x[1], x[2]]
        down = [x[0], x[1], x[2]]
        up[place] += 1e-5
        down[place] -= 1e-5
        found.append((of((up[0], up[1], up[2])) - of((down[0], down[1], down[2]))) / 2e-5)
    return found[0], found[1], found[2]


def _normal(known: list[Line], x: Vector) -> tuple[tuple[Vector, Vector, Vector], Vector]:
    rows = [[0.0] * 3 for _ in range(3)]
    right = [0.0] * 3
    for line in known:
        slope = _slope(line.of, x)
        weight = line.doubt ** -2
        gap = line.value - line.of(x)
        for i in range(3):
            right[i] += weight * slope[i] * gap
            for j in range(3):
                rows[i][j] += weight * slope[i] * slope[j]
    one, two, three = ((row[0], row[1], row[2]) for row in rows)
    return (one, two, three), (right[0], right[1], right[2])


def _inverse(m: tuple[Vector, Vector, Vector]) -> tuple[Vector, Vector, Vector]:
    (a, b, c), (d, e, f), (g, h, i) = m
    whole = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    return (((e * i - f * h) / whole, (c * h - b * i) / whole, (b * f - c * e) / whole),
            ((f * g - d * i) / whole, (a * i - c * g) / whole, (c * d - a * f) / whole),
            ((d * h - e * g) / whole, (b * g - a * h) / whole, (a * e - b * d) / whole))


def _solve(m: tuple[Vector, Vector, Vector], right: Vector) -> Vector:
    rows = _inverse(m)
    one, two, three = (sum(row[k] * right[k] for k in range(3)) for row in rows)
    return one, two, three


def _log(sizes: Vector) -> Vector:
    return log(sizes[0]), log(sizes[1]), log(sizes[2])


def _exp(x: Vector) -> Vector:
    return exp(x[0]), exp(x[1]), exp(x[2])
