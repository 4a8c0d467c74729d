"""How weight misleads: pieces of one cut in several sizes, by surface and by weight."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from cookbook.meat.cut import Cut
    from cookbook.meat.piece import Piece


class Size(NamedTuple):
    """One line: the piece, and its factors from the first line by coated surface and by weight."""

    piece: Piece
    by_surface: float
    by_weight: float

    @property
    def label(self) -> str:
        """`4 ribs`, or the weight."""
        from cookbook.meat.known import weight_text

        ribs = self.piece.ribs
        return f"{ribs} rib{'' if ribs == 1 else 's'}" if ribs else weight_text(self.piece.mass_g.mid)

    @property
    def excess_percent(self) -> float:
        """How much too much (or, below 0, too little) the weight rule makes, in percent of what is needed."""
        return 100 * (self.by_weight / self.by_surface - 1)

    def json(self) -> dict[str, object]:
        """As `piece --table --json` lists it."""
        return {
            "label": self.label, "ribs": self.piece.ribs, "mass_g": self.piece.mass_g.json(),
            "area_cm2": self.piece.area_cm2.json(), "coated_cm2": self.piece.coated_cm2.json(),
            "factor": {"surface": self.by_surface, "weight": self.by_weight}, "excess_percent": self.excess_percent,
        }


def size_table(cut: Cut, ribs: Sequence[int] | None = None, masses_g: Sequence[float] | None = None,
               bones: str | None = None, faces: str | None = None) -> list[Size]:
    """Sizes of a cut, the first one the base; by ribs where it is counted in ribs, else by weight.

    Without `ribs` or `masses_g` the usual sizes. Raises PieceError for a size that cannot be.
    """
    if ribs is None and masses_g is None:
        if cut.ribs is not None and cut.growth == "longer":
            ribs = [count for count in (2, 3, 4, 5, 6, 7, 8) if count <= cut.ribs.most]
        else:
            masses_g = usual_masses_g(cut)
    pieces = [cut.piece(ribs=count, bones=bones, faces=faces) for count in ribs or ()]
    pieces += [cut.piece(mass_g=mass, bones=bones, faces=faces) for mass in masses_g or ()]
    base = pieces[0]
    return [Size(piece, piece.coated_cm2.mid / base.coated_cm2.mid, piece.mass_g.mid / base.mass_g.mid)
            for piece in pieces]


def usual_masses_g(cut: Cut) -> list[float]:
    """Six weights a cook would name, from the lightest usual to the heaviest."""
    low, high = (1000 * kilos for kilos in cut.usual_kg)
    found = []
    for place in range(6):
        mass = low * (high / low) ** (place / 5)
        step = 50 if mass < 1000 else 100 if mass < 3000 else 500
        found.append(float(min(max(round(mass / step) * step, low), high)))
    return sorted(set(found))
