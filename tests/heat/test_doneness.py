"""The words for a doneness: the trade's own, some that mean them, and none that is not served."""

from __future__ import annotations

import pytest

from cookbook.errors import RequestError
from cookbook.heat import bands
from cookbook.heat.doneness import NOT_SERVED, doneness, served


@pytest.mark.parametrize(
    ("said", "meant"), [("medium rare", "medium rare"), ("Medium-Rare", "medium rare"), ("well", "well done"),
                        ("  BLUE ", "very rare"), ("pink", "pink")],
)  # fmt: skip
def test_words_are_read_as_the_bands_own(said: str, meant: str) -> None:
    assert doneness(said) == meant


@pytest.mark.parametrize("said", ["purple", "raw", "underdone", "not done", ""])
def test_what_nobody_serves_is_refused_with_what_is_known(said: str) -> None:
    with pytest.raises(RequestError) as fault:
        doneness(said)
    assert "medium rare" in (fault.value.mend or "")


def test_every_band_of_the_trade_is_served_or_named_as_not() -> None:
    species = ("beef", "pork", "lamb", "veal", "venison", "chicken")
    names = {band.name for one in species for band in bands(one)}
    assert names - set(NOT_SERVED) == set(served())
