"""Moments against RFC 3339, Date and Time on the Internet: Timestamps (July 2002): the examples of section 5.8."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from cookbook.errors import RequestError
from cookbook.journal.field import moment
from cookbook.journal.writing import stamp

EXAMPLES = [
    ("1985-04-12T23:20:50.52Z", datetime(1985, 4, 12, 23, 20, 50, 520000, UTC)),
    ("1996-12-19T16:39:57-08:00", datetime(1996, 12, 20, 0, 39, 57, 0, UTC)),
    ("1990-12-31T23:59:60Z", datetime(1991, 1, 1, 0, 0, 0, 0, UTC)),
    ("1990-12-31T15:59:60-08:00", datetime(1991, 1, 1, 0, 0, 0, 0, UTC)),
    ("1937-01-01T12:00:27.87+00:20", datetime(1937, 1, 1, 11, 40, 27, 870000, UTC)),
]
"""Text of the section, and the instant that its own explanation gives."""


@pytest.mark.parametrize(("words", "instant"), EXAMPLES)
def test_the_examples_of_section_5_8_are_the_instants_it_explains(words: str, instant: datetime) -> None:
    assert moment(words) == instant


@pytest.mark.parametrize("words", [example[0] for example in EXAMPLES])
def test_section_5_6_allows_small_letters_and_a_blank_for_the_t(words: str) -> None:
    assert moment(words.lower()) == moment(words)
    assert moment(words.replace("T", " ")) == moment(words)


@pytest.mark.parametrize(
    "words",
    [
        "1985-04-12T23:20:50.52",  # no offset: section 5.6 has it
        "1985-13-12T23:20:50Z",  # section 5.7: months go to 12
        "1985-02-29T23:20:50Z",  # section 5.7: only in leap years
        "1985-04-12T24:20:50Z",  # section 5.6: hours go to 23
        "1985-04-12T23:20:61Z",  # section 5.6: seconds go to 60 at most
        "12:20",
    ],
)
def test_what_the_grammar_of_section_5_6_has_not_is_refused(words: str) -> None:
    with pytest.raises(RequestError):
        moment(words)


def test_what_is_written_has_seconds_and_an_offset_as_the_grammar_demands() -> None:
    at = datetime(2026, 11, 21, 11, 5, 0, 123456).astimezone()
    written = stamp(at)
    assert moment(written) == at.replace(microsecond=0)
    assert len(written) == len("2026-11-21T11:05:00+01:00")
    assert moment(stamp(at)) - moment(stamp(at - timedelta(hours=1))) == timedelta(hours=1)
