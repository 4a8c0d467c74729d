"""What the balance's readings mean beside the lines before them, word for word as the cook is told."""

from __future__ import annotations

import pytest

from cookbook.files import parse
from cookbook.journal import Entry, read
from cookbook.kitchen.log.weighed_in import below_nothing, meant
from cookbook.quantity import Amount

ENTRY = """\
title: Plum paste
kind: paste
date: "2026-11-21"
piece: {cut: "pork loin, boneless", weight: 2 kg}
sheet: {paste: {walnuts: 80 g, honey: 2 tbsp}}
"""


def entry(*lines: str) -> Entry:
    text = ENTRY + "as_made: {paste: [" + ", ".join(lines) + "]}\n"
    found, problems = read(parse(text.encode(), "entry.yaml"), "2026-11-21-plum-paste", "us", ())
    assert found is not None, problems
    return found


@pytest.mark.parametrize(
    ("lines", "line", "words"),
    [
        ((), {"bowl": {"full": "412 g"}}, "how much is in it is open: nothing says what it weighs empty"),
        (("{bowl: {empty: 300 g}}",), {"bowl": {"full": "412.5 g"}}, "so 112.5 g are in it"),
        (("{bowl: {empty: 300 g}}",), {"bowl": {"full": "300 g"}}, "so 0 g are in it"),
        (("{bowl: {empty: 300 g}}",), {"bowl": {"full": "290 g"}}, "that is less than the 300 g of the empty bowl"),
        (("{bowl: {full: 412 g}}",), {"bowl": {"after": "96.2 g"}}, "so 315.8 g went onto the meat"),
        (("{bowl: {full: 412 g}}",), {"bowl": {"after": "420 g"}}, "that is more than the 412 g of the full bowl"),
        (
            ("{bowl: {empty: 80 g, full: 412 g}}",),
            {"bowl": {"after": "96.2 g"}},
            "so 315.8 g went onto the meat, 16.2 g stayed in it",
        ),
        (
            (),
            {"bowl": {"after": "96 g"}},
            "what went onto the meat needs the full bowl's weight too: log `used bowl --before MASS`",
        ),
        (("{bowl: {empty: 300 g}}",), {"item": "walnuts", "reads": "388.5 g"}, "so 88.5 g went in"),
        (("{bowl: {empty: 300 g}}",), {"item": "walnuts", "reads": "300 g"}, "so 0 g went in"),
        (
            ("{bowl: {empty: 300 g}}",),
            {"item": "walnuts", "reads": "290 g"},
            "that is 10 g less than before walnuts went in; it is not counted",
        ),
        (
            ("{bowl: {empty: 300 g}}", "{item: cloves}"),
            {"item": "walnuts", "reads": "390 g"},
            "so 90 g together with cloves",
        ),
    ],
)
def test_the_balance_means(lines: tuple[str, ...], line: dict[str, object], words: str) -> None:
    said, doubts = meant(entry(*lines), "paste", line)
    assert (said, *doubts) in ((words,), ("", words))


@pytest.mark.parametrize(
    ("lines", "less", "words"),
    [
        ((), "81 g", "81 g less walnuts would be less than nothing: the day's sheet says 80 g"),
        ((), "80 g", None),
        (
            ("{item: walnuts, less: 30 g}",),
            "60 g",
            "60 g less walnuts would be less than nothing: the day's sheet says 80 g, 50 g with what was logged",
        ),
        ((), "1 cup", "1 cup less walnuts would be less than nothing: the day's sheet says 80 g"),
        ((), "1/4 cup", None),
    ],
)
def test_less_than_nothing_is_told_with_what_was_logged(lines: tuple[str, ...], less: str, words: str | None) -> None:
    assert below_nothing(entry(*lines), "paste", "walnuts", Amount.parse(less)) == words
