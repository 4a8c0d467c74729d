"""The command line: the agreed keys, exit codes, errors with their mend, nothing loaded that isn't needed."""

from __future__ import annotations

import importlib
import json
import os
import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from cookbook.cli import VERBS, help_text, main
from cookbook.cli.running import parser
from cookbook.kitchen import Kitchen
from cookbook.kitchen.starter import new

ROOT = Path(__file__).resolve().parent.parent.parent
MakeKitchen = Callable[..., Kitchen]
HERE = {**os.environ, "PYTHONPATH": str(ROOT)}


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> Callable[..., tuple[int, Any]]:
    """Runs a command with --json in a kitchen with the example, and gives exit code and answer."""
    kitchen = new(tmp_path / "kitchen", example=True)

    def call(*words: str, code: int = 0) -> tuple[int, Any]:
        found = main([*words, "--kitchen", str(kitchen), "--json"])
        out = capsys.readouterr()
        assert found == code, out.out + out.err
        return found, json.loads(out.out)

    return call


def keys(answer: Any) -> set[str]:
    return set(answer)


def test_scale_answers_with_the_agreed_keys(run: Callable[..., tuple[int, Any]]) -> None:
    _, answer = run("scale", "fennel-sage-paste", "--weight", "4.4kg")
    assert {
        "factor",
        "coated_cm2",
        "ingredients",
        "coat",
        "salt_percent_of_meat",
        "pieces",
        "notes",
        "factor_interval",
    } <= keys(answer)
    assert keys(answer["factor"]) == {"surface", "weight"}
    assert keys(answer["coated_cm2"]) == {"from", "to"}
    assert keys(answer["coat"]) == {"grams", "g_per_cm2", "thickness_mm"}
    assert {"item", "amount", "grams", "measures", "follows", "factor"} <= keys(answer["ingredients"][0])
    assert keys(answer["ingredients"][0]["grams"]) == {"low", "mid", "high"}
    assert answer["factor"]["weight"] == pytest.approx(2.0)
    assert answer["salt_percent_of_meat"] == pytest.approx(1.1, abs=0.01)
    assert sum(piece["share_of_batch"] for piece in answer["pieces"]) == pytest.approx(1.0)


def test_a_count_has_its_grams_beside_and_its_rounding_said(
    run: Callable[..., tuple[int, Any]], capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    words = ("scale", "mustard-horseradish-paste", "rib roast, bone in", "--weight", "2kg")
    _, answer = run(*words)
    garlic = next(line for line in answer["ingredients"] if line["item"] == "garlic")
    assert main([*words, "--kitchen", str(tmp_path / "kitchen")]) == 0
    said = capsys.readouterr().out
    assert garlic["note"].startswith("rounded from")
    assert f"garlic: {garlic['note']}" in said
    assert f"garlic, grated             about {garlic['grams']['mid']:.2g} g" in said


def test_several_pieces_are_named(run: Callable[..., tuple[int, Any]]) -> None:
    _, answer = run(
        "scale", "fennel-sage-paste", "--piece", "big", "--weight", "3kg", "--piece", "small", "--weight", "1.5kg"
    )
    assert [piece["name"] for piece in answer["pieces"]] == ["big", "small"]


def test_a_cook_scales_its_coats(run: Callable[..., tuple[int, Any]]) -> None:
    _, answer = run("scale", "pork-loin-over-cherry", "--weight", "4.4kg")
    assert answer["recipe"] == "fennel-sage-paste"


def test_piece_answers_with_the_agreed_keys(run: Callable[..., tuple[int, Any]]) -> None:
    _, answer = run("piece", "rib roast, bone in", "--ribs", "3")
    assert {"area_cm2", "coated_cm2", "volume_cm3", "mass_g", "dimensions_cm", "faces", "method", "notes"} <= keys(
        answer
    )
    assert {"length", "width", "height"} <= keys(answer["dimensions_cm"])
    assert {"name", "area_cm2", "coated"} <= keys(answer["faces"][0])
    assert keys(answer["area_cm2"]) == {"low", "mid", "high"}


def test_a_table_of_sizes_keeps_the_piece_that_was_said(run: Callable[..., tuple[int, Any]]) -> None:
    _, alone = run("piece", "rib roast, bone in", "--ribs", "4")
    _, table = run("piece", "rib roast, bone in", "--bones", "off", "--table")
    _, both = run("piece", "rib roast, bone in", "--ribs", "4", "--table")
    assert set(table) == {"cut", "sizes"}
    assert both == {**alone, "sizes": both["sizes"]}
    assert both["sizes"][0]["mass_g"]["mid"] > table["sizes"][0]["mass_g"]["mid"]


def test_convert_answers_with_the_agreed_keys(run: Callable[..., tuple[int, Any]]) -> None:
    _, answer = run("convert", "1/4 cup", "table salt", "--to", "g")
    assert {"value", "low", "high", "interval", "unit", "source"} <= keys(answer)
    assert answer["value"] == pytest.approx(73, abs=1)


def test_the_road_of_one_cook(run: Callable[..., tuple[int, Any]]) -> None:
    _, started = run("log", "start", "pork-loin-over-cherry", "--weight", "3.1kg", "--at", "2026-11-21T09:30")
    assert {"entry", "version"} <= keys(started)
    name = started["entry"]
    _, logged = run("log", "used", "garlic", "--more", "8 g", "--in", "fennel-sage-paste")
    assert {"entry", "read", "warnings"} <= keys(logged)
    run("log", "event", "on", "--at", "2026-11-21T11:05")
    run("log", "reading", "core=48C", "pit=121C", "--at", "2026-11-21T12:00")
    run("log", "next", "light it earlier")
    run("log", "finish", "--score", "crust=8", "--by", "Ada", "--score", "juiciness=7.5")
    _, adopted = run("adopt", name, "--yes")
    assert {"recipe", "before", "after", "changes"} <= keys(adopted)
    assert {"item", "today", "in_recipe", "factor"} <= keys(adopted["changes"][0])
    _, versions = run("versions", "fennel-sage-paste")
    assert {"version", "revision", "first_used", "cooks"} <= keys(versions["versions"][0])
    assert versions["versions"][-1]["version"] == adopted["after"]
    assert versions["versions"][-1]["current"]
    _, diff = run("diff", "fennel-sage-paste", "3", "1")
    assert {"item", "field", "before", "after", "ratio"} <= keys(diff["changes"][0])
    _, compared = run("compare", "fennel-sage-paste", "--no-forecast")
    assert keys(compared) >= {"groups", "differences"}
    assert {"label", "cooks", "outcomes"} <= keys(compared["groups"][0])
    assert {"outcome", "a", "b", "estimate", "low", "high", "probability_better", "verdict"} <= keys(
        compared["differences"][0]
    )
    assert all("can't tell yet" in one["verdict"] for one in compared["differences"])
    _, checked = run("check")
    assert checked["problems"] == []


def test_nothing_is_refused_at_the_pit(run: Callable[..., tuple[int, Any]]) -> None:
    run("log", "start", "fennel-sage-paste", "--weight", "2kg")
    _, kept = run("log", "reading", "fourty-eight")
    assert kept["warnings"]
    _, checked = run("check")
    assert [(one["code"], one["severity"]) for one in checked["problems"]] == [("unread", "warning")]


def test_a_plain_line_is_kept_as_it_is(run: Callable[..., tuple[int, Any]]) -> None:
    run("log", "start", "fennel-sage-paste", "--weight", "2kg")
    _, kept = run("log", "a gust took the lid off")
    assert "a gust took the lid off" in kept["read"]


BAD: list[tuple[list[str], str]] = [
    (["scale", "fennel-sage-paste", "--weight", "-3kg"], "amount"),
    (["scale", "fennel-sage-paste", "--weight", "300kg"], "piece"),
    (["scale", "fennel-sage-paste", "--weight", "3 bananas"], "amount"),
    (["scale", "fennel-sage-paste", "--ribs", "4"], "piece"),
    (["scale", "fennel-sage-past"], "unknown-name"),
    (["piece", "pork lion"], "unknown-name"),
    (["piece", "pork lion", "--weight", "2kg"], "unknown-name"),
    (["convert", "1 cpu", "--to", "ml"], "amount"),
    (["convert", "1 cup", "unobtainium", "--to", "g"], "unknown-name"),
    (["show", "fennel-sage-paste@9"], "unknown-name"),
    (["adopt", "2019-01-01-nothing", "--yes"], "unknown-name"),
    (["compare", "fennel-sage-paste", "garlic-rosemary-paste"], "request"),
    (["log", "start", "nothing"], "unknown-name"),
    (["log", "finish"], "no-open-entry"),
    (["scale"], "usage"),
    (["scale", "fennel-sage-paste", "--wieght", "3kg"], "usage"),
    (["card", "fennel-sage-paste", "--as", "poem"], "usage"),
    (["sclae", "x"], "unknown-name"),
]


@pytest.mark.parametrize(("words", "code"), BAD)
def test_a_request_at_fault_says_so_and_exits_2(
    run: Callable[..., tuple[int, Any]], words: list[str], code: str
) -> None:
    _, answer = run(*words, code=2)
    assert keys(answer) == {"error"}
    assert keys(answer["error"]) == {"code", "message", "file", "line", "column", "mend"}
    assert answer["error"]["code"] == code
    assert answer["error"]["mend"], answer


def test_no_verb_takes_nothing_for_a_file_or_a_folder(capsys: pytest.CaptureFixture[str]) -> None:
    """Whatever is a file's or a folder's name is asked to say something, and named where it doesn't."""
    asked = 0
    for verb, (module, about) in VERBS.items():
        found = importlib.import_module(f"cookbook.cli.{module}").VERBS[verb]
        for action in parser(verb, about, found)._actions:
            if action.metavar in ("FILE", "DIR", "PATH", "OUT"):
                asked += 1
                words = [verb, *action.option_strings[:1], " "]
                assert main([*words, "--json"]) == 2, words
                name = action.option_strings[0] if action.option_strings else action.metavar
                said = json.loads(capsys.readouterr().out)["error"]["message"]
                assert said == f"argument {name}: ' ' says nothing; leave it out, or say what is meant", words
    assert asked > len(VERBS)


def test_check_exits_1_on_errors_and_prints_place_line_and_caret(
    capsys: pytest.CaptureFixture[str], make_kitchen: MakeKitchen
) -> None:
    kitchen = make_kitchen({"recipes/a.yaml": "kind: paste\ntitle: A\ntitel: B\n"})
    assert main(["check", "--kitchen", str(kitchen.root)]) == 1
    out = capsys.readouterr().out
    assert "recipes/a.yaml:3:1: error: a paste has no field `titel`" in out
    assert "    3 | titel: B\n      | ^^^^^" in out
    assert "mend: did you mean `title`?" in out


def test_adopting_with_nobody_to_answer_writes_nothing(
    run: Callable[..., tuple[int, Any]], monkeypatch: pytest.MonkeyPatch
) -> None:
    import io

    monkeypatch.setattr(sys, "stdin", io.StringIO(""))
    _, answer = run("adopt", "2025-10-11-pork-loin-over-cherry", code=2)
    assert answer["error"]["code"] in ("unanswered", "nothing-to-adopt")


def test_every_verb_has_help_and_is_documented() -> None:
    docs = (ROOT / "README.md").read_text(encoding="utf-8") + (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    from importlib import import_module

    for verb, (module, about) in VERBS.items():
        assert verb in help_text()
        made = parser(verb, about, import_module(f"cookbook.cli.{module}").VERBS[verb])
        text = made.format_help()
        assert about[0].upper() + about[1:] in re.sub(r"\s+", " ", text)
        assert f"`{verb}" in docs or f"cookbook {verb}" in docs, verb
        for action in made._actions:
            assert action.help, (verb, action.option_strings)


HEAVY = ("numpy", "pint", "jsonschema", "jinja2", "asyncio", "scipy", "sqlite3", "dataclasses")


@pytest.mark.parametrize(
    "words",
    [
        ["--help"],
        ["scale", "fennel-sage-paste", "--weight", "4kg"],
        ["convert", "1 cup", "olive oil", "--to", "g"],
        ["log", "next", "more wood"],
    ],
)
def test_light_verbs_load_nothing_heavy(tmp_path: Path, words: list[str]) -> None:
    kitchen = new(tmp_path / "kitchen", example=True)
    code = (
        "import sys; from cookbook.cli import main\n"
        f"main(['log', 'start', 'fennel-sage-paste', '--weight', '2kg']) if {words[0] == 'log'} else 0\n"
        f"code = main({words!r})\n"
        f"print(code, [name for name in {HEAVY!r} if name in sys.modules])"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=kitchen, capture_output=True, text=True, check=True, env=HERE
    )
    assert done.stdout.splitlines()[-1] == "0 []", done.stdout


def test_help_loads_not_even_the_parser(tmp_path: Path) -> None:
    code = "import sys; from cookbook.cli import main; main(['--help']); print('argparse' in sys.modules)"
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, capture_output=True, text=True, check=True, env=HERE
    )
    assert done.stdout.splitlines()[-1] == "False"


def test_colour_only_where_a_terminal_has_it(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    kitchen = new(tmp_path / "kitchen", example=True)
    main(["show", "fennel-sage-paste", "--kitchen", str(kitchen)])
    assert "\x1b" not in capsys.readouterr().out


@pytest.mark.parametrize("words", [("-40F", "--to", "C"), ("--to", "C", "-40 F"), ("--to", "C", "--why", "-40 °F")])
def test_degrees_below_nothing_are_no_option(run: Callable[..., tuple[int, Any]], words: tuple[str, ...]) -> None:
    assert run("convert", *words)[1]["value"] == pytest.approx(-40)


def test_a_weighing_far_from_the_table_is_kept_and_warned_about(run: Callable[..., tuple[int, Any]]) -> None:
    _, answer = run("weigh", "fine salt", "1 tsp", "30 g")
    assert answer["weighings"] == 1
    (warning,) = answer["warnings"]
    assert "1 tsp of fine salt weighs about 6" in warning
    assert "this says 30 g" in warning
    assert len(run("weigh", "fine salt", "1 tsp", "2.5 g")[1]["warnings"]) == 1
    assert run("weigh", "fine salt", "1 tsp", "6 g")[1]["warnings"] == []
