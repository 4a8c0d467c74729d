"""Cooked grams, raw meat and what the butcher sells: worked by hand, and the laws that hold for any table."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import UnknownName
from cookbook.meat import Cut
from cookbook.meat.coverage import Learned
from cookbook.plan import Eater, buy, needed, portion, raw_for, share
from cookbook.plan.buying import of_pieces, two_of
from cookbook.quantity import Interval

APPETITES = ("child", "small", "usual", "big")
CUTS = ("rib roast, bone in", "pork loin, boneless", "leg of lamb, bone in", "chicken, whole", "brisket, whole")


def table(appetites: Sequence[str]) -> list[Eater]:
    return [Eater(f"{place}", appetite) for place, appetite in enumerate(appetites)]


def test_portions_rise_with_the_appetite_and_nobody_else_has_one() -> None:
    found = [portion(appetite).grams for appetite in APPETITES]
    assert [one.mid for one in found] == sorted(one.mid for one in found)
    assert all(one.low < one.mid < one.high for one in found)
    with pytest.raises(UnknownName):
        portion("huge")


def test_leftovers_are_usual_portions() -> None:
    assert needed([], 3) == portion("usual").grams.scaled(3)


def test_more_eaters_or_more_leftovers_are_never_less_meat() -> None:
    @given(st.lists(st.sampled_from(APPETITES), min_size=1, max_size=60), st.sampled_from(APPETITES),
           st.sampled_from(CUTS), st.integers(0, 20))  # fmt: skip
    def holds(appetites: list[str], one_more: str, name: str, leftovers: int) -> None:
        cut = Cut.named(name)
        edible = share(cut, 60.0).edible
        asked = [
            buy(cut, raw_for(needed(table(who), left), edible))
            for who, left in ((appetites, leftovers), ([*appetites, one_more], leftovers), (appetites, leftovers + 1))
        ]
        assert asked[1].mass_g.mid > asked[0].mass_g.mid
        assert asked[1].ask_g >= asked[0].ask_g - 1e-6
        assert asked[2].ask_g >= asked[0].ask_g - 1e-6

    holds()


def test_what_is_asked_for_holds_the_middle_of_what_is_needed() -> None:
    @given(st.floats(100, 60000), st.sampled_from(CUTS))
    def holds(raw_g: float, name: str) -> None:
        cut = Cut.named(name)
        asked = buy(cut, Interval(0.8 * raw_g, raw_g, 1.3 * raw_g))
        assert asked.ask_g >= raw_g - 1e-6
        if asked.ribs:
            assert asked.ribs <= cut.most_ribs
        else:
            assert asked.each_g <= cut.usual_kg[1] * 1000 + 100

    holds()


def test_bones_for_those_who_want_one() -> None:
    cut = Cut.named("rib roast, bone in")
    few = Interval(800, 1000, 1200)
    assert buy(cut, few).ribs == 2
    assert buy(cut, few, bones=4).ribs == 4


def test_a_kitchens_own_cook_loss_wins_from_three_cooks_on() -> None:
    cut = Cut.named("pork loin, boneless")
    usual = share(cut, 60.0).cooked.mid
    assert share(cut, 60.0, own_loss=Learned(15.0, None, 1)).cooked.mid == usual
    own = share(cut, 60.0, own_loss=Learned(15.0, 1.5, 5))
    assert own.cooked.mid == pytest.approx(0.85)
    assert own.cooked.high - own.cooked.low < 0.06
    assert "5 cooks" in " ".join(own.rests_on)


def test_what_falls_apart_loses_more() -> None:
    cut = Cut.named("brisket, whole")
    assert share(cut, 94.0).cooked.mid == pytest.approx(0.50)
    assert share(Cut.named("pork shoulder"), 93.0).cooked.mid == pytest.approx(0.60)


def test_bones_cut_off_leave_no_bone_on_the_plate() -> None:
    cut = Cut.named("rib roast, bone in")
    assert share(cut, 54.0, "off").edible.mid > share(cut, 54.0).edible.mid


def test_two_smaller_roasts_hold_as_much_and_half_a_small_one_is_none() -> None:
    cut = Cut.named("rib roast, bone in")
    one = buy(cut, Interval(4500, 5200, 6000))
    two = two_of(cut, one)
    assert two is not None
    assert (two.pieces, two.ribs) == (2, 2)
    assert two.ask_g >= one.ask_g - 1e-6
    assert two_of(cut, buy(cut, Interval(900, 1000, 1100))) is None


def test_pieces_alike_are_one_line_and_others_are_not() -> None:
    cut = Cut.named("pork loin, boneless")
    alike = of_pieces([cut.piece(mass_g=2000), cut.piece(mass_g=2000), cut.piece(mass_g=3000)])
    assert [one.words() for one in alike] == [
        "pork loin, boneless: 2 pieces, each 2 kg", "pork loin, boneless: 3 kg",
    ]  # fmt: skip


def test_raw_weight_by_hand_and_its_ends() -> None:
    """1200 g at a yield of 0.6 are 2000 g raw; a yield of 0.6 that may be 0.9 lets it be less, not more."""
    exact = Interval.exact(1200.0)
    assert raw_for(exact, Interval.exact(0.6)).mid == pytest.approx(2000)
    found = raw_for(exact, Interval(0.6, 0.6, 0.9))
    assert (found.low, found.mid, found.high) == pytest.approx((1200 / 0.9, 2000, 2000))
