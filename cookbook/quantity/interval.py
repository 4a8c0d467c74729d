"""A number with its doubt: low, middle and high, an 80 % interval unless said otherwise."""

from __future__ import annotations

from typing import NamedTuple

NORMAL_80 = 1.2816
"""Standard deviations either side of the middle that hold 80 % of a normal."""


class Interval(NamedTuple):
    """`low` ≤ `mid` ≤ `high`, plain floats in the unit that the name beside it says."""

    low: float
    mid: float
    high: float

    @classmethod
    def exact(cls, value: float) -> Interval:
        """A number without doubt."""
        return cls(value, value, value)

    def scaled(self, factor: float) -> Interval:
        """All three times a factor of 0 or more."""
        return Interval(self.low * factor, self.mid * factor, self.high * factor)

    def plus(self, other: Interval) -> Interval:
        """The sum, where all that is low may be low together."""
        return Interval(self.low + other.low, self.mid + other.mid, self.high + other.high)

    def json(self) -> dict[str, float]:
        """As answers give it."""
        return {"low": self.low, "mid": self.mid, "high": self.high}
