"""Amounts as cooks write them, with exact numbers inside."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from cookbook.errors import RequestError
from cookbook.quantity import reader
from cookbook.quantity.interval import Interval
from cookbook.quantity.number import BY_VALUE, ascii_number, decimal, plain
from cookbook.quantity.unit import COUNT, CUP_ML, FREE, MASS, PERCENT, SYSTEMS, VAGUE_TSP, VOLUME, Unit

if TYPE_CHECKING:
    from collections.abc import Mapping

    from cookbook.quantity.measuring import Measured

DEGREE = {"heaping": (Fraction(9, 8), Fraction(2)), "rounded": (Fraction(9, 8), Fraction(2)),
          "generous": (Fraction(1), Fraction(9, 8)), "scant": (Fraction(7, 8), Fraction(1))}
"""What a word does to a spoon: the least and the most it can mean. Heaped cups are a level one and an eighth."""


class Amount:
    """One amount: `low` and `high` of `unit` (equal unless it is a range; None where nobody measures).

    `kind` is mass, volume, count, percent or free (`to taste`); `unit` is the unit's name, '' for a bare count;
    `words` change the meaning (`about`, `packed`, `heaping`); `measures` is the system that cups were read under.
    """

    __slots__ = ("_unit", "each", "high", "kind", "low", "measures", "text", "words")

    def __init__(self, text: str, found: reader.Read, measures: str) -> None:
        self.text = text
        self.kind = found.kind
        self.low, self.high = found.low, found.high
        self._unit = found.unit
        self.words = found.words
        self.each = found.each
        self.measures = measures

    @classmethod
    def parse(cls, text: str, measures: str = "us") -> Amount:
        """The amount that `text` writes under a measure system (us, us-label, metric, au, uk, jp).

        Raises AmountError with the place of the fault.
        """
        if measures not in SYSTEMS:
            raise RequestError(f"'{measures}' is no measure system", mend=f"known are {', '.join(SYSTEMS)}")
        return cls(" ".join(plain(text).split()), reader.read(text, measures), measures)

    @property
    def unit(self) -> str:
        """The unit's name, '' for a bare count and for what nobody measures."""
        return self._unit.name if self._unit is not None else ""

    @property
    def depends_on_measures(self) -> bool:
        """Whether it is in cups or spoons whose size the measure system decides."""
        return (self._unit is not None and self._unit.by_system) or self.unit in VAGUE_TSP

    def __repr__(self) -> str:
        return f"Amount({str(self)!r})"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Amount) and self.canonical() == other.canonical()

    def __hash__(self) -> int:
        return hash(tuple(self.canonical()))

    def _with(self, low: Fraction | None, high: Fraction | None, words: tuple[str, ...] | None = None) -> Amount:
        found = reader.Read(self.kind, low, high, self._unit, self.words if words is None else words, self.each)
        made = Amount("", found, self.measures)
        made.text = made.ascii()
        return made

    def scaled(self, factor: Fraction | float | int) -> Amount:
        """So many times as much; `to taste` and a share of the meat stay as they are."""
        if self.low is None or self.high is None or self.kind == PERCENT:
            return self
        times = factor if isinstance(factor, Fraction) else Fraction(factor).limit_denominator(10**9)
        return self if times == 1 else self._with(self.low * times, self.high * times)

    def plus(self, other: Amount, sign: int = 1) -> Amount | None:
        """The sum (or with -1 the difference, never below nothing) in this one's unit; None without a shared measure."""
        if self.low is None or self.high is None or other.low is None or other.high is None or self._unit is None \
                or other._unit is None or self.kind != other.kind or self.each != other.each:
            return None
        if self._unit.size is not None and other._unit.size is not None:
            factor = other._unit.size / self._unit.size
        elif self.unit == other.unit:
            factor = Fraction(1)
        else:
            return None
        low, high = self.low + sign * factor * other.low, self.high + sign * factor * other.high
        return self._with(max(low, Fraction(0)), max(high, Fraction(0)), tuple(w for w in self.words if w != "about"))

    def rounded(self) -> Amount:
        """To what can be measured: grams by what a balance shows, spoons by eighths, counts by halves."""
        if self.low is None or self.high is None or self._unit is None:
            return self
        return self._with(self._round(self.low), self._round(self.high))

    def _round(self, value: Fraction) -> Fraction:
        unit = self._unit
        assert unit is not None
        if unit.kind == PERCENT:
            step = Fraction(1, 20)
        elif unit.kind == COUNT:
            step = Fraction(1, 2) if value < 10 else Fraction(1)
        elif unit.name in ("g", "ml"):
            step = Fraction(1) if value >= 20 else Fraction(1, 2) if value >= 5 else Fraction(1, 10)
        elif unit.name in ("kg", "l", "lb"):
            step = Fraction(1, 100)
        else:
            step = Fraction(1, 4) if value >= 4 else Fraction(1, 8)
        done = round(value / step) * step
        return done if done > 0 or value == 0 else step

    @property
    def base(self) -> tuple[Fraction, Fraction, str] | None:
        """Low and high in g or ml, exact; None for counts, shares and what nobody measures."""
        if self.low is None or self.high is None or self._unit is None or self._unit.size is None:
            return None
        return self.low * self._unit.size, self.high * self._unit.size, "g" if self.kind == MASS else "ml"

    def to_pint(self) -> Any:
        """The middle as a pint quantity with an exact fraction. Raises ValueError for `to taste`."""
        from cookbook.quantity.registry import to_pint

        return to_pint(self)

    def canonical(self) -> list[str]:
        """[low, high, unit, words]: exact fractions as text, ml for volumes, g for weights; what a version digests."""
        words = " ".join(sorted(self.words))
        if self.each is not None:
            words = f"{words} each {self.each[0]} {self.each[1]}".strip()
        if self.low is None or self.high is None or self._unit is None:
            return ["", "", "", words]
        if self.base is None:
            return [str(self.low), str(self.high), self.unit, words]
        low, high, unit = self.base
        return [str(low), str(high), unit, words]

    def ml(self) -> Interval | None:
        """The volume in ml; vague spoons and heaped ones with what they can mean. None for anything else."""
        if self.low is None or self.high is None or self._unit is None:
            return None
        if self.unit in VAGUE_TSP:
            low, mid, high = (float(part * CUP_ML / 48) for part in VAGUE_TSP[self.unit])
            return Interval(float(self.low) * low, float(self.low + self.high) / 2 * mid, float(self.high) * high)
        if self.each is not None and self.each[1] == "ml":
            return self._spread(self.each[0])
        if self.kind != VOLUME or self._unit.size is None:
            return None
        return self._spread(self._unit.size)

    def _spread(self, size: Fraction) -> Interval:
        assert self.low is not None
        assert self.high is not None
        low, high = Fraction(1), Fraction(1)
        for word in self.words:
            if word in DEGREE:
                least, most = DEGREE[word]
                low, high = low * least, high * (most if self.unit != "cup" else min(most, Fraction(5, 4)))
        middle = (self.low + self.high) / 2 * (low + high) / 2
        return Interval(float(self.low * size * low), float(middle * size), float(self.high * size * high))

    def grams(self, item: str = "", weights: Mapping[str, Any] | None = None) -> Interval | None:
        """The weight in g, by itself or as this much of `item`; None where its weight is not known.

        `weights` are the kitchen's own, which win over the table.
        """
        if self.kind == MASS:
            assert self._unit is not None
            assert self._unit.size is not None
            return self._spread(self._unit.size)
        if self.each is not None and self.each[1] == "g":
            return self._spread(self.each[0])
        if self.kind in (FREE, PERCENT) or not item:
            return None
        from cookbook.quantity.weight import grams_of

        return grams_of(self, item, weights)

    def measured(self, units: str = "both", item: str = "", weights: Mapping[str, Any] | None = None) -> Measured:
        """As a cook would measure it: in the drawer's spoons, on the balance, or counted; grams beside."""
        from cookbook.quantity.measuring import measured

        return measured(self, units, item, weights)

    def ascii(self) -> str:
        """As files hold it; reads back as the same amount."""
        return self._written(ascii_number, "-", " ")

    def shown(self) -> str:
        """To three digits, for people who want to see a rounding."""
        if self.low is None or self.high is None or self._unit is None:
            return str(self)
        return f"{float(self.low + self.high) / 2:.3g} {self._unit.plural}".strip()

    def __str__(self) -> str:
        return self.text or self.ascii()

    def typographic(self) -> str:
        """As cards show it: `1½ cups`, `3–4 tbsp`."""
        return self._written(_sign_number, "–", "\u00a0")

    def _written(self, number: Any, dash: str, blank: str) -> str:
        if self.low is None or self.high is None or self._unit is None:
            return " ".join(self.words)
        show = number if self.unit not in ("g", "kg", "mg", "ml", "cl", "dl", "l") and self.kind != PERCENT else decimal
        size = show(self.low) if self.low == self.high else f"{show(self.low)}{dash}{show(self.high)}"
        if self.kind == PERCENT:
            return f"{size}{blank}% {self.unit.removeprefix('percent ')}"
        before = [word for word in self.words if word in ("about",)]
        part = [word for word in self.words if word.endswith(" of")]
        after = [word for word in self.words if word in ("to taste", "as needed")]
        middle = [word for word in self.words if word not in (*before, *part, *after)]
        degree = [word for word in middle if word not in reader.PACKS]
        packs = [word for word in middle if word in reader.PACKS]
        name = self._unit.name if self.high <= 1 and show is not decimal else self._unit.plural
        each = f"({decimal(self.each[0])} {self.each[1]})" if self.each else ""
        words = [*before, *part, size, each, *degree, name, *packs, *after]
        return blank.join(word for word in words if word) if blank == " " else _join(words, blank)


def _join(words: list[str], blank: str) -> str:
    """Joined so that a number never stands at the end of a line."""
    kept = [word for word in words if word]
    return " ".join(kept[:-1]) + (blank if len(kept) > 1 else "") + kept[-1]


def _sign_number(value: Fraction) -> str:
    whole, part = divmod(value, 1)
    if part in BY_VALUE:
        return f"{whole or ''}{BY_VALUE[part]}"
    return decimal(value)


def of_unit(value: Fraction, unit: Unit, measures: str = "us") -> Amount:
    """So much of a unit."""
    made = Amount("", reader.Read(unit.kind, value, value, unit, ()), measures)
    made.text = made.ascii()
    return made
