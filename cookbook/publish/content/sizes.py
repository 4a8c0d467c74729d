"""The same batch for other sizes: what `scale` would say, for the sizes that people cook."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from cookbook.kitchen.sizing import inside
from cookbook.publish import wording
from cookbook.publish.content import Grid, Size, figures
from cookbook.publish.content.ingredient import in_grams
from cookbook.recipe.scaling import Line, Scaled, scaled_to

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.meat import Piece

AROUND, BETWEEN = (0.5, 0.75, 1.5, 2.0), (1.25,)
"""Shares of the card's own piece, each rounded to a weight that is asked for in a shop; those between fill up."""
MOST = 4
"""So many other sizes fit beside the card's own on a phone."""


class Column(NamedTuple):
    """A batch as it is for one size of piece; `own` is the card's own size."""

    piece: Piece
    scaled: Scaled
    own: bool


def around(kitchen: Kitchen, scaled: Scaled) -> list[Column]:
    """Sizes around the card's own, its own among them; alone for several pieces, or what coats nothing."""
    own = scaled.pieces[0]
    found = [Column(own, scaled, True)]
    if len(scaled.pieces) == 1 and scaled.recipe.kind in ("paste", "rub"):
        found += [Column(piece, _on(kitchen, scaled, piece), False) for piece in others(own)]
    return sorted(found, key=lambda column: column.scaled.factor.surface)


def insides(kitchen: Kitchen, columns: Sequence[Column]) -> Iterator[list[Column]]:
    """The columns of each recipe that goes into these."""
    parts = [inside(kitchen, column.scaled) for column in columns]
    for inner in zip(*parts, strict=True):
        yield [column._replace(scaled=one) for column, one in zip(columns, inner, strict=True)]


def sizes(columns: Sequence[Column]) -> tuple[Size, ...]:
    """What a card prints of the columns; nothing of a single one."""
    return tuple(_size(*column) for column in columns) if len(columns) > 1 else ()


def also(kitchen: Kitchen, beside: Sequence[Scaled]) -> Iterator[Grid]:
    """What a cook takes besides the batches of its coats, for the same sizes: whatever of it follows the meat."""
    rows: list[tuple[str, tuple[str, ...]]] = []
    heads: list[tuple[str, ...]] = []
    mine = 0
    for one in beside:
        if len(one.pieces) == 1:
            own = one.pieces[0]
            around = sorted([own, *others(own)], key=lambda piece: piece.mass_g.mid)
            heads, mine = [size_heads(piece) for piece in around], around.index(own)
            columns = [_on(kitchen, one, piece).lines for piece in around]
            rows += [(wording.spoken(lines[0].item), tuple(map(_short, lines)))
                     for lines in zip(*columns, strict=True) if lines[0].follows in ("surface", "weight", "count")]
    if rows and len(heads) > 1:
        yield Grid("also", "Other sizes: also needed", tuple(heads), tuple(rows), mine, "", True)


def _on(kitchen: Kitchen, scaled: Scaled, piece: Piece) -> Scaled:
    return scaled_to(scaled.recipe, piece, weights=kitchen.weights, used=kitchen.used_by(scaled.recipe),
                     drawer=kitchen.drawer)


def size_heads(piece: Piece) -> tuple[str, ...]:
    """`3 ribs`, `3.9 kg`, `8.6 lb`."""
    ribs = (wording.ribs(piece.ribs),) if piece.ribs else ()
    return (*ribs, *(word.removeprefix("about ") for word in wording.piece_mass(piece)))


def _size(piece: Piece, scaled: Scaled, own: bool) -> Size:
    grams = figures.weight(scaled)
    total = wording.made(grams)[0] if grams else ""
    return Size(size_heads(piece), scaled.factor.surface,
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
