"""How far a bowl goes, the largest piece it covers, the top-up for faces still bare."""

from __future__ import annotations

from math import isclose

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import PieceError
from cookbook.meat import Cut
from cookbook.meat.reach import largest_piece, reach, top_up

RIB, LOIN = Cut.named("rib roast, bone in"), Cut.named("pork loin, boneless")


def test_one_batch_on_a_bigger_piece_says_what_it_does() -> None:
    """207 g made for 1096 cm² (three ribs, bone side bare) on six ribs."""
    three, six = RIB.piece(ribs=3).coated_cm2.mid, RIB.piece(ribs=6).coated_cm2.mid
    found = reach(207, 207 / three, six, "paste")
    assert found.sentence() == "covers 1.1 mm instead of 1.8 mm; make 1.6 batches"
    assert reach(207, 207 / three, three, "paste").sentence() == "covers 1.8 mm as wanted"


@given(st.floats(10, 1000), st.floats(0.02, 0.4), st.floats(100, 5000))
def test_so_many_batches_give_the_wanted_thickness(batch: float, wanted: float, area: float) -> None:
    found = reach(batch, wanted, area, "paste")
    assert isclose(found.layer_mm * found.batches, found.wanted_mm, rel_tol=1e-9)


@pytest.mark.long
@given(st.floats(0.5, 8))
def test_the_largest_piece_is_the_one_the_bowl_was_made_for(kilos: float) -> None:
    piece = LOIN.piece(mass_g=1000 * kilos)
    found = largest_piece(LOIN, 0.2 * piece.coated_cm2.mid, 0.2)
    assert found.piece.mass_g.mid == pytest.approx(1000 * kilos, abs=1)
    assert found.ribs is None


def test_the_largest_piece_by_whole_ribs() -> None:
    enough = 0.2 * (RIB.piece(ribs=4).coated_cm2.mid + 10)
    assert largest_piece(RIB, enough, 0.2).ribs == 4
    assert largest_piece(RIB, enough, 0.2, faces="all").ribs == 2
    assert largest_piece(RIB, 0.2 * 600, 0.2).ribs is None


def test_a_bowl_for_everything_and_one_for_nothing() -> None:
    assert largest_piece(LOIN, 1e6, 0.2).piece.mass_g.mid == 60000
    assert largest_piece(RIB, 1e6, 0.2).ribs == 7
    with pytest.raises(PieceError, match="less than the smallest pork loin") as caught:
        largest_piece(LOIN, 5, 0.2)
    assert caught.value.measurement == "weight"


def test_the_bare_faces_get_the_thickness_used_so_far() -> None:
    piece = LOIN.piece(mass_g=3000)
    found = top_up(piece, batch_g=200, left_g=55, bare="underside,ends", kind="paste")
    top = piece.face("fat side").area_cm2.mid
    assert found.bare_cm2 == pytest.approx(piece.area_cm2.mid - top)
    assert found.needed_g == pytest.approx(145 / top * found.bare_cm2)
    assert found.make_g == pytest.approx(found.needed_g - 55)
    assert found.factor == pytest.approx(found.make_g / 200)
    assert found.layer_mm == pytest.approx(10 * 145 / top / 1.05)


def test_where_the_bowl_suffices_nothing_is_made() -> None:
    found = top_up(LOIN.piece(mass_g=3000), batch_g=300, left_g=200, bare="ends", kind="paste")
    assert (found.make_g, found.factor) == (0, 0)
    assert found.needed_g < 200


def test_a_face_bare_by_habit_may_be_coated_after_all() -> None:
    found = top_up(RIB.piece(ribs=3), batch_g=200, left_g=0, bare="bone side", kind="paste")
    assert found.needed_g == pytest.approx(200 * 330 / 1095.9, rel=0.001)


@pytest.mark.parametrize(("left", "bare", "measurement", "words"), [
    (55, "all", "bare", "no face is coated yet"), (55, "crust", "faces", "no face 'crust'"),
    (200, "ends", "left-in-bowl", "less than the whole batch"), (-1, "ends", "left-in-bowl", "less than the whole")])
def test_a_top_up_that_cannot_be(left: float, bare: str, measurement: str, words: str) -> None:
    with pytest.raises(PieceError, match=words) as caught:
        top_up(LOIN.piece(mass_g=3000), 200, left, bare, "paste")
    assert caught.value.measurement == measurement
