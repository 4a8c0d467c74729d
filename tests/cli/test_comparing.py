"""`compare` and `taste` on the command line: the agreed keys, files, and refusals with their mend."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cookbook.cli import main
from cookbook.kitchen.starter import new
from cookbook.meat.coverage import Learned
from cookbook.recipe.scaling import Habits

PASTE = "fennel-sage-paste"
Run = Callable[..., Any]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Run:
    """Runs a command with --json in the demonstration kitchen and gives the answer."""
    kitchen = new(tmp_path / "kitchen", example=True)

    def call(*words: str, code: int = 0) -> Any:
        quick = ["--no-forecast"] if words[0] == "compare" and "--forecast" not in words else []
        found = main([*words, *quick, "--kitchen", str(kitchen), "--json"])
        out = capsys.readouterr()
        assert found == code, out.out + out.err
        return json.loads(out.out)

    return call


def test_the_agreed_keys_stay(run: Run) -> None:
    answer = run("compare", PASTE)
    assert {"groups", "differences", "headline", "confounded", "notes", "hands", "learned"} <= set(answer)
    assert {"label", "cooks", "outcomes"} <= set(answer["groups"][0])
    wanted = {"outcome", "a", "b", "estimate", "low", "high", "low_95", "high_95", "probability_better", "verdict"}
    for one in answer["differences"]:
        assert wanted <= set(one)
        assert one["verdict"] in ("better", "worse", "more", "less", "no difference that matters", "can't tell yet")
    assert answer["headline"].startswith("perhaps crust two points better; ")


def test_spreadsheet_page_and_picture_are_written(run: Run, tmp_path: Path) -> None:
    sheet, picture, page = tmp_path / "cooks.csv", tmp_path / "scores.svg", tmp_path / "page.html"
    run("compare", PASTE, "--csv", str(sheet), "--svg", str(picture), "--page", str(page))
    assert page.read_text(encoding="utf-8").rstrip().endswith("</html>")
    assert sheet.read_bytes().startswith(b"group,entry,date,outcome,taster,value,unit")
    assert picture.read_text(encoding="utf-8").startswith("<svg ")


@pytest.mark.long
def test_the_forecast_takes_size_out_gives_zones_and_is_kept(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Two cooks of one cut: worked through once; then no forecast runs any more."""
    pair = ("compare", "2026-06-20-pork-loin-over-cherry", "2026-10-17-pork-loin-over-cherry", "--forecast")
    first = run(*pair)
    outcomes = {one["outcome"] for one in first["differences"]}
    assert {"time for its size", "rise against the forecast", "zone, medium", "zone, pink"} <= outcomes
    assert "time held against the forecast for each piece" in first["notes"]
    assert any(one["what"] == "drum: takes" and one["cooks"] == 2 for one in first["learned"])

    def forbidden(*_: object) -> None:
        raise AssertionError("a kept forecast was worked out again")

    monkeypatch.setattr("cookbook.compare.expected._worked_out", forbidden)
    assert run(*pair) == first


def test_many_cooks_are_not_worked_through_unasked(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    kitchen = new(tmp_path / "kitchen", example=True)
    monkeypatch.setattr("cookbook.compare.expected.MOST_AT_ONCE", 5)
    assert main(["compare", PASTE, "--json", "--kitchen", str(kitchen)]) == 0
    told = capsys.readouterr()
    assert "6 cooks have no forecast yet" in told.err
    assert "zone" not in told.out


def test_learning_is_set_aside_by_an_option_or_a_word_of_the_kitchen(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    own = Habits(coverage=Learned(0.5, 0.01, 4))
    monkeypatch.setattr("cookbook.kitchen.learning.teaching.taught", lambda *_: own)
    scale = ("scale", PASTE, "--weight", "3kg")
    assert "your own 4 cooks put on 500 mg" in " ".join(run(*scale)["notes"])
    assert "your own" not in " ".join(run(*scale, "--no-learning")["notes"])
    assert run("compare", PASTE)["learning"] is True
    settings = tmp_path / "kitchen" / "shared" / "kitchen.yaml"
    settings.write_text(settings.read_text(encoding="utf-8") + "learning: off\n", encoding="utf-8")
    assert "your own" not in " ".join(run(*scale)["notes"])
    answer = run("compare", PASTE)
    assert answer["learning"] is False
    assert answer["learned"]


@pytest.mark.parametrize("kind", ["scores", "coat", "salt", "versions", "curves", "crust", "cook loss"])
def test_every_chart_comes_with_its_table(run: Run, kind: str) -> None:
    assert run("compare", PASTE, "--chart", kind)["chart"]["table"]["rows"]


def test_two_entries_are_compared_by_area_and_by_weight(run: Run) -> None:
    answer = run("compare", "2025-10-11", "2026-10-17-pork-loin-over-cherry")
    assert {row.get("measure") for row in answer["made"]} >= {"mg/cm²", "g/kg"}
    assert [group["cooks"] for group in answer["groups"]] == [1, 1]


def test_one_entry_is_held_against_its_own_sheet(run: Run) -> None:
    items = {row["item"]: row for row in run("compare", "2026-10-17-pork-loin-over-cherry")["as_made"]}
    assert items["sage, fresh"]["after"] is None
    assert items["thyme, fresh"]["before"] is None


def test_people_get_the_first_line_first(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    kitchen = new(tmp_path / "kitchen", example=True)
    assert main(["compare", PASTE, "--why", "--no-forecast", "--kitchen", str(kitchen)]) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("perhaps crust two points better; ")
    assert "how this was worked out" in lines


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (["compare", PASTE, "--by", "colour"], "unknown-name"),
        (["compare", PASTE, "--where", "cooker"], "request"),
        (["compare", PASTE, "--since", "yesterday"], "request"),
        (["compare", PASTE, "--since", "2030-01-01"], "no-cooks"),
        (["compare", PASTE, "pepper-coriander-rub", "--by", "cooker"], "request"),
        (["compare", PASTE, "--chart", "colour"], "request"),
        (["compare", f"{PASTE}@2"], "request"),
        (["compare", f"{PASTE}@3", PASTE], "request"),
        (["compare", PASTE, "--chart", "curves", "--align", "99C"], "request"),
        (["compare", "2025-10-11", "2025-10-11"], "request"),
        (["taste", "plan", "triangle"], "request"),
        (["taste", "plan", "square", "--tasters", "4"], "unknown-name"),
        (["taste", "result", "triangle"], "request"),
        (["taste", "result", "triangle", "--count", "9", "--of", "8"], "request"),
        (["taste", "result", "triangle", "--tasters", "4", "--answer", "taster 1=512"], "request"),
        (["taste", "result", "triangle", "--tasters", "4", "--seed", "1", "--answer", "taster 1"], "request"),
    ],
)
def test_what_cannot_be_is_refused_with_a_mend(run: Run, words: list[str], code: str) -> None:
    error = run(*words, code=2)["error"]
    assert error["code"] == code
    assert error["mend"]


def test_a_tasting_is_planned_and_read_out(run: Run) -> None:
    plan = run(
        "taste", "plan", "triangle", "--tasters", "12", "--seed", "4", "--a", "revision 2", "--b", "revision 3"
    )
    assert plan["key"] == {"A": "revision 2", "B": "revision 3"}
    answers = []
    for serving in plan["servings"]:
        odd = next(s for s in serving["samples"] if serving["samples"].count(s) == 1)
        answers += ["--answer", f"{serving['taster']}={serving['codes'][serving['samples'].index(odd)]}"]
    result = run("taste", "result", "triangle", "--tasters", "12", "--seed", "4", *answers)
    assert (result["hits"], result["of"], result["verdict"]) == (12, 12, "they taste different")
    assert run("taste", "result", "triangle", "--count", "12", "--of", "12") == result


def test_a_plan_without_a_seed_says_its_own(run: Run) -> None:
    plan = run("taste", "plan", "preference", "--tasters", "Ada,Ben,Dov")
    again = run("taste", "plan", "preference", "--tasters", "Ada,Ben,Dov", "--seed", str(plan["seed"]))
    assert again == plan


def test_the_sheet_names_no_sample_above_the_key(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["taste", "plan", "triangle", "--tasters", "Ada,Ben", "--a", "old salt", "--b", "new salt"]) == 0
    sheet, _, key = capsys.readouterr().out.partition("Key, for the kitchen alone")
    assert "salt" not in sheet
    assert "old salt" in key
    assert "--tasters Ada,Ben --seed" in key
    assert main(["taste", "plan", "triangle", "--tasters", "6"]) == 0
    said = capsys.readouterr().out
    assert "--tasters 6 --seed" in said
    assert "A is A" not in said


def test_a_taster_answers_once(capsys: pytest.CaptureFixture[str]) -> None:
    twice = ["--answer", "Ada=100", "--answer", "Ada=101"]
    assert main(["taste", "result", "triangle", "--tasters", "Ada,Ben", "--seed", "4", *twice]) == 2
    assert "Ada answered twice" in capsys.readouterr().err
