"""Amounts in the style of early cookery books, with the reading a cook expects: our own list, worked out by hand."""

from __future__ import annotations

import csv
from fractions import Fraction
from pathlib import Path

import pytest

from cookbook.errors import AmountError
from cookbook.quantity import Amount

with (Path(__file__).parent / "data" / "old_amounts.csv").open(encoding="utf-8", newline="") as _lines:
    ROWS = list(csv.DictReader(line for line in _lines if not line.startswith("#")))
READABLE = [row for row in ROWS if row["words"] != "error"]
REFUSED = [row["text"] for row in ROWS if row["words"] == "error"]


def test_there_are_two_hundred() -> None:
    assert len(READABLE) >= 200
    assert len({row["text"] for row in ROWS}) == len(ROWS)


@pytest.mark.parametrize("row", READABLE, ids=[row["text"] for row in READABLE])
def test_it_is_read_as_a_cook_reads_it(row: dict[str, str]) -> None:
    found = Amount.parse(row["text"])
    assert found.low == (Fraction(row["low"]) if row["low"] else None)
    assert found.high == (Fraction(row["high"]) if row["high"] else None)
    assert found.unit == row["unit"]
    assert found.words == (() if row["words"] in ("", "each") else (row["words"],))
    assert (found.each is not None) == (row["words"] == "each")


@pytest.mark.parametrize("text", REFUSED)
def test_what_is_no_amount_is_refused_with_a_mend(text: str) -> None:
    with pytest.raises(AmountError) as caught:
        Amount.parse(text)
    assert caught.value.mend
    assert 0 <= caught.value.offset < len(text)
