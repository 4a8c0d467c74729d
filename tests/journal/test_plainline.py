"""One plain line at the pit: what is read in it, and that the words stay as they are."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import RequestError
from cookbook.journal.plainline import Use, read
from cookbook.journal.probe import PLAUSIBLE_C, bare

SHEET = {"walnut-paste": ["walnuts", "thyme, fresh", "olive oil", "fine salt"]}


def readings(words: str, scale: str | None = "C") -> dict[str, str]:
    line = read(words, scale, SHEET)
    return {probe: str(value) for clause in line.clauses for probe, value in clause.temperatures.items()}


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("core 48 pit 121", {"core": "48 °C", "pit": "121 °C"}),
        ("core 48, pit 121", {"core": "48 °C", "pit": "121 °C"}),
        ("inside 48 and surface 71", {"core": "48 °C", "surface": "71 °C"}),
        ("core=48C pit=250F", {"core": "48 °C", "pit": "250 °F"}),
        ("core at 48,5 degrees", {"core": "48.5 °C"}),
        ("48C", {"core": "48 °C"}),
        ("pit is 121", {"pit": "121 °C"}),
        ("60 in the middle", {"core": "60 °C"}),
        ("it's 54 in the middle now", {"core": "54 °C"}),
        ("meat's at 55", {"core": "55 °C"}),
        ("54 inside", {"core": "54 °C"}),
        ("pit dropped to 98", {"pit": "98 °C"}),
        ("pit back up to 130 again", {"pit": "130 °C"}),
        ("core stuck at 67 for an hour", {"core": "67 °C"}),
        ("48 core 121 pit", {"core": "48 °C", "pit": "121 °C"}),
        ("core 145F", {"core": "145 °F"}),
        ("core ~52", {"core": "52 °C"}),
        ("core is 52ish", {"core": "52 °C"}),
        ("core roughly 52, pit ca. 120", {"core": "52 °C", "pit": "120 °C"}),
        ("48 core / 121 pit", {"core": "48 °C", "pit": "121 °C"}),
        ("core 48/pit 121", {"core": "48 °C", "pit": "121 °C"}),
        ("48/121", {}),
        ("core 48/121", {}),
        ("48", {}),
        ("48 121", {}),
        ("crust 8", {}),
        ("core 145", {}),
        ("pit 8", {}),
        ("core 48 pit 121 wind", {}),
    ],
)
def test_numbers_are_temperatures_only_where_they_can_be(words: str, found: dict[str, str]) -> None:
    assert readings(words) == found


def test_a_bare_number_takes_the_kitchens_scale_and_none_where_the_kitchen_names_none() -> None:
    assert readings("core 118 pit 250", "F") == {"core": "118 °F", "pit": "250 °F"}
    assert readings("core 48 pit 121", None) == {}
    assert readings("core 48C", None) == {"core": "48 °C"}


def test_a_number_that_no_core_has_is_a_doubt_that_says_both_ways_to_write_it() -> None:
    (clause,) = read("core 145", "C").clauses
    assert clause.doubt is not None
    assert "core=145C or core=145F" in clause.doubt


@pytest.mark.parametrize(
    ("words", "did"),
    [
        ("a split on", "wood added"),
        ("two chunks of cherry on", "wood added"),
        ("added oak", "wood added"),
        ("more charcoal in", "fuel added"),
        ("lit", "lit"),
        ("meat on", "on"),
        ("it's on", "on"),
        ("pulled", "pulled"),
        ("off the fire", "pulled"),
        ("wrapped in paper", "wrapped"),
        ("lid open", "lid open"),
        ("sprayed with vinegar", "sprayed"),
        ("sliced", "sliced"),
        ("lit the drum", "lit"),
        ("took it off", "pulled"),
        ("pulled it off the heat", "pulled"),
        ("flipped it", "turned"),
        ("turned it 180", "turned"),
        ("lid was open 5 min", "lid open"),
        ("sprayed w/ cider", "sprayed"),
        ("another split", "wood added"),
        ("half a chimney of coals", "fuel added"),
        ("fire's lit", "lit"),
        ("relit the fire", "relit"),
        ("probe fell out", "probe out"),
        ("put the probe back in", "probe in"),
        ("rubbed the salt in", "coated"),
        ("opened the bottom vent", "vents"),
        ("wind from the west", None),
        ("on and on he talked", None),
    ],
)
def test_what_cooks_call_what_they_do(words: str, did: str | None) -> None:
    assert read(words).clauses[0].did == did or (did is None and not read(words).clauses[-1].read)


@pytest.mark.parametrize(
    ("words", "use"),
    [
        ("2 tbsp more olive oil", Use("walnut-paste", "olive oil", more="2 tbsp")),
        ("two tbsp more oil", Use("walnut-paste", "olive oil", more="two tbsp")),
        ("another tbsp less oil", Use("walnut-paste", "olive oil", less="1 tbsp")),
        ("+8 g walnuts", Use("walnut-paste", "walnuts", more="8 g")),
        ("walnuts 8 g less", Use("walnut-paste", "walnuts", less="8 g")),
        ("no walnuts", Use("walnut-paste", "walnuts", left_out=True)),
        ("sage instead of the thyme", Use("walnut-paste", "thyme, fresh", instead="sage")),
        ("a handful more thyme", Use("walnut-paste", "thyme, fresh", more="a handful")),
        ("used sage instead of thyme", Use("walnut-paste", "thyme, fresh", instead="sage")),
        ("swapped the thyme for sage", Use("walnut-paste", "thyme, fresh", instead="sage")),
        ("2 tbsp oil more", Use("walnut-paste", "olive oil", more="2 tbsp")),
        ("walnuts forgotten", Use("walnut-paste", "walnuts", left_out=True)),
        ("forgot the walnuts", Use("walnut-paste", "walnuts", left_out=True)),
        ("no thyme left", Use("walnut-paste", "thyme, fresh", left_out=True)),
        ("walnuts 90 g all in", Use("walnut-paste", "walnuts", amount="90 g")),
        ("90 g walnuts in all", Use("walnut-paste", "walnuts", amount="90 g")),
        ("2 more tbsp of oil", Use("walnut-paste", "olive oil", more="2 tbsp")),
        ("three fewer sprigs of the thyme", Use("walnut-paste", "thyme, fresh", less="three sprigs")),
        ("another tbsp of oil", Use("walnut-paste", "olive oil", more="1 tbsp")),
        ("another 2 tbsp oil", Use("walnut-paste", "olive oil", more="2 tbsp")),
        ("another pinch of salt", Use("walnut-paste", "fine salt", more="a pinch")),
        ("salt +10 g", Use("walnut-paste", "fine salt", more="10 g")),
        ("another beer", None),
        ("90 g walnuts", None),
        ("8 g more almonds", None),
    ],
)
def test_what_went_in_otherwise(words: str, use: Use | None) -> None:
    assert read(words, "C", SHEET).clauses[0].use == use


def test_a_spoon_that_may_be_either_is_offered_as_the_command_to_type() -> None:
    clause = read("two spoons more oil", "C", SHEET).clauses[0]
    assert not clause.read
    assert clause.doubt is not None
    assert '`cookbook log used "olive oil" --more "two tbsp"`, or tsp' in clause.doubt


@pytest.mark.parametrize("words", ["salt 36 g", "36 g salt", "used 36 g salt", "36 g of the fine salt went in"])
def test_an_amount_that_may_be_all_or_on_top_is_offered_both_ways(words: str) -> None:
    doubt = read(words, "C", SHEET).clauses[0].doubt
    assert doubt == '`cookbook log used "fine salt" "36 g"` if that is all of it, `--more "36 g"` if it came on top'


@pytest.mark.parametrize(
    ("words", "offered"),
    [
        ("48", "core 48 or pit 48"),
        ("it's at 93", "core 93 or pit 93"),
        ("probe says 93", "core 93 or pit 93"),
        ("coer 93", "did you mean core?"),
        ("surfce 70", "did you mean surface?"),
        ("weight after 2.6 kg", "--weight-after"),
        ("2.55 kg after the cook", "--weight-after"),
    ],
)
def test_what_a_line_may_be_meant_for_is_offered(words: str, offered: str) -> None:
    (clause,) = read(words, "C", SHEET).clauses
    assert not clause.read
    assert offered in (clause.doubt or "")


def test_an_item_that_can_be_two_things_is_asked_about() -> None:
    clause = read("8 g more oil", "C", {"paste": ["olive oil", "walnut oil"]}).clauses[0]
    assert clause.doubt == "which is meant, olive oil (paste) or walnut oil (paste)?"


@pytest.mark.parametrize(
    ("words", "did", "core"),
    [
        ("pulled at 60", "pulled", "60 °C"),
        ("wrapped in foil at core 65", "wrapped", "65 °C"),
        ("reheated to 74C", "reheated", "74 °C"),
        ("leftovers reheated to 74", "reheated", "74 °C"),
        ("reheated the leftovers to 165F", "reheated", "165 °F"),
        ("pulled at 140F", "pulled", "140 °F"),
        ("wrapped at 68 in paper", "wrapped", "68 °C"),
        ("stall at 67 for an hour", "stalled", "67 °C"),
    ],
)
def test_what_was_done_at_which_temperature(words: str, did: str, core: str) -> None:
    (clause,) = read(words, "C").clauses
    assert (clause.did, str(clause.temperatures["core"])) == (did, core)


def test_what_was_done_at_a_time_is_no_temperature() -> None:
    (clause,) = read("pulled at 14:05", "C").clauses
    assert clause.temperatures == {}


def test_the_line_and_each_part_may_begin_with_a_time() -> None:
    line = read("yesterday 14:05 core 48, 14:20 wrapped, pit 121", "C")
    assert line.time == "yesterday 14:05"
    assert [clause.time for clause in line.clauses] == [None, "14:20", "14:20"]


@pytest.mark.parametrize(
    ("words", "time", "left"),
    [
        ("wrapped at half past two", "half past two", "wrapped"),
        ("quarter to three: core 58", "quarter to three", "core 58"),
        ("3pm core 58", "3pm", "core 58"),
        ("15h10 core 59", "15h10", "core 59"),
        ("cut it up at 5 pm", "5 pm", "cut it up"),
        ("lid open 20 min ago", "20 min ago", "lid open"),
        ("two o'clock, wrapped", "two o'clock", "wrapped"),
    ],
)
def test_times_of_day_as_people_say_them(words: str, time: str, left: str) -> None:
    line = read(words, "C")
    (clause,) = line.clauses
    assert (line.time or clause.time, clause.words) == (time, left)


def test_a_piece_is_named_first() -> None:
    (clause,) = read("big core 48", "C", {}, ["big", "small"]).clauses
    assert (clause.piece, str(clause.temperatures["core"])) == ("big", "48 °C")


@pytest.mark.parametrize(
    ("words", "found"),
    [
        ("big: core 48", [("big", "core 48 °C")]),
        ("48 in the big one", [("big", "core 48 °C")]),
        ("wrapped the small one", [("small", "wrapped")]),
        ("big off, 60 in the middle, pit 121", [("big", "pulled"), ("big", "core 60 °C"), (None, "pit 121 °C")]),
        ("small core 52, big core 48", [("small", "core 52 °C"), ("big", "core 48 °C")]),
        ("both on", [(None, "on")]),
    ],
)
def test_which_piece_is_meant(words: str, found: list[tuple[str | None, str]]) -> None:
    read_ = [
        (clause.piece, clause.did or " ".join(f"{probe} {value}" for probe, value in clause.temperatures.items()))
        for clause in read(words, "C", {}, ["big", "small"]).clauses
    ]
    assert read_ == found


@given(st.text(max_size=80))
def test_no_line_is_refused_and_its_words_stay(words: str) -> None:
    assert read(words, "C", SHEET, ["big"]).words == words


@given(st.sampled_from(sorted(PLAUSIBLE_C)), st.integers(-60, 900), st.sampled_from("CF"))
def test_a_bare_number_is_read_exactly_where_the_probe_can_show_it(probe: str, number: int, scale: str) -> None:
    degrees = number if scale == "C" else (number - 32) * 5 / 9
    low, high = PLAUSIBLE_C[probe]
    if low <= degrees <= high:
        assert bare(str(number), probe, scale).c == pytest.approx(degrees)
    else:
        with pytest.raises(RequestError):
            bare(str(number), probe, scale)


@pytest.mark.parametrize(
    ("line", "time", "did"),
    [
        ("on at 11:30", "11:30", "on"),
        ("put on the drum 11:31", "11:31", "on"),
        ("at 13:05 wrapped in foil", None, "wrapped"),
        ("taken off the grill at 2:15 pm", "2:15 pm", "pulled"),
    ],
)
def test_a_time_may_stand_at_the_end(line: str, time: str | None, did: str) -> None:
    found = read(line)
    assert found.clauses[0].did == did
    assert (found.clauses[0].time, found.time) == (time, None if time else "13:05")


def test_a_reading_may_end_in_its_time() -> None:
    found = read("core 48 at 12:10", scale="C")
    assert found.clauses[0].time == "12:10"
    assert found.clauses[0].temperatures


def test_no_hour_past_midnight_is_a_time_at_the_end() -> None:
    assert read("lean to fat 80:20").clauses[0].time is None


@pytest.mark.parametrize(("words", "did"), [
    ("bought", "bought"), ("thawing in cold water", "thawing"), ("thawed in the fridge", "thawed"),
    ("made the paste", "paste made"), ("the paste is on", "coated"), ("coated, back in the fridge", "coated"),
    ("paste in the fridge", "paste in the refrigerator"), ("in the fridge", "in the refrigerator"),
    ("out", "out of the refrigerator"), ("took it out of the fridge", "out of the refrigerator"),
    ("leftovers away", "leftovers in the refrigerator"), ("ate the leftovers", "leftovers eaten"),
    ("reheated at 74C", "reheated"),
])  # fmt: skip
def test_what_keeps_food_safe_is_read_as_an_event(words: str, did: str) -> None:
    assert read(words).clauses[0].did == did


def test_a_day_that_the_line_does_not_read_is_not_lost_in_an_event() -> None:
    assert not read("bought 24 Nov").read


@pytest.mark.parametrize(
    ("line", "time", "found"),
    [
        ("14.20 core 52", "14:20", {"core": "52 °C"}),
        ("2.20pm core 52", "2:20pm", {"core": "52 °C"}),
        ("1420 core 52 pit 121", "14:20", {"core": "52 °C", "pit": "121 °C"}),
        ("1130 pit 121", "11:30", {"pit": "121 °C"}),
        ("12.50 core", None, {"core": "12.5 °C"}),
        ("121 pit", None, {"pit": "121 °C"}),
        ("25.10 lunch", None, {}),
    ],
)
def test_a_time_without_a_colon_is_one_only_where_the_line_reads_no_other_way(
    line: str, time: str | None, found: dict[str, str]
) -> None:
    assert read(line, "C", SHEET).time == time
    assert readings(line) == found
    assert read(line, "C", SHEET).words == line


def test_a_number_without_a_scale_says_both_ways_to_write_it_and_where_the_kitchens_is_named() -> None:
    with pytest.raises(RequestError, match="48 has no scale") as fault:
        bare("48", "core", None)
    assert fault.value.mend == "write core=48C or core=48F, or say `temperature: C` or `F` in shared/kitchen.yaml"


@pytest.mark.parametrize(
    ("words", "core", "depth"),
    [
        ("56 at 3 cm", "56 °C", "3 cm"),
        ("core 56 C at 1 cm", "56 °C", "1 cm"),
        ("core 56 at 3cm", "56 °C", "3 cm"),
        ("56C, 3 cm deep", "56 °C", "3 cm"),
        ("at 3 cm 56", "56 °C", "3 cm"),
        ("second probe 56 at 30 mm", "56 °C", "30 mm"),
        ("core 133F an inch below the surface", "133 °F", "1 in"),
        ("133F at 1 1/2 in", "133 °F", "1 1/2 in"),
        ("14:05 56C (3 cm)", "56 °C", "3 cm"),
    ],
)
def test_a_second_reading_has_its_depth(words: str, core: str, depth: str) -> None:
    (clause,) = read(words, "C", SHEET).clauses
    assert {probe: str(value) for probe, value in clause.temperatures.items()} == {"core": core}
    assert str(clause.depth) == depth


def test_a_core_and_a_depth_stand_in_one_line() -> None:
    clauses = read("14:05 core 49, 56 at 3 cm, pit 121", "C", SHEET).clauses
    assert [str(clause.depth or "") for clause in clauses] == ["", "3 cm", ""]
    assert [str(next(iter(clause.temperatures.values()))) for clause in clauses] == ["49 °C", "56 °C", "121 °C"]


@pytest.mark.parametrize(
    "words",
    ["core 48 in 20 min", "core 48 in 20", "pit 121 at 3 cm", "48 at 30 cm", "two cuts 3 cm deep", "trimmed to 1 cm"],
)
def test_a_length_that_is_no_depth_of_a_core_makes_no_reading(words: str) -> None:
    assert not any(clause.temperatures or clause.depth for clause in read(words, "C", SHEET).clauses)
