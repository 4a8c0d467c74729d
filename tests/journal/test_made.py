"""What went in, added up the way a cook writes it down at the board."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.files import parse
from cookbook.journal import Entry, read
from cookbook.journal.made import Made, bowl, made
from cookbook.quantity import Amount

SHEET = {"garlic": "81 g", "sage, fresh": "41 g", "olive oil": "108 ml", "fine salt": "34 g"}


def entry(lines: str, sheet: dict[str, str] | None = None) -> Entry:
    """An entry with these as-made lines, each a flow mapping."""
    head = 'title: Trial\ndate: "2026-11-21"\n'
    if sheet:
        head += "sheet:\n  paste:\n" + "".join(f'    "{item}": {amount}\n' for item, amount in sheet.items())
    text = head + "as_made:\n  paste:\n" + "".join(f"    - {line.strip()}\n" for line in lines.strip().splitlines())
    found, problems = read(parse(text.encode(), "trial.yaml"), "trial")
    assert found is not None, [problem.printed() for problem in problems]
    return found


def went_in(lines: str, sheet: dict[str, str] | None = None) -> tuple[dict[str, Made], list[str]]:
    """Every item as it went in, and the notes."""
    found = entry(lines, sheet)
    items, notes = made(found.as_made["paste"], found.sheet.get("paste", {}))
    return {item.item: item for item in items}, notes


def amount(made_: Made) -> str:
    assert made_.amount is not None
    return str(made_.amount)


def test_more_and_less_are_counted_against_the_days_sheet() -> None:
    items, notes = went_in("{item: garlic, more: 8 g}\n{item: olive oil, less: 10 ml}", SHEET)
    assert (amount(items["garlic"]), amount(items["olive oil"])) == ("89 g", "98 ml")
    assert amount(items["fine salt"]) == "34 g"
    assert items["fine salt"].how == "as on the sheet"
    assert notes == []


def test_an_amount_alone_is_all_of_it_and_the_same_item_twice_adds_up() -> None:
    items, _ = went_in("{item: garlic, amount: 50 g}\n{item: Garlic, amount: 12 g}", SHEET)
    assert amount(items["garlic"]) == "62 g"


def test_the_balance_with_the_bowl_on_it_gives_differences() -> None:
    items, notes = went_in(
        "{bowl: {empty: 212 g}}\n{item: garlic, reads: 286 g}\n{item: hazelnuts, reads: 366 g}\n"
        "{item: salt, amount: 20 g}\n"
        "{item: olive oil, reads: 451 g}"
    )
    assert [amount(items[item]) for item in ("garlic", "hazelnuts", "salt", "olive oil")] == [
        "74 g",
        "80 g",
        "20 g",
        "65 g",
    ]
    assert notes == []


def test_a_jar_before_and_after_and_prepared_and_left_over() -> None:
    items, _ = went_in("{item: honey, before: 480 g, after: 431 g}\n{item: garlic, had: 90 g, left: 12 g}")
    assert (amount(items["honey"]), amount(items["garlic"])) == ("49 g", "78 g")


def test_left_out_and_swapped() -> None:
    items, _ = went_in('{item: garlic, left_out: true}\n{item: "sage, fresh", instead: "thyme, fresh"}', SHEET)
    assert items["garlic"].left_out
    assert items["garlic"].amount is None
    assert items["thyme, fresh"].instead_of == "sage, fresh"
    assert amount(items["thyme, fresh"]) == "41 g"


def test_only_what_nobody_weighed_is_shared_out_from_the_bowl_and_marked_a_guess() -> None:
    items, _ = went_in(
        "{bowl: {empty: 200 g}}\n{item: garlic, amount: 60 g}\n{item: cumin}\n{item: pepper}\n{bowl: {full: 300 g}}"
    )
    assert amount(items["garlic"]) == "60 g"
    assert not items["garlic"].guess
    assert [amount(items[item]) for item in ("cumin", "pepper")] == ["20 g", "20 g"]
    assert items["cumin"].guess
    assert items["pepper"].guess


def test_what_went_in_unweighed_before_a_reading_shares_that_reading() -> None:
    items, notes = went_in("{bowl: {empty: 200 g}}\n{item: cumin}\n{item: garlic, reads: 240 g}")
    assert (amount(items["cumin"]), amount(items["garlic"])) == ("20 g", "20 g")
    assert items["cumin"].guess
    assert items["garlic"].guess
    assert "shared evenly" in notes[0]


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        ("{item: garlic, reads: 240 g}", "log the empty bowl first"),
        ("{bowl: {empty: 200 g}}\n{item: garlic, reads: 150 g}", "less than before"),
        ("{item: honey, before: 400 g, after: 431 g}", "not counted"),
        ("{item: cumin, more: 5 g}", "needs the day's sheet"),
    ],
)
def test_what_cannot_be_is_not_counted_and_said(lines: str, words: str) -> None:
    items, notes = went_in(lines)
    assert all(item.amount is None for item in items.values())
    assert any(words in note for note in notes)


def test_the_bowl_tells_what_was_used_and_what_stayed_behind() -> None:
    found = bowl(entry("{bowl: {empty: 90 g, full: 412 g}}\n{bowl: {after: 96 g}}").as_made["paste"])
    assert (found.used_g, found.left_g) == (316.0, 6.0)


@given(st.lists(st.integers(1, 400), min_size=1, max_size=8))
def test_readings_of_the_balance_add_up_to_the_last_one(parts: list[int]) -> None:
    total, lines = 150, ["{bowl: {empty: 150 g}}"]
    for number, part in enumerate(parts):
        total += part
        lines.append(f"{{item: thing {number}, reads: {total} g}}")
    items, notes = went_in("\n".join(lines))
    assert notes == []
    assert sum(float(item.amount.low) for item in items.values() if item.amount and item.amount.low) == total - 150
    assert all(isinstance(item.amount, Amount) for item in items.values())


def test_more_of_what_was_counted_and_cannot_be_added_says_so() -> None:
    items, notes = went_in("{item: moonwort, amount: 2 sprigs}\n{item: moonwort, more: 5 g}")
    assert str(items["moonwort"].amount) == "2 sprigs"
    assert any("can't be added up without knowing what it weighs" in note for note in notes)
