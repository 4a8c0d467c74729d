"""The verb plan: the agreed keys, the first line, its files, and each bad request with its way out."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from cookbook.cli import main
from cookbook.kitchen.starter import new
from tests.plan.days import quick

KEYS = {"buy", "timeline", "shopping", "cost", "slices"}
COOK = "pork-loin-over-cherry"
TOMORROW = ("--eat", "tomorrow 23:00")


@pytest.fixture(autouse=True)
def few_members(monkeypatch: pytest.MonkeyPatch) -> None:
    quick(monkeypatch)


@pytest.fixture
def kitchen(tmp_path: Path) -> Path:
    return new(tmp_path / "kitchen", example=True)


def ask(capsys: pytest.CaptureFixture[str], kitchen: Path, *words: str, code: int = 0) -> Any:
    assert main(["plan", *words, "--kitchen", str(kitchen), "--no-learning", "--json"]) == code
    out = capsys.readouterr()
    assert out.err == ""
    return json.loads(out.out)


def test_the_agreed_keys_and_files(kitchen: Path, capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    files = {name: tmp_path / f"{name}.out" for name in ("ics", "list", "svg", "slices-svg")}
    options = [word for name, path in files.items() for word in (f"--{name}", str(path))]
    found = ask(capsys, kitchen, COOK, *TOMORROW, "--apart", "Dov, Cleo", "--leftovers", "2", *options)
    assert set(found) >= KEYS
    assert {"cut", "mass_g", "pieces", "ribs"} <= set(found["buy"][0])
    assert set(found["buy"][0]["mass_g"]) == {"low", "mid", "high"}
    for step in found["timeline"]:
        assert {"what", "earliest", "latest"} <= set(step)
        assert datetime.fromisoformat(step["earliest"]) <= datetime.fromisoformat(step["latest"])
    assert found["summary"].startswith("on the table ")
    names = {one["name"] for one in found["eaters"]}
    assert "Ada" in names
    assert not names & {"Dov", "Cleo"}
    assert all(path.is_file() for path in files.values())
    assert b"BEGIN:VCALENDAR" in files["ics"].read_bytes()
    assert files["list"].read_text(encoding="utf-8").count("[ ] ") > 4


@pytest.mark.long
def test_people_read_the_one_line_first_then_what_last_shows(
    kitchen: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ["plan", COOK, *TOMORROW, "--eaters", "6 adults", "--kitchen", str(kitchen), "--no-learning", "--why"]
    assert main(words) == 0
    lines = capsys.readouterr().out.splitlines()
    assert lines[0].startswith("on the table ")
    assert "check from" in lines[0]
    parts = ("Pork loin over cherry wood, pork loin", "Meat", "The day", "Shopping", "Cost", "Where the numbers")
    at = {part: next(place for place, line in enumerate(lines) if line.startswith(part)) for part in parts}
    assert list(at.values()) == sorted(at.values())
    assert any("next time:" in line for line in lines[: at["Meat"]])
    text = "\n".join(lines)
    assert "pull at 60 °C (140 °F)" in text
    assert " lb)" in lines[at["Meat"] + 1]
    assert max(map(len, lines)) < 140


@pytest.mark.parametrize(
    ("words", "code", "part"),
    [
        ((COOK, "--eat", "2020-01-01T18:00", "--eaters", "4 adults"), "past", "--eat"),
        ((COOK, "--eat", "purple"), "time", "18:30"),
        ((COOK, "--eaters", "4 adults"), "request", "--eat"),
        (("rib-roast-on-oak", *TOMORROW), "allergy", "--apart"),
        ((COOK, *TOMORROW, "--eaters", "2 purple"), "eaters", "6 adults"),
        ((COOK, *TOMORROW, "--eaters", "4 adults", "--confidence", "120%"), "request", "--confidence 90%"),
        ((COOK, *TOMORROW, "--eaters", "4 adults", "--carvers", "none"), "usage", "--carvers 2"),
        ((COOK, *TOMORROW, "--apart", "Nobody"), "unknown-name", None),
        (("brisket-through-the-night", *TOMORROW, "--eaters", "90 adults"), "overfull", "second cooker"),
    ],
)
def test_a_bad_request_has_a_way_out(
    kitchen: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], code: str, part: str | None
) -> None:
    error = ask(capsys, kitchen, *words, code=2)["error"]
    assert error["code"] == code
    assert part is None or part in error["mend"]


@pytest.mark.long
@pytest.mark.tenth
def test_wishes_that_nobody_can_meet_are_told_with_options(
    kitchen: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = ("rib-roast-on-oak", *TOMORROW, "--eaters", "4 adults, 4 want very rare", "--ribs", "2")
    found = ask(capsys, kitchen, *words)
    assert any("too done for" in one and "second, smaller piece" in one for one in found["warnings"])
    assert {one["planned"] for one in found["pulls"]} == {True, False}


def test_help_names_every_option(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["plan", "--help"])
    told = capsys.readouterr().out
    for option in ("--eat", "--eaters", "--ics", "--now", "--with", "--film", "--confidence", "--list"):
        assert option in told
