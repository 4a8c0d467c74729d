"""Who gets which slice: wishes met where the roast has them, the rest said plainly, and the pull that serves most."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import UnknownName
from cookbook.heat import Zone
from cookbook.meat import Cut
from cookbook.plan import Eater
from cookbook.plan.pulling import Pull, best, pulls
from cookbook.plan.serving import Served, inner, serve, wished
from cookbook.safety import household_minimum
from tests.plan.days import dish, sliced, zones

BEEF = Cut.named("rib roast, bone in").piece(ribs=4)
ROAST = ["well done", "medium well", "medium", "medium rare"]


def served(eaters: list[Eater], grams: float = 3000.0, names: list[str] = ROAST) -> Served:
    return serve(dish(piece=BEEF, pull_c=54.0, slices=sliced("beef", names)), eaters, grams)


def likes(name: str, doneness: str, **more: object) -> Eater:
    return Eater(name, likes={"": doneness}, **more)  # type: ignore[arg-type]


def test_each_gets_the_slices_that_are_as_wished() -> None:
    found = served([likes("a", "medium rare"), likes("b", "well done"), likes("c", "medium"), Eater("d")])
    assert {one.name: one.gets for one in found.servings[:3]} == {"a": "medium rare", "b": "well done", "c": "medium"}
    assert found.fit == 3
    assert found.missed == ()
    assert "a" in found.cuts[3].eaters
    assert found.cuts[0].eaters[0] == "b"


def test_more_done_than_there_is_goes_back_on_the_heat_and_less_done_is_missed() -> None:
    found = served([likes("a", "well done"), likes("b", "rare")], names=["medium"] * 4)
    back, missed = found.servings
    assert back.then == "back on the heat until it reads 71 °C"
    assert (found.back, [one.name for one in found.missed]) == (1, ["b"])
    assert "second piece" in missed.then


def test_a_wish_that_can_be_met_chooses_before_one_that_cannot() -> None:
    """One slice is medium, for one portion: who wishes rare gets none of it before who wishes medium."""
    found = served([likes("a", "rare"), likes("b", "medium")], 1500.0, ["well done"] * 5 + ["medium"])
    assert {one.name: one.gets for one in found.servings}["b"] == "medium"


def test_who_must_have_it_fully_cooked_gets_a_thermometer_and_the_household_line() -> None:
    (one,) = served([Eater("a", fully_cooked=True)]).servings
    line = household_minimum("beef", BEEF.cut.name)
    assert f"{line.core_c:.1f} °C" in one.then
    assert "thermometer" in one.then
    assert 1 in one.slices


def test_a_wish_that_this_meat_does_not_have_is_the_next_it_is_served_at() -> None:
    ben = likes("Ben", "medium rare")
    assert wished(ben, "beef") == ("medium rare", "")
    assert wished(ben, "pork") == ("pink", "Ben likes medium rare: of pork that is served as pink")
    assert wished(ben, "chicken") == (None, "Ben likes medium rare: chicken is served done, whatever the wish")
    assert wished(likes("x", "well"), "beef")[0] == "well done"
    assert wished(likes("x", "Medium-Rare"), "lamb") == ("medium rare", "")
    assert wished(likes("x", "pink"), "beef")[0] == "medium rare"
    assert wished(likes("x", "rare"), "veal") == ("rare", "")
    assert wished(likes("x", "medium well"), "venison")[0] == "well done"
    assert wished(Eater("y"), "beef") == (None, "")
    for nonsense in ("purple", "raw", "underdone"):
        with pytest.raises(UnknownName) as fault:
            wished(likes("z", nonsense), "beef")
        assert "z: one of" in (fault.value.mend or "")


def test_what_falls_apart_has_no_slice_of_anybodys_own() -> None:
    tough = dish(piece=Cut.named("brisket, whole").piece(mass_g=5000), pull_c=94.0, slices=sliced("beef", ROAST))
    found = serve(tough, [likes("a", "rare")], 2500.0)
    assert found.missed == ()
    assert "falls apart" in found.notes[0]
    assert pulls(tough, [likes("a", "rare")], 2500.0) == []


def test_a_slice_is_called_by_its_inner_third() -> None:
    assert inner(zones("beef", medium_rare=0.4, medium=0.3, well_done=0.3)) == "medium rare"
    assert inner(zones("beef", medium_rare=0.3, medium=0.3, well_done=0.4)) == "medium"
    assert inner([Zone("done", 70.0, None, 1.0, 1.0, 1.0)]) == "done"


def test_nobody_is_given_more_meat_than_there_is_and_all_of_it_has_a_place() -> None:
    @given(
        st.lists(st.sampled_from(["rare", "medium rare", "medium", "well done", None]), min_size=1, max_size=12),
        st.floats(100, 9000),
    )
    def holds(wishes: list[str | None], grams: float) -> None:
        eaters = [Eater(f"{place}", likes={"": wish} if wish else {}) for place, wish in enumerate(wishes)]
        found = served(eaters, grams)
        assert sum(cut.grams * (2 if cut.twice else 1) for cut in found.cuts) == pytest.approx(grams)
        assert [one.name for one in found.servings] == [one.name for one in eaters]
        assert all(one.slices for one in found.servings)
        for one in found.servings:
            assert one.fits or one.likes is not None
        assert found.fit + found.back + len(found.missed) == sum(wish is not None for wish in wishes)

    holds()


def test_the_best_pull_misses_fewest_then_meets_most_then_is_the_planned_one() -> None:
    def pull(at: float, fit: int, missed: int, planned: bool = False) -> Pull:
        return Pull(at, at + 5, fit, 0, tuple("abc"[:missed]), 120.0, planned)

    assert best([]) is None
    first, second, third = pull(46, 2, 0), pull(50, 1, 1, planned=True), pull(54, 3, 1)
    assert best([first, second, third]) == first
    assert best([pull(46, 2, 0), pull(50, 2, 0, planned=True)]) == pull(50, 2, 0, planned=True)
    assert best([pull(46, 2, 1), pull(50, 1, 1, planned=True)]) == pull(46, 2, 1)
