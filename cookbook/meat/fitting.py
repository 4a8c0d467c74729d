"""Weighted least squares on the logarithms of a piece's sizes: a small solver, plain floats.

A row says what a measurement or an assumption tells of the unknowns, and how far it may be off (one standard
deviation of the logarithm, so 0.05 is about 5 %). The doubt of anything computed from the unknowns follows from the
rows by linear propagation.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from math import exp, sqrt
from typing import NamedTuple

from cookbook.quantity import Interval

WIDTH_80 = 1.4
"""The same as given out: a little more, since the spreads of what nobody has measured are assumptions themselves."""

_STEP = 1e-5
_ROUNDS = 40

Point = Sequence[float]


class Row(NamedTuple):
    """One equation: `model` of the unknowns, or their sum by `weights`, should be `value`, give or take `sigma`.

    `measurement` is its name where a person measured it, empty for an assumption.
    """

    value: float
    sigma: float
    weights: tuple[float, ...] = ()
    model: Callable[[Point], float] | None = None
    measurement: str = ""

    def at(self, point: Point) -> float:
        """The row's left side at `point`."""
        if self.model is not None:
            return self.model(point)
        return sum(weight * value for weight, value in zip(self.weights, point, strict=True))

    def slope(self, point: Point) -> tuple[float, ...]:
        """How the left side changes with each unknown."""
        return gradient(self.model, point) if self.model is not None else self.weights


class Misfit(NamedTuple):
    """A measurement against all the others: `z` standard deviations off; they would have said `low` to `high`."""

    measurement: str
    z: float
    low: float
    high: float


class Fit(NamedTuple):
    """The most likely unknowns and their covariance."""

    point: tuple[float, ...]
    covariance: tuple[tuple[float, ...], ...]
    rows: tuple[Row, ...]

    def variance(self, slope: Sequence[float]) -> float:
        """Variance of something that changes with the unknowns like `slope`."""
        return sum(slope[row] * slope[column] * self.covariance[row][column]
                   for row in range(len(slope)) if slope[row] for column in range(len(slope)) if slope[column])

    def interval(self, of: Callable[[Point], float], extra: float = 0.0) -> Interval:
        """80 % interval of a positive quantity; `extra` is its own spread beside the unknowns' (of its logarithm)."""
        return self.intervals(lambda point: (of(point),), extra)[0]

    def intervals(self, of: Callable[[Point], tuple[float, ...]], extra: float = 0.0) -> tuple[Interval, ...]:
        """The same for several quantities that are computed together."""
        middles, slopes = of(self.point), gradients(of, self.point)
        return tuple(self.around(middle, tuple(slope[place] / middle for slope in slopes), extra)
                     for place, middle in enumerate(middles))

    def around(self, middle: float, slope: Sequence[float], extra: float = 0.0) -> Interval:
        """80 % interval of a quantity whose logarithm changes with the unknowns like `slope`."""
        spread = exp(WIDTH_80 * sqrt(max(self.variance(slope), 0.0) + extra * extra))
        return Interval(middle / spread, middle, middle * spread)

    def misfits(self) -> list[Misfit]:
        """Every measurement that the others could have predicted, the worst first."""
        found = []
        for row in self.rows:
            if not row.measurement:
                continue
            slope = row.slope(self.point)
            free = 1 - self.variance(slope) / row.sigma ** 2
            if free < 1e-6:
                continue
            residual = row.value - row.at(self.point)
            expected = row.value - residual / free
            spread = WIDTH_80 * row.sigma / sqrt(free)
            found.append(Misfit(row.measurement, residual / (row.sigma * sqrt(free)), exp(expected - spread),
                                exp(expected + spread)))
        return sorted(found, key=lambda misfit: -abs(misfit.z))

    def widened(self, factor: float) -> Fit:
        """The same with every spread times `factor`."""
        square = factor * factor
        return self._replace(covariance=tuple(tuple(square * one for one in line) for line in self.covariance))


def gradient(of: Callable[[Point], float], point: Point) -> tuple[float, ...]:
    """Central differences of `of` at `point`, by unknown."""
    return tuple(slope for slope, in gradients(lambda here: (of(here),), point))


def gradients(of: Callable[[Point], tuple[float, ...]], point: Point) -> list[tuple[float, ...]]:
    """By unknown, the central differences of several quantities."""
    slopes = []
    for place, value in enumerate(point):
        here = list(point)
        here[place] = value + _STEP
        above = of(here)
        here[place] = value - _STEP
        slopes.append(tuple((high - low) / (2 * _STEP) for high, low in zip(above, of(here), strict=True)))
    return slopes


def fit(rows: Sequence[Row], start: Point) -> Fit:
    """Solve by Gauss and Newton from `start`. The rows must determine every unknown."""
    point = list(start)
    cost = _cost(rows, point)
    for _ in range(_ROUNDS):
        matrix, right = _normal(rows, point)
        step = [sum(one * two for one, two in zip(line, right, strict=True)) for line in _inverse(matrix)]
        longest = max(abs(one) for one in step)
        # A step of more than a factor of e is cut, and halved while it makes things worse: far away the rows bend.
        share = min(1.0, 1.0 / longest) if longest else 1.0
        while True:
            there = [value + share * one for value, one in zip(point, step, strict=True)]
            cost_there = _cost(rows, there)
            if cost_there <= cost + 1e-9 or share * longest < 1e-9:
                break
            share /= 2
        point, cost = there, cost_there
        if share * longest < 1e-10:
            break
    matrix, _ = _normal(rows, point)
    return Fit(tuple(point), tuple(tuple(line) for line in _inverse(matrix)), tuple(rows))


def _cost(rows: Sequence[Row], point: Point) -> float:
    return sum(((row.value - row.at(point)) / row.sigma) ** 2 for row in rows)


def _normal(rows: Sequence[Row], point: Point) -> tuple[list[list[float]], list[float]]:
    size = len(point)
    matrix = [[0.0] * size for _ in range(size)]
    right = [0.0] * size
    for row in rows:
        slope = row.slope(point)
        weight = row.sigma ** -2
        residual = row.value - row.at(point)
        for one in range(size):
            if slope[one]:
                right[one] += weight * slope[one] * residual
                for two in range(size):
                    matrix[one][two] += weight * slope[one] * slope[two]
    return matrix, right


def _inverse(matrix: list[list[float]]) -> list[list[float]]:
    """Gauss and Jordan with row exchange."""
    size = len(matrix)
    work = [list(line) + [1.0 if row == column else 0.0 for column in range(size)] for row, line in enumerate(matrix)]
    for column in range(size):
        best = max(range(column, size), key=lambda row: abs(work[row][column]))
        work[column], work[best] = work[best], work[column]
        pivot = work[column][column]
        work[column] = [value / pivot for value in work[column]]
        for row in range(size):
            if row != column and work[row][column]:
                factor = work[row][column]
                work[row] = [value - factor * own for value, own in zip(work[row], work[column], strict=True)]
    return [line[size:] for line in work]
