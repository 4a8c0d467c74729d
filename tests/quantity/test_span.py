"""Times, lengths, weights as plain numbers."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import AmountError
from cookbook.quantity import Duration, Length, read_length_cm, read_mass_g


@pytest.mark.parametrize(("text", "low_s", "high_s"), [
    ("25 min", 1500, 1500), ("1 h 30 min", 5400, 5400), ("1:30", 5400, 5400), ("12:00", 43200, 43200),
    ("2-3 h", 7200, 10800),
    ("1 1/2 hours", 5400, 5400), ("1 hour and 30 minutes", 5400, 5400), ("90 mins.", 5400, 5400),
    ("a night", 43200, 43200),
    ("2 days", 172800, 172800), ("45 s", 45, 45), ("30 to 40 minutes", 1800, 2400), ("half an hour", 1800, 1800),
    ("about 25 min", 1500, 1500)])
def test_how_long_it_takes(text: str, low_s: float, high_s: float) -> None:
    found = Duration.parse(text)
    assert (found.low_s, found.high_s) == (low_s, high_s)
    assert found.seconds == (low_s + high_s) / 2


@pytest.mark.parametrize("text", ["", "25", "min", "1:75", "1:3", "1:30:00", "3-2 h", "25 parsecs", "-5 min",
                                  "400 days", "1:30 h", "1e9 h"])
def test_what_is_no_time(text: str) -> None:
    with pytest.raises(AmountError) as caught:
        Duration.parse(text)
    assert caught.value.mend


@given(st.integers(0, 99), st.integers(0, 59))
def test_hours_and_minutes_are_the_same_with_a_colon(hours: int, minutes: int) -> None:
    assert Duration.parse(f"{hours}:{minutes:02d}") == Duration.parse(f"{hours} h {minutes} min")


def test_about_is_part_of_what_a_time_means() -> None:
    assert Duration.parse("about 25 min") != Duration.parse("25 min")
    assert Duration.parse("90 min").canonical() == ["5400", "5400", "s", ""]
    assert Duration.parse("1 h 30 min") == Duration.parse("90 min")
    assert hash(Duration.parse("90 min")) == hash(Duration.parse("1 h 30 min"))


@pytest.mark.parametrize(("text", "cm"), [("34cm", 34), ("13 in", 33.02), ("13 1/2 in.", 34.29), ('13"', 33.02),
                                          ("1 m", 100), ("1 ft", 30.48),
                                          ("340 mm", 34), ("1-inch", 2.54)])
def test_how_long_a_piece_is(text: str, cm: float) -> None:
    assert read_length_cm(text) == pytest.approx(cm)


@pytest.mark.parametrize("text", ["", "34", "6 m", "0 cm", "-3 cm", "long", "34 cm wide", "34 kg", "1e3 cm",
                                  "3-4 cm"])
def test_what_is_no_length(text: str) -> None:
    with pytest.raises(AmountError, match="no length"):
        read_length_cm(text)


def test_a_length_is_written_tidily_and_compares_by_size() -> None:
    assert Length.parse("34cm").ascii() == "34 cm"
    assert Length.parse("1 1/2in").ascii() == "1 1/2 in"
    assert Length.parse("1 m") == Length.parse("100 cm")
    assert Length.parse("1 in").canonical() == ["127/50", "127/50", "cm", ""]


@pytest.mark.parametrize(("text", "grams"), [("4.4kg", 4400), ("1 lb 4 oz", 566.9904625), ("5 lb", 2267.96185),
                                             ("2,2 kg", 2200), ("1,500 g", 1500),
                                             ("about 2 kg", 2000)])
def test_what_a_piece_weighs(text: str, grams: float) -> None:
    assert read_mass_g(text) == pytest.approx(grams, rel=1e-12)


@pytest.mark.parametrize("text", ["", "-2 kg", "2 cups", "2-3 kg", "0 g", "5000 kg", "2", "to taste", "1 heaping kg",
                                  "NaN kg", "1e999 kg"])
def test_what_is_no_single_weight(text: str) -> None:
    with pytest.raises(AmountError):
        read_mass_g(text)
