"""Several dishes on one day, what stands in the way, the film, the pictures: over dishes made by hand."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta

import pytest

from cookbook.errors import RequestError
from cookbook.heat import Rest
from cookbook.kitchen import Kitchen
from cookbook.meat import Cut
from cookbook.picture import DotPlot, DotRow, Table, svg, text
from cookbook.plan import Eater
from cookbook.plan import trouble as trouble_room
from cookbook.plan.clash import carved_at, clashes
from cookbook.plan.dish import Dish, Hold
from cookbook.plan.film import shots
from cookbook.plan.meal import clock, span
from cookbook.plan.step import Wall
from cookbook.plan.timeline import Day, Wishes, day
from cookbook.plan.trouble import hits, refuse_allergies, refuse_late, refuse_overfull, to_read
from cookbook.quantity import allergens
from tests.conftest import COOK, PASTE
from tests.plan.days import EAT, FIRE, dish, forecast

MakeKitchen = Callable[..., Kitchen]
LOIN = Cut.named("pork loin, boneless")
BIG, SMALL = (LOIN.piece(mass_g=grams, name=name) for grams, name in ((4000, "big"), (2000, "small")))
WALL = Wall(EAT)


def days(*dishes: Dish, carvers: int = 1) -> list[Day]:
    ends = carved_at(dishes, EAT, carvers, Wishes())
    return [day(one, [], FIRE, end, Wishes(), WALL) for one, end in zip(dishes, ends, strict=True)]


def test_with_a_carver_each_all_is_sliced_together_else_one_after_the_other() -> None:
    big, small = dish(piece=BIG), dish(piece=SMALL)
    assert carved_at([big, small], EAT, 2, Wishes()) == [EAT, EAT]
    first, second = carved_at([big, small], EAT, 1, Wishes())
    assert second == EAT
    assert EAT - first == timedelta(minutes=small.carve().mid)
    # The meat that takes longer goes on earlier, so that both are done for the knife.
    slow, quick = days(dish((100, 160, 220), piece=BIG), dish((80, 100, 120), piece=SMALL), carvers=2)
    assert slow.on < quick.on
    assert slow.step("slice").at != quick.step("slice").at or slow.carved == quick.carved


def test_two_temperatures_on_one_cooker_are_named_with_the_ways_out() -> None:
    one, two = dish(piece=BIG, pit_c=121.0), dish(piece=SMALL, pit_c=150.0)
    told = clashes(days(one, two), 1, WALL)
    assert "121 °C" in told[0]
    assert "150 °C on the drum" in told[0]
    assert "another cooker" in told[0]
    assert "one is carved after the other" in told[-1]
    assert clashes(days(one, dish(piece=SMALL, pit_c=125.0), carvers=2), 2, WALL) == []


def test_pulls_on_two_cookers_at_once_want_two_pairs_of_hands() -> None:
    told = clashes(days(dish(piece=BIG), dish(piece=SMALL, cooker="oven"), carvers=2), 2, WALL)
    assert "two pairs of hands" in told[0]


def test_more_meat_than_the_cooker_holds(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen({
        "recipes/.keep": "",
        "shared/cookers.yaml": "drum: {kind: drum, holds: 5 kg}\npit: {kind: offset, holds: 9 kg}\n",
    })  # fmt: skip
    refuse_overfull(kitchen, [("drum", 4000.0), ("oven", 9000.0)])
    with pytest.raises(RequestError) as fault:
        refuse_overfull(kitchen, [("drum", 4000.0), ("drum", 2000.0)])
    assert fault.value.message == "6 kg of meat, and the drum holds 5 kg: 1 kg too much"
    assert "--cooker pit" in (fault.value.mend or "")


def test_too_late_says_by_how_much_and_what_would_still_do(monkeypatch: pytest.MonkeyPatch) -> None:
    def answer(wanted: object, known: object, members: int) -> object:
        del known, members
        pit_c: float = wanted.pit_c  # type: ignore[attr-defined]
        grams: float = wanted.piece.mass_g.mid  # type: ignore[attr-defined]
        return forecast(tuple(minutes * 130 / pit_c * (grams / 3000) ** 0.5 for minutes in (90.0, 120.0, 180.0)))

    monkeypatch.setattr(trouble_room, "told_by", answer)
    with pytest.raises(RequestError) as fault:
        refuse_late(dish(), 20.0, 0.9, EAT)
    assert "too late by 20 min" in fault.value.message
    mend = fault.value.mend or ""
    assert "a pit of 150 °C in the place of 130 (--pit 150C)" in mend
    assert "two pieces of 1.5 kg in the place of one" in mend
    assert "--eat 2026-12-25T18:20" in mend
    assert "--confidence 80%" in mend
    with pytest.raises(RequestError) as worse:
        refuse_late(dish(), 170.0, 0.9, EAT)
    assert "no pit within reason" in (worse.value.mend or "")
    assert "only" in (worse.value.mend or "")


def test_frozen_meat_needs_its_hours() -> None:
    trouble_room.refuse_frozen(dish(), 80.0, EAT)
    with pytest.raises(RequestError) as fault:
        trouble_room.refuse_frozen(dish(), 20.0, EAT)
    # 3 kg are 6.6 lb: 24 h for each 5 to 4 lb, 30 min a pound in cold water.
    assert "32 to 40 h in the refrigerator: 12 h too few" in fault.value.message
    assert "cold water, 3 h" in (fault.value.mend or "")
    assert "--eat 2026-12-26T06:00" in (fault.value.mend or "")


MUSTARD = PASTE.replace("item: walnuts", "item: yellow mustard\n    or: horseradish, prepared").replace(
    "Walnut and thyme paste", "Mustard paste"
)


def test_an_allergy_is_refused_with_what_to_do(make_kitchen: MakeKitchen) -> None:
    files = {"recipes/walnut-paste.yaml": MUSTARD, "recipes/loin.yaml": COOK}
    plain = {"recipes/plain.yaml": PASTE.replace("walnuts", "fennel seed"),
             "recipes/other.yaml": COOK.replace("walnut-paste", "plain")}  # fmt: skip
    kitchen = make_kitchen({**files, **plain})
    dov = Eater("Dov", allergies=("mustard",))
    with pytest.raises(RequestError) as fault:
        refuse_allergies(kitchen, kitchen.recipe("loin"), [dov])
    assert fault.value.code == "allergy"
    assert "Dov must not have mustard: yellow mustard in walnut-paste" in fault.value.message
    for way in ("take horseradish, prepared", "cook other", '--apart "Dov"'):
        assert way in (fault.value.mend or "")
    refuse_allergies(kitchen, kitchen.recipe("other"), [dov])


def test_an_allergen_is_found_by_what_a_name_contains(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    recipe = kitchen.recipe("walnut-paste")
    for allergy in ("nuts", "tree nuts", "walnuts", "walnut"):
        assert [hit.item for hit in hits([recipe], [Eater("a", allergies=(allergy,))])] == ["walnuts"], allergy
    assert list(hits([recipe], [Eater("a", allergies=("milk",))])) == []
    sauce = allergens("worcestershire sauce")
    assert sauce.check or sauce.contains
    assert to_read([recipe], [Eater("a", allergies=("milk",))]) == []


def test_shots_are_of_steps_that_a_day_has() -> None:
    found = days(dish())[0]
    assert {one.step for one in shots()} - {step.key for step in found.steps} <= {"wrap", "serve"}


def test_a_span_is_told_with_its_day_once() -> None:
    other = EAT + timedelta(minutes=30)
    assert span(EAT, other) == "Fri 25 Dec 18:00 to 18:30"
    assert span(EAT, EAT) == "Fri 25 Dec 18:00"
    assert clock(EAT, EAT + timedelta(days=1)) == "Fri 25 Dec 18:00"
    late = datetime(2026, 12, 25, 23, 50, tzinfo=EAT.tzinfo)
    assert span(late, late + timedelta(minutes=20)) == "Fri 25 Dec 23:50 to Sat 26 Dec 00:10"


def test_a_chart_with_its_own_marks_names_them_and_none_hides_another() -> None:
    rows = (DotRow("pull", (), 0.0, -1.0, 1.0),)
    marks = tuple((place / 10, f"1{place % 10}:00") for place in range(-9, 10))
    plot = DotPlot("t", "d", "clock", rows, "key", Table(("a",), (("b",),)), marks, "first the words")
    assert "12:00" in svg(plot)
    assert "first the words" in svg(plot)
    (axis,) = [one for one in text(plot).splitlines() if ":00" in one]
    assert all(len(word) == 5 for word in axis.split())


def test_the_hold_is_the_shorter_of_good_and_safe() -> None:
    assert Hold("tented", 60, 120, 57).limit_min == 60
    assert Hold("box", 400, 120, 57).limit_min == 120


def test_the_rest_is_told_with_its_cover() -> None:
    for cover, words in (("bare", "uncovered"), ("box", "in an insulated box"), ("tented", "tented")):
        found = dish(rest=Rest(25, cover), hold=Hold(cover, 60, 120, 57))
        assert day(found, [], FIRE, EAT, Wishes(), WALL).step("rest").what.startswith(f"rest 25 min, {words}")
