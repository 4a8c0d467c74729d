"""What was to be expected of a cook: made once, kept in the cache, made again where anything it rests on changes."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from cookbook.cli import main
from cookbook.errors import RequestError
from cookbook.kitchen import Kitchen
from cookbook.kitchen.forecasting import outlook
from cookbook.kitchen.forecasting.expecting import expected
from tests.conftest import COOK, PASTE

ENTRY = """\
recipe: loin
from: {source}
date: "2026-11-21"
piece: {{weight: 2.6 kg, start: 6 °C}}
cooker: drum
events:
  - {{at: "2026-11-21T11:00:00+01:00", did: on}}
  - {{at: "2026-11-21T12:00:00+01:00", core: 30 °C, pit: 150 °C}}
  - {{at: "2026-11-21T12:55:00+01:00", core: 61 °C, pit: 154 °C}}
  - {{at: "2026-11-21T13:00:00+01:00", did: pulled}}
  - {{at: "2026-11-21T13:20:00+01:00", core: 64 °C, pit: 90 °C}}
"""
NAME = "2026-11-21-loin"


@pytest.fixture
def kitchen(make_kitchen: Callable[..., Kitchen]) -> Kitchen:
    """A kitchen with one finished cook that began with the recipe as it is kept."""
    made = make_kitchen({"recipes/walnut-paste.yaml": PASTE, "recipes/loin.yaml": COOK})
    assert main(["log", "start", "loin", "--weight", "2.6kg", "--at", "2026-11-21T09:00:00+01:00", "--start", "6C",
                 "--kitchen", str(made.root)]) == 0
    path = made.root / "journal" / "2026" / f"{NAME}.yaml"
    path.write_text(path.read_text(encoding="utf-8") + ENTRY[ENTRY.index("cooker:"):].format(), encoding="utf-8")
    return Kitchen.open(made.root)


def test_a_forecast_is_for_the_piece_in_the_pit_as_it_ran_and_made_once(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = []
    run = outlook.run

    def listen(*given: object, **options: object) -> object:
        asked.append(given[1])
        return run(*given, **options)  # type: ignore[arg-type]  # handed on as it came

    monkeypatch.setattr(outlook, "run", listen)
    found = expected(kitchen, kitchen.entry(NAME))
    assert found is not None
    assert found.p10 < found.p50 < found.p90
    (wanted,) = asked
    assert isinstance(wanted, outlook.Wanted)
    assert (wanted.pit_log, wanted.pull_c, wanted.start_c) == (((60, 150), (115, 154)), 61, 6)
    assert wanted.readings == ()
    assert wanted.piece.mass_g.mid == 2600
    assert expected(Kitchen.open(kitchen.root), kitchen.entry(NAME)) == found
    assert main(["last", "loin", "--kitchen", str(kitchen.root)]) == 0
    said = capsys.readouterr().out
    assert f"time to pull 120 min (forecast {found.p50:.0f}, {found.p10:.0f} to {found.p90:.0f})" in said
    assert len(asked) == 1


@pytest.mark.parametrize("file", [f"journal/2026/{NAME}.yaml", "shared/cookers.yaml"])
def test_it_is_made_again_where_what_it_rests_on_changes(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch, file: str
) -> None:
    asked = []

    def refuse(_kitchen: Kitchen, wanted: outlook.Wanted, **_options: object) -> None:
        asked.append(wanted)
        raise RequestError("no forecast here")

    monkeypatch.setattr(outlook, "run", refuse)
    assert expected(kitchen, kitchen.entry(NAME)) is None
    assert expected(kitchen, kitchen.entry(NAME)) is None
    assert len(asked) == 1
    path = kitchen.root / file
    path.parent.mkdir(exist_ok=True)
    before = path.read_text(encoding="utf-8") if path.exists() else "{}"
    path.write_text(f"{before}# a word more\n", encoding="utf-8")
    expected(kitchen, kitchen.entry(NAME))
    assert len(asked) == 2


def test_nothing_is_expected_of_a_cook_from_memory_or_without_a_pull(
    kitchen: Kitchen, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(outlook, "run", lambda *_given, **_options: pytest.fail("no forecast was to be made"))
    path = kitchen.root / "journal" / "2026" / f"{NAME}.yaml"
    whole = path.read_text(encoding="utf-8")
    path.write_text(whole.replace("did: pulled", "did: turned"), encoding="utf-8")
    assert expected(kitchen, kitchen.entry(NAME)) is None
    path.write_text(ENTRY.format(source="memory"), encoding="utf-8")
    assert expected(kitchen, kitchen.entry(NAME)) is None
