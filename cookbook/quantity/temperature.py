"""Temperatures and differences of temperature: two types, so that 10 degrees warmer never becomes 10 degrees."""

from __future__ import annotations

from fractions import Fraction

from cookbook.errors import AmountError
from cookbook.quantity.number import decimal
from cookbook.quantity.scanner import Scanner, number

_SCALES = {"c": "C", "°c": "C", "celsius": "C", "centigrade": "C", "f": "F", "°f": "F", "fahrenheit": "F",
           "degc": "C",
           "degf": "F"}
_LOWEST = {"C": Fraction(-60), "F": Fraction(-76)}
_HIGHEST = {"C": Fraction(1200), "F": Fraction(2192)}


def _signed(scan: Scanner) -> Fraction | None:
    negative = scan.took("-")
    value = number(scan)
    return -value if negative and value is not None else value


def _read(text: str, what: str, like: str, default: str | None) -> tuple[Fraction, Fraction, str]:
    scan = Scanner(text)
    mend = f"write it like `{like}`"
    low = _signed(scan)
    if low is None:
        if scan.word in ("gas", "regulo"):
            mend = f"gas marks differ from oven to oven; {mend}"
        raise scan.fault(f"'{text.strip()}' is no {what}", mend, first=0, last=max(0, len(scan.starts) - 2))
    first = _scale(scan, what)
    high = low
    if scan.word in ("-", "to"):
        scan.at += 1
        second = _signed(scan)
        if second is None or second <= low:
            raise scan.fault(f"'{text.strip()}' is no rising range", "write the lower number first", first=0,
                             last=scan.at - 1)
        high = second
    scale = _scale(scan, what) or first
    if not scan.done:
        raise scan.fault(f"'{scan.rest()}' is no scale of a {what}", mend, last=len(scan.starts) - 2)
    if first is not None and scale != first:
        raise scan.fault(f"'{text.strip()}' is on two scales", mend, first=0, last=scan.at - 1)
    if scale is None and default is None:
        raise scan.fault(f"'{text.strip()}' has no scale", f"write C or F behind it, for example `{like}`",
                         first=max(0, scan.at - 1))
    return low, high, scale or default or ""


def _scale(scan: Scanner, what: str) -> str | None:
    """The scale that stands here, passed; None where none does."""
    start = scan.at
    _ = scan.took("°") or scan.took("degrees") or scan.took("degree") or scan.took("deg")
    scan.took(".")
    found = _SCALES.get(scan.word) or ("K" if what == "temperature difference" and scan.word in ("k", "kelvin")
                                       else None)
    if found is None:
        scan.at = start
        return None
    scan.at += 1
    scan.took(".")
    return found


def _span(low: str, high: str, dash: str = "-") -> str:
    """One number, or two; below nothing a word parts them, lest the dash be taken for a sign."""
    if low == high:
        return low
    return f"{low} to {high}" if low.startswith("-") else f"{low}{dash}{high}"


class Temperature:
    """A temperature, or a range of them, on the scale it was written in; °C inside."""

    __slots__ = ("high", "low", "scale")

    def __init__(self, low: Fraction, high: Fraction, scale: str) -> None:
        self.low, self.high, self.scale = low, high, scale

    @classmethod
    def parse(cls, text: str, default_scale: str | None = None) -> Temperature:
        """`130 °C`, `250F`, `110-120 °C`; without a scale only where `default_scale` (C or F) gives one.
        AmountError."""
        low, high, scale = _read(text, "temperature", "130 °C", default_scale)
        for value in (low, high):
            if not _LOWEST[scale] <= value <= _HIGHEST[scale]:
                raise AmountError(f"{decimal(value)} °{scale} is no temperature of a kitchen or a fire", text=text,
                                  length=len(text),
                                  mend=f"between {decimal(_LOWEST[scale])} and {decimal(_HIGHEST[scale])} °{scale}")
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
        return f"{_span(decimal(self.low), decimal(self.high))} °{self.scale}"

    def __repr__(self) -> str:
        return f"Temperature({str(self)!r})"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Temperature) and self.canonical() == other.canonical()

    def __hash__(self) -> int:
        return hash(tuple(self.canonical()))

    def __sub__(self, other: Temperature) -> TemperatureDifference:
        return TemperatureDifference(self._celsius(self.low) - other._celsius(other.high),
                                     self._celsius(self.high) - other._celsius(other.low))

    def __add__(self, other: TemperatureDifference) -> Temperature:
        if not isinstance(other, TemperatureDifference):
            return NotImplemented
        size = Fraction(1) if self.scale == "C" else Fraction(9, 5)
        return Temperature(self.low + other.low * size, self.high + other.high * size, self.scale)

    def both(self) -> str:
        """On both scales, the written one first: `130 °C (266 °F)`."""
        other = "F" if self.scale == "C" else "C"
        one, two = (str(round(end * 9 / 5 + 32 if other == "F" else end)) for end in (self.low_c, self.high_c))
        return f"{_span(decimal(self.low), decimal(self.high), '–')} °{self.scale} ({_span(one, two, '–')} °{other})"


class TemperatureDifference:
    """So many degrees warmer or colder, in K."""

    __slots__ = ("high", "low")

    def __init__(self, low: Fraction, high: Fraction) -> None:
        self.low, self.high = low, high

    @classmethod
    def parse(cls, text: str) -> TemperatureDifference:
        """`4 K`, `4 °C`, `7 °F` warmer. Raises AmountError."""
        low, high, scale = _read(text, "temperature difference", "4 °C", None)
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
        return f"{_span(decimal(self.low), decimal(self.high))} K"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, TemperatureDifference) and (self.low, self.high) == (other.low, other.high)

    def __hash__(self) -> int:
        return hash((self.low, self.high))
