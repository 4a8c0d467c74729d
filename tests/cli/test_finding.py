"""`list`, `find`, `last`, `import`, `rename` and `adopt` of several cooks, as they are typed."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cookbook.cli import main
from cookbook.kitchen.starter import new

Run = Callable[..., Any]


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Run:
    """Runs a command with --json in a kitchen with the example, and gives its answer."""
    kitchen = new(tmp_path / "kitchen", example=True)

    def call(*words: str, code: int = 0) -> Any:
        found = main([*words, "--kitchen", str(kitchen), "--json"])
        out = capsys.readouterr().out
        assert found == code, out
        return json.loads(out)

    return call


@pytest.fixture
def said(capsys: pytest.CaptureFixture[str], tmp_path: Path, run: Run) -> Run:
    """The same, as a person sees it."""
    del run

    def call(*words: str) -> str:
        assert main([*words, "--kitchen", str(tmp_path / "kitchen")]) == 0
        return capsys.readouterr().out

    return call


def test_list_and_find_answer_with_the_agreed_keys(run: Run) -> None:
    answer = run("list")
    assert {"recipes", "entries"} <= set(answer)
    assert {"name", "last_cooked", "cooks", "best", "ready"} <= set(answer["recipes"][0])
    assert {"name", "date", "recipe", "title", "open", "score", "cut"} <= set(answer["entries"][0])
    found = run("find", "anchovies", "vine", "--since", "2026-01-01", "--score", "7.5")
    assert [one["name"] for one in found["entries"]] == ["2026-04-04-leg-of-lamb-over-vine"]


def test_list_says_how_often_how_good_and_whether_it_can_go_out(said: Run) -> None:
    line = next(line for line in said("list").splitlines() if "rib-roast-on-oak" in line)
    assert "cooked 2 times" in line
    assert "best 8.5" in line
    assert "ready to publish" in line


def test_a_recipe_that_cannot_be_read_is_warned_of(
    run: Run, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    del run
    (tmp_path / "kitchen/recipes/bad.yaml").write_bytes(b"kind: pste\n")
    assert main(["list", "--kitchen", str(tmp_path / "kitchen")]) == 0
    assert "recipes/bad.yaml can't be read" in capsys.readouterr().err


def test_of_many_files_that_cannot_be_read_some_are_named_and_the_rest_counted(
    run: Run, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    del run
    for number in range(33):
        (tmp_path / "kitchen" / "recipes" / f"bad-{number}.yaml").write_text("kind: [", encoding="utf-8")
    assert main(["list", "--kitchen", str(tmp_path / "kitchen")]) == 0
    *named, rest = capsys.readouterr().err.splitlines()
    assert len(named) == 30
    assert all("can't be read" in one for one in named)
    assert "nor can 3 more files: cookbook check names them all" in rest


def test_last_answers_for_a_recipe_and_for_a_cut_of_several_words(run: Run) -> None:
    answer = run("last", "pork-loin-over-cherry", "--no-forecast")
    assert {"cooks", "next_time", "questions", "prices"} <= set(answer)
    assert len(answer["cooks"]) == 5
    assert answer["cooks"][0]["month"] == 10
    assert len(run("last", "leg", "of", "lamb,", "bone", "in", "--cooks", "1", "--no-forecast")["cooks"]) == 1


def test_last_fits_on_one_screen(said: Run) -> None:
    lines = said("last", "pork-loin-over-cherry", "--cooks", "3", "--no-forecast").splitlines()
    assert len(lines) < 40
    assert any("next time: turn it once" in line for line in lines)
    assert any("asked, 6 times" in line for line in lines)


def test_lines_for_next_time_come_up_by_themselves_in_show(run: Run, said: Run) -> None:
    assert run("show", "fennel-sage-paste")["next_time"]
    assert "next time: turn it once" in said("show", "pork-loin-over-cherry")


def test_nothing_to_look_for_and_bad_days_are_refused(run: Run) -> None:
    assert run("find", code=2)["error"]["mend"]
    assert "2026-11-21" in run("find", "lamb", "--since", "yesterdy", code=2)["error"]["mend"]
    assert run("last", "rib-rost", code=2)["error"]["code"] == "unknown-name"
    assert run("last", "rib-roast-on-oak", "--cooks", "0", code=2)["error"]["mend"]


def test_import_tells_what_it_could_not_read(run: Run, tmp_path: Path) -> None:
    found = {"@type": "Recipe", "name": "Plum sauce", "recipeIngredient": ["1 cup plums", "luck"], "video": "x"}
    path = tmp_path / "plum.json"
    path.write_text(json.dumps(found), encoding="utf-8")
    answer = run("import", str(path))
    assert (answer["recipe"], answer["kind"]) == ("plum-sauce", "sauce")
    assert [one["text"] for one in answer["unread"]] == ["luck", "video"]
    assert run("show", "plum-sauce")["recipe"]["ingredients"][0]["item"] == "plums"
    assert run("import", str(path), code=2)["error"]["mend"]


def test_import_takes_a_piece_that_a_rub_is_for(run: Run, tmp_path: Path) -> None:
    found = {"@type": "Recipe", "name": "Rub", "recipeIngredient": ["2 tbsp paprika"]}
    path = tmp_path / "rub.json"
    path.write_text(json.dumps(found), encoding="utf-8")
    words = ("import", str(path), "--name", "red-rub", "--cut", "brisket, flat", "--weight", "3kg")
    assert run(*words)["kind"] == "rub"
    assert run("scale", "red-rub", "--weight", "4kg")["factor"]["surface"] > 1


def test_rename_says_what_followed(run: Run) -> None:
    assert run("rename", "fennel-sage-paste", "sage-paste")["changed"] == ["pork-loin-over-cherry"]
    answer = run("versions", "sage-paste")
    assert answer["names"] == ["sage-paste", "fennel-sage-paste"]
    assert sum(one["cooks"] for one in answer["versions"]) == 6
    assert run("check")["problems"] == []


def test_adopting_several_cooks_says_how_they_varied(run: Run) -> None:
    names = [f"{day}-pork-loin-over-cherry" for day in ("2025-01-18", "2025-03-15", "2026-10-17")]
    answer = run("adopt", *names, "--yes")
    garlic = next(one for one in answer["changes"] if one["item"] == "garlic")
    assert garlic["varied"]["cooks"] == 3
    assert garlic["varied"]["spread_percent"] > 5
    assert run("adopt", *names, "--yes", "--made-for-today", code=2)["error"]["mend"]
