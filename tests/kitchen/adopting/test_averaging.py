"""The average of several cooks in the recipe, with how much they varied."""

from __future__ import annotations

from collections.abc import Callable
from statistics import stdev

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cookbook.errors import RequestError
from cookbook.journal import Entry
from cookbook.kitchen import Kitchen
from cookbook.kitchen.adopting import Adopted, Keep, Method, averages, line_words, sure, write
from cookbook.kitchen.history import versions
from tests.conftest import COOK, PASTE

MakeKitchen = Callable[..., Kitchen]
ENTRY = """\
recipe: walnut-paste
version: 1-aaaaaaaaaaaa.01234567
date: "2026-11-{day:02}"
piece: {{weight: {weight} kg}}
sheet:
  walnut-paste: {{walnuts: 80 g, "thyme, fresh": 10 g, olive oil: 80 ml, fine salt: {salt} g}}
as_made:
  walnut-paste: {lines}
"""


def cooks(
    make_kitchen: MakeKitchen, *lines: str, weight: float = 2.2, salt: float = 24.2
) -> tuple[Kitchen, list[Entry]]:
    files = {"recipes/walnut-paste.yaml": PASTE}
    for day, words in enumerate(lines, 1):
        text = ENTRY.format(day=day, lines=words or "[]", weight=weight, salt=salt)
        files[f"journal/2026/2026-11-{day:02}-walnut-paste.yaml"] = text
    kitchen = make_kitchen(files)
    return kitchen, [kitchen.entry(f"2026-11-{day:02}-walnut-paste") for day in range(1, len(lines) + 1)]


def only_change(kitchen: Kitchen, entries: list[Entry]) -> Adopted:
    """The one amount that the cooks' average changes."""
    ((change,),) = [adoption.changes for adoption in averages(kitchen, entries)]
    assert isinstance(change, Adopted)
    return change


def test_the_average_and_its_spread_are_those_of_the_cooks(make_kitchen: MakeKitchen) -> None:
    kitchen, entries = cooks(
        make_kitchen,
        "[{item: walnuts, amount: 90 g}]",
        "[{item: walnuts, amount: 100 g}]",
        "[{item: walnuts, amount: 110 g}]",
    )
    change = only_change(kitchen, entries)
    assert str(change.in_recipe) == "100 g"
    assert change.varied is not None
    assert (change.varied.cooks, change.varied.low, change.varied.high) == (3, "90 g", "110 g")
    assert change.varied.spread_percent == pytest.approx(100 * stdev([0.9, 1.0, 1.1]), abs=0.02)


def test_a_cook_that_kept_to_the_sheet_counts_as_one(make_kitchen: MakeKitchen) -> None:
    kitchen, entries = cooks(make_kitchen, "[{item: walnuts, more: 20 g}]", "")
    change = only_change(kitchen, entries)
    assert str(change.in_recipe) == "90 g"


def test_what_most_left_out_comes_out_and_what_one_left_out_stays(make_kitchen: MakeKitchen) -> None:
    out = "[{item: walnuts, left_out: true}]"
    kitchen, entries = cooks(make_kitchen, out, out, "")
    change = only_change(kitchen, entries)
    assert change.drop
    kitchen, entries = cooks(
        make_kitchen, out, "[{item: walnuts, amount: 100 g}]", "[{item: walnuts, amount: 120 g}]"
    )
    change = only_change(kitchen, entries)
    assert str(change.in_recipe) == "110 g"
    assert change.varied is not None
    assert change.varied.others == 1


def test_a_share_of_the_meat_stays_one(make_kitchen: MakeKitchen) -> None:
    kitchen, entries = cooks(make_kitchen, "[{item: fine salt, amount: 22 g}]", "[{item: fine salt, amount: 30.8 g}]")
    change = only_change(kitchen, entries)
    assert str(change.in_recipe) == "1.2 % of meat"
    assert change.salt


def test_writing_makes_one_revision_and_every_cook_tells_it(make_kitchen: MakeKitchen) -> None:
    kitchen, entries = cooks(make_kitchen, "[{item: walnuts, amount: 100 g}]", "[{item: walnuts, amount: 120 g}]")
    write(kitchen, entries[0], averages(kitchen, entries), entries[1:])
    now = Kitchen.open(kitchen.root)
    assert now.recipe("walnut-paste").revision == 3
    assert [now.entry(entry.name).adopted for entry in entries] == ["walnut-paste revision 3"] * 2
    assert b"# packed loosely" in (kitchen.root / "recipes/walnut-paste.yaml").read_bytes()
    assert len(versions(now, "walnut-paste")) == 1


def test_only_chosen_lines_are_taken(make_kitchen: MakeKitchen) -> None:
    lines = "[{item: walnuts, amount: 100 g}, {item: olive oil, amount: 95 ml}]"
    kitchen, entries = cooks(make_kitchen, lines, lines)
    (adoption,) = averages(kitchen, entries, lambda _, line: line.item == "olive oil")
    assert [change.item for change in adoption.changes] == ["olive oil"]
    assert b"amount: 80 g" in adoption.data


def test_cooks_that_changed_nothing_have_nothing_to_adopt(make_kitchen: MakeKitchen) -> None:
    kitchen, entries = cooks(make_kitchen, "", "")
    with pytest.raises(RequestError):
        averages(kitchen, entries)


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.integers(60, 140), min_size=2, max_size=5))
def test_the_average_lies_between_the_least_and_the_most_and_order_does_not_matter(
    make_kitchen: MakeKitchen, grams: list[int]
) -> None:
    kitchen, entries = cooks(make_kitchen, *(f"[{{item: walnuts, amount: {value} g}}]" for value in grams))
    kept: list[str] = []

    def look(_: str, line: object) -> bool:
        kept.append(str(getattr(line, "in_recipe", "")))
        return True

    try:
        averages(kitchen, entries, look)
    except RequestError:
        assert abs(sum(grams) / len(grams) - 80) < 1
        return
    value = float(kept[0].removesuffix(" g"))
    assert min(grams) - 1 <= value <= max(grams) + 1
    averages(kitchen, entries[::-1], look)
    assert kept[0] == kept[1]


COOKED = """\
recipe: loin
version: 1-aaaaaaaaaaaa.01234567
date: "2026-11-{day:02}"
piece: {{weight: 2.2 kg}}
{told}
"""


def cooked(make_kitchen: MakeKitchen, *told: str, cook: str = COOK) -> tuple[Kitchen, list[Entry]]:
    files = {"recipes/walnut-paste.yaml": PASTE, "recipes/loin.yaml": cook}
    for day, words in enumerate(told, 1):
        files[f"journal/2026/2026-11-{day:02}-loin.yaml"] = COOKED.format(day=day, told=words)
    kitchen = make_kitchen(files)
    return kitchen, [kitchen.entry(f"2026-11-{day:02}-loin") for day in range(1, len(told) + 1)]


def lines(kitchen: Kitchen, entries: list[Entry], keep: Keep = sure) -> dict[str, tuple[str, object]]:
    return {
        line.item: (line.today, line.varied)
        for one in averages(kitchen, entries, keep)
        for line in one.changes
        if isinstance(line, Method)
    }


def test_the_pull_is_the_average_of_those_that_tell_it(make_kitchen: MakeKitchen) -> None:
    pulled = [f"outcome: {{pulled: {degrees} °C}}" for degrees in (57, 60, 54)]
    kitchen, entries = cooked(make_kitchen, *pulled, "outcome: {served: 64 °C}")
    assert lines(kitchen, entries) == {"pull at": ("57 °C", (3, "54 °C", "60 °C"))}
    write(kitchen, entries[0], averages(kitchen, entries), entries[1:])
    assert "pull_at: 57 °C" in (kitchen.root / "recipes/loin.yaml").read_text(encoding="utf-8")
    assert Kitchen.open(kitchen.root).entry(entries[2].name).adopted == "loin revision 1"


def test_a_pull_stays_on_the_scale_of_the_recipe(make_kitchen: MakeKitchen) -> None:
    cook = COOK.replace("pull_at: 60 °C", "pull_at: 140 °F")
    kitchen, entries = cooked(make_kitchen, *(f"outcome: {{pulled: {c} °C}}" for c in (55, 57)), cook=cook)
    assert lines(kitchen, entries)["pull at"] == ("133 °F", (2, "131 °F", "135 °F"))


def test_a_cook_that_says_nothing_of_the_fire_had_that_of_the_recipe(make_kitchen: MakeKitchen) -> None:
    otherwise = "deviations: [{pit: 150 °C, rest: 45 min, wood: oak}]"
    kitchen, entries = cooked(make_kitchen, otherwise, "deviations: [{wood: oak}]", "weather: rain")
    assert lines(kitchen, entries) == {
        "pit": ("137 °C", (3, "130 °C", "150 °C")),
        "rest": ("32 min", (3, "25 min", "45 min")),
        "wood": ("oak", None),
    }


def test_words_and_steps_are_taken_where_most_agree(make_kitchen: MakeKitchen) -> None:
    kitchen, entries = cooked(
        make_kitchen,
        "deviations: [{wood: oak}, turn it once]",
        "deviations: [{wood: apple}, turn it once]",
        "deviations: [{wood: oak}]",
    )
    assert lines(kitchen, entries) == {"wood": ("oak", None)}
    assert lines(kitchen, entries, lambda *_: True)["a step more"] == ("turn it once", None)
    kitchen, entries = cooked(make_kitchen, "deviations: [{wood: oak}]", "deviations: [{wood: apple}]")
    with pytest.raises(RequestError):
        averages(kitchen, entries)


def test_the_words_of_an_average_count_the_cooks(make_kitchen: MakeKitchen) -> None:
    kitchen, entries = cooks(
        make_kitchen, "[{item: walnuts, amount: 90 g}]", "[{item: walnuts, amount: 110 g}]",
        "[{item: walnuts, left_out: true}]",
    )
    (adoption,) = averages(kitchen, entries)
    (line,) = adoption.changes
    assert line_words(line, adoption) == (
        "walnuts: 90 g to 110 g in 2 cooks (± 14 %), 1 without it; in the recipe 100 g for 2.2 kg (was 80 g)"
    )


def test_what_comes_out_says_in_how_many_cooks_it_was_left_out(make_kitchen: MakeKitchen) -> None:
    kitchen, entries = cooks(
        make_kitchen, "[{item: walnuts, left_out: true}]", "[{item: walnuts, left_out: true}]", ""
    )
    (adoption,) = averages(kitchen, entries)
    (line,) = adoption.changes
    assert line_words(line, adoption) == "walnuts: left out in 2 of 3 cooks, comes out of the recipe"
