"""What sticks to a piece: grams per cm², mean thickness, what a vertical face can hold, what two coats share.

Grams, cm², mm. Coverage is grams per cm² of coated surface; thickness is coverage over density.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import sqrt
from typing import TYPE_CHECKING, NamedTuple

from cookbook.quantity import Interval
from cookbook.table import rows

if TYPE_CHECKING:
    from cookbook.meat.piece import Piece

DENSITY = {"paste": 1.05, "rub": 0.5}
"""g/cm³ of a paste, and of a dry rub as it lies (common practice; from memory)."""
GRAVITY = 9.81


def coat_density(kind: str) -> float:
    """g/cm³ of a coat by the recipe's kind."""
    return DENSITY.get(kind, 1.0)


def thickness_mm(grams: float, area_cm2: float, kind: str) -> float:
    """Mean thickness in mm of so many grams on an area."""
    return 10 * grams / (coat_density(kind) * area_cm2)


def layer_g(layer_mm: float, area_cm2: float, kind: str) -> float:
    """Grams that lie this thick on an area."""
    return layer_mm / 10 * coat_density(kind) * area_cm2


def holds_mm(yield_stress_pa: float, density: float = DENSITY["paste"]) -> float:
    """The thickest layer in mm that stays on a vertical face: yield stress over weight, h = τ/(ρ·g)."""
    return 1000 * yield_stress_pa / (1000 * density * GRAVITY)


def slump_limit_mm(paste: str = "paste") -> Interval:
    """What a vertical face holds of a paste before it slumps, mm; hot fat holds less.

    `paste` is a row of the table `coat_yields`: paste, mustard, mayonnaise, ketchup. From memory, wide. KeyError for
    another.
    """
    for row in rows("coat_yields"):
        if row["paste"] == paste:
            low, high = float(row["low_pa"]), float(row["high_pa"])
            return Interval(*(holds_mm(stress) for stress in (low, sqrt(low * high), high)))
    raise KeyError(paste)


def slump_note(layer_mm: float, paste: str = "paste") -> str | None:
    """A sentence where a layer is thicker than a vertical face usually holds, else None."""
    limit = slump_limit_mm(paste)
    if layer_mm <= limit.mid:
        return None
    sure = "more than" if layer_mm > limit.high else "about what"
    return (f"{layer_mm:.1f} mm is {sure} an upright face holds ({limit.low:.1f} to {limit.high:.1f} mm, from memory)"
            ": the sides may slump; chill it, or put on a second coat when the first has set")


def shared_mm(written_mm: Sequence[float]) -> tuple[float, ...]:
    """Coats over each other share the thickness of the thickest as written, each in proportion to its own."""
    total = sum(written_mm)
    return tuple(max(written_mm) * one / total for one in written_mm) if total else tuple(written_mm)


class Slice(NamedTuple):
    """What of a coat comes with one slice, grams: from the middle, and from an end; `meat_g` in a middle slice."""

    middle_g: float
    end_g: float
    meat_g: float

    @property
    def middle_percent(self) -> float:
        """Percent of the meat in a middle slice."""
        return 100 * self.middle_g / self.meat_g


def per_slice(grams: float, piece: Piece, thickness_cm: float) -> Slice:
    """Shares `grams` of something in the coat (salt, say) over slices across the length of the piece.

    A middle slice has its part of the outline; an end slice its end face besides. Every coated face carries alike.
    """
    length = piece.dimensions_cm["length"].mid
    share = min(thickness_cm / length, 1.0)
    ends = [face for face, part in zip(piece.faces, piece.cut.face_parts, strict=True) if part.role == "end"]
    coated_ends = [face.area_cm2.mid for face in ends if face.coated]
    per_cm2 = grams / piece.coated_cm2.mid
    middle = per_cm2 * (piece.coated_cm2.mid - sum(coated_ends)) * share
    end = middle + per_cm2 * max(coated_ends, default=0.0)
    return Slice(middle, end, piece.boneless_mass_g.mid * share)
