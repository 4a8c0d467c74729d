"""Times and lengths as people write them, exact inside; and masses and lengths as plain numbers."""

from __future__ import annotations

from fractions import Fraction

from cookbook.errors import AmountError
from cookbook.quantity.amount import Amount
from cookbook.quantity.number import Scanner, decimal, digits, number
from cookbook.quantity.unit import MASS

_SECONDS = {"s": 1, "sec": 1, "second": 1, "min": 60, "minute": 60, "h": 3600, "hr": 3600, "hour": 3600, "d": 86400,
            "day": 86400, "night": 43200}
_CENTIMETRES = {"cm": Fraction(1), "mm": Fraction(1, 10), "m": Fraction(100), "in": Fraction(254, 100),
                "inch": Fraction(254, 100), "inches": Fraction(254, 100), '"': Fraction(254, 100),
                "ft": Fraction(3048, 100), "foot": Fraction(3048, 100), "feet": Fraction(3048, 100)}


class Duration:
    """A span of time, or a range; seconds inside."""

    __slots__ = ("high", "low", "text")

    def __init__(self, low: Fraction, high: Fraction, text: str) -> None:
        self.low, self.high, self.text = low, high, text

    @classmethod
    def parse(cls, text: str) -> Duration:
        """`25 min`, `1 h 30 min`, `1:30` (hours and minutes), `2-3 h`. Raises AmountError."""
        scan = Scanner(text)
        scan.blanks()
        shown = " ".join(text.split())
        clock = scan.text.strip().split(":")
        if len(clock) == 2 and all(part.isascii() and part.isdigit() for part in clock) and len(clock[1]) == 2:
            hours = digits(scan)
            seconds = Fraction(int(hours) * 3600 + int(clock[1]) * 60)
            return cls(seconds, seconds, shown)
        low = high = Fraction(0)
        while not scan.done:
            one, two = _time(scan, text)
            low, high = low + one, high + two
        if not shown:
            raise scan.fault("no time is written here", mend="write it like `25 min`")
        return cls(low, high, shown)

    @property
    def seconds(self) -> float:
        """Seconds; the middle of a range."""
        return float(self.low + self.high) / 2

    @property
    def low_s(self) -> float:
        """The short end in seconds."""
        return float(self.low)

    @property
    def high_s(self) -> float:
        """The long end in seconds."""
        return float(self.high)

    def canonical(self) -> list[str]:
        """[low, high, "s", ""], exact."""
        return [str(self.low), str(self.high), "s", ""]

    def __str__(self) -> str:
        return self.text

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Duration) and (self.low, self.high) == (other.low, other.high)

    def __hash__(self) -> int:
        return hash((self.low, self.high))


def _time(scan: Scanner, text: str) -> tuple[Fraction, Fraction]:
    low = number(scan)
    if low is None:
        word = scan.text[scan.at:].split(" ")[0]
        raise scan.fault(f"'{word}' is no time", max(1, len(word)), "write it like `25 min` or `1 h 30 min`")
    scan.blanks()
    high = low
    if scan.peek() == "-" or scan.word().casefold() == "to":
        scan.take("-" if scan.peek() == "-" else scan.word())
        second = number(scan)
        if second is None or second <= low:
            raise scan.fault(f"'{text.strip()}' is no rising range", 1, "write the shorter time first")
        high = second
        scan.blanks()
    word = scan.word()
    size = _SECONDS.get(word.casefold()) or _SECONDS.get(word.casefold().removesuffix("s"))
    if size is None:
        raise scan.fault(f"'{word}' is no unit of time" if word else "a unit of time is missing", max(1, len(word)),
                         "write s, min, h or days, for example `25 min`")
    scan.take(word)
    return low * size, high * size


class Length:
    """A length; centimetres inside."""

    __slots__ = ("exact_cm", "text")

    def __init__(self, exact_cm: Fraction, text: str) -> None:
        self.exact_cm, self.text = exact_cm, text

    @classmethod
    def parse(cls, text: str) -> Length:
        """`34 cm`, `13 1/2 in`. Raises AmountError; so does nothing at all, and more than 5 m."""
        scan = Scanner(text)
        scan.blanks()
        value = number(scan)
        scan.blanks()
        unit = scan.text[scan.at:].strip().casefold().rstrip(".")
        size = _CENTIMETRES.get(unit)
        if value is None or size is None:
            raise AmountError(f"'{text.strip()}' is no length", text=text, offset=min(scan.at, max(0, len(text) - 1)),
                              length=max(1, len(unit)), mend="write it like `34 cm` or `13 in`")
        if not 0 < value * size <= 500:
            raise AmountError(f"'{text.strip()}' is no length of a piece of meat", text=text, length=len(text),
                              mend="write it like `34 cm` or `13 in`")
        return cls(value * size, " ".join(text.split()))

    @property
    def cm(self) -> float:
        """Centimetres."""
        return float(self.exact_cm)

    def ascii(self) -> str:
        """As files hold it, `34 cm`, in the unit it was written in."""
        scan = Scanner(self.text)
        number(scan)
        return f"{self.text[:scan.at].strip()} {self.text[scan.at:].strip()}"

    def canonical(self) -> list[str]:
        """[length, length, "cm", ""], exact."""
        return [str(self.exact_cm), str(self.exact_cm), "cm", ""]

    def __str__(self) -> str:
        return self.text


def read_length_cm(text: str) -> float:
    """A length in cm. Raises AmountError."""
    return Length.parse(text).cm


def read_mass_g(text: str) -> float:
    """A single weight in g, `4.4kg`, `1 lb 4 oz`. Raises AmountError."""
    stripped = text.strip()
    if stripped.startswith("-"):
        raise AmountError(f"'{stripped}' is less than nothing", text=text, length=len(text), mend="write it like `2.2 kg`")
    found = Amount.parse(text)
    if found.kind != MASS or found.low != found.high or found.low is None:
        raise AmountError(f"'{stripped}' is no single weight", text=text, length=len(text), mend="write it like `2.2 kg` or `5 lb`")
    grams = found.grams()
    assert grams is not None
    if not 0 < grams.mid <= 10**6:
        raise AmountError(f"'{stripped}' is no weight of a kitchen ({decimal(found.low)})", text=text, length=len(text))
    return grams.mid
