"""The same batch for other sizes: what `scale` would say, for the sizes that people cook."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cookbook.publish import wording
from cookbook.publish.content import Size
from cookbook.publish.ingredient import in_grams
from cookbook.recipe.scaling import Line, Scaled, scaled_to

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.meat import Piece

AROUND, BETWEEN = (0.5, 0.75, 1.5, 2.0), (1.25,)
"""Shares of the card's own piece, each rounded to a weight that is asked for in a shop; those between fill up."""
MOST = 4
"""So many other sizes fit beside the card's own on a phone."""


def sizes(kitchen: Kitchen, scaled: Scaled) -> tuple[Size, ...]:
    """Sizes around the card's own, its own among them; none for several pieces, or for what coats nothing."""
    if len(scaled.pieces) != 1 or scaled.recipe.kind not in ("paste", "rub"):
        return ()
    own = scaled.pieces[0]
    found = [_size(scaled, own, True)]
    for piece in others(own):
        other = scaled_to(scaled.recipe, piece, weights=kitchen.weights, used=kitchen.used_by(scaled.recipe),
                          drawer=kitchen.drawer)
        found.append(_size(other, piece, False))
    found.sort(key=lambda size: size.factor)
    return tuple(found) if len(found) > 1 else ()


def _size(scaled: Scaled, piece: Piece, own: bool) -> Size:
    ribs = (wording.ribs(piece.ribs),) if piece.ribs else ()
    total = wording.made(scaled.coat.grams)[0] if scaled.coat is not None and not scaled.coat.missing else ""
    weight = [word.removeprefix("about ") for word in wording.piece_mass(piece)]
    return Size((*ribs, *weight), scaled.factor.surface,
                (total,) if scaled.recipe.private else tuple(_short(line) for line in scaled.lines), total, own)


def _short(line: Line) -> str:
    """One measure that needs little room: grams where they are known, else the amount as the recipe counts it."""
    if line.amount.kind == "free":
        return "–"
    if line.grams is None or line.grams.mid <= 0:
        return wording.typographic(str(line.amount.rounded()))
    return wording.typographic(in_grams(line.grams.mid))


def others(own: Piece) -> list[Piece]:
    """Pieces of the same cut, coated on the same faces, in other sizes: by the rib where ribs were counted."""
    low, high = (1000 * kilograms for kilograms in own.cut.usual_kg)
    known: list[tuple[float | None, int | None]] = []
    if own.ribs and own.cut.ribs:
        each = own.mass_g.mid / own.ribs
        counts = [count for count in _ribs(own.ribs, own.cut.ribs.most) if low <= each * count <= high]
        known += [(each * count if own.known.mass_g is not None else None, count) for count in counts]
    else:
        known += [(mass_g, None) for mass_g in _weights(own.mass_g.mid, low, high)]
    return [own.in_size(mass_g, count) for mass_g, count in known]


def _ribs(own: int, most: int) -> list[int]:
    """The four counts nearest to the card's own, the bigger first where two are as near."""
    others = [count for count in range(2, most + 1) if count != own]
    return sorted(others, key=lambda count: (abs(count - own), -count))[:MOST]


def _weights(mass_g: float, low: float, high: float) -> list[float]:
    """Usual weights around the card's own."""
    rounded = dict.fromkeys(_asked_for(mass_g * share) for share in (*AROUND, *BETWEEN))
    return [weight for weight in rounded if low <= weight <= high and abs(weight / mass_g - 1) > 0.08][:MOST]


def _asked_for(mass_g: float) -> float:
    step = 50.0 if mass_g < 500 else 250.0 if mass_g < 1250 else 500.0 if mass_g < 6000 else 1000.0
    return round(mass_g / step) * step
