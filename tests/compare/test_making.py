"""Coat by area and salt by weight, so that pieces of other sizes compare; as made against as written."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from datetime import datetime, timedelta, timezone
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.compare import compare_versions
from cookbook.compare.making import as_made, between
from cookbook.compare.spreadsheet import csv_text, safe
from cookbook.kitchen import Kitchen
from cookbook.kitchen.learning.learned import Lesson, lessons
from cookbook.kitchen.log import logbook, loglines
from tests.compare.journals import Told, kitchen_of, one

AT = datetime(2026, 11, 21, 11, 5, tzinfo=timezone(timedelta(hours=1)))
MakeKitchen = Callable[..., Kitchen]


def cooked(kitchen: Kitchen, weight: str, days: int, *used: dict[str, str]) -> str:
    """A cook on a piece of this weight; the entry's name."""
    at = AT + timedelta(days=days)
    entry = logbook.start(kitchen, "walnut-paste", {"": {"weight": weight}}, at)
    for said in used:
        line = loglines.line_of(entry, "used", {"piece": None, "into": "walnut-paste", **said}, at)
        entry = logbook.add(kitchen, entry, line.change, line.words)
    return entry.name


def test_the_sheet_for_another_size_puts_the_same_on_each_area_and_each_kilogram(make_kitchen: MakeKitchen) -> None:
    """A loin grows by its length: at twice the weight its surface is not doubled, but coat and salt are the same."""
    kitchen = make_kitchen()
    names = [cooked(kitchen, "2.2 kg", 0), cooked(kitchen, "4.4 kg", 1)]
    made, changes = between(kitchen, *(kitchen.entry(name) for name in names))
    ratios = {line.item: line.ratio for line in made}
    assert ratios["walnuts"] == pytest.approx(1, abs=0.02)
    assert ratios["fine salt"] == pytest.approx(1, abs=0.02)
    assert {line.item: line.measure for line in made}["fine salt"] == "g/kg"
    assert changes == []


def test_more_of_an_item_shows_as_its_ratio_whatever_the_size(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    names = [cooked(kitchen, "2.2 kg", 0), cooked(kitchen, "4.4 kg", 1, {"item": "walnuts", "amount": "240 g"})]
    one_entry, two_entry = (kitchen.entry(name) for name in names)
    sheet = two_entry.sheet["walnut-paste"]["walnuts"].grams("walnuts")
    assert sheet is not None
    made, _ = between(kitchen, one_entry, two_entry)
    walnuts = next(line for line in made if line.item == "walnuts")
    assert walnuts.ratio == pytest.approx(240 / sheet.mid, rel=0.02)
    assert "times" in walnuts.sentence()


def test_as_made_against_the_sheet_names_only_what_was_done_otherwise(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    name = cooked(
        kitchen, "2.2 kg", 0, {"item": "walnuts", "more": "20 g"}, {"item": "olive oil", "instead": "walnut oil"}
    )
    told = [change.sentence() for change in as_made(kitchen, kitchen.entry(name))]
    assert told == [
        "walnuts: 80 g, now 100 g (1.25 times)",
        "olive oil: left out, was 80 ml",
        "walnut oil: new, 80 ml",
    ]


def test_a_bowl_weighed_before_and_after_teaches_the_own_coverage(make_kitchen: MakeKitchen) -> None:
    kitchen = make_kitchen()
    name = cooked(kitchen, "2.2 kg", 0, {"item": "bowl", "before": "500 g", "after": "300 g"})
    taught = {lesson.what: lesson for lesson in lessons(kitchen, [kitchen.entry(name)])}
    assert taught["walnut-paste: coat"].cooks == 1
    assert taught["walnut-paste: coat"].spread is None


def test_a_cookers_factor_is_its_time_over_the_forecast(tmp_path: Path) -> None:
    kitchen = kitchen_of(tmp_path, [Told(1, minutes=m, more="cooker: drum") for m in (110, 130)])
    factor = next(x for x in lessons(kitchen, list(kitchen.entries()), lambda _: 100.0) if "drum" in x.what)
    assert factor.mean == pytest.approx(1.2)
    assert factor.cooks == 2
    assert factor.spread == pytest.approx(0.1414, abs=1e-3)


def test_a_yield_is_told_by_cut_with_the_cooks_it_rests_on(tmp_path: Path) -> None:
    cooks = [Told(1, kg=2, more=""), Told(2, kg=2)]
    kitchen = kitchen_of(tmp_path, cooks)
    for path, after in zip(kitchen.entry_paths(), ("1.6", "1.7"), strict=True):
        said = path.read_text(encoding="utf-8").replace("weight: 2 kg", f"weight: 2 kg\n  weight_after: {after} kg")
        path.write_text(said, encoding="utf-8")
    kitchen = Kitchen.open(tmp_path)
    (own,) = [one for one in lessons(kitchen, list(kitchen.entries())) if "yield" in one.what]
    assert (own.what, own.cooks) == ("pork loin, boneless: yield", 2)
    assert own.mean == pytest.approx(82.5)


@given(st.text())
def test_no_cell_begins_like_a_formula(words: str) -> None:
    assert not safe(words).lstrip().startswith(("=", "+", "-", "@"))
    assert safe(words).removeprefix("'") == words.removeprefix("'")


def test_the_spreadsheet_has_a_line_for_every_taster_and_stops_formulas(tmp_path: Path) -> None:
    kitchen = kitchen_of(tmp_path, [Told(1, {"crust": {'"=1+1"': 7, "Ben": 6}}), Told(2, one(8))])
    rows = list(csv.DictReader(io.StringIO(csv_text(compare_versions(kitchen, "loin")))))
    assert [(row["taster"], row["value"]) for row in rows if row["outcome"] == "crust"] == [
        ("'=1+1", "7"), ("Ben", "6"), ("Ada", "8"),
    ]  # fmt: skip
    assert {row["mass kg"] for row in rows} == {"2.2"}


def test_the_doubt_of_a_learned_number_is_never_finer_than_the_number_shown() -> None:
    """Two cooks that happen to agree do not tell a cooker's factor to five places."""
    assert Lesson("drum: takes", 1.0523, 0.00018, "times", 2).sentence() == (
        "drum: takes 1.05 times, give or take 0.01 (2 cooks)")
    assert "give or take 5.2" in Lesson("coat", 186.4, 5.2, "mg/cm²", 4).sentence()
    assert "give or take" not in Lesson("coat", 186.4, None, "mg/cm²", 1).sentence()
