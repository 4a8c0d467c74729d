"""Finding: words, filters, and the list with last cooked, times cooked, best score and what is missing to publish."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from cookbook.errors import RequestError, UnknownName
from cookbook.kitchen import Kitchen
from cookbook.kitchen.finding import index as index_room
from cookbook.kitchen.finding.search import Wanted, everything, find
from cookbook.kitchen.starter import new


@pytest.fixture(params=[True, False], ids=["full text", "plain text"])
def kitchen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest) -> Kitchen:
    if not request.param:
        monkeypatch.setattr(index_room, "_full_text", lambda _: False)
    return Kitchen.open(new(tmp_path / "mine", example=True))


def entries(kitchen: Kitchen, wanted: Wanted) -> list[str]:
    return [entry.name for entry in find(kitchen, wanted).entries]


def test_words_of_the_cook_and_of_its_recipe_count_together(kitchen: Kitchen) -> None:
    assert entries(kitchen, Wanted("anchovies nobody missed")) == ["2026-04-04-leg-of-lamb-over-vine"]
    assert entries(kitchen, Wanted("vine lamb rosemary")) == [
        "2026-04-04-leg-of-lamb-over-vine",
        "2025-04-19-leg-of-lamb-over-vine",
    ]
    assert entries(kitchen, Wanted("lamb cherry")) == []


def test_a_word_is_found_by_its_beginning_whatever_its_case(kitchen: Kitchen) -> None:
    assert [one.name for one in find(kitchen, Wanted("HORSERAD")).recipes] == [
        "mustard-horseradish-paste",
        "rib-roast-on-oak",
    ]


def test_a_field_name_is_no_word_of_a_cook(kitchen: Kitchen) -> None:
    assert entries(kitchen, Wanted("outcome")) == []


def test_signs_of_a_query_language_are_only_signs(kitchen: Kitchen) -> None:
    assert entries(kitchen, Wanted('anchovies" OR "pork')) == []
    assert len(entries(kitchen, Wanted('"anchovies"* - ('))) == 2


def test_filters_hold_together(kitchen: Kitchen) -> None:
    assert entries(kitchen, Wanted(cut="leg of lamb, bone in", since=date(2026, 1, 1))) == [
        "2026-04-04-leg-of-lamb-over-vine"
    ]
    assert entries(kitchen, Wanted(cooker="Offset")) == ["2025-09-20-brisket-through-the-night"]
    assert entries(kitchen, Wanted(recipe="fennel-sage-paste", score=8)) == [
        "2026-10-17-pork-loin-over-cherry",
        "2026-06-20-pork-loin-over-cherry",
    ]
    assert entries(kitchen, Wanted(until=date(2025, 2, 1))) == ["2025-01-18-pork-loin-over-cherry"]


def test_a_revision_is_found_by_its_number_and_by_its_version(kitchen: Kitchen) -> None:
    by_number = entries(kitchen, Wanted(recipe="fennel-sage-paste", version="2"))
    assert by_number == ["2025-10-11-pork-loin-over-cherry", "2025-07-26-pork-loin-over-cherry"]
    version = kitchen.entry(by_number[0]).versions["fennel-sage-paste"].partition(".")[0]
    assert entries(kitchen, Wanted(version=version)) == by_number
    assert entries(kitchen, Wanted(version="fennel-sage-paste@2")) == by_number
    assert entries(kitchen, Wanted(version=f"fennel-sage-paste@{version}")) == by_number


def test_a_revision_that_there_is_not_names_those_that_there_are(kitchen: Kitchen) -> None:
    with pytest.raises(UnknownName, match="fennel-sage-paste@2"):
        find(kitchen, Wanted(version="fennel-sage-paste@22"))
    with pytest.raises(RequestError, match="no version of loin"):
        find(kitchen, Wanted(recipe="loin", version="fennel-sage-paste@2"))


def test_the_list_counts_cooks_and_keeps_the_best_score(kitchen: Kitchen) -> None:
    loin = next(one for one in everything(kitchen).recipes if one.name == "pork-loin-over-cherry")
    scores = [mean for entry in kitchen.entries() if entry.recipe == loin.name and (mean := mean_of(entry.scores))]
    assert (loin.cooks, loin.last_cooked, loin.best) == (6, "2026-10-17", max(scores))
    assert loin.missing is None


def mean_of(scores: object) -> float:
    assert isinstance(scores, dict)
    aspects = [sum(tasters.values()) / len(tasters) for tasters in scores.values()]
    return float(sum(aspects) / len(aspects))


def test_newest_use_comes_first_and_what_was_never_cooked_last(kitchen: Kitchen) -> None:
    (kitchen.root / "recipes/aaa.yaml").write_bytes(
        b"kind: sauce\ntitle: A\ningredients:\n  - {item: honey, amount: 1 tbsp}\n"
    )
    found = everything(kitchen).recipes
    assert found[0].last_cooked == "2026-10-17"
    assert (found[-1].name, found[-1].missing) == ("aaa", "steps")


def test_a_remembered_cook_is_found_and_never_counted(kitchen: Kitchen) -> None:
    (kitchen.root / "journal/1999-05-01-old.yaml").write_bytes(
        b'recipe: rib-roast-on-oak\ndate: "1999-05-01"\nfrom: memory\noutcome: {scores: {crust: 10}}\n'
        b"notes: [wonderful]\n"
    )
    roast = next(one for one in everything(kitchen).recipes if one.name == "rib-roast-on-oak")
    assert (roast.cooks, roast.best) == (2, 8.5)
    assert entries(kitchen, Wanted("wonderful")) == ["1999-05-01-old"]


def test_how_often_before_it_goes_out_is_the_kitchens_word(kitchen: Kitchen) -> None:
    path = kitchen.root / "shared/kitchen.yaml"
    path.write_bytes(path.read_bytes().rstrip() + b"\ncooks_to_publish: 2\n")
    missing = {one.name: one.missing for one in everything(Kitchen.open(kitchen.root)).recipes}
    assert missing["brisket-through-the-night"] == "cooks"
    assert missing["rib-roast-on-oak"] is None


def test_nothing_said_and_names_that_are_none_are_refused(kitchen: Kitchen) -> None:
    with pytest.raises(RequestError):
        find(kitchen, Wanted())
    with pytest.raises(UnknownName):
        find(kitchen, Wanted(recipe="no-such"))
    with pytest.raises(UnknownName):
        find(kitchen, Wanted(cut="unicorn"))
    with pytest.raises(RequestError):
        find(kitchen, Wanted(version="*"))


def test_a_wider_question_never_finds_less(kitchen: Kitchen) -> None:
    for words in ("cherry", "pork drum", "lamb"):
        everything_ = set(entries(kitchen, Wanted(words)))
        assert set(entries(kitchen, Wanted(f"{words} paste"))) <= everything_
        assert set(entries(kitchen, Wanted(words, score=7.5))) <= everything_
