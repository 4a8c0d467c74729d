"""Clean words, figures in both systems, both scales in a sentence."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.publish import wording
from cookbook.quantity import Temperature


@pytest.mark.parametrize(("said", "shown"), [
    ("pull at 60 °C in the middle", "pull at 60 °C (140 °F) in the middle"),
    ("past 72°C, then wrap", "past 72°C (162\u00a0°F), then wrap"),
    ("keep the pit at 120-130 °C", "keep the pit at 120-130 °C (248–266 °F)"),
    ("a pit of 250 °F", "a pit of 250 °F (121 °C)"),
    ("sear at 550F, pull at 52C.", "sear at 550F (288 °C), pull at 52C (126 °F)."),
])
def test_a_temperature_in_a_step_gets_the_other_scale(said: str, shown: str) -> None:
    assert wording.both_scales(said).replace("\u00a0", " ") == shown.replace("\u00a0", " ")


@pytest.mark.parametrize("said", [
    "it climbs another 25 °C", "let it rise by about 30 °C", "the back runs 80 °F hotter", "within 25 °C of the pit",
    "the fire is 30 °C cooler", "keep it 70F under the pit", "a box of 3C", "90 C of them",
    "ten degrees: 10 °C", "60 °C (140 °F) is the pull", "60 °C/140 °F", "stir in 3 C of water", "no figure at all",
])
def test_a_difference_and_what_has_both_scales_stay_as_written(said: str) -> None:
    assert wording.both_scales(said) == said


@given(st.text(max_size=60))
def test_no_sentence_breaks_on_its_way_to_a_card(said: str) -> None:
    shown = wording.bound(wording.both_scales(wording.sentence(wording.spoken(said))))
    assert "\n" not in shown
    assert wording.spoken(wording.spoken(said)) == wording.spoken(said)


def test_signs_that_turn_the_text_behind_them_or_hide_are_dropped_and_joiners_stay() -> None:
    assert wording.spoken("a\u202eb\u2066c\u0007d\ufeff\n e") == "abcd e"
    assert wording.spoken("👩‍🍳 לחם") == "👩‍🍳 לחם"
    assert wording.spoken("cre\u0300me") == "crème"


def test_a_weight_stands_in_both_systems() -> None:
    assert wording.mass(2200) == ("2.2\u00a0kg", "4.9\u00a0lb")
    assert wording.mass(453.59237) == ("0.45\u00a0kg", "1\u00a0lb")
    assert wording.made(283.495) == ("283\u00a0g", "10\u00a0oz")
    assert wording.made(999.4) == ("999\u00a0g", "35\u00a0oz")
    assert wording.made(1200) == ("1.2\u00a0kg", "2.6\u00a0lb")
    assert wording.made(56.699) == ("57\u00a0g", "2\u00a0oz")


@pytest.mark.parametrize(("written", "shown"), [
    ("1 1/2 cups + 1/2 tsp", "1½ cups + ½ tsp"), ("3-4 tbsp", "3–4 tbsp"), ("1/3 cup", "⅓ cup"), ("60 g", "60 g"),
    ("11/12 cup", "11/12 cup"), ("to taste", "to taste"), ("1.1 % of meat", "1.1 % of meat"),
])
def test_fractions_and_ranges_as_cards_print_them(written: str, shown: str) -> None:
    assert wording.typographic(written).replace("\u00a0", " ") == shown


def test_a_temperature_as_written_comes_first() -> None:
    assert wording.degrees(Temperature.parse("130 °C")) == ("130\u00a0°C", "266\u00a0°F")
    assert wording.degrees(Temperature.parse("250F")) == ("250\u00a0°F", "121\u00a0°C")


@pytest.mark.parametrize(("measures", "words"), [
    ("us", "Cups and spoons are US, level: 1 cup is 237 ml, 1 tbsp is 14.8 ml, 1 tsp is 4.93 ml."),
    ("au", "Cups and spoons are Australian, level: 1 cup is 250 ml, 1 tbsp is 20 ml, 1 tsp is 5 ml."),
    ("uk", "Spoons are UK, level: 1 tbsp is 15 ml, 1 tsp is 5 ml."),
    ("jp", "Cups and spoons are Japanese, level: 1 cup is 200 ml, 1 tbsp is 15 ml, 1 tsp is 5 ml."),
])
def test_a_card_says_which_cups_and_spoons_it_means(measures: str, words: str) -> None:
    assert wording.measures_words(measures).replace("\u00a0", " ") == words


def test_no_line_ends_between_a_figure_and_its_unit() -> None:
    assert wording.bound("2 kg at 60 °C for 3 h, 2 cups") == "2\u00a0kg at 60\u00a0°C for 3\u00a0h, 2 cups"


@pytest.mark.parametrize(("said", "shown"), [
    ("1:30–3:25 h:min in the pit", "1 h 30 min to 3 h 25 min in the pit"), ("0:45", "45 min"), ("2:00", "2 h"),
    ("check from, h:min 10:05", "check from 10 h 5 min"), ("1:00–1:40 or longer", "1 h to 1 h 40 min or longer"),
    ("60 °C", "60 °C"),
])
def test_spans_spelt_out(said: str, shown: str) -> None:
    assert wording.in_words(said).replace("\u00a0", " ") == shown


def test_words_in_a_row_and_sentences() -> None:
    assert wording.row(["sage, fresh", "oil"]) == "sage, fresh; oil"
    assert wording.row(["salt", "oil"]) == "salt, oil"
    assert wording.listed(["salt"]) == "salt"
    assert wording.listed(["salt", "oil", "sage"], "or") == "salt, oil or sage"
    assert [wording.sentence(words) for words in ("", "rest it", "Done!")] == ["", "Rest it.", "Done!"]
