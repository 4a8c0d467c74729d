"""Amounts written out: what is read back is the same amount, in files and on cards."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cookbook.quantity import Amount
from cookbook.quantity.number import ascii_number, decimal, sign_number
from tests.quantity.writing import AMOUNT


@given(AMOUNT)
@settings(max_examples=600)
def test_what_is_written_reads_back_as_the_same_amount(text: str) -> None:
    found = Amount.parse(text)
    assert Amount.parse(found.ascii()).canonical() == found.canonical()
    assert Amount.parse(str(found)).canonical() == found.canonical()
    assert Amount.parse(found.typographic()).canonical() == found.canonical()


@given(AMOUNT)
def test_files_hold_ascii_and_writing_twice_changes_nothing(text: str) -> None:
    written = Amount.parse(text).ascii()
    assert written.isascii()
    assert Amount.parse(written).ascii() == written


@pytest.mark.parametrize(("text", "in_files", "on_cards"), [
    ("1½ c", "1 1/2 cups", "1½\u00a0cups"), ("3 – 4 T", "3-4 tbsp", "3–4\u00a0tbsp"),
    ("half a bunch", "1/2 bunch", "½\u00a0bunch"),
    ("0.75 cup", "3/4 cup", "¾\u00a0cup"), ("2.25 lbs", "2 1/4 lb", "2¼\u00a0lb"),
    ("1/3 kg", "1/3 kg", "1/3\u00a0kg"),
    ("1,5 kg", "1.5 kg", "1.5\u00a0kg"), ("1.2% of the meat", "1.2 % of meat", "1.2\u00a0% of meat"),
    ("2 leaves", "2 leaves", "2\u00a0leaves"),
    ("1 leaf", "1 leaf", "1\u00a0leaf"), ("a 14-oz can", "1 (14 oz) can", "1\u00a0(14\u00a0oz)\u00a0can"),
    ("~ 60g", "about 60 g", "about 60\u00a0g"),
    ("2 heaped tablespoons", "2 heaping tbsp", "2\u00a0heaping\u00a0tbsp"),
    ("1 packed cup", "1 cup packed", "1\u00a0cup packed"),
    ("juice of half a lemon", "juice of 1/2 lemon", "juice of ½\u00a0lemon"),
    ("a few grains", "a few grains", "a\u00a0few grains"),
    ("1 1/2 cups (90 g)", "1 1/2 cups (90 g)", "1½\u00a0cups (90\u00a0g)"), ("0.4 cup", "0.4 cup", "0.4\u00a0cup"),
    ("2 pinches", "2 pinches", "2\u00a0pinches"),
    ("½–1 cup", "1/2-1 cup", "½–1\u00a0cup"), ("1-2 lemons", "1-2 lemons", "1–2\u00a0lemons"),
])
def test_files_and_cards(text: str, in_files: str, on_cards: str) -> None:
    found = Amount.parse(text)
    assert found.ascii() == in_files
    assert found.typographic() == on_cards


def test_the_text_as_written_is_kept_where_it_is_plain() -> None:
    assert str(Amount.parse("1/4 cup")) == "1/4 cup"
    assert str(Amount.parse("half  a   bunch")) == "half a bunch"
    assert str(Amount.parse("1½ cups")) == "1 1/2 cups"


@given(st.fractions(min_value=0, max_value=1000, max_denominator=999))
def test_numbers_with_short_fractions_are_written_exactly(value: Fraction) -> None:
    for text in (ascii_number(value), decimal(value)):
        whole, _, part = text.rpartition(" ")
        assert Fraction(whole or 0) + Fraction(part) == value


@given(st.fractions(min_value=Fraction(1, 10**5), max_value=10**5))
def test_long_fractions_are_written_to_six_places(value: Fraction) -> None:
    written = decimal(value)
    assert len(written) < 18
    assert abs(Fraction(written) - value) <= Fraction(1, 10**6)


def test_fifths_are_decimals_and_eighths_are_fractions() -> None:
    assert ascii_number(Fraction(22, 5)) == "4.4"
    assert ascii_number(Fraction(35, 8)) == "4 3/8"
    assert sign_number(Fraction(35, 8)) == "4⅜"
    assert sign_number(Fraction(2)) == "2"


@pytest.mark.parametrize("text", ["7 (7 mm) pieces", "2 (5 in) pieces", "3 (1.5 cm) pieces"])
def test_the_length_of_a_piece_keeps_its_unit(text: str) -> None:
    assert Amount.parse(text).ascii() == text
    assert Amount.parse(Amount.parse(text).ascii()).canonical() == Amount.parse(text).canonical()
