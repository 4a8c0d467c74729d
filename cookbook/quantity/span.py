"""Times and lengths as people write them, exact inside; and masses and lengths as plain numbers."""

from __future__ import annotations

from fractions import Fraction

from cookbook.errors import AmountError
from cookbook.quantity.amount import Amount
from cookbook.quantity.scanner import Scanner, number
from cookbook.quantity.unit import INCH_CM, MASS
from cookbook.quantity.words import ABOUT

_SECONDS = {"s": 1, "sec": 1, "secs": 1, "second": 1, "seconds": 1, "min": 60, "mins": 60, "minute": 60,
            "minutes": 60,
            "h": 3600, "hr": 3600, "hrs": 3600, "hour": 3600, "hours": 3600, "d": 86400, "day": 86400, "days": 86400,
            "night": 43200, "nights": 43200}
_CENTIMETRES = {"cm": Fraction(1), "mm": Fraction(1, 10), "m": Fraction(100), "in": INCH_CM, "inch": INCH_CM,
                "inches": INCH_CM, '"': INCH_CM, "ft": 12 * INCH_CM, "foot": 12 * INCH_CM, "feet": 12 * INCH_CM}
LONGEST_CM = 500
LONGEST_S = 366 * 86400
HEAVIEST_G = 10**6


class Duration:
    """A span of time, or a range; seconds inside. `about` says that it was written so."""

    __slots__ = ("about", "high", "low", "text")

    def __init__(self, low: Fraction, high: Fraction, text: str, about: bool = False) -> None:
        self.low, self.high, self.text, self.about = low, high, text, about

    @classmethod
    def parse(cls, text: str) -> Duration:
        """`25 min`, `1 h 30 min`, `1:30` (hours and minutes), `2-3 h`. Raises AmountError."""
        scan = Scanner(text)
        shown = " ".join(text.split())
        if scan.done:
            raise scan.fault("no time is written here", "write it like `25 min`")
        about = scan.word in ABOUT
        scan.at += about
        clock = _clock(scan)
        if clock is not None:
            return cls(clock, clock, shown, about)
        low = high = Fraction(0)
        while scan.word:
            one, two = _time(scan)
            low, high = low + one, high + two
            _ = scan.took("and") or scan.took(",")
        if high > LONGEST_S:
            raise scan.fault(f"'{shown}' is longer than a year", "write it like `25 min` or `1 h 30 min`", first=0)
        return cls(low, high, shown, about)

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
        """[low, high, "s", words], exact."""
        return [str(self.low), str(self.high), "s", "about" if self.about else ""]

    def __str__(self) -> str:
        return self.text

    def __repr__(self) -> str:
        return f"Duration({self.text!r})"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Duration) and self.canonical() == other.canonical()

    def __hash__(self) -> int:
        return hash((self.low, self.high, self.about))


def _clock(scan: Scanner) -> Fraction | None:
    """`1:30`, hours and minutes; None where something else is written."""
    words = scan.words[scan.at:scan.at + 4]
    if words[1] != ":":
        return None
    hours, minutes = words[0], words[2]
    if not (hours.isdigit() and len(hours) <= 3 and minutes.isdigit() and len(minutes) == 2
            and int(minutes) < 60) or words[3]:
        raise scan.fault(f"'{scan.rest()}' is no time in hours and minutes", "write it like `1:30`",
                         last=len(scan.starts) - 2)
    return Fraction(int(hours) * 3600 + int(minutes) * 60)


def _time(scan: Scanner) -> tuple[Fraction, Fraction]:
    start = scan.at
    low = number(scan)
    if low is None:
        raise scan.fault(f"'{scan.rest().split(' ')[0]}' is no time", "write it like `25 min` or `1 h 30 min`")
    high = low
    if scan.word in ("-", "to", "or") and scan.number_at(scan.at + 1):
        scan.at += 1
        second = number(scan)
        if second is None or second <= low:
            raise scan.fault(f"'{scan.rest(start)}' is no rising range", "write the shorter time first", first=start)
        high = second
    size = _SECONDS.get(scan.word)
    if size is None:
        raise scan.fault(f"'{scan.word}' is no unit of time" if scan.word else "a unit of time is missing",
                         "write s, min, h or days, for example `25 min`")
    scan.at += 1
    scan.took(".")
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
        value = number(scan)
        scan.took("-")
        size = _CENTIMETRES.get(scan.word)
        if value is None or size is None:
            raise scan.fault(f"'{text.strip()}' is no length", "write it like `34 cm` or `13 in`")
        scan.at += 1
        scan.took(".")
        if not scan.done or not 0 < value * size <= LONGEST_CM:
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
        return f"{self.text[:scan.ends[scan.at - 1]]} {scan.rest()}"

    def canonical(self) -> list[str]:
        """[length, length, "cm", ""], exact."""
        return [str(self.exact_cm), str(self.exact_cm), "cm", ""]

    def __str__(self) -> str:
        return self.text

    def __repr__(self) -> str:
        return f"Length({self.text!r})"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Length) and self.exact_cm == other.exact_cm

    def __hash__(self) -> int:
        return hash(self.exact_cm)


def read_length_cm(text: str) -> float:
    """A length in cm. Raises AmountError."""
    return Length.parse(text).cm


def read_mass_g(text: str) -> float:
    """A single weight in g, `4.4kg`, `1 lb 4 oz`. Raises AmountError."""
    found = Amount.parse(text)
    if found.base is None or found.kind != MASS or found.low != found.high or set(found.words) - {"about"}:
        raise AmountError(f"'{text.strip()}' is no single weight", text=text, length=len(text),
                          mend="write it like `2.2 kg` or `5 lb`")
    if not 0 < found.base[0] <= HEAVIEST_G:
        raise AmountError(f"'{text.strip()}' is no weight that a kitchen handles", text=text, length=len(text),
                          mend="more than nothing, at most a ton")
    return float(found.base[0])
