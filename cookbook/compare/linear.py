"""Least squares for a handful of cooks, in closed form and without a numerical library.

Source: the normal equations of the linear model; every contrast of its coefficients has Student's t.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt
from typing import NamedTuple

Row = Sequence[float]


class Fit(NamedTuple):
    """Coefficients, the inverse of X'X, the residual sum of squares and its degrees of freedom (0 where none)."""

    coefficients: tuple[float, ...]
    inverse: tuple[tuple[float, ...], ...]
    residual_ss: float
    freedom: int

    def contrast(self, weights: Row) -> tuple[float, float]:
        """A weighted sum of the coefficients, and what its variance is in units of the residual variance."""
        value = sum(weight * found for weight, found in zip(weights, self.coefficients, strict=True))
        share = sum(one * two * self.inverse[i][j] for i, one in enumerate(weights) for j, two in enumerate(weights))
        return value, share

    @property
    def spread(self) -> float | None:
        """The residual standard deviation, None without a degree of freedom."""
        return sqrt(self.residual_ss / self.freedom) if self.freedom > 0 else None


def inverse(matrix: Sequence[Row]) -> tuple[tuple[float, ...], ...] | None:
    """The inverse of a small square matrix by Gauss-Jordan elimination with pivoting; None where it has none."""
    size = len(matrix)
    work = [[*map(float, row), *(1.0 if i == j else 0.0 for j in range(size))] for i, row in enumerate(matrix)]
    scale = max((abs(cell) for row in matrix for cell in row), default=0.0)
    for column in range(size):
        pivot = max(range(column, size), key=lambda row: abs(work[row][column]))
        if abs(work[pivot][column]) <= 1e-11 * scale:
            return None
        work[column], work[pivot] = work[pivot], work[column]
        head = work[column][column]
        work[column] = [cell / head for cell in work[column]]
        for row in range(size):
            factor = work[row][column]
            if row != column and factor:
                work[row] = [cell - factor * above for cell, above in zip(work[row], work[column], strict=True)]
    return tuple(tuple(row[size:]) for row in work)


def fit(design: Sequence[Row], response: Row) -> Fit | None:
    """The least-squares fit of `response` on the columns of `design`; None where two columns say the same."""
    columns = list(zip(*design, strict=True))
    square = [[sum(a * b for a, b in zip(one, two, strict=True)) for two in columns] for one in columns]
    inverted = inverse(square)
    if inverted is None:
        return None
    right = [sum(a * b for a, b in zip(column, response, strict=True)) for column in columns]
    found = tuple(sum(a * b for a, b in zip(row, right, strict=True)) for row in inverted)
    rest = [y - sum(a * b for a, b in zip(row, found, strict=True)) for row, y in zip(design, response, strict=True)]
    return Fit(found, inverted, sum(one * one for one in rest), len(response) - len(columns))
