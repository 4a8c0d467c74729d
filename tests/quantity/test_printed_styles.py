"""Amounts as cookbooks of many decades and countries print them: our own list, the reading worked out by hand."""

from __future__ import annotations

from fractions import Fraction

import pytest

from cookbook.errors import AmountError
from cookbook.quantity import Amount


@pytest.mark.parametrize(("text", "low", "high", "unit", "words"), [
    ("2 table-spoonfuls", "2", "2", "tbsp", ()), ("1 tea-spoonful", "1", "1", "tsp", ()),
    ("1 dessert spoon", "1", "1", "dessertspoon", ()), ("half a tea spoon", "1/2", "1/2", "tsp", ()),
    ("level tablespoon", "1", "1", "tbsp", ()), ("a full cup", "1", "1", "cup", ()),
    ("a good handful", "1", "1", "handful", ("generous",)), ("2 good handfuls", "2", "2", "handful", ("generous",)),
    ("good 2 tbsp", "2", "2", "tbsp", ("generous",)), ("a bare teaspoon", "1", "1", "tsp", ("scant",)),
    ("nearly 1 cup", "1", "1", "cup", ("scant",)), ("not quite 1 cup", "1", "1", "cup", ("scant",)),
    ("just under 2 cups", "2", "2", "cup", ("scant",)), ("a little over 1 cup", "1", "1", "cup", ("generous",)),
    ("just over ½ cup", "1/2", "1/2", "cup", ("generous",)), ("2 tbsp, heaped", "2", "2", "tbsp", ("heaping",)),
    ("1 tsp heaped", "1", "1", "tsp", ("heaping",)), ("3 tsp level", "3", "3", "tsp", ()),
    ("a big pinch", "1", "1", "pinch", ("large",)), ("3 fat cloves", "3", "3", "clove", ("large",)),
    ("2 med.", "2", "2", "", ("medium",)), ("1 lge.", "1", "1", "", ("large",)),
    ("1 medium-sized bunch", "1", "1", "bunch", ("medium",)), ("2 thick slices", "2", "2", "slice", ("thick",)),
    ("6 thin slices", "6", "6", "slice", ("thin",)), ("1 whole head", "1", "1", "head", ()),
    ("1/2 a bunch", "1/2", "1/2", "bunch", ()), ("½ a lemon", "1/2", "1/2", "lemon", ()),
    ("juice of 1/2 a lemon", "1/2", "1/2", "lemon", ("juice of",)),
    ("juice from 2 big lemons", "2", "2", "lemon", ("juice of", "large")),
    ("a pinch or two", "1", "2", "pinch", ()), ("1 tbsp or 2", "1", "2", "tbsp", ()),
    ("a clove or two", "1", "2", "clove", ()), ("from 1 to 2 cups", "1", "2", "cup", ()),
    ("between 1 and 1 1/2 lb", "1", "3/2", "lb", ()), ("between ½ and 1 tsp", "1/2", "1", "tsp", ()),
    ("2 tbsp plus more for the pan", "2", "2", "tbsp", ("as needed",)),
    ("1 tbsp, plus extra for brushing", "1", "1", "tbsp", ("as needed",)), ("1 tbsp plus more", "1", "1", "tbsp",
                                                                          ("as needed",)),
    ("3 grinds", "3", "3", "grind", ()), ("a thumb", "1", "1", "thumb", ()), ("2 branches", "2", "2", "branch", ()),
    ("a glug", "1", "1", "glug", ()), ("a squeeze", "1", "1", "squeeze", ()),
    ("1 wineglassful", "1", "1", "wineglass", ()), ("half a teacupful", "1/2", "1/2", "teacup", ()),
    ("a pound and a half", "3/2", "3/2", "lb", ()), ("one teaspoonful and a half", "3/2", "3/2", "tsp", ()),
    ("small pinch", "1", "1", "pinch", ("small",)), ("big handful", "1", "1", "handful", ("large",)),
    ("juice of 1 lemon, or to taste", "1", "1", "lemon", ("juice of", "to taste")),
    ("1 ladleful", "1", "1", "ladle", ()), ("1 small (2-inch) piece", "1", "1", "piece", ("small",)),
    ("1 env.", "1", "1", "packet", ()), ("15 g per kg", "3/2", "3/2", "percent of meat", ()),
    ("15 g/kg", "3/2", "3/2", "percent of meat", ()), ("½ oz per lb of meat", "25/8", "25/8", "percent of meat", ()),
    ("10-12 g/kg of boneless meat", "1", "6/5", "percent of boneless meat", ()),
])
def test_it_is_read_as_a_cook_reads_it(text: str, low: str, high: str, unit: str, words: tuple[str, ...]) -> None:
    found = Amount.parse(text)
    assert (found.low, found.high, found.unit, found.words) == (Fraction(low), Fraction(high), unit, words)
    for written in (found.ascii(), found.typographic(), str(found)):
        assert Amount.parse(written).canonical() == found.canonical()


@pytest.mark.parametrize(("text", "low", "base", "beside"), [
    ("¼ cup + 2 tbsp (90 ml)", "3/8", "cup", 90), ("1 lb plus 2 oz (510 g)", "9/8", "lb", 510),
    ("1 bunch, about 2 oz", "1", "bunch", 56.7), ("1 bunch about 60 g", "1", "bunch", 60),
    ("4 oz = 113 g", "4", "oz", 113), ("1/2 stick (2 oz)", "1/2", "stick", 56.7),
    ("juice of 1 lemon (about 3 tbsp)", "1", "lemon", 44.4), ("2 cloves, ca. 10 g", "2", "clove", 10),
])
def test_the_same_amount_said_again(text: str, low: str, base: str, beside: float) -> None:
    found = Amount.parse(text)
    assert (found.low, found.unit) == (Fraction(low), base)
    assert found.beside is not None
    assert found.beside.mid == pytest.approx(beside, rel=0.01)
    for written in (found.ascii(), found.typographic(), str(found)):
        assert Amount.parse(written).canonical() == found.canonical()


def test_juice_weighs_what_it_weighs_with_its_spoons_beside() -> None:
    plain, beside = (Amount.parse(text).grams("lemon") for text in ("juice of 1 lemon", "juice of 1 lemon (3 tbsp)"))
    assert plain is not None
    assert plain == beside


@pytest.mark.parametrize("text", ["enough to coat", "for the pan", "for dusting"])
def test_no_number_and_none_needed(text: str) -> None:
    assert (Amount.parse(text).kind, Amount.parse(text).words) == ("free", ("as needed",))


@pytest.mark.parametrize(("text", "offset", "says", "mend"), [
    ("1 cup of flour", 9, "'flour' is no unit", "'flour' goes under `item:`"),
    ("5 # potatoes", 4, "'potatoes' is no unit", "'potatoes' goes under `item:`"),
    ("1 tbsp olive oil", 7, "'olive' is no unit", "'olive oil' goes under `item:`"),
    ("4 sprigs' worth", 8, "is no unit", "`item:`"),
    ("#10 can", 0, "doesn't say what is in it", "what its label says"), ("No. 2 can", 0, "doesn't say", "label"),
    ("1 #10 can", 3, "doesn't say what is in it", "what its label says"),
    ("1 tsp each", 6, "'each' of what?", "a line of its own"), ("250 g per person", 6, "'per' what?", "15 g per kg"),
    ("1 tsp per lb", 0, "only a weight can be a share", "weigh it once"),
    ("2 kg per lb", 0, "can't be written down", "% of meat"),
    ("1 cup cup", 6, "one too many", "joined by a word"), ("1 cup 2", 6, "one too many", "joined by a word"),
    ("1 cup plus", 6, "'plus' what?", "behind it"),
    ("1 large or 2 small", 8, "is another amount", "write one of them"),
    ("1/2/3 cup", 3, "no unit", "number and a unit"), ("from 1 cup", 0, "to what?", "1-2"),
    ("1 cup + 2 tbsp (30 ml)", 6, "does not say the whole sum", "all of it"), ("500 gr", 4, "a gram or a grain", "g"),
    ("1 tsp lemon zest", 6, "'lemon' is no unit", "'lemon zest' goes under `item:`"),
    ("2 spoons", 2, "which spoon?", "tbsp"), ("1 bunch, about", 7, "no part of an amount", "prep"),
    ("between 2 and 1 cups", 0, "falling range", "smaller number first"), ("from cup", 5, "how many", "1 cup"),
])
def test_it_is_refused_at_its_place_with_a_mend(text: str, offset: int, says: str, mend: str) -> None:
    with pytest.raises(AmountError, match=r".") as caught:
        Amount.parse(text)
    assert (caught.value.offset, says in caught.value.message) == (offset, True), caught.value.message
    assert mend in (caught.value.mend or "")


@pytest.mark.parametrize(("text", "written"), [
    ("1 cup less 1 tbsp", "15/16 cup"), ("1/32 tsp", "1/32 tsp"), ("2 1/16 lb", "2 1/16 lb"),
    ("0.0625 g", "0.0625 g"),
])
def test_small_parts_are_written_as_parts(text: str, written: str) -> None:
    assert Amount.parse(text).ascii() == written
    assert Amount.parse(Amount.parse(text).typographic()) == Amount.parse(text)
