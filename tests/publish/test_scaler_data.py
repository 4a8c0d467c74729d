"""What the page's scaler computes from, and the times behind it: kept when once worked out, and nothing missing."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest

from cookbook.kitchen import Kitchen
from cookbook.kitchen.forecasting.timetables import pieces_of
from cookbook.meat import Cut
from cookbook.publish import card
from cookbook.publish.content.gathering import gather
from cookbook.publish.forms.scaler import scaler
from tests.conftest import COOK, PASTE

Make = Callable[..., Kitchen]

BARE = COOK.replace("coats:\n  - recipe: walnut-paste\n", 'made_for: {cut: "pork loin, boneless", weight: 1 kg}\n')
FRENCHED = """\
kind: rub
title: Rack rub
made_for: {cut: "pork loin, bone in", ribs: 5, bones: "on", frenched: 6 cm}
ingredients:
  - item: fine salt
    amount: 1 % of boneless meat
"""


def data(kitchen: Kitchen, name: str, pieces: Any = None) -> dict[str, Any]:
    found = scaler(kitchen, gather(kitchen, name, pieces))
    assert found is not None
    return found


def test_a_cook_of_no_coat_has_its_times_and_a_page_that_reads_them(make_kitchen: Make) -> None:
    kitchen = make_kitchen({"recipes/bare.yaml": BARE})
    found = data(kitchen, "bare")
    assert found["batches"] == []
    assert found["times"]["own"][1] > 30
    assert "scaler-data" in card(kitchen, "bare", "page")


def test_what_never_gets_there_is_worked_out_once(make_kitchen: Make, monkeypatch: pytest.MonkeyPatch) -> None:
    cold = BARE.replace("130 °C", "70 °C").replace("pull_at: 60", "pull_at: 69")
    kitchen = make_kitchen({"recipes/cold.yaml": cold})
    assert gather(kitchen, "cold").times is None
    monkeypatch.setattr("cookbook.kitchen.forecasting.timetables.forecast", None)
    assert gather(kitchen, "cold").times is None


def test_a_frenched_rack_begins_as_it_is_and_keeps_its_shafts(make_kitchen: Make) -> None:
    kitchen = make_kitchen({"recipes/rack.yaml": FRENCHED})
    found = data(kitchen, "rack")
    assert found["own"]["frenched"] == 6
    assert found["own"]["ribs"] == 5
    assert found["cut"]["frenched"] is True
    assert 'name="frenched" inputmode="decimal" autocomplete' not in (page := card(kitchen, "rack", "page"))
    assert 'name="frenched" inputmode="decimal" value="6.0"' in page


def test_the_tape_of_the_cards_own_piece_stands_in_the_form(make_kitchen: Make) -> None:
    taped = PASTE.replace("  weight: 2.2 kg\n", "  length: 40 cm\n  girth: 34 cm\n  girth_ends: 32 cm, 37 cm\n")
    kitchen = make_kitchen({"recipes/taped.yaml": taped})
    assert data(kitchen, "taped")["own"]["tape"] == {"length": 40, "girth": 34, "thick": 37, "thin": 32}
    page = card(kitchen, "taped", "page")
    for name, value in (("length", 40.0), ("girth", 34.0), ("thick", 37.0), ("thin", 32.0)):
        assert f'name="{name}"' in page
        assert f'value="{value}"' in page
    assert '<details class="finer" open>' in page


def test_a_page_carries_numbers_only(kitchen: Kitchen) -> None:
    json.dumps(data(kitchen, "loin"), allow_nan=False)


def test_a_cut_that_grows_everywhere_is_run_from_a_lighter_to_a_heavier_piece_than_usual() -> None:
    cut = Cut.named("leg of lamb, bone in")
    low, high = cut.usual_kg
    (middle,), scales = pieces_of(cut.piece(mass_g=2500))
    for scale, usual, share in ((scales[0], low, 0.85), (scales[-1], high, 1.15)):
        assert middle.mass_g.mid / 1000 * scale**3 == pytest.approx(share * usual, rel=0.01)
    assert len(scales) == 5
    pieces, _ = pieces_of(Cut.named("pork loin, boneless").piece(mass_g=1500))
    low, high = Cut.named("pork loin, boneless").usual_kg
    assert [piece.mass_g.mid for piece in (pieces[0], pieces[-1])] == pytest.approx([850 * low, 1000 * high])
