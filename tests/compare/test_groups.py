"""Versions, recipes and conditions side by side: what counts, what is evened out, what is said."""

from __future__ import annotations

from datetime import date
from math import exp
from pathlib import Path

import pytest

from cookbook.compare import (
    Choice,
    Comparison,
    Difference,
    Expectation,
    compare_by,
    compare_recipes,
    compare_versions,
)
from cookbook.compare.headline import headline, points
from cookbook.errors import RequestError, UnknownName
from cookbook.journal import Entry
from cookbook.kitchen import Kitchen
from tests.compare.journals import Told, kitchen_of, one


def versions(root: Path, cooks: list[Told], choice: Choice | None = None) -> Comparison:
    """The loin's two versions."""
    return compare_versions(kitchen_of(root, cooks), "loin", choice or Choice())


def of(comparison: Comparison, outcome: str) -> Difference:
    """One outcome."""
    return next(found for found in comparison.differences if found.outcome == outcome)


def scored(version: int, *scores: float) -> list[Told]:
    """Cooks of a version with these crusts."""
    return [Told(version, one(score)) for score in scores]


def test_clearly_better_crusts_are_called_better(tmp_path: Path) -> None:
    found = versions(tmp_path, scored(1, 5, 5.5, 6, 5.5) + scored(2, 7.5, 8, 8.5, 8))
    crust = of(found, "crust")
    assert crust.verdict == "better"
    assert crust.estimate == pytest.approx(2.5)
    assert (crust.probability_better or 0) > 0.99
    assert crust.low_95 < crust.low < crust.estimate < crust.high < crust.high_95
    assert headline(found) == "crust two and a half points better; crust better, and that is more than chance"


def test_clearly_worse_crusts_are_called_worse(tmp_path: Path) -> None:
    assert of(versions(tmp_path, scored(1, 8, 8, 8.5, 7.5) + scored(2, 5, 5.5, 6, 5)), "crust").verdict == "worse"


def test_the_same_crusts_make_no_difference_that_matters(tmp_path: Path) -> None:
    found = versions(tmp_path, scored(1, 7, 7, 7, 7) + scored(2, 7, 7, 7, 7))
    assert of(found, "crust").verdict == "no difference that matters"


def test_two_cooks_a_side_are_never_enough_however_far_apart(tmp_path: Path) -> None:
    crust = of(versions(tmp_path, scored(1, 2, 2) + scored(2, 9.5, 9.5)), "crust")
    assert crust.verdict == "can't tell yet"
    assert crust.more_cooks == 2


def test_one_cook_a_side_rests_on_the_usual_scatter_and_says_so(tmp_path: Path) -> None:
    crust = of(versions(tmp_path, scored(1, 5) + scored(2, 8)), "crust")
    assert (crust.verdict, crust.estimate) == ("can't tell yet", 3)
    assert "usual" in crust.rests_on
    assert crust.low < 3 < crust.high


def test_the_time_of_one_cook_a_side_rests_on_how_times_scatter_and_not_on_the_scatter_of_a_share(
        tmp_path: Path) -> None:
    """8 % (an assumption, as 12 min of two and a half hours): t of 2 degrees, 1.886 · 8 · √2 = 21.3 in 100 ln."""
    time = of(versions(tmp_path, [Told(1, minutes=100), Told(2, minutes=110)]), "time for its size")
    assert time.estimate == pytest.approx(10)
    assert time.low == pytest.approx(100 * (1.1 * exp(-0.2134) - 1), abs=0.1)
    assert time.high == pytest.approx(100 * (1.1 * exp(0.2134) - 1), abs=0.1)


def test_remembered_cooks_are_never_counted(tmp_path: Path) -> None:
    cooks = [*scored(1, 5, 6), *scored(2, 8, 8), Told(2, one(0), more="from: memory")]
    found = versions(tmp_path, cooks)
    assert [group.cooks for group in found.groups] == [2, 2]
    assert of(found, "crust").estimate == pytest.approx(2.5)


def test_cooks_that_share_a_day_in_one_cooker_are_one_independent_cook(tmp_path: Path) -> None:
    cooks = [Told(1, one(5), day=0), Told(1, one(7), day=0), Told(1, one(6), day=7), *scored(2, 8, 8)]
    found = versions(
        tmp_path, [cook._replace(day=70 + n) if cook.version == 2 else cook for n, cook in enumerate(cooks)]
    )
    assert found.groups[0].cooks == 3
    assert of(found, "crust").cooks == (2, 2)


def test_pieces_of_one_cook_are_one_cook(tmp_path: Path) -> None:
    cook = """\
recipe: loin
date: "2026-03-07"
pieces: {big: {weight: 3 kg, weight_after: 2.4 kg}, small: {weight: 1 kg, weight_after: 0.9 kg}}
events:
  - {at: "2026-03-07T12:00:00+01:00", did: "on"}
  - {at: "2026-03-07T13:00:00+01:00", did: pulled, piece: small}
  - {at: "2026-03-07T14:00:00+01:00", did: pulled, piece: big}
"""
    kitchen = kitchen_of(tmp_path, scored(1, 5) + scored(2, 8))
    version = next(kitchen.entries()).version
    path = tmp_path / "journal" / "2026" / "2026-03-07-loin.yaml"
    path.write_text(cook.replace("date:", f"version: {version}\ndate:", 1), encoding="utf-8")
    found = compare_versions(kitchen, "loin")
    cooked = found.groups[0].cooked[-1]
    assert found.groups[0].cooks == 2
    assert cooked.mass_kg == pytest.approx(4.0)
    took = cooked.measure("time to pull")
    assert took is not None
    assert took.value == pytest.approx(90)


def test_scores_of_pieces_are_one_score_a_taster(tmp_path: Path) -> None:
    """Ada scored both pieces of one cook, 7 and 8, and the whole of the others; her hand is the same in all."""
    pieces = """\
recipe: loin
date: "2026-03-07"
pieces: {big: {weight: 3 kg}, small: {weight: 1 kg}}
events: [{at: "2026-03-07T12:00:00+01:00", did: "on"}, {at: "2026-03-07T14:00:00+01:00", did: pulled}]
outcome: {pieces: {big: {scores: {crust: {Ada: 7}}, peak: 64 °C}, small: {scores: {crust: {Ada: 8}}, peak: 68 °C}}}
"""
    kitchen = kitchen_of(tmp_path, scored(1, 5) + scored(2, 8))
    version = [entry.version for entry in kitchen.entries()][1]
    path = tmp_path / "journal" / "2026" / "2026-03-07-loin.yaml"
    path.write_text(pieces.replace("date:", f"version: {version}\ndate:", 1), encoding="utf-8")
    found = compare_versions(Kitchen.open(tmp_path), "loin")
    assert found.groups[1].cooked[-1].scores == {"crust": {"Ada": 7.5}}
    crust = of(found, "crust")
    assert crust.estimate == pytest.approx(2.75)
    assert crust.cooks == (1, 2)
    peak = found.groups[1].cooked[-1].measure("peak")
    assert peak is not None
    assert peak.value == pytest.approx(66)


def test_any_two_versions_are_compared_and_one_against_itself_is_refused(tmp_path: Path) -> None:
    kitchen = kitchen_of(tmp_path, scored(1, 5, 6) + scored(2, 8, 8, 9))
    found = compare_recipes(kitchen, "loin@1", "loin@2")
    assert [group.cooks for group in found.groups] == [2, 3]
    assert {change.item for change in found.changes[0]} == {"pull at", "pit"}
    assert compare_recipes(kitchen, "loin@1", "loin").differences == found.differences
    with pytest.raises(RequestError, match="the same cooks"):
        compare_recipes(kitchen, "loin@2", "loin")
    with pytest.raises(RequestError, match="the same cooks"):
        compare_recipes(kitchen, "loin", "loin")


def test_zones_are_compared_where_some_cook_has_enough_of_them(tmp_path: Path) -> None:
    cooks = [Told(1), Told(1), Told(2), Told(2)]

    def expected(entry: Entry) -> Expectation:
        pink = 30.0 if entry.name < "2026-01-15" else 50.0
        return Expectation(100, 4.0, {"pink": pink, "raw": 0.4, "medium": 99.6 - pink})

    found = versions(tmp_path, cooks, Choice(expected=expected))
    assert of(found, "zone, pink").estimate == pytest.approx(20)
    assert of(found, "zone, pink").probability_better is None
    assert "zone, raw" not in [one.outcome for one in found.differences]
    assert any("nobody measured them" in note for note in found.notes)


def test_a_hard_marker_who_came_to_one_side_only_does_not_make_it_worse(tmp_path: Path) -> None:
    """Ben marks two below Ada wherever both are; he tasted every cook of version 2 and only one of version 1."""
    both = {"crust": {"Ada": 7.0, "Ben": 5.0}}
    cooks = [
        Told(1, one(7)),
        Told(1, one(7)),
        Told(1, both),
        Told(2, both),
        Told(2, both),
        Told(2, one(5, taster="Ben")),
    ]
    found = versions(tmp_path, cooks)
    assert of(found, "crust").estimate == pytest.approx(0, abs=1e-9)
    assert found.hands["crust"]["Ada"] - found.hands["crust"]["Ben"] == pytest.approx(2)


def test_sides_without_a_common_taster_can_never_be_told_apart(tmp_path: Path) -> None:
    cooks = [Told(1, one(s)) for s in (5, 5, 5.5, 5)] + [Told(2, one(s, taster="Ben")) for s in (9, 9, 9, 9.5)]
    crust = of(versions(tmp_path, cooks), "crust")
    assert (crust.verdict, crust.why) == ("can't tell yet", "no taster tasted both")


def test_size_is_taken_out_of_the_time_by_the_forecast(tmp_path: Path) -> None:
    """Every cook of version 2 was twice as long expected and takes 12 % longer than that."""
    cooks = [Told(1, minutes=100, kg=1.5)] * 4 + [Told(2, minutes=224, kg=4)] * 4

    def expected(entry: Entry) -> Expectation:
        return Expectation(200 if entry.pieces[0].known["weight"] == 4000 else 100, 4.0)

    found = versions(tmp_path, cooks, Choice(expected=expected))
    size = of(found, "time for its size")
    assert size.estimate == pytest.approx(12)
    assert headline(found).startswith("took 24 min longer than its size explains")
    assert "forecast" in found.notes[0]


def test_without_a_forecast_size_is_taken_out_by_a_slope_and_said_so(tmp_path: Path) -> None:
    """Times grow with the 0.6th power of the mass, version 2 takes 20 % longer; masses overlap."""
    cooks = []
    for version, kgs in ((1, (1.5, 2.0, 2.6, 3.1)), (2, (1.9, 2.4, 3.0, 3.8))):
        cooks += [Told(version, minutes=round(60 * kg**0.6 * (1.2 if version == 2 else 1)), kg=kg) for kg in kgs]
    found = versions(tmp_path, cooks)
    assert of(found, "time for its size").estimate == pytest.approx(20, abs=2)
    assert found.notes == ("mass taken out of the time by a slope over 8 cooks",)


def test_where_size_cannot_be_taken_out_that_is_said_and_nothing_claimed(tmp_path: Path) -> None:
    cooks = [Told(1, minutes=100, kg=1.5), Told(2, minutes=200, kg=4)]
    found = versions(tmp_path, cooks)
    assert found.notes == ("mass can't be taken out of the time yet: too few cooks",)
    assert "time for its size" not in [one.outcome for one in found.differences]


def test_a_slope_by_which_heavier_pieces_are_done_sooner_is_not_taken_out(tmp_path: Path) -> None:
    cooks = [Told(version, minutes=minutes, kg=kg) for version in (1, 2)
             for minutes, kg in ((160, 2.0), (130, 2.5), (100, 3.0))]
    found = versions(tmp_path, cooks)
    assert "heavier pieces did not take longer in proportion" in " ".join(found.notes)
    assert not [one for one in found.differences if one.outcome == "time for its size"]


def test_changes_made_at_once_are_named_as_confounded(tmp_path: Path) -> None:
    found = versions(tmp_path, scored(1, 5, 5) + scored(2, 8, 8))
    assert found.confounded == "pull at and pit wood changed at once: what came of which can't be told apart"


def test_by_condition_the_most_cooked_is_what_others_are_held_against(tmp_path: Path) -> None:
    cooks = [*scored(1, 5, 6, 5), *scored(2, 8, 8), Told(1, one(7), more="wood: apple")]
    found = compare_by(kitchen_of(tmp_path, cooks), "loin", "wood")
    assert [(group.label, group.cooks) for group in found.groups] == [("cherry", 3), ("oak", 2), ("apple", 1)]
    assert {(one.a, one.b) for one in found.differences} == {("cherry", "oak"), ("cherry", "apple")}


def test_a_cut_is_compared_over_all_its_recipes(tmp_path: Path) -> None:
    found = compare_by(kitchen_of(tmp_path, scored(1, 5) + scored(2, 8)), "pork loin, boneless", "pull")
    assert [group.label for group in found.groups] == ["60 °C", "63 °C"]


def test_a_cut_alone_is_compared_by_recipe_and_two_cuts_of_one_name_are_asked_about(tmp_path: Path) -> None:
    kitchen = kitchen_of(tmp_path, scored(1, 5) + scored(2, 8))
    assert [group.label for group in compare_versions(kitchen, "pork loin, boneless").groups] == ["loin"]
    with pytest.raises(RequestError, match="means 2 cuts"):
        compare_versions(kitchen, "pork loin")
    with pytest.raises(UnknownName, match="no recipe 'nosuch'"):
        compare_versions(kitchen, "nosuch")


def test_where_and_since_choose_the_cooks(tmp_path: Path) -> None:
    cooks = [*scored(1, 5, 6), *scored(2, 8, 8), Told(2, one(7), more="cooker: offset")]
    kitchen = kitchen_of(tmp_path, cooks)
    drum = compare_versions(kitchen, "loin", Choice(where=("cooker=Drum",)))
    assert [group.cooks for group in drum.groups] == [2, 2]
    late = compare_versions(kitchen, "loin", Choice(since=date(2026, 1, 10)))
    assert [group.cooks for group in late.groups] == [1, 3]
    with pytest.raises(RequestError, match="nothing was cooked here with cooker kettle") as caught:
        compare_versions(kitchen, "loin", Choice(where=("cooker=kettle",)))
    assert caught.value.mend == "cooker was drum, offset"


@pytest.mark.parametrize("where", ["cooker", "cooker=", "colour=red"])
def test_a_condition_that_cannot_be_asked_for_is_refused(tmp_path: Path, where: str) -> None:
    kitchen = kitchen_of(tmp_path, scored(1, 5))
    with pytest.raises(RequestError):
        compare_versions(kitchen, "loin", Choice(where=(where,)))
    with pytest.raises(UnknownName):
        compare_by(kitchen, "loin", "colour")


def test_differences_of_scores_are_spoken_in_halves() -> None:
    assert [points(value) for value in (0.1, 0.5, -1.1, 1.4, 2.0)] == [
        "not even half a point", "half a point", "one point", "one and a half points", "two points",
    ]  # fmt: skip
