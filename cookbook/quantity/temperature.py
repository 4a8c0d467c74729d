"""Temperatures and differences of temperature: two types, so that 10 degrees warmer never becomes 10 degrees."""

from __future__ import annotations

from fractions import Fraction

from cookbook.errors import AmountError
from cookbook.quantity.number import Scanner, decimal, number

_SCALES = {"°c": "C", "c": "C", "celsius": "C", "°f": "F", "f": "F", "fahrenheit": "F", "degc": "C", "degf": "F"}
_LOWEST = {"C": Fraction(-60), "F": Fraction(-76)}
_HIGHEST = {"C": Fraction(1200), "F": Fraction(2192)}


def _signed(scan: Scanner) -> Fraction | None:
    negative = scan.peek() == "-"
    if negative:
        scan.at += 1
    value = number(scan)
    return -value if negative and value is not None else value


def _read(text: str, what: str, like: str, scale: str | None) -> tuple[Fraction, Fraction, str]:
    scan = Scanner(text)
    scan.blanks()
    low = _signed(scan)
    if low is None:
        raise scan.fault(f"'{text.strip()}' is no {what}", max(1, len(scan.text.rstrip()) - scan.at), f"write it like `{like}`")
    scan.blanks()
    high = low
    if scan.peek() == "-" or scan.word().casefold() == "to":
        scan.take("-" if scan.peek() == "-" else scan.word())
        second = _signed(scan)
        if second is None or second <= low:
            raise scan.fault(f"'{text.strip()}' is no rising range", max(1, len(scan.text.rstrip()) - scan.at),
                             "write the lower number first")
        high = second
        scan.blanks()
    rest = scan.text[scan.at:].strip().casefold().replace("° ", "°").replace("degrees ", "").rstrip(".")
    return low, high, _scale(scan, rest, what, like, scale)


def _scale(scan: Scanner, rest: str, what: str, like: str, scale: str | None) -> str:
    if not rest and scale is not None:
        return scale
    if not rest:
        raise scan.fault(f"'{scan.raw.strip()}' has no scale", 1, f"write C or F behind it, for example `{like}`",
                         at=max(0, len(scan.text.rstrip()) - 1))
    found = rest.upper() if what == "temperature difference" and rest == "k" else _SCALES.get(rest)
    if found is None:
        raise scan.fault(f"'{rest}' is no scale of a {what}", len(rest), f"write it like `{like}`")
    return found


class Temperature:
    """A temperature, or a range of them, on the scale it was written in; °C inside."""

    __slots__ = ("high", "low", "scale")

    def __init__(self, low: Fraction, high: Fraction, scale: str) -> None:
        self.low, self.high, self.scale = low, high, scale

    @classmethod
    def parse(cls, text: str, default_scale: str | None = None) -> Temperature:
        """`130 °C`, `250F`, `110-120 °C`; without a scale only where `default_scale` (C or F) gives one. AmountError."""
        low, high, scale = _read(text, "temperature", "130 °C", default_scale)
        for value in (low, high):
            if not _LOWEST[scale] <= value <= _HIGHEST[scale]:
                raise AmountError(f"{decimal(value)} °{scale} is no temperature of a kitchen or a fire", text=text,
                                  length=len(text), mend=f"between {decimal(_LOWEST[scale])} and {decimal(_HIGHEST[scale])} °{scale}")
        return cls(low, high, scale)

    def _celsius(self, value: Fraction) -> Fraction:
        return value if self.scale == "C" else (value - 32) * Fraction(5, 9)

    @property
    def low_c(self) -> float:
        """The low end in °C."""
        return float(self._celsius(self.low))

    @property
    def high_c(self) -> float:
        """The high end in °C."""
        return float(self._celsius(self.high))

    @property
    def c(self) -> float:
        """°C; the middle of a range."""
        return (self.low_c + self.high_c) / 2

    @property
    def f(self) -> float:
        """°F; the middle of a range."""
        return self.c * 9 / 5 + 32

    def canonical(self) -> list[str]:
        """[low, high, "°C", ""], exact."""
        return [str(self._celsius(self.low)), str(self._celsius(self.high)), "°C", ""]

    def __str__(self) -> str:
        span = decimal(self.low) if self.low == self.high else f"{decimal(self.low)}-{decimal(self.high)}"
        return f"{span} °{self.scale}"

    def __repr__(self) -> str:
        return f"Temperature({str(self)!r})"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Temperature) and self.canonical() == other.canonical()

    def __hash__(self) -> int:
        return hash(tuple(self.canonical()))

    def __sub__(self, other: Temperature) -> TemperatureDifference:
        return TemperatureDifference(self._celsius(self.low) - other._celsius(other.high),
                                     self._celsius(self.high) - other._celsius(other.low))

    def both(self) -> str:
        """On both scales, the written one first: `130 °C (266 °F)`."""
        other = "F" if self.scale == "C" else "C"
        ends = [round(end * 9 / 5 + 32 if other == "F" else end) for end in (self.low_c, self.high_c)]
        span = str(ends[0]) if self.low == self.high else f"{ends[0]}–{ends[1]}"
        return f"{str(self).replace('-', '–', 1) if self.low != self.high else self} ({span} °{other})"


class TemperatureDifference:
    """So many degrees warmer or colder, in K."""

    __slots__ = ("high", "low")

    def __init__(self, low: Fraction, high: Fraction) -> None:
        self.low, self.high = low, high

    @classmethod
    def parse(cls, text: str) -> TemperatureDifference:
        """`4 K`, `4 °C`, `7 °F` warmer. Raises AmountError."""
        low, high, scale = _read(text, "temperature difference", "4 K", None)
        size = Fraction(5, 9) if scale == "F" else Fraction(1)
        return cls(low * size, high * size)

    @property
    def k(self) -> float:
        """K; the middle of a range."""
        return float(self.low + self.high) / 2

    def canonical(self) -> list[str]:
        """[low, high, "K", ""], exact."""
        return [str(self.low), str(self.high), "K", ""]

    def __str__(self) -> str:
        span = decimal(self.low) if self.low == self.high else f"{decimal(self.low)}-{decimal(self.high)}"
        return f"{span} K"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, TemperatureDifference) and (self.low, self.high) == (other.low, other.high)

    def __hash__(self) -> int:
        return hash((self.low, self.high))
