"""What to ask the butcher for: ribs, kilograms and pieces, and one big roast against two smaller ones."""

from __future__ import annotations

from collections.abc import Sequence
from math import ceil
from typing import NamedTuple

from cookbook.meat import Cut, Piece
from cookbook.quantity import Interval
from cookbook.quantity.number import digits

LEAST_RIBS = 2
"""A standing roast of one rib falls over (practice)."""
_STEP_G = 100.0


class Buy(NamedTuple):
    """Meat to buy: the raw weight needed (g, with its doubt), and what to ask for: `pieces` of `each_g`, each of so
    many `ribs`."""

    cut: str
    mass_g: Interval
    pieces: int
    each_g: float
    ribs: int | None = None

    @property
    def ask_g(self) -> float:
        """All that is asked for, g."""
        return self.pieces * self.each_g

    def words(self) -> str:
        """As it is said at the counter: `rib roast, bone in: 4 ribs, about 5.3 kg`."""
        size = f"{self.ribs} ribs, about {kilograms(self.each_g)}" if self.ribs else kilograms(self.each_g)
        return f"{self.cut}: {size}" if self.pieces == 1 else f"{self.cut}: {self.pieces} pieces, each {size}"

    def json(self) -> dict[str, object]:
        """As `plan --json` lists it."""
        return {
            "cut": self.cut, "mass_g": self.mass_g.json(), "pieces": self.pieces,
            "ribs": self.ribs * self.pieces if self.ribs else None, "each_g": self.each_g, "ask": self.words(),
        }  # fmt: skip


def kilograms(grams: float) -> str:
    """`5.3 kg`, `800 g`."""
    return f"{digits(grams / 1000, 2)} kg" if grams >= 1000 else f"{grams:.0f} g"


def buy(cut: Cut, raw_g: Interval, bones: int = 0) -> Buy:
    """What a butcher sells that holds the middle of `raw_g`; at least so many ribs as want a `bones`.

    Rounded up: to whole ribs, else to 100 g; no smaller than the cut usually is, in as many pieces as it takes.
    """
    least, most = cut.usual_kg[0] * 1000, cut.usual_kg[1] * 1000
    if cut.ribs is not None and cut.growth == "longer":
        return _in_ribs(cut, raw_g, bones)
    ask = max(ceil(raw_g.mid / _STEP_G - 1e-9) * _STEP_G, least)
    pieces = ceil(ask / most - 1e-9)
    each = max(ceil(ask / pieces / _STEP_G - 1e-9) * _STEP_G, least)
    return Buy(cut.name, raw_g, pieces, each)


def _in_ribs(cut: Cut, raw_g: Interval, bones: int) -> Buy:
    assert cut.ribs is not None
    one = cut.piece(ribs=LEAST_RIBS).mass_g.mid / LEAST_RIBS
    ribs = max(ceil(raw_g.mid / one - 1e-9), LEAST_RIBS, bones)
    pieces = ceil(ribs / cut.ribs.most)
    each = ceil(ribs / pieces)
    return Buy(cut.name, raw_g, pieces, cut.piece(ribs=each).mass_g.mid, each)


def of_pieces(pieces: Sequence[Piece]) -> tuple[Buy, ...]:
    """The buys that pieces already named are, those alike together."""
    alike: dict[tuple[float, int | None], list[Piece]] = {}
    for one in pieces:
        alike.setdefault((one.mass_g.mid, one.ribs), []).append(one)
    return tuple(
        Buy(same[0].cut.name, same[0].mass_g.scaled(len(same)), len(same), each_g, ribs)
        for (each_g, ribs), same in alike.items()
    )


def two_of(cut: Cut, one: Buy) -> Buy | None:
    """The same meat as two smaller roasts; None where a half is no roast any more."""
    if one.pieces > 1:
        return None
    if one.ribs:
        half = ceil(one.ribs / 2)
        each = cut.piece(ribs=half).mass_g.mid
        return one._replace(pieces=2, ribs=half, each_g=each) if half >= LEAST_RIBS else None
    half_g = ceil(one.each_g / 2 / _STEP_G) * _STEP_G
    return one._replace(pieces=2, each_g=half_g) if half_g >= cut.usual_kg[0] * 1000 else None
