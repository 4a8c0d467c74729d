"""Whatever is typed: an amount or an AmountError, never another exception, never a hang, never a number out of
bounds."""

from __future__ import annotations

import random
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cookbook.errors import AmountError, CookbookError
from cookbook.quantity import Amount, Duration, Temperature, TemperatureDifference, allergens, lookup, read_length_cm

PIECES = (
    "1", "2", "12", "400", "1/2", "1 1/2", "½", "⅔", "0", "1e999", "9" * 12, "1,5", "1,000", ".5", "-", "–", "to",
    "or", "and", "plus", "+", "minus",
    "less", "a", "an", "half", "dozen", "two", "few", "couple", "of", "several", "about", "~", "cup", "cups", "tbsp",
    "T", "t", "c", "oz", "fl", "fl oz",
    "lb", "#", "g", "kg", "ml", "l", "can", "cans", "(", ")", "(400 g)", "14-oz", "x", "×", "%", "% of meat",
    "of meat", "boneless", "percent", "per",
    "cent", "to taste", "as needed", "for", "serving", "juice", "zest", "lemon", "lemons", "heaping", "scant",
    "packed", "firmly", "sifted", "chopped",
    "small", "large", "extra", "extra-large", "metric", "US", "label", "Australian", "dry", "pint", "pinch", "grains",
    "clove", "inch", '"', "in", ".", ",",
    "/", "&", "°", "C", "F", "min", "h", ":", "each", "\u00a0", "\u2044", "\u2013", "\t", "\n", "'", "²", "٣", "Ⅳ",
    "\u200b", "é", "ß", "İ",
    "good", "nearly", "just", "under", "a little over", "whole", "thick", "med", "-sized", "heaped", "from",
    "between", "/kg", "per lb", "table", "spoonful", "more", "for the pan", "thumb", "wineglass", "=",
    "and a half", "(2 oz)", ", about", "gr", "spoon",
)
READERS = (Amount.parse, Temperature.parse, TemperatureDifference.parse, Duration.parse, read_length_cm)
SLOWEST_S = 0.25


def checked(text: str) -> None:
    """Read `text` in every way and hold each answer to its bounds."""
    for reader in READERS:
        try:
            found = reader(text)
        except CookbookError:
            continue
        if isinstance(found, Amount):
            in_bounds(found)


def in_bounds(found: Amount) -> None:
    """Numbers in order and of a kitchen's size; what is written reads back."""
    if found.low is not None and found.high is not None:
        assert 0 <= found.low <= found.high < 10**14
    assert Amount.parse(found.ascii()).canonical() == found.canonical()


def typed(chance: random.Random) -> str:
    """A text of pieces that amounts are made of, with a slip now and then."""
    text = "".join(chance.choice(PIECES) + chance.choice(("", " ", " ", " ")) for _ in range(chance.randint(1, 9)))
    if text and chance.random() < 0.2:
        place = chance.randrange(len(text))
        text = text[:place] + chance.choice(("", chr(chance.randrange(32, 0x2fff)))) + text[place + 1:]
    return text


@given(st.text(max_size=80))
@settings(max_examples=400)
def test_any_text(text: str) -> None:
    checked(text)


@given(st.lists(st.sampled_from(PIECES), max_size=10), st.sampled_from(["", " "]))
@settings(max_examples=600)
def test_any_row_of_an_amounts_pieces(pieces: list[str], blank: str) -> None:
    checked(blank.join(pieces))


@given(st.binary(max_size=100))
def test_any_bytes(data: bytes) -> None:
    checked(data.decode("utf-8", "replace"))


@pytest.mark.parametrize("piece", [*PIECES, "1 cup ", "1 + ", "(1 ", "a a ", "1-", "one and ", "1/", "half a ",
                                   "1 lb ", "2 x "])
def test_a_piece_over_and_over_takes_no_time(piece: str) -> None:
    start = time.process_time()
    for text in (piece * 2000, (piece + " ") * (200 // (len(piece) + 1))):
        checked(text)
    assert time.process_time() - start < SLOWEST_S


@pytest.mark.long
@pytest.mark.parametrize("seed", range(10))
def test_a_million_texts(seed: int) -> None:
    """Ten times a hundred thousand; a seeded tenth is one of them."""
    chance = random.Random(seed)
    slowest = 0.0
    for _ in range(100_000):
        text = typed(chance)
        start = time.process_time()
        checked(text)
        slowest = max(slowest, time.process_time() - start)
    assert slowest < SLOWEST_S


@given(st.lists(st.sampled_from(PIECES), max_size=8).map(" ".join))
def test_any_words_as_an_item(item: str) -> None:
    assert lookup(item) is None or allergens(item) is not None


@pytest.mark.parametrize("text", ["2+2/92+2-9/29", "1/92 + 1/29", "1/92 + 1/29 cup"])
def test_parts_that_no_number_says_are_refused_in_any_sum(text: str) -> None:
    checked(text)
    with pytest.raises(AmountError, match="added up"):
        Amount.parse(text)
