"""The kitchen's own spoons: what its drawer doesn't hold is never asked for."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

import pytest

from cookbook.cli import main
from cookbook.errors import FileError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.checking import check
from cookbook.kitchen.checking.schema import schema_of
from cookbook.kitchen.starter import new
from cookbook.publish import card

QUARTER = re.compile(r"(?:1/4|¼|3/4|¾)\s*tsp")
PASTE = """\
kind: paste
title: Sage paste
made_for:
  cut: pork loin, boneless
  weight: 2 kg
ingredients:
  - item: sage, fresh
    amount: 1/4 cup
  - item: fine salt
    amount: 1 1/4 tsp
  - item: black pepper, ground
    amount: 3/4 tsp
  - item: fennel seed
    amount: 1/4 to 3/4 tsp
  - item: chili flakes
    amount: 1/2 tsp
    hold_back: 1/4 tsp
  - item: olive oil
    amount: 60 ml
steps:
  - Pound it.
"""
WEIGHTS = ("1.4kg", "2kg", "2.3kg", "3.1kg", "4.4kg")


def kitchen_with(folder: Path, spoons: str) -> Kitchen:
    root = new(folder / "kitchen")
    (root / "recipes" / "sage-paste.yaml").write_text(PASTE, encoding="utf-8")
    settings = root / "shared" / "kitchen.yaml"
    settings.write_text(f"{settings.read_text(encoding='utf-8')}\n{spoons}\n", encoding="utf-8")
    return Kitchen.open(root)


def scaled(kitchen: Kitchen, weight: str, capsys: pytest.CaptureFixture[str], *more: str) -> str:
    assert main(["scale", "sage-paste", "--weight", weight, "--kitchen", str(kitchen.root), *more]) == 0
    return capsys.readouterr().out


def test_a_kitchen_without_a_quarter_teaspoon_never_prints_one(
        tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kitchen = kitchen_with(tmp_path, "spoons: [1 tbsp, 1 tsp, 1/2 tsp]")
    for weight in WEIGHTS:
        for units in ("us", "metric", "both"):
            said = scaled(kitchen, weight, capsys, "--units", units)
            assert not QUARTER.search(said), said
            data: dict[str, Any] = json.loads(scaled(kitchen, weight, capsys, "--units", units, "--json"))
            assert not QUARTER.search(json.dumps(data, ensure_ascii=False))
        for form in ("text", "description", "page"):
            assert not QUARTER.search(card(kitchen, "sage-paste", form, {"": {"weight": weight}}))
    assert "US cups and spoons of this kitchen" in scaled(kitchen, "3.1kg", capsys)


def test_the_sheet_of_a_cook_asks_for_the_spoons_there_are(
        tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Told on the screen as it stands in the file."""
    kitchen = kitchen_with(tmp_path, "spoons: [1 tbsp, 1 tsp, 1/2 tsp]")
    items = {line.item for line in kitchen.recipe("sage-paste").ingredients}
    for weight in WEIGHTS:
        start = ["log", "start", "sage-paste", "--weight", weight, "--kitchen", str(kitchen.root)]
        assert main([*start, "--at", "yesterday 11:05", "--json"]) == 0
        told = json.loads(capsys.readouterr().out)
        kept = kitchen.entry(told["entry"]).sheet["sage-paste"]
        assert told["sheet"]["sage-paste"] == {item: amount.text for item, amount in kept.items()}
        assert set(kept) == items
        assert not QUARTER.search(json.dumps(told["sheet"]))
    assert main([*start, "--at", "yesterday 11:06"]) == 0
    said = capsys.readouterr().out
    assert "8 tbsp" in said
    assert not QUARTER.search(said)


def test_the_basic_set_holds_a_quarter_teaspoon(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """The other side: without `spoons:` the same paste asks for quarters."""
    kitchen = kitchen_with(tmp_path, "")
    assert kitchen.drawer is None
    assert QUARTER.search(scaled(kitchen, "2kg", capsys))


def test_the_spoons_are_of_the_kitchen_s_measures(tmp_path: Path) -> None:
    root = kitchen_with(tmp_path, "spoons: 1 tbsp").root
    settings = root / "shared" / "kitchen.yaml"
    text = re.sub(r"(?m)^measures:.*\n", "", settings.read_text(encoding="utf-8"))
    settings.write_text(f"{text}measures: au\n", encoding="utf-8")
    drawer = Kitchen.open(root).drawer
    assert drawer is not None
    assert [float(scoop.ml) for scoop in drawer] == [20.0]


def test_what_is_no_spoon_is_said_with_its_line(tmp_path: Path) -> None:
    kitchen = kitchen_with(tmp_path, "spoons: [1 tbsp, 20 g]")
    with pytest.raises(FileError):
        _ = kitchen.drawer
    found = [problem for problem in check(Kitchen.open(kitchen.root)).problems if problem.severity == "error"]
    assert len(found) == 1
    assert "'20 g' is no measure of a drawer" in found[0].message
    assert found[0].place is not None
    lines = (kitchen.root / "shared" / "kitchen.yaml").read_text(encoding="utf-8").splitlines()
    assert lines[found[0].place.line - 1].startswith("spoons:")


def test_the_schema_of_the_settings_lists_them() -> None:
    assert "spoons" in json.dumps(schema_of("kitchen.yaml"))
