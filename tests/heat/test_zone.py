"""Doneness bands: they touch, begin below rare, differ by species, and poultry has none called done below 73.9 °C."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import UnknownName
from cookbook.heat import band_of, bands
from cookbook.heat.zone import shares
from cookbook.table import source

SPECIES = ["beef", "lamb", "veal", "venison", "pork", "chicken", "turkey", "duck", "goose"]


@pytest.mark.parametrize("species", SPECIES)
@pytest.mark.parametrize("scale", ["trade", "household"])
def test_bands_touch_from_the_coldest_to_the_hottest(species: str, scale: str) -> None:
    found = bands(species, scale)
    assert found[0].low_c is None
    assert found[-1].high_c is None
    assert all(low.high_c == high.low_c for low, high in pairwise(found))
    assert all(source(band.source).title for band in found)


def test_beef_in_the_trade_is_rare_from_49_and_medium_rare_from_54() -> None:
    # Several beef-trade pages agree (final core): rare 49 to 52, medium rare 54 to 57, medium 60 to 63, well from 71.
    said = {temp: band_of(temp, "beef").name for temp in (40.0, 47.0, 50.0, 55.0, 61.0, 67.0, 72.0)}
    assert list(said.values()) == ["raw", "very rare", "rare", "medium rare", "medium", "medium well", "well done"]


def test_the_laboratory_calls_the_same_words_six_to_ten_kelvin_hotter() -> None:
    trade = {band.name: band.low_c for band in bands("beef")}
    lab = {band.name: band.low_c for band in bands("beef", "household")}
    for name in ("rare", "medium rare", "medium"):
        assert 5 < (lab[name] or 0) - (trade[name] or 0) < 12


@pytest.mark.parametrize("bird", ["chicken", "turkey", "duck", "goose"])
def test_no_bird_is_called_done_below_73_9(bird: str) -> None:
    for scale in ("trade", "household"):
        for band in bands(bird, scale):
            if "done" in band.name and "not" not in band.name:
                assert band.low_c is not None
                assert band.low_c >= 73.9


def test_an_unknown_scale_names_the_known_ones() -> None:
    with pytest.raises(UnknownName, match="stars"):
        bands("beef", "stars")


@given(st.lists(st.floats(-5, 110), min_size=1, max_size=40))
def test_shares_of_any_field_add_up_to_one(temps: list[float]) -> None:
    field = np.array(temps)[:, None]
    zones = shares(field, np.ones(len(temps)), bands("beef"))
    assert sum(zone.share for zone in zones) == pytest.approx(1.0)
