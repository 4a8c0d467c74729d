"""A recipe under another name keeps its cooks, its versions and what they taught."""

from __future__ import annotations

from pathlib import Path

import pytest

from cookbook.errors import RequestError, UnknownName
from cookbook.kitchen import Kitchen, renaming
from cookbook.kitchen.checking import check
from cookbook.kitchen.descent import cooks_of, names_of, now_called
from cookbook.kitchen.finding.search import everything
from cookbook.kitchen.history import versions
from cookbook.kitchen.starter import new

PASTE = "fennel-sage-paste"


@pytest.fixture
def kitchen(tmp_path: Path) -> Kitchen:
    return Kitchen.open(new(tmp_path / "mine", example=True))


def again(kitchen: Kitchen) -> Kitchen:
    return Kitchen.open(kitchen.root)


def told(kitchen: Kitchen, name: str) -> list[tuple[str, int]]:
    return [(one.label(2026), one.cooks) for one in versions(kitchen, name)]


def test_renaming_keeps_versions_cooks_and_habits_and_changes_no_meaning(kitchen: Kitchen) -> None:
    before, habits, digest = told(kitchen, PASTE), kitchen.habits(PASTE), kitchen.digest(kitchen.recipe(PASTE))
    outer = kitchen.digest(kitchen.recipe("pork-loin-over-cherry"))
    assert renaming.rename(kitchen, PASTE, "sage-paste") == ["pork-loin-over-cherry"]
    now = again(kitchen)
    assert told(now, "sage-paste") == before
    assert now.habits("sage-paste") == habits
    assert now.digest(now.recipe("sage-paste")) == digest
    assert now.digest(now.recipe("pork-loin-over-cherry")) == outer
    assert now.recipe("sage-paste@1").revision == 1
    assert check(now).problems == ()
    assert next(one.cooks for one in everything(now).recipes if one.name == "sage-paste") == 6


def test_only_the_name_and_the_old_name_change_in_the_files(kitchen: Kitchen) -> None:
    text = (kitchen.root / f"recipes/{PASTE}.yaml").read_text(encoding="utf-8")
    user = (kitchen.root / "recipes/pork-loin-over-cherry.yaml").read_text(encoding="utf-8")
    renaming.rename(kitchen, PASTE, "sage-paste")
    made = (kitchen.root / "recipes/sage-paste.yaml").read_text(encoding="utf-8")
    assert made.replace(f"formerly: {PASTE}\n", "") == text
    followed = (kitchen.root / "recipes/pork-loin-over-cherry.yaml").read_text(encoding="utf-8")
    assert followed == user.replace(PASTE, "sage-paste")


def test_a_second_name_is_remembered_beside_the_first(kitchen: Kitchen) -> None:
    before = told(kitchen, PASTE)
    renaming.rename(kitchen, PASTE, "sage-paste")
    renaming.rename(again(kitchen), "sage-paste", "green-paste")
    now = again(kitchen)
    assert names_of(now, "green-paste") == ("green-paste", PASTE, "sage-paste")
    assert told(now, "green-paste") == before
    assert now_called(now, PASTE) == "green-paste"


def test_a_file_moved_by_hand_keeps_its_history_and_check_says_how_to_hold_it(kitchen: Kitchen) -> None:
    before = told(kitchen, "leg-of-lamb-over-vine")
    (kitchen.root / "recipes/leg-of-lamb-over-vine.yaml").rename(kitchen.root / "recipes/lamb.yaml")
    now = again(kitchen)
    assert told(now, "lamb") == before
    assert len(list(cooks_of(now, "lamb"))) == 2
    (problem,) = check(now).problems
    assert problem.code == "recipe-renamed"
    assert "formerly: leg-of-lamb-over-vine" in str(problem.mend)


def test_a_recipe_that_is_gone_is_told(kitchen: Kitchen) -> None:
    (kitchen.root / "recipes/leg-of-lamb-over-vine.yaml").unlink()
    assert [problem.code for problem in check(again(kitchen)).problems] == ["recipe-gone"]


def test_a_name_that_is_taken_or_none_at_all_is_refused(kitchen: Kitchen) -> None:
    with pytest.raises(RequestError):
        renaming.rename(kitchen, PASTE, "rib-roast-on-oak")
    with pytest.raises(RequestError):
        renaming.rename(kitchen, PASTE, "Sage Paste")
    with pytest.raises(UnknownName):
        renaming.rename(kitchen, "no-such", "sage-paste")
    assert again(kitchen).recipe(PASTE).formerly == ()


def test_an_old_cook_is_adopted_into_the_renamed_recipe(kitchen: Kitchen) -> None:
    from cookbook.kitchen.adopting import adoptions

    entry = kitchen.entry("2026-10-17-pork-loin-over-cherry")
    before = [line.json() for line in adoptions(kitchen, entry)[0].changes]
    renaming.rename(kitchen, PASTE, "sage-paste")
    (adoption,) = adoptions(again(kitchen), entry)
    assert adoption.recipe == "sage-paste"
    assert [line.json() for line in adoption.changes] == before


def test_questions_and_releases_follow_a_recipe_to_its_new_name(kitchen: Kitchen) -> None:
    from cookbook.kitchen.finding.recall import last
    from cookbook.publish.content.around import answers, film
    from cookbook.publish.forms.releases import releases

    lamb, asked = "leg-of-lamb-over-vine", last(kitchen, PASTE).questions
    before = (answers(kitchen, lamb), film(kitchen, lamb))
    renaming.rename(kitchen, PASTE, "sage-paste")
    renaming.rename(again(kitchen), lamb, "lamb")
    now = again(kitchen)
    assert [one["asked"] for one in last(now, "sage-paste").questions] == [one["asked"] for one in asked] != []
    assert (answers(now, "lamb"), film(now, "lamb")) == before
    assert all(before)
    out = next(one for one in releases(now) if one.out is not None)
    assert (out.recipe, out.missing, out.overtaken) == ("lamb", (), ())
