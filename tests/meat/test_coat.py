"""What sticks: coverage and thickness, what an upright face holds, coats over each other, what comes with a slice."""

from __future__ import annotations

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.meat import Cut, coat_density, thickness_mm
from cookbook.meat.coat import layer_g, per_slice, shared_mm, slump_limit_mm, slump_note
from cookbook.meat.coverage import Weighing, learned, own_hand, spare, with_spare

AREA, GRAMS = st.floats(50, 10000), st.floats(1, 5000)


@given(GRAMS, AREA, st.sampled_from(["paste", "rub", "sauce"]))
def test_thickness_and_grams_are_one_law_both_ways(grams: float, area: float, kind: str) -> None:
    assert isclose(layer_g(thickness_mm(grams, area, kind), area, kind), grams, rel_tol=1e-12)
    assert thickness_mm(grams, 2 * area, kind) == pytest.approx(thickness_mm(grams, area, kind) / 2)


def test_a_cup_of_paste_covers_1183_cm2_at_two_millimetres() -> None:
    """236.6 cm³ of paste at 1.05 g/cm³."""
    assert thickness_mm(236.588 * coat_density("paste"), 1183, "paste") == pytest.approx(2.0, abs=0.001)


def test_a_rub_lies_looser_than_a_paste() -> None:
    assert coat_density("rub") < coat_density("paste")
    assert thickness_mm(50, 1000, "rub") > thickness_mm(50, 1000, "paste")


def test_what_an_upright_face_holds_is_an_interval_from_memory() -> None:
    for paste in ("paste", "mustard", "mayonnaise", "ketchup"):
        limit = slump_limit_mm(paste)
        assert 0 < limit.low < limit.mid < limit.high < 10
    assert slump_limit_mm("mustard").high == pytest.approx(5.82, abs=0.01)
    with pytest.raises(KeyError):
        slump_limit_mm("gravel")


def test_a_thick_coat_is_told_that_it_may_slump() -> None:
    assert slump_note(1.0) is None
    assert "about what an upright face holds" in (slump_note(4.0) or "")
    assert "more than an upright face holds" in (slump_note(8.0) or "")


@given(st.lists(st.floats(0.1, 5), min_size=1, max_size=4))
def test_coats_over_each_other_share_the_thickest(written: list[float]) -> None:
    shared = shared_mm(written)
    assert isclose(sum(shared), max(written), rel_tol=1e-12)
    assert all(isclose(one / shared[0], own / written[0], rel_tol=1e-9)
               for one, own in zip(shared, written, strict=True))


def test_coats_of_nothing_share_nothing() -> None:
    assert shared_mm([0.0, 0.0]) == (0.0, 0.0)


class TestSlices:
    LOIN = Cut.named("pork loin, boneless").piece(mass_g=3000)

    def test_all_slices_together_carry_all_the_salt(self) -> None:
        length = self.LOIN.dimensions_cm["length"].mid
        one = per_slice(33, self.LOIN, length / 20)
        assert 18 * one.middle_g + 2 * one.end_g == pytest.approx(33)
        assert 20 * one.meat_g == pytest.approx(3000)

    def test_an_end_slice_carries_its_end_face_too(self) -> None:
        one = per_slice(33, self.LOIN, 1)
        assert one.end_g > 2 * one.middle_g
        assert one.middle_percent < 1.1 < 100 * one.end_g / one.meat_g

    def test_with_bare_ends_every_slice_is_alike(self) -> None:
        piece = Cut.named("pork loin, boneless").piece(mass_g=3000, faces="no-ends")
        one = per_slice(33, piece, 2)
        assert one.end_g == one.middle_g
        assert one.middle_percent == pytest.approx(1.1)

    def test_a_slice_thicker_than_the_piece_is_the_piece(self) -> None:
        piece = Cut.named("pork loin, boneless").piece(mass_g=3000, faces="no-ends")
        assert per_slice(33, piece, 500).middle_g == pytest.approx(33)


class TestOwnHand:
    def test_a_mean_and_a_spread(self) -> None:
        found = learned([0.20, 0.22, 0.24])
        assert found is not None
        assert found.mean == pytest.approx(0.22)
        assert found.cooks == 3
        assert found.spread == pytest.approx(0.02)
        one = learned([0.2])
        assert one is not None
        assert one.spread is None
        assert learned([]) is None

    def test_what_stays_in_the_bowl_and_on_the_board(self) -> None:
        found = spare([Weighing(300, 30), Weighing(200, 10, 10), Weighing(0, 0)])
        assert found is not None
        assert found.mean == pytest.approx(0.10)
        assert found.cooks == 2
        assert with_spare(270, found.mean) == pytest.approx(300)

    def test_it_is_told_only_where_it_can_be(self) -> None:
        heavy = learned([0.24, 0.25, 0.26, 0.25])
        assert "25% more than the recipe's 200 mg" in (own_hand(0.20, heavy) or "")
        assert "less than the recipe" in (own_hand(0.40, heavy) or "")
        assert own_hand(0.24, heavy) is None
        assert own_hand(0.20, learned([0.4])) is None
        assert own_hand(0.20, None) is None
        assert own_hand(0.20, learned([0.1, 0.6])) is None
