"""Whole plans with the heat room behind them: one of the starter's cooks, and the same cook while it is on."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.forecasting import outlook
from cookbook.kitchen.starter import new
from cookbook.picture import svg, text
from cookbook.plan import Asked, Meal, answer, eaters, needed, plan_meal
from cookbook.plan.drawing import day_chart, slices_drawing
from cookbook.plan.underway import plan_now
from cookbook.publish.forms.errand import shopping_page
from tests.plan.days import quick

NOW = datetime(2026, 11, 20, 9, 0, tzinfo=UTC)
EAT = datetime(2026, 11, 21, 18, 30, tzinfo=UTC)
COOK = "pork-loin-over-cherry"


@pytest.fixture(autouse=True)
def few_members(monkeypatch: pytest.MonkeyPatch) -> None:
    quick(monkeypatch)


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    return Kitchen.open(new(tmp_path / "kitchen"))


def asked(kitchen: Kitchen, who: str = "6 adults, 3 children, 2 want medium", **more: object) -> Asked:
    return Asked(EAT, eaters(kitchen, who), **more)._replace(learn=False)  # type: ignore[arg-type]


def test_a_plan_from_who_is_coming_to_who_gets_which_slice(kitchen: Kitchen) -> None:
    meal = plan_meal(kitchen, COOK, asked(kitchen, film=True), NOW)
    told = answer(meal)
    assert meal.summary().startswith("on the table Sat 21 Nov 18:30")
    assert "; check from " in meal.summary()
    (buy,) = told["buy"]
    assert buy["cut"] == "pork loin, boneless"
    assert buy["mass_g"]["low"] < buy["mass_g"]["mid"] <= buy["each_g"] * buy["pieces"] + 1
    assert [step["what"] for step in told["timeline"]][-1] == "on the table"
    for step in told["timeline"]:
        assert step["earliest"] <= step["at"] <= step["latest"]
        assert datetime.fromisoformat(step["at"]).utcoffset() is not None
    assert {one["name"] for one in told["servings"]} == {one.name for one in meal.eaters}
    assert any(one["item"] == "garlic" and one["buy"] for one in told["shopping"])
    assert len(told["film"]) == 2
    assert told["film"][0]["core_k"] > 0
    one, two = told["choices"]
    assert two["minutes"] <= one["minutes"] + 5
    assert two["coated_cm2"] > one["coated_cm2"]
    assert any("household line" in note for note in meal.notes)
    assert any("carbon monoxide" in caution for caution in told["cautions"])
    _drawn(meal)


def _drawn(meal: Meal) -> None:
    chart, slices = day_chart(meal), slices_drawing(meal)
    assert slices is not None
    for picture in (chart, slices):
        assert svg(picture).startswith("<svg")
        assert max(map(len, text(picture).splitlines())) <= 90
    assert "on the table" in text(chart)
    page = shopping_page(meal)
    assert page.startswith("<!DOCTYPE html>")
    assert "butcher" in page
    assert "http" not in page


@pytest.mark.long
def test_it_takes_its_numbers_from_the_rooms_that_own_them(kitchen: Kitchen) -> None:
    meal = plan_meal(kitchen, COOK, asked(kitchen, said={"": {"weight": "3.1 kg"}}), NOW)
    wanted = outlook.of_recipe(kitchen, kitchen.recipe(COOK), {"": {"weight": "3.1 kg"}}, outlook.Asked())
    assert meal.forecast.minutes_to_pull == outlook.run(kitchen, wanted, learn=False).minutes_to_pull
    pull = next(step for step in meal.steps if step.key == "pull")
    on = next(step for step in meal.steps if step.key == "on")
    late = meal.forecast.minutes_to_pull.p90
    assert late is not None
    assert (pull.latest - on.at).total_seconds() / 60 == pytest.approx(late, abs=1)
    assert meal.choices == ()
    assert [one.ask_g for one in meal.buys] == [pytest.approx(3100)]


def test_too_small_a_piece_is_said(kitchen: Kitchen) -> None:
    few = asked(kitchen, "9 big adults", said={"": {"weight": "1 kg"}})
    meal = plan_meal(kitchen, COOK, few, NOW)
    assert any("come to the plates" in one for one in meal.warnings)
    assert needed(few.eaters).low > 1000


@pytest.mark.parametrize(
    ("eat", "code", "part"),
    [
        (NOW - timedelta(hours=2), "past", "past by 2 h"),
        (NOW + timedelta(hours=1), "too-late", "too late by"),
    ],
)
def test_a_time_that_cannot_be(kitchen: Kitchen, eat: datetime, code: str, part: str) -> None:
    with pytest.raises(RequestError) as fault:
        plan_meal(kitchen, COOK, asked(kitchen)._replace(eat=eat), NOW)
    assert fault.value.code == code
    assert part in fault.value.message
    assert "--eat" in (fault.value.mend or "")


def test_a_cook_without_a_coat_is_planned_too(kitchen: Kitchen) -> None:
    path = kitchen.root / "recipes/bare.yaml"
    path.write_text("kind: cook\ntitle: Bare loin\ncut: pork loin, boneless\npit: {temperature: 130 °C}\n"
                    "pull_at: 60 °C\n", encoding="utf-8")  # fmt: skip
    meal = plan_meal(kitchen, "bare", asked(kitchen, "4 adults"), NOW)
    assert [line.counter for line in meal.lines] == ["butcher"]
    assert [step.what for step in meal.steps if step.key == "on"] == ["into the oven"]


def test_a_paste_is_no_meal(kitchen: Kitchen) -> None:
    with pytest.raises(RequestError, match="is a paste"):
        plan_meal(kitchen, "fennel-sage-paste", asked(kitchen), NOW)


ENTRY = """\
recipe: pork-loin-over-cherry
version: 1-000000000001.00000001
date: "2026-11-20"
piece: {weight: 3.1 kg, start: 6 °C}
cooker: drum
events:
  - {at: "2026-11-20T11:00:00+00:00", did: on}
  - {at: "2026-11-20T12:00:00+00:00", core: 30 °C, pit: 130 °C}
"""
ON = datetime(2026, 11, 20, 11, 0, tzinfo=UTC)


def open_cook(kitchen: Kitchen, more: str = "", text: str = ENTRY) -> None:
    path = kitchen.root / "journal/2026/2026-11-20-pork-loin-over-cherry.yaml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text + more, encoding="utf-8")


@pytest.mark.long
def test_while_it_cooks_the_readings_say_the_rest_of_the_day(kitchen: Kitchen) -> None:
    open_cook(kitchen)
    now = ON + timedelta(minutes=65)
    plain = asked(kitchen)._replace(eat=None)
    slow = plan_now(kitchen, COOK, plain, now)
    assert "30 °C 5 min ago" in slow.notes[0]
    assert all(step.at >= now - timedelta(seconds=31) or step.done for step in slow.steps)
    open_cook(kitchen, '  - {at: "2026-11-20T12:04:00+00:00", core: 45 °C}\n', ENTRY.replace("core: 30", "core: 43"))
    quick = plan_now(Kitchen.open(kitchen.root), COOK, plain, now)
    assert quick.eat < slow.eat
    assert next(step for step in quick.steps if step.key == "pull").latest < next(
        step for step in slow.steps if step.key == "pull"
    ).latest


@pytest.mark.long
def test_time_to_spare_goes_into_the_hold_and_too_little_is_said(kitchen: Kitchen) -> None:
    open_cook(kitchen)
    now = ON + timedelta(minutes=65)
    later = plan_now(kitchen, COOK, asked(kitchen)._replace(eat=now + timedelta(hours=5)), now)
    assert later.eat == now + timedelta(hours=5)
    assert later.warnings == ()
    late = plan_now(kitchen, COOK, asked(kitchen)._replace(eat=now + timedelta(minutes=20)), now)
    assert late.eat > now + timedelta(minutes=20)
    assert "late" in late.warnings[0]


@pytest.mark.long
def test_what_is_off_the_fire_is_done(kitchen: Kitchen) -> None:
    open_cook(kitchen, '  - {at: "2026-11-20T13:00:00+00:00", did: pulled, core: 60 °C}\n')
    found = plan_now(kitchen, COOK, asked(kitchen)._replace(eat=None), ON + timedelta(minutes=125))
    pull = next(step for step in found.steps if step.key == "pull")
    assert pull.done
    assert pull.at == ON + timedelta(minutes=120)
    assert found.eat <= ON + timedelta(minutes=175)


@pytest.mark.long
def test_before_it_is_on_the_entrys_own_piece_is_planned(kitchen: Kitchen) -> None:
    open_cook(kitchen, text=ENTRY.partition("events:")[0])
    found = plan_now(kitchen, COOK, asked(kitchen), NOW)
    assert [one.ask_g for one in found.buys] == [pytest.approx(3100)]
    with pytest.raises(RequestError, match="nothing is on the heat"):
        plan_now(kitchen, COOK, asked(kitchen)._replace(eat=None), NOW)


def test_without_an_open_cook_nothing_is_planned_again(kitchen: Kitchen) -> None:
    with pytest.raises(RequestError) as fault:
        plan_now(kitchen, COOK, asked(kitchen), NOW)
    assert fault.value.code == "no-open-entry"
    open_cook(kitchen, 'finished: "2026-11-20T18:00:00+00:00"\n')
    with pytest.raises(RequestError):
        plan_now(Kitchen.open(kitchen.root), COOK, asked(kitchen), NOW)


TWO = """\
recipe: pork-loin-over-cherry
version: 1-000000000001.00000001
date: "2026-11-20"
pieces: {big: {weight: 3.1 kg, start: 6 °C}, small: {weight: 1.6 kg, start: 6 °C}}
cooker: drum
events:
  - {at: "2026-11-20T11:00:00+00:00", piece: big, did: on}
  - {at: "2026-11-20T11:20:00+00:00", piece: small, did: on}
  - {at: "2026-11-20T12:00:00+00:00", piece: big, core: 30 °C, pit: 130 °C}
  - {at: "2026-11-20T12:00:00+00:00", piece: small, core: 40 °C}
"""


@pytest.mark.long
@pytest.mark.tenth
def test_each_piece_on_the_heat_is_planned_again_from_its_own_readings(kitchen: Kitchen) -> None:
    open_cook(kitchen, text=TWO)
    now = ON + timedelta(minutes=65)
    found = plan_now(kitchen, COOK, asked(kitchen)._replace(eat=None), now)
    assert [one.dish.piece.name for one in found.days] == ["big", "small"]
    assert [one.on for one in found.days] == [ON, ON + timedelta(minutes=20)]
    assert [one.ask_g for one in found.buys] == pytest.approx([3100, 1600])
    said = " ".join(found.notes)
    assert "core of big was 30 °C" in said
    assert "core of small was 40 °C" in said
    assert found.days[1].step("pull").at < found.days[0].step("pull").at
    assert sum(len(one.servings) for one in found.served) == len(found.eaters)
    assert all(one.step("slice").latest < found.eat for one in found.days)
    off = '  - {at: "2026-11-20T12:04:00+00:00", piece: small, did: pulled}\n'
    open_cook(kitchen, off, TWO)
    later = plan_now(Kitchen.open(kitchen.root), COOK, asked(kitchen)._replace(eat=None), now)
    assert [step.dish for step in later.steps if step.key == "pull" and step.done] == [found.days[1].dish.name]
    assert later.check_from >= now


def test_a_piece_that_waits_beside_the_fire_is_named(kitchen: Kitchen) -> None:
    text = "".join(line for line in TWO.splitlines(True) if "piece: small" not in line)
    open_cook(kitchen, text=text)
    found = plan_now(kitchen, COOK, asked(kitchen)._replace(eat=None), ON + timedelta(minutes=65))
    assert [one.dish.piece.name for one in found.days] == ["big"]
    assert "not on the heat yet, and not in this plan: small" in found.notes
