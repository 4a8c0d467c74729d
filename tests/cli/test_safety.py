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


@pytest.mark.long
@pytest.mark.tenth
def test_the_forecast_beside_a_recipe_is_a_note(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["safety", "pork-loin-over-cherry", "--forecast", "--kitchen", str(kitchen), "--json"]) == 0
    told = {one["rule"]: one for one in json.loads(capsys.readouterr().out)["findings"]}
    assert told["forecast peak"]["level"] == told["lethality, forecast figure"]["level"] == "note"


def test_moments_logged_at_the_pit_are_read_back(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    at = ["--kitchen", str(kitchen)]
    main(["log", "start", "pork-loin-over-cherry", "--weight", "2kg", "--at", "2026-03-02 09:00", *at])
    name = "2026-03-02-pork-loin-over-cherry"
    for did, when in (("paste made", "2026-02-25 18:00"), ("coated", "2026-03-02 09:00"), ("on", "2026-03-02 10:00")):
        main(["log", "event", did, "--at", when, "--entry", name, *at])
    capsys.readouterr()
    assert main(["safety", name, "--json", *at]) == 1
    findings = json.loads(capsys.readouterr().out)["findings"]
    assert (findings[0]["rule"], findings[0]["level"]) == ("garlic in oil", "stop")
    assert findings[0]["value"] == pytest.approx(4.6, abs=0.05)


def test_readings_without_a_scale_are_named_and_give_no_verdict(
    kitchen: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    beside = kitchen / "journal" / "2026" / "2026-10-17-pork-loin-over-cherry.csv"
    beside.write_text("at,core\n2026-10-17T13:00:00+02:00,130\n", encoding="utf-8")
    main(["safety", "2026-10-17-pork-loin-over-cherry", "--kitchen", str(kitchen), "--json"])
    told = [one for one in json.loads(capsys.readouterr().out)["findings"] if one["rule"] == "readings"]
    assert "2026-10-17-pork-loin-over-cherry.csv:1" in told[0]["message"]


def test_an_own_cut_of_the_kitchen_has_its_findings_and_its_card(
    kitchen: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (kitchen / "shared" / "cuts.yaml").write_text('hall loin: {like: "pork loin, boneless"}\n', encoding="utf-8")
    text = "kind: cook\ntitle: Hall loin\ncut: hall loin\nmade_for: {cut: hall loin, weight: 2 kg}\n"
    text += "pull_at: 58 °C\ningredients: [{item: fine salt, amount: 1 % of meat}]\nsteps: [Cook.]\n"
    (kitchen / "recipes" / "hall.yaml").write_text(text, encoding="utf-8")
    assert main(["safety", "hall", "--kitchen", str(kitchen)]) == 0
    assert main(["card", "hall", "--as", "text", "--kitchen", str(kitchen)]) == 0
    assert "Safe for pork" in capsys.readouterr().out
