"""A scan gives the piece's surface to `piece` and `scale`, by a mesh file the test writes itself."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from cookbook.cli import main
from cookbook.kitchen.starter import new

SIZE_MM = (400.0, 120.0, 90.0)
SURFACE_CM2 = 2 * (40 * 12 + 12 * 9 + 40 * 9)
CORNERS = [(x, y, z) for x in (0, 1) for y in (0, 1) for z in (0, 1)]
SIDES = [(0, 1, 3, 2), (4, 6, 7, 5), (0, 4, 5, 1), (2, 3, 7, 6), (0, 2, 6, 4), (1, 5, 7, 3)]


def write_box(file: Path, split: int = 24) -> Path:
    """A box as an STL text file, every side in a grid of triangles, looking outwards."""
    lines = ["solid box"]
    for side in SIDES:
        a, b, c, d = ([CORNERS[one][axis] * SIZE_MM[axis] for axis in range(3)] for one in side)
        for i in range(split):
            for j in range(split):
                square = [_between(a, b, c, d, (i + u) / split, (j + v) / split) for u, v in
                          ((0, 0), (1, 0), (1, 1), (0, 1))]
                lines += _triangle(square[0], square[1], square[2]) + _triangle(square[0], square[2], square[3])
    file.write_text("\n".join([*lines, "endsolid box", ""]), encoding="ascii")
    return file


def _between(a: Sequence[float], b: Sequence[float], c: Sequence[float], d: Sequence[float],
             u: float, v: float) -> list[float]:
    return [(1 - u) * (1 - v) * p + u * (1 - v) * q + u * v * r + (1 - u) * v * s
            for p, q, r, s in zip(a, b, c, d, strict=True)]


def _triangle(*points: Sequence[float]) -> list[str]:
    corners = [f"vertex {x:.6f} {y:.6f} {z:.6f}" for x, y, z in points]
    return ["facet normal 0 0 0", "outer loop", *corners, "endloop", "endfacet"]


def answer(capsys: pytest.CaptureFixture[str], *words: str, code: int = 0) -> Any:
    assert main([*words, "--json"]) == code
    return json.loads(capsys.readouterr().out)


def test_the_surface_of_a_scanned_loin_is_that_of_its_mesh(
        tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = write_box(tmp_path / "loin.stl")
    found = answer(capsys, "piece", "pork loin, boneless", "--scan", str(file), "--weight", "4.55kg")
    assert found["scan"]["unit"] == "mm"
    assert found["scan"]["area_cm2"]["as_read"] == pytest.approx(SURFACE_CM2, rel=1e-3)
    assert found["area_cm2"]["low"] < SURFACE_CM2 < found["area_cm2"]["high"]


def test_a_recipe_is_scaled_to_the_scan(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kitchen = new(tmp_path / "kitchen", example=True)
    file = write_box(tmp_path / "loin.stl")
    found = answer(capsys, "scale", "fennel-sage-paste", "--scan", str(file), "--weight", "4.55kg",
                   "--kitchen", str(kitchen))
    assert found["coated_cm2"]["to"] == pytest.approx(SURFACE_CM2, rel=0.05)
    assert found["factor"]["surface"] == pytest.approx(found["coated_cm2"]["to"] / found["coated_cm2"]["from"])


def test_a_scan_that_does_not_weigh_what_the_scale_says_is_refused(
        tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = write_box(tmp_path / "loin.stl")
    assert main(["piece", "pork loin, boneless", "--scan", str(file), "--weight", "2kg"]) == 2
    assert "the scale says 2 kg" in capsys.readouterr().err


def test_a_cook_keeps_what_the_scan_told_and_needs_its_file_no_more(
        tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kitchen = new(tmp_path / "kitchen", example=True)
    file = write_box(tmp_path / "loin.stl")
    at = ["--kitchen", str(kitchen)]
    begun = answer(capsys, "log", "start", "fennel-sage-paste", "--scan", str(file), "--weight", "4.55kg", *at)
    scaled = answer(capsys, "scale", "fennel-sage-paste", "--scan", str(file), "--weight", "4.55kg", *at)
    file.unlink()
    assert begun["sheet"]["fennel-sage-paste"] == {one["item"]: one["amount"] for one in scaled["ingredients"]}
    text = next((kitchen / "journal").rglob(f"{begun['entry']}.yaml")).read_text(encoding="utf-8")
    assert 'scan: "loin.stl: ' in text
    assert str(tmp_path) not in text
    assert answer(capsys, "check", *at)["problems"] == []
    answer(capsys, "log", "used", "garlic", "--more", "9g", "--in", "fennel-sage-paste", *at)
    answer(capsys, "log", "finish", *at)
    answer(capsys, "adopt", begun["entry"], "--made-for-today", "--yes", *at)
    again = answer(capsys, "scale", "fennel-sage-paste", *at)
    assert again["coated_cm2"]["from"] == pytest.approx(scaled["coated_cm2"]["to"], rel=1e-3)
    assert again["pieces"][0]["coated_cm2"] == again["coated_cm2"]["from"]


def test_girths_at_the_ends_stand_in_entries_and_recipes(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kitchen = new(tmp_path / "kitchen", example=True)
    at = ["--kitchen", str(kitchen)]
    tape = ["--length", "45cm", "--girth-ends", "36cm,30cm"]
    begun = answer(capsys, "log", "start", "fennel-sage-paste", *tape, *at)
    text = next((kitchen / "journal").rglob(f"{begun['entry']}.yaml")).read_text(encoding="utf-8")
    assert "girth_ends: 36 cm, 30 cm" in text
    said = answer(capsys, "scale", "fennel-sage-paste", *tape, *at)
    recipe = kitchen / "recipes" / "fennel-sage-paste.yaml"
    text = recipe.read_text(encoding="utf-8")
    recipe.write_text(text.replace("weight: 2.2 kg", "length: 45 cm\n  girth_ends: 36 cm, 30 cm"), encoding="utf-8")
    assert answer(capsys, "scale", "fennel-sage-paste", *at)["coated_cm2"]["from"] == said["coated_cm2"]["to"]


@pytest.mark.parametrize("verb", [
    ["card", "mustard-horseradish-paste", "--as", "text", "--ribs", "4"],
    ["card", "mustard-horseradish-paste", "--as", "json-ld", "--ribs", "4"],
    ["scale", "mustard-horseradish-paste", "--ribs", "4", "--left-in-bowl", "40g", "--bare", "underside"],
    ["log", "start", "--new", "Trial", "--cut", "rib roast, bone in"],
    ["log", "start", "rib-roast-on-oak", "--from-memory", "--at", "2014-07-12"],
])
def test_a_scan_is_taken_wherever_a_piece_is(
        verb: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    kitchen = new(tmp_path / "kitchen", example=True)
    file = write_box(tmp_path / "rib.stl")
    assert main([*verb, "--scan", str(file), "--kitchen", str(kitchen)]) == 0, capsys.readouterr().err
    assert main(["check", "--kitchen", str(kitchen)]) == 0


def test_two_turns_of_the_tape_at_the_ends_narrow_the_surface(capsys: pytest.CaptureFixture[str]) -> None:
    leg = ["piece", "leg of lamb, bone in", "--weight", "2.4kg"]
    rough = answer(capsys, *leg)["area_cm2"]
    close = answer(capsys, *leg, "--girth", "32cm", "--girth-ends", "39cm,24cm")["area_cm2"]
    assert close["high"] / close["low"] < rough["high"] / rough["low"]
    assert "two lengths" in json.dumps(answer(capsys, *leg, "--girth-ends", "39cm", code=2))
