"""Amounts as cooks write them, with exact numbers inside."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from cookbook.errors import RequestError
from cookbook.quantity import reader, rounding, sense, writer
from cookbook.quantity.interval import Interval
from cookbook.quantity.scanner import plain
from cookbook.quantity.unit import FREE, MASS, PERCENT, SYSTEMS, VAGUE_TSP, VOLUME, Unit
from cookbook.quantity.unit import unit as find_unit
from cookbook.quantity.words import UNCOUNTED

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from cookbook.quantity.drawer import Scoop
    from cookbook.quantity.measuring import Measured
    from cookbook.quantity.own import OwnWeight


class Amount:
    """One amount: `low` and `high` of `unit` (equal unless it is a range; None where nobody measures).

    `kind` is mass, volume, count, percent or free (`to taste`); `unit` is the unit's name, '' for a bare count;
    `words` change the meaning (`about`, `packed`, `heaping`); `each` is what one package holds and `beside` the same
    amount said again, both in g, ml or cm; `measures` is the system that cups were read under.
    """

    __slots__ = ("_read", "each", "high", "kind", "low", "measures", "text", "words")

    def __init__(self, text: str, found: reader.Read, measures: str) -> None:
        self._read = found
        self.text = text or writer.ascii_text(found)
        self.kind = found.kind
        self.low, self.high = found.low, found.high
        self.words = found.words
        self.each = found.each
        self.measures = measures

    @classmethod
    def parse(cls, text: str, measures: str = "us") -> Amount:
        """The amount that `text` writes under a measure system (us, us-label, metric, au, uk, jp).

        Raises AmountError with the place of the fault.

        >>> amount = Amount.parse("3-4 tbsp")
        >>> (amount.low, amount.high, amount.unit)
        (Fraction(3, 1), Fraction(4, 1), 'tbsp')
        """
        if measures not in SYSTEMS:
            raise RequestError(f"'{measures}' is no measure system", mend=f"known are {', '.join(SYSTEMS)}")
        return cls(" ".join(plain(text).split()), reader.read(text, measures), measures)

    @property
    def unit(self) -> str:
        """The unit's name, '' for a bare count and for what nobody measures."""
        return self._read.unit.name if self._read.unit is not None else ""

    @property
    def beside(self) -> Interval | None:
        """What a bracket says of the whole amount, in g or ml; None where none does."""
        found = self._read.beside
        if found is None:
            return None
        return Interval(float(found.low), float(found.low + found.high) / 2, float(found.high))

    @property
    def depends_on_measures(self) -> bool:
        """Whether it is in cups or spoons whose size the measure system decides."""
        return (self._read.unit is not None and self._read.unit.by_system) or self.unit in VAGUE_TSP

    def __repr__(self) -> str:
        return f"Amount({str(self)!r})"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Amount) and self.canonical() == other.canonical()

    def __hash__(self) -> int:
        return hash(tuple(self.canonical()))

    def _with(self, low: Fraction, high: Fraction, unit: Unit | None = None, *,
              drop: frozenset[str] = frozenset()) -> Amount:
        """The same with other numbers; words that only hold for the old ones go."""
        found = self._read
        beside = found.beside
        if beside is not None:
            times = low / found.low if found.low else Fraction(0)
            same = times and high == (found.high or 0) * times
            beside = beside.times(times * _step(unit, found.unit)) if same else None
        gone = drop | UNCOUNTED.keys() if (low, high) != (found.low, found.high) else drop
        words = tuple(word for word in found.words if word not in gone)
        made = reader.Read(self.kind, low, high, unit or found.unit, words, found.each, beside)
        return Amount("", made, self.measures)

    def scaled(self, factor: Fraction | float | int) -> Amount:
        """So many times as much, exactly; `to taste` and a share of the meat stay as they are."""
        if self.low is None or self.high is None or self.kind == PERCENT:
            return self
        times = factor if isinstance(factor, Fraction) else Fraction(factor).limit_denominator(10**9)
        if times < 0:
            raise RequestError(f"{float(times):g} times {self} is less than nothing",
                               mend="scale by a positive factor")
        return self if times == 1 else self._with(self.low * times, self.high * times)

    def plus(self, other: Amount, sign: int = 1) -> Amount | None:
        """The sum (or with -1 the difference, never below nothing) in this one's unit; None without a shared
        measure."""
        one, two = self._read.unit, other._read.unit
        if self.low is None or self.high is None or other.low is None or other.high is None:
            return None
        if one is None or two is None or self.kind != other.kind or self.each != other.each:
            return None
        if one.size is not None and two.size is not None:
            factor = two.size / one.size
        elif self.unit == other.unit:
            factor = Fraction(1)
        else:
            return None
        low, high = self.low + sign * factor * other.low, self.high + sign * factor * other.high
        return self._with(max(low, Fraction(0)), max(high, Fraction(0)), drop=frozenset(("about",)))

    def rounded(self) -> Amount:
        """To what can be measured: grams by what a balance shows, spoons by a drawer's parts, pieces by halves."""
        unit = self._read.unit
        if self.low is None or self.high is None or unit is None:
            return self
        if self.kind == VOLUME and unit.by_system and self._read.each is None:
            low, high, unit = rounding.measure(self.low, self.high, unit, self.measures)
        else:
            part = next((word for word in self.words if word.endswith(" of")), "")
            low, high = rounding.in_unit(self.low, unit, part), rounding.in_unit(self.high, unit, part)
        if (low, high, self._read.beside) == (self.low, self.high, None):
            return self
        return self._with(low, high, unit)._beside_rounded()

    def _beside_rounded(self) -> Amount:
        """The same with what its bracket says rounded as well."""
        beside = self._read.beside
        unit = None if beside is None else find_unit(beside.unit, self.measures)
        if beside is None or unit is None:
            return self
        one, two = (rounding.in_unit(value, unit) for value in beside.written)
        return Amount("", self._read._replace(beside=beside._replace(written=(one, two))), self.measures)

    @property
    def base(self) -> tuple[Fraction, Fraction, str] | None:
        """Low and high in g or ml, exact; None for counts, shares and what nobody measures."""
        unit = self._read.unit
        if self.low is None or self.high is None or unit is None or unit.size is None:
            return None
        return self.low * unit.size, self.high * unit.size, "g" if self.kind == MASS else "ml"

    def to_pint(self) -> Any:
        """The middle as a pint quantity with an exact fraction. Raises RequestError for `to taste`."""
        from cookbook.quantity.bridge import to_pint

        return to_pint(self)

    def canonical(self) -> list[str]:
        """[low, high, unit, words]: exact fractions as text, ml for volumes, g for weights; what a version
        digests."""
        words = " ".join(sorted(self.words))
        if self.each is not None:
            words = f"{words} each {self.each.size} {self.each.base}".strip()
        again = self._read.beside
        if again is not None:
            about = "about " if again.about else ""
            words = f"{words} that is {about}{writer.span(again.low, again.high, str)} {again.base}".strip()
        if self.low is None or self.high is None or self._read.unit is None:
            return ["", "", "", words]
        if self.base is None:
            return [str(self.low), str(self.high), self.unit, words]
        low, high, unit = self.base
        return [str(low), str(high), unit, words]

    def ml(self) -> Interval | None:
        """The volume in ml; vague spoons and heaped ones with what they can mean. None for anything else."""
        return sense.in_base(self._read, "ml")

    def cut_length_cm(self) -> Interval | None:
        """The whole length of pieces that are cut by length (`2 1-inch pieces`), else None."""
        return sense.cut_length_cm(self._read)

    def grams(self, item: str = "", weights: Mapping[str, OwnWeight] | None = None) -> Interval | None:
        """The weight in g, by itself or as this much of `item`; None where its weight is not known.

        `weights` are the kitchen's own, which win over the table.
        """
        own_words = sense.in_base(self._read, "g")
        if own_words is not None or self.kind in (FREE, PERCENT) or not item:
            return own_words
        from cookbook.quantity.weight import grams_of

        return grams_of(self, item, weights)

    def measured(self, units: str = "both", item: str = "", weights: Mapping[str, OwnWeight] | None = None,
                 drawer: Sequence[Scoop] | None = None) -> Measured:
        """As a cook would measure it: in the drawer's spoons, on the balance, or counted; grams beside."""
        from cookbook.quantity.measuring import measured

        return measured(self, units, item, weights, drawer)

    def ascii(self) -> str:
        """As files hold it; reads back as the same amount."""
        return writer.ascii_text(self._read)

    def __str__(self) -> str:
        return self.text if self.text.isascii() else self.ascii()

    def typographic(self) -> str:
        """As cards show it: `1½ cups`, `3–4 tbsp`."""
        return writer.card_text(self._read)


def _step(new: Unit | None, old: Unit | None) -> Fraction:
    """How many of the old unit one of the new is."""
    if new is None or old is None or new.size is None or old.size is None:
        return Fraction(1)
    return new.size / old.size
