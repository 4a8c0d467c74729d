"""How far a bowl goes: so many batches on a bigger piece, and the top-up for faces still bare."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cookbook.errors import RequestError
from cookbook.meat.reach import TopUp, reach
from cookbook.meat.reach import top_up as bare_need
from cookbook.recipe.inside import times

if TYPE_CHECKING:
    from cookbook.recipe.scaling import CoatWeight, Scaled


def reaching(scaled: Scaled, batch: float, as_written: CoatWeight | None) -> Scaled:
    """With a note on how thick so many batches lie on these pieces, against what the recipe means."""
    if scaled.coat is None or as_written is None:
        return scaled
    found = reach(scaled.coat.grams / batch, as_written.g_per_cm2, scaled.coated_to_cm2, scaled.recipe.kind)
    found = found._replace(layer_mm=found.layer_mm * batch)
    return scaled._replace(notes=(*scaled.notes, found.sentence()))


def top_up(scaled: Scaled, left_g: float, bare: str) -> tuple[TopUp, Scaled | None]:
    """For faces still bare in the middle of coating: what they need, and the part of the batch still to make (None
    where the bowl suffices). Proportions are kept. Raises PieceError, RequestError."""
    if scaled.coat is None or scaled.coat.missing or len(scaled.pieces) != 1:
        missing = " and ".join(scaled.coat.missing) if scaled.coat else ""
        raise RequestError("a top-up needs one piece, and a paste or rub whose ingredients all have a known weight",
                           mend=f"weigh {missing} once" if missing else "ask for each piece by itself")
    need = bare_need(scaled.pieces[0], scaled.coat.grams, left_g, bare, scaled.recipe.kind)
    if need.factor <= 0:
        return need, None
    return need, scaled._replace(lines=times(scaled, need.factor).lines, notes=())
