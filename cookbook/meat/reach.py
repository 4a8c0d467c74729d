"""How far a bowl goes: one batch on another piece, the largest piece a bowl covers, the top-up for bare faces."""

from __future__ import annotations

from typing import NamedTuple

from cookbook.errors import PieceError
from cookbook.meat.coat import thickness_mm
from cookbook.meat.cut import Cut
from cookbook.meat.faces import chosen
from cookbook.meat.known import LEAST_G, MOST_G
from cookbook.meat.piece import Piece


class Reach(NamedTuple):
    """So many grams on a piece: the thickness they give, the one wanted (mm), and the batches that would give it."""

    layer_mm: float
    wanted_mm: float
    batches: float

    def sentence(self) -> str:
        """`covers 1.1 mm instead of 1.8 mm; make 1.6 batches`."""
        if abs(self.batches - 1) < 0.05:
            return f"covers {self.layer_mm:.1f} mm as wanted"
        return f"covers {self.layer_mm:.1f} mm instead of {self.wanted_mm:.1f} mm; make {self.batches:.1f} batches"


def reach(batch_g: float, wanted_g_per_cm2: float, coated_cm2: float, kind: str) -> Reach:
    """What one batch of `batch_g` grams does on `coated_cm2`, against the coverage wanted."""
    wanted_g = wanted_g_per_cm2 * coated_cm2
    layer, wanted = (thickness_mm(grams, coated_cm2, kind) for grams in (batch_g, wanted_g))
    return Reach(layer, wanted, wanted_g / batch_g)


class Largest(NamedTuple):
    """The largest piece that a bowl covers; for a cut counted in ribs also by whole ribs, None where not even one."""

    piece: Piece
    ribs: int | None


def largest_piece(cut: Cut, bowl_g: float, g_per_cm2: float, bones: str | None = None,
                  faces: str | None = None) -> Largest:
    """The largest piece of `cut` that `bowl_g` grams cover at this coverage. Raises PieceError where none is."""
    wanted = bowl_g / g_per_cm2

    def piece(mass_g: float) -> Piece:
        return cut.piece(mass_g=mass_g, bones=bones, faces=faces)

    if piece(LEAST_G).coated_cm2.mid > wanted:
        raise PieceError(f"{bowl_g:.0f} g at {1000 * g_per_cm2:.0f} mg on each cm² cover {wanted:.0f} cm², "
                         f"less than the smallest {cut.name}", measurement="weight",
                         mend="make more, or coat fewer faces")
    low, high = LEAST_G, MOST_G
    if piece(high).coated_cm2.mid <= wanted:
        return Largest(piece(high), _most_ribs(cut, wanted, bones, faces))
    while high - low > 0.5:
        middle = (low + high) / 2
        low, high = (middle, high) if piece(middle).coated_cm2.mid <= wanted else (low, middle)
    return Largest(piece(low), _most_ribs(cut, wanted, bones, faces))


def _most_ribs(cut: Cut, wanted_cm2: float, bones: str | None, faces: str | None) -> int | None:
    if cut.ribs is None:
        return None
    fits = [count for count in range(1, cut.ribs.most + 1)
            if cut.piece(ribs=count, bones=bones, faces=faces).coated_cm2.mid <= wanted_cm2]
    return max(fits, default=None)


class TopUp(NamedTuple):
    """For the faces still bare: their area, the thickness used so far, what they need, and what must still be made.

    `factor` is the share of one batch to make, proportions kept; 0 where the bowl suffices.
    """

    bare_cm2: float
    layer_mm: float
    needed_g: float
    left_g: float
    make_g: float
    factor: float


def top_up(piece: Piece, batch_g: float, left_g: float, bare: str, kind: str) -> TopUp:
    """The top-up in the middle of coating: of a batch of `batch_g` grams `left_g` are left, and faces are still bare.

    `bare` names faces as `faces` does. Raises PieceError for a face that the cut doesn't have, or if all is bare.
    """
    names, _ = chosen(piece.cut, bare, piece.bones)
    open_faces = [face for face in piece.faces if face.name in names]
    bare_cm2 = sum(face.area_cm2.mid for face in open_faces)
    done_cm2 = sum(face.area_cm2.mid for face in piece.faces if face.coated and face.name not in names)
    if not done_cm2:
        raise PieceError("no face is coated yet, so the thickness used so far is not known", measurement="bare",
                         mend="scale the recipe for the whole piece")
    if not 0 <= left_g < batch_g:
        raise PieceError(f"{left_g:.0f} g left of {batch_g:.0f} g: less than the whole batch is expected",
                         measurement="left-in-bowl", mend="weigh the bowl again, less its own weight")
    per_cm2 = (batch_g - left_g) / done_cm2
    needed = per_cm2 * bare_cm2
    make = max(0.0, needed - left_g)
    return TopUp(bare_cm2, thickness_mm(batch_g - left_g, done_cm2, kind), needed, left_g, make, make / batch_g)
