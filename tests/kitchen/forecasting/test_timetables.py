"""What a card's table of times is worked out for."""

from __future__ import annotations

from itertools import pairwise

import pytest

from cookbook.kitchen.forecasting.timetables import pieces_of
from cookbook.meat import Cut


@pytest.mark.parametrize("cut", ["pork loin, boneless", "rib roast, bone in", "brisket, flat"])
@pytest.mark.parametrize("share", [-0.2, 0.05, 0.2, 0.5, 0.8, 0.95, 1.2])
def test_one_of_the_pieces_is_as_heavy_as_the_cards_own_between_the_ends(cut: str, share: float) -> None:
    """Near an end and beyond it the end stands for it; no two are alike, which would leave no way between them."""
    low, high = 850 * Cut.named(cut).usual_kg[0], 1000 * Cut.named(cut).usual_kg[1]
    own = Cut.named(cut).piece(mass_g=low * (high / low) ** share)
    masses = [piece.mass_g.mid for piece in pieces_of(own)[0]]
    assert len(masses) == 4
    assert all(1.02 * light < heavy for light, heavy in pairwise(masses))
    assert [masses[0], masses[-1]] == pytest.approx([low, high])
    assert any(mass == pytest.approx(own.mass_g.mid) for mass in masses) == (0.2 <= share <= 0.8)
