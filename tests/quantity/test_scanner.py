"""Numbers in a text, and the places of its tokens."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import AmountError
from cookbook.quantity.scanner import Scanner, number


@pytest.mark.parametrize(("text", "value", "left"), [
    ("1 1/2 cup", "3/2", "cup"), ("1 3/2", "1", "3/2"), ("1 2", "1", "2"), ("1 - 1/2", "1", "- 1/2"),
    ("0-1/2", "0", "-1/2"),
    ("1-1 1/2", "1", "-1 1/2"), ("1 & 1/2 c", "3/2", "c"), ("1 and 2", "1", "and 2"), ("three and a half", "7/2", ""),
    ("one and two", "1", "and two"),
    ("two-thirds", "2/3", ""), ("one third", "1/3", ""), ("a quarter of", "1/4", "of"), ("quarter cup", "1/4", "cup"),
    ("half an ounce", "1/2", "ounce"), ("a half", "1/2", ""), ("1/2 dozen", "6", ""), ("a dozen", "12", ""),
    ("1.5.2", "3/2", ".2"),
    ("1. cup", "1", ". cup"), ("1,50 l", "3/2", "l"), ("12,345 g", "12345", "g"), ("1 / 2 cup", "1/2", "cup"),
    ("twenty", "20", ""),
])
def test_a_number_and_what_is_left(text: str, value: str, left: str) -> None:
    scan = Scanner(text)
    assert number(scan) == Fraction(value)
    assert scan.rest() == left


@pytest.mark.parametrize("text", ["cup", "", "-1", "+1", "and a half", "e5", ". 5", "¹", "٣"])
def test_what_is_no_number(text: str) -> None:
    assert number(Scanner(text)) is None


@pytest.mark.parametrize("text", ["1" * 10, "1." + "2" * 10, "1/" + "3" * 10, "1 1/" + "3" * 10, "999,999,999,999"])
def test_more_digits_than_a_kitchen_needs_are_refused_before_any_arithmetic(text: str) -> None:
    with pytest.raises(AmountError, match="digits"):
        number(Scanner(text))


def test_a_text_longer_than_an_amount_is_refused_before_it_is_read() -> None:
    with pytest.raises(AmountError, match="201 letters"):
        Scanner("a" * 201)


@given(st.text(max_size=200))
def test_every_letter_but_blanks_lies_in_exactly_one_token(text: str) -> None:
    scan = Scanner(text)
    spans = zip(scan.starts[:-1], scan.ends[:-1], strict=True)
    covered = [place for start, end in spans for place in range(start, end)]
    assert covered == sorted(set(covered))
    assert all(scan.text[place].isspace() for place in set(range(len(text))) - set(covered))
