"""The verb forecast: the agreed keys for a recipe, an entry and a cut; what cannot be cooked is refused."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from cookbook.cli import main
from cookbook.kitchen import Kitchen
from cookbook.kitchen.forecasting import outlook
from cookbook.kitchen.starter import new

KEYS = {
    "minutes_to_pull", "check_from_minutes", "peak_c", "minutes_to_peak", "zones", "slices", "cook_loss_percent",
    "curve", "rests_on",
}  # fmt: skip


@pytest.fixture
def kitchen(tmp_path: Path) -> Path:
    return new(tmp_path / "kitchen")


def ask(capsys: pytest.CaptureFixture[str], kitchen: Path, *words: str, code: int = 0) -> Any:
    assert main(["forecast", *words, "--kitchen", str(kitchen), "--json"]) == code
    return json.loads(capsys.readouterr().out)


def test_a_recipe_has_a_time_a_peak_and_zones(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = ask(capsys, kitchen, "rib-roast-on-oak", "--ribs", "5")
    assert set(found) >= KEYS
    minutes = found["minutes_to_pull"]
    assert minutes["p10"] < minutes["p50"] < minutes["p90"]
    assert found["check_from_minutes"] == minutes["p10"]
    assert found["peak_c"]["p50"] > 50
    assert sum(zone["share"] for zone in found["zones"]) == pytest.approx(1, abs=1e-6)
    assert {"from_end_cm", "thickness_cm", "zones"} <= set(found["slices"][0])
    assert {"minute", "core_c", "surface_c", "pit_c"} <= set(found["curve"][0])


def test_a_cut_needs_its_pit_and_its_pull(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said = ("--cut", "pork loin, boneless", "--weight", "2.5kg")
    assert set(ask(capsys, kitchen, *said, "--pit", "130C", "--pull", "60C")) >= KEYS
    assert "--pit" in ask(capsys, kitchen, *said, "--pull", "60C", code=2)["error"]["mend"]
    assert "--pull" in ask(capsys, kitchen, *said, "--pit", "130C", code=2)["error"]["mend"]


@pytest.mark.long
@pytest.mark.tenth
def test_a_wanted_doneness_finds_its_pull(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = ask(capsys, kitchen, "rib-roast-on-oak", "--ribs", "4", "--want", "medium rare")
    assert 45 <= found["pull_c"] < 57
    answer = ask(capsys, kitchen, "rib-roast-on-oak", "--ribs", "4", "--want", "purple", code=2)
    assert answer["error"]["code"] == "unknown-name"


def test_a_pit_no_hotter_than_the_pull_never_gets_there(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    found = ask(capsys, kitchen, "--cut", "brisket, flat", "--weight", "2kg", "--pit", "90C", "--pull", "93C")
    assert found["reaches"] is False
    assert found["minutes_to_pull"]["p50"] is None


@pytest.mark.parametrize(
    ("option", "value"), [("--start", "80C"), ("--start", "-10C"), ("--pit", "40C"), ("--pit", "121")]
)
def test_what_cannot_be_is_refused_with_its_mend(
    kitchen: Path, capsys: pytest.CaptureFixture[str], option: str, value: str
) -> None:
    said = {"--pit": "121C", "--pull": "54C", option: value}
    words = [f"{key}={word}" for key, word in said.items()]
    answer = ask(capsys, kitchen, "--cut", "eye of round", "--weight", "1.5kg", *words, code=2)
    assert answer["error"]["mend"]


def test_an_open_cook_goes_on_from_its_readings(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    at = "2026-11-21T"
    log = ["--kitchen", str(kitchen), "--json"]
    main(["log", "start", "pork-loin-over-cherry", "--weight", "3kg", "--start", "5C", "--at", f"{at}10:00", *log])
    main(["log", "event", "on", "--at", f"{at}11:00", *log])
    for minute, core in ((20, 9), (40, 19), (60, 32)):
        main(["log", "reading", f"core={core}C", "--at", f"{at}{11 + minute // 60}:{minute % 60:02d}", *log])
    capsys.readouterr()
    found = ask(capsys, kitchen, "2026-11-21-pork-loin-over-cherry")
    plain = ask(capsys, kitchen, "pork-loin-over-cherry", "--weight", "3kg", "--start", "5C")
    width = found["minutes_to_pull"]["p90"] - found["minutes_to_pull"]["p10"]
    assert width < plain["minutes_to_pull"]["p90"] - plain["minutes_to_pull"]["p10"]
    assert found["minutes_to_pull"]["p10"] > 60


def test_a_kitchen_that_sets_learning_aside_reads_no_earlier_cook(
    kitchen: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def lessons(*_: object) -> list[object]:
        asked.append("asked")
        return []

    monkeypatch.setattr("cookbook.kitchen.forecasting.outlook.lessons", lessons)
    said = ("--cut", "pork loin, boneless", "--weight", "2.5kg", "--pit", "130C", "--pull", "60C")
    ask(capsys, kitchen, *said)
    assert asked == ["asked"]
    opened = Kitchen(kitchen)
    piece = outlook.piece_of(opened, "pork loin, boneless", {"": {"weight": "2.5 kg"}})
    wanted = outlook.of_cut(opened, piece, outlook.Asked(130.0, 60.0))
    settings = kitchen / "shared" / "kitchen.yaml"
    settings.write_text(settings.read_text(encoding="utf-8") + "learning: off\n", encoding="utf-8")
    ask(capsys, kitchen, *said)
    outlook.run(Kitchen(kitchen), wanted)
    assert asked == ["asked"]


@pytest.fixture
def cooking(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> str:
    """A loin that went on an hour ago, its core and its pit read three times, and a second probe at a depth."""
    at = "2026-11-21T"
    log = ["--kitchen", str(kitchen), "--json"]
    main(["log", "start", "pork-loin-over-cherry", "--weight", "3kg", "--start", "5C", "--at", f"{at}10:00", *log])
    main(["log", "event", "on", "--at", f"{at}11:00", *log])
    for minute, core, pit in ((20, 9, 118), (40, 19, 128), (60, 32, 124)):
        when = f"{at}{11 + minute // 60}:{minute % 60:02d}"
        main(["log", "reading", f"core={core}C", f"pit={pit}C", "--at", when, *log])
    main(["log", "reading", "core=47C", "--depth", "2cm", "--at", f"{at}12:01", *log])
    capsys.readouterr()
    return "2026-11-21-pork-loin-over-cherry"


def test_a_cook_goes_on_with_its_own_fire_and_answers_what_another_would_do(
    kitchen: Path, cooking: str, capsys: pytest.CaptureFixture[str]
) -> None:
    said = (cooking, "--no-learning")
    as_it_burns = ask(capsys, kitchen, *said)
    assert as_it_burns["curve"][-1]["pit_c"] == pytest.approx(123.0, abs=3.0)
    middles = [ask(capsys, kitchen, *said, "--pit", pit) for pit in ("105C", "150C")]
    slower, faster = (found["minutes_to_pull"]["p50"] for found in middles)
    assert faster < as_it_burns["minutes_to_pull"]["p50"] < slower
    assert middles[1]["curve"][-1]["pit_c"] == 150.0
    assert middles[1]["curve"][1]["pit_c"] == as_it_burns["curve"][1]["pit_c"]


def test_a_probe_at_a_depth_is_no_core(kitchen: Path, cooking: str) -> None:
    from cookbook.kitchen import Kitchen
    from cookbook.kitchen.forecasting.underway import underway

    opened = Kitchen.open(kitchen)
    so_far = underway(opened, opened.entry(cooking))
    assert [one.temp_c for one in so_far.readings if one.depth_cm is None] == [9, 19, 32]
    assert [(one.temp_c, one.depth_cm) for one in so_far.readings if one.depth_cm is not None] == [(47, 2)]
    assert [temp_c for _, temp_c in so_far.pit_log] == [118, 128, 124]


def test_a_reading_logged_after_a_later_one_is_put_in_its_place_and_that_is_said(
    kitchen: Path, cooking: str, capsys: pytest.CaptureFixture[str]
) -> None:
    from cookbook.kitchen import Kitchen
    from cookbook.kitchen.forecasting.underway import underway

    log = ["--kitchen", str(kitchen)]
    assert main(["log", "reading", "core=14C", "--at", "2026-11-21T11:30", *log]) == 0
    assert "12:01 is there already: readings count in the order of their times" in capsys.readouterr().err
    assert main(["log", "core 34, 50 at 2 cm", "--at", "2026-11-21T12:05", *log]) == 0
    assert main(["log", "event", "turned", "--at", "2026-11-21T11:10", *log]) == 0
    assert "order" not in capsys.readouterr().err
    opened = Kitchen.open(kitchen)
    read = underway(opened, opened.entry(cooking)).readings
    assert [(one.temp_c, one.depth_cm) for one in read] == [
        (9, None), (14, None), (19, None), (32, None), (47, 2), (34, None), (50, 2)
    ]


def test_a_pit_that_never_gets_there_says_so_once(kitchen: Path, capsys: pytest.CaptureFixture[str]) -> None:
    said = ["forecast", "--cut", "brisket, whole", "--pit", "90C", "--pull", "93C", "--kitchen", str(kitchen)]
    assert main([*said, "--weight", "5kg"]) == 0
    told = capsys.readouterr()
    assert (told.out + told.err).count("never reaches 93 °C in a pit of 90 °C") == 1
    main([*said, "--weight", "5kg", "--json"])
    assert len(json.loads(capsys.readouterr().out)["warnings"]) == 1


@pytest.mark.long
@pytest.mark.tenth
def test_in_the_rest_it_says_when_to_slice_and_how_long_it_keeps(
    kitchen: Path, cooking: str, capsys: pytest.CaptureFixture[str]
) -> None:
    log = ["--kitchen", str(kitchen), "--json"]
    main(["log", "event", "pulled", "--at", "2026-11-21T12:45", *log])
    main(["log", "reading", "core=61C", "--at", "2026-11-21T12:50", *log])
    capsys.readouterr()
    assert main(["forecast", cooking, "--no-learning", "--kitchen", str(kitchen)]) == 0
    said = capsys.readouterr().out
    assert "after the pull for 64 °C" in said or "does not carry the core to 64 °C" in said
    assert said.startswith("pulled after 1 h 45 min")
    assert "slicing now means" in said
    rest = ask(capsys, kitchen, cooking, "--no-learning")["rest"]
    assert set(rest) == {"slice_after_min", "slice_between_min", "now_c", "waits_min", "sentence"}
    assert rest["sentence"] in said
    assert "box" in said


@pytest.mark.parametrize("which", ["section", "slices", "tornado"])
def test_other_pictures_are_drawn(
    kitchen: Path, tmp_path: Path, which: str, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "picture.svg"
    said = ("--cut", "pork loin, boneless", "--weight", "2.5kg", "--pit", "130C", "--pull", "60C", "--no-learning")
    words = ["forecast", *said, "--draw", which, "--svg", str(file), "--kitchen", str(kitchen)]
    assert main(words) == 0
    drawn = {"section": "middle slice", "slices": "Slices from the end", "tornado": "hangs on"}[which]
    assert drawn in capsys.readouterr().out
    assert drawn in file.read_text(encoding="utf-8")
