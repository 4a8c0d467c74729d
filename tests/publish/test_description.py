"""The text under a film.

The limit and the banned signs: a video platform's public data-interface documentation (5,000 bytes, any valid UTF-8
except the angle brackets).
"""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cookbook.publish.content import Answer, Chapter, Content, Fact, Film, Grid, Item
from cookbook.publish.forms.description import MOST_BYTES, TRIMMED, description
from tests.publish.cards import CAUTIONS, COOK_CARD, ITEMS, PASTE, PASTE_CARD


def with_steps(card: Content, steps: tuple[str, ...]) -> Content:
    return card._replace(batches=(card.batches[0]._replace(steps=steps), *card.batches[1:]))


def left_out(shown: str) -> list[str]:
    last = shown.splitlines()[-1]
    start = "Left out here for length: "
    return last.removeprefix(start).partition(". ")[0].split(", ") if last.startswith(start) else []


def test_the_first_lines_carry_dish_yield_and_address() -> None:
    first, second, *_ = description(PASTE_CARD).splitlines()
    assert first.startswith("Fennel and sage paste. Makes about 189 g (6.7 oz): enough to coat pork loin")
    assert second == "https://example.org/cards"


def test_a_cook_says_what_fire_and_thermometer_must_show_before_any_ingredient() -> None:
    shown = description(COOK_CARD)
    figures = ("130 °C (266 °F) pit, drum, charcoal, cherry · 60 °C (140 °F) pull, in the thickest part"
               " · 25 min rest, tented")
    assert shown.index(figures) < shown.index("12 cloves (about 62 g) garlic, minced") < shown.index("METHOD")


def test_a_card_of_usual_length_leaves_nothing_out() -> None:
    for card in (PASTE_CARD, COOK_CARD):
        shown = description(card)
        assert not left_out(shown)
        assert all(step in shown for batch in card.batches for step in batch.steps)
        assert "80 ml (⅓ cup, 73 g) olive oil; until it drops slowly from the spoon; keep back 10 ml" in shown
        assert "4.5 kg (9.9 lb): 117 g garlic; 57 g sage, fresh; 138 g olive oil; 46 g fine salt" in shown


def full(steps: int, items: int) -> Content:
    """A cook's card with something of every part that may be left out."""
    grids = tuple(
        Grid(key, key, (("1 kg", "2.2 lb"), ("2 kg", "4.4 lb")), ((key, ("1:20–3:00", "1:30–3:25")),), 0, "", True)
        for key in ("times", "doneness", "cookers")
    )
    listed = tuple(
        Item(("about 120 g", "½ cup + 1 tbsp + 1½ tsp"), f"an ingredient number {number} of a long name", "minced",
             ("or one that is as good but not the same",), 120.0)
        for number in range(items)
    )
    batch = PASTE._replace(items=listed, sizes=(), steps=())
    return COOK_CARD._replace(
        batches=(batch, PASTE), steps=tuple(f"Step {n} " + "stirs on and on " * 5 for n in range(steps)), grids=grids,
        keeping=("Keeps three days.",), answers=(Answer("Does it work?", "It does."),),
    )


def test_it_is_trimmed_in_the_order_that_is_stated() -> None:
    seen = [left_out(description(full(*size))) for size in ((0, 0), (12, 0), (30, 0), (60, 0), (60, 30), (60, 250))]
    assert all(one == list(TRIMMED[: len(one)]) for one in seen)
    assert seen[0] == []
    assert seen[-1] == list(TRIMMED)
    assert len({len(one) for one in seen}) >= 4


def test_what_was_never_there_is_not_said_to_be_left_out() -> None:
    gone = left_out(description(with_steps(PASTE_CARD, ("stir " * 100,) * 30)))
    assert gone == ["amounts for other sizes", "method"]


def test_times_are_spelt_out_since_a_platform_takes_figures_with_a_colon_for_times_of_the_film() -> None:
    """A platform begins its chapters at the first `0:00` it finds and wants them ascending."""
    film = Film("", "", "", 300, (Chapter(0, "one"), Chapter(60, "two"), Chapter(120, "three")))
    facts = (Fact("time", "1:30–3:25", "", "h:min in the pit"), Fact("check", "0:45", "", "h:min, then check"))
    shown = description(full(2, 0)._replace(film=film, facts=facts))
    assert "1 h 30 min to 3 h 25 min in the pit · 45 min, then check" in shown
    assert "2 kg (4.4 lb): times 1 h 30 min to 3 h 25 min" in shown
    assert re.findall(r"\d+:\d\d", shown) == ["0:00", "1:00", "2:00"]


def test_two_hundred_ingredients_become_a_count() -> None:
    items = tuple(item._replace(item=f"{item.item} number {number}") for number in range(50) for item in ITEMS)
    shown = description(PASTE_CARD._replace(batches=(PASTE._replace(items=items, sizes=()),)))
    assert len(shown.encode()) <= MOST_BYTES
    assert left_out(shown) == ["method", "second measures", "asides", "ingredients"]
    assert "200 in all; the card lists them." in shown


@settings(max_examples=60, deadline=None)
@given(title=st.text(min_size=1, max_size=400), step=st.text(max_size=300), steps=st.integers(0, 60),
       copies=st.integers(0, 40), cook=st.booleans())
def test_whatever_is_written_it_fits_and_no_caution_is_lost(title: str, step: str, steps: int, copies: int,
                                                            cook: bool) -> None:
    card = COOK_CARD if cook else PASTE_CARD
    batch = card.batches[0]._replace(title=title, items=tuple(ITEMS) * copies, sizes=(), steps=(step,) * steps)
    card = card._replace(title=title, author=title, batches=(batch,) * 3)
    shown = description(card)
    assert len(shown.encode()) <= MOST_BYTES
    assert not set("<>") & set(shown)
    for caution in CAUTIONS:
        assert caution.text in shown
    assert card.measures in shown


@pytest.mark.parametrize("sign", ["🔥", "<", "\u00a0é"])
def test_the_longest_of_everything_still_fits(sign: str) -> None:
    worst = sign * 5000
    item = Item((worst,), worst, worst, (worst,), 1.0)
    batch = PASTE._replace(title=worst, lead=worst, coat=worst, revision=worst, items=(item,), steps=(worst,),
                           sizes=())
    facts = tuple(fact._replace(label=worst) for fact in COOK_CARD.facts)
    card = COOK_CARD._replace(title=worst, lead=worst, facts=facts, batches=(batch,) * 4, steps=(worst,),
                              author=worst, licence=worst, address="https://example.org/" + worst)
    shown = description(card)
    assert len(shown.encode()) <= MOST_BYTES
    assert all(caution.text in shown for caution in CAUTIONS)
