"""How values are written on a page."""

from __future__ import annotations

import pytest

from cookbook.page.asking import tidy, to
from cookbook.page.showing import by_hand, many, signed


@pytest.mark.parametrize(
    ("value", "shown"), [(0.94, "+0.9"), (-2.46, "−2.5"), (0.04, "0.0"), (-0.04, "0.0"), (0, "0.0")]
)
def test_a_difference_has_its_sign_and_nought_has_none(value: float, shown: str) -> None:
    assert signed(value) == shown


def test_a_mend_that_names_a_command_is_for_the_command_line() -> None:
    assert by_hand("write it like 14:05")
    assert not by_hand("name it with --cut")
    assert not by_hand("begin one with `cookbook log start RECIPE`")
    assert not by_hand(None)


def test_one_is_one() -> None:
    assert [many(0, "cook"), many(1, "cook"), many(2, "entry", "entries")] == ["0 cooks", "1 cook", "2 entries"]


def test_words_from_a_form_stay_on_one_line_and_are_what_a_keyboard_writes() -> None:
    assert tidy("  a\tsplit\r\n on\x00\x1b[31m \u202e ½ – é 🔥 ") == "a split on [31m ½ – é 🔥"
    assert tidy("x" * 5000, 40) == "x" * 40


def test_a_part_of_an_address_stays_one_part() -> None:
    assert to("recipe", "../a b?c#d/é") == "/recipe/..%2Fa%20b%3Fc%23d%2F%C3%A9"
