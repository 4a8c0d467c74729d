"""The verb `safety`: findings with regime and source, curing amounts by weight, exit codes."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cookbook.cli import main
from cookbook.kitchen.starter import new


@pytest.fixture
def kitchen(tmp_path: Path) -> Path:
    return new(tmp_path / "kitchen", example=True)


def test_a_paste_of_garlic_in_oil_has_its_keeping_limit(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["safety", "fennel-sage-paste", "--kitchen", str(kitchen), "--json"]) == 0
    (finding,) = json.loads(capsys.readouterr().out)["findings"]
    assert {"rule", "level", "value", "limit", "regime", "source"} <= set(finding)
    assert "2 days" in finding["message"]


def test_a_cook_is_judged_by_its_measured_curve(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["safety", "2025-12-13-rib-roast-on-oak", "--kitchen", str(kitchen), "--json"]) == 0
    findings = json.loads(capsys.readouterr().out)["findings"]
    assert findings[0]["regime"] == "household"
    assert findings[0]["limit"] == pytest.approx(62.8, abs=0.1)


def test_a_name_that_is_neither_is_an_error(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["safety", "fennel-sage-past", "--kitchen", str(kitchen), "--json"]) == 2
    assert json.loads(capsys.readouterr().out)["error"]["code"] == "unknown-name"


CURE = ["safety", "cure", "--method", "dry", "--product", "bacon, dry", "--meat", "1kg", "--salt", "2 %", "--json"]


def test_curing_amounts_by_weight(capsys: pytest.CaptureFixture[str]) -> None:
    """2.0 % salt and 120 ppm with 6.25 % cure on 1,000 g: 1.92 g of cure and 18.2 g of salt."""
    assert main([*CURE, "--strength", "6.25", "--nitrite", "120"]) == 0
    answer = json.loads(capsys.readouterr().out)
    assert (round(answer["cure_g"], 2), round(answer["salt_g"], 1)) == (1.92, 18.2)
    assert answer["nitrite_ppm"] == {"asked": 120, "limit": 200}
    assert answer["cautions"]


def test_above_the_limit_no_amount_is_given(capsys: pytest.CaptureFixture[str]) -> None:
    assert main([*CURE, "--strength", "6.25", "--nitrite", "487.5"]) == 1
    answer = json.loads(capsys.readouterr().out)
    assert (answer["cure_g"], answer["salt_g"]) == (None, None)
    assert answer["findings"][0]["level"] == "stop"


def test_without_strength_nothing_is_computed(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(CURE) == 2
    assert "strength" in json.loads(capsys.readouterr().out)["error"]["message"]
