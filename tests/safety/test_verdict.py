"""A measured cook against the household line, the plant's tables and its guests."""

from __future__ import annotations

import pytest

from cookbook.errors import UnknownName
from cookbook.safety import NOTE, STOP, WARN, Curve, Finding, Span, by_gravity, cooked, forecast_findings, intact
from cookbook.safety.cook import Line, PieceCooked, piece_findings, recipe_findings
from cookbook.safety.integrity import non_intact_finding
from cookbook.safety.verdict import guests_finding, household_finding
from cookbook.table import source

PORK, BEEF = "pork loin, boneless", "rib roast, bone in"


def log(*points: tuple[float, float]) -> Curve:
    """Minutes and °C."""
    return Curve.of([minute * 60 for minute, _ in points], [core for _, core in points])


def rising(peak_c: float, start_c: float = 4, minutes: int = 200, rest: int = 20) -> Curve:
    """A roast read every ten minutes up to its peak, then cooling a little."""
    steps = minutes // 10
    up = [(10.0 * step, start_c + (peak_c - start_c) * step / steps) for step in range(steps + 1)]
    return log(*up, (minutes + rest, peak_c - 3))


def levels(piece: PieceCooked) -> dict[str, str]:
    return {found.rule: found.level for found in piece_findings(piece)}


def only(piece: PieceCooked, rule: str) -> Finding:
    return next(found for found in piece_findings(piece) if found.rule == rule)


def test_a_roast_past_the_line_and_rested_is_a_note_with_its_numbers() -> None:
    found = only(PieceCooked("pork", PORK, rising(66)), "household minimum")
    assert (found.level, found.value, found.limit, found.regime) == (NOTE, 66, 62.8, "household")
    assert "reached and rested" in found.message
    assert "Canada 71 °C" in found.message
    assert "62.8 °C (145 °F) and 3 min rest" in found.message
    bird = only(PieceCooked("chicken", "chicken, whole", rising(76)), "household minimum")
    assert "73.9 °C (165 °F): reached" in bird.message


def test_a_rest_that_the_log_does_not_show_may_be_recorded_by_the_entry() -> None:
    ended = log((0, 4), (30, 30), (60, 50), (80, 63))
    assert cooked(ended, "pork").rested is None
    assert cooked(ended, "pork", rest_min=25).rested is True
    assert cooked(ended, "pork", rest_min=1).rested is False
    assert only(PieceCooked("pork", PORK, ended), "household minimum").level == NOTE
    assert only(PieceCooked("pork", PORK, ended, rest_min=1), "household minimum").level == WARN


def test_below_the_line_is_told_calmly_with_what_it_lacks() -> None:
    found = only(PieceCooked("pork", PORK, rising(58)), "household minimum")
    assert (found.level, found.value) == (WARN, 58)
    assert "4.8 °C more" in found.message
    assert "!" not in found.message
    assert "thermometer" not in found.message
    off = only(PieceCooked("pork", PORK, rising(58), accuracy_c=1.0), "household minimum")
    assert "5.8 °C more, 1 of it for a thermometer that may be off" in off.message
    all_but = only(PieceCooked("pork", PORK, rising(63), accuracy_c=1.0), "household minimum")
    assert "0.8 °C more, all of it for a thermometer that may be off" in all_but.message


def test_a_rare_roast_that_the_plants_table_passes_is_a_note_where_intact_and_a_warning_where_not() -> None:
    slow = log((0, 4), *((20 * step, 4 + 52 * step / 9) for step in range(1, 10)), *((180 + 20 * step, 56.0)
               for step in range(1, 6)))
    assert levels(PieceCooked("beef", BEEF, slow))["household minimum"] == NOTE
    assert levels(PieceCooked("beef", BEEF, slow, treatments=("bladed",)))["household minimum"] == WARN
    assert levels(PieceCooked("beef", BEEF, slow))["long low hold"] == WARN
    assert levels(PieceCooked("beef", BEEF, rising(54)))["household minimum"] == WARN


def test_a_bird_or_ground_meat_below_the_line_stops_unless_its_table_is_met() -> None:
    assert levels(PieceCooked("chicken", "chicken, whole", rising(60, minutes=60)))["household minimum"] == STOP
    assert levels(PieceCooked("beef", "ground chuck", rising(55)))["household minimum"] == STOP
    held = log((0, 4), (20, 30), (40, 60), (60, 68), (80, 68), (90, 60))
    assert levels(PieceCooked("chicken", "chicken, whole", held))["household minimum"] == WARN


def test_a_bird_below_the_line_is_judged_at_its_fat_or_the_fattest() -> None:
    short = log((0, 4), (20, 30), (40, 60.1), (66, 60.1), (70, 55))
    lean = only(PieceCooked("chicken", "breast", short, fat_percent=1), "dwell table")
    fat = only(PieceCooked("chicken", "breast", short), "dwell table")
    assert isinstance(lean.value, float)
    assert isinstance(fat.value, float)
    assert lean.value > 1 > fat.value
    assert "of what the table asks" in fat.message


def test_holds_that_only_add_up_are_said_to_need_moist_meat() -> None:
    parts = log((0, 50), (10, 60), (16, 60), (17, 58), (26, 58.9), (34, 58.9), (44, 50))
    assert "add up to it" in only(PieceCooked("beef", BEEF, parts), "dwell table").message
    assert "reached, which is enough" in only(PieceCooked("beef", BEEF, rising(72)), "dwell table").message


def test_the_integrated_figure_is_labelled_a_forecast() -> None:
    found = only(PieceCooked("beef", BEEF, rising(60)), "lethality, forecast figure")
    assert (found.level, found.limit, found.regime) == (NOTE, 6.5, "inspected plant")
    assert "no verdict" in found.message
    assert isinstance(found.value, float)
    assert f"curve: {found.value:.1f} log" in found.message
    assert "more than 12 log" in only(PieceCooked("beef", BEEF, rising(80)), "lethality, forecast figure").message


def test_a_species_outside_the_dwell_tables_has_the_household_line_only() -> None:
    rules = levels(PieceCooked("rabbit", "rabbit, whole", rising(72)))
    assert "dwell table" not in rules
    assert rules["household minimum"] == NOTE
    assert "from memory" in only(PieceCooked("rabbit", "rabbit, whole", rising(72)), "household minimum").message


def test_a_gap_and_a_loose_probe_are_named_and_count_for_nothing() -> None:
    gap = log((0, 4), (30, 40), (120, 60), (130, 60))
    assert levels(PieceCooked("pork", PORK, gap))["readings, gap"] == WARN
    assert "no reading from 30 to 120 min" in only(PieceCooked("pork", PORK, gap), "readings, gap").message
    past = log((0, 4), (30, 40), (120, 64), (130, 64))
    assert levels(PieceCooked("pork", PORK, past))["readings, gap"] == NOTE
    loose = log((0, 4), (30, 40), (31, 90), (40, 90))
    found = levels(PieceCooked("pork", PORK, loose))
    assert found["readings, probe out"] == WARN
    assert found["household minimum"] == WARN
    assert cooked(loose, "pork").peak_c == pytest.approx(40)


@pytest.mark.parametrize(("points", "peak_c"), [
    (((0, 85), (1, 84), (2, 5), (30, 30), (60, 50), (90, 58)), 58),
    (((0, 5), (30, 40), (60, 65), (80, 75), (81, 62), (90, 64)), 64),
    (((0, 5), (30, 40), (60, 65), (80, 75), (81, 62)), 62),
    (((0, 5), (30, 40), (60, 58), (60, 75), (70, 76)), 58),
    (((0, 5), (30, 40), (60, 58), (61, 85), (62, 60), (90, 66)), 66),
    (((0, 5), (30, 40), (60, 64), (61, 45), (62, 30), (90, 22)), 64),
    (((0, 22), (1, 4), (30, 30), (60, 64)), 64),
])
def test_where_a_probe_jumped_the_colder_place_counts_and_a_probe_laid_aside_counts_for_nothing(
        points: tuple[tuple[float, float], ...], peak_c: float) -> None:
    assert cooked(log(*points), "chicken").peak_c == pytest.approx(peak_c)
    assert levels(PieceCooked("chicken", "chicken, whole", log(*points), guests=True, rest_min=20))[
        "fully cooked guests"] == STOP


def test_a_loose_probe_passes_no_table() -> None:
    loose = levels(PieceCooked("pork", PORK, log((0, 5), (30, 30), (60, 45), (61, 80), (70, 81))))
    assert loose["trichinella"] == WARN


def test_without_a_measurement_nothing_is_said_to_be_cooked() -> None:
    found = only(PieceCooked("pork", PORK), "household minimum")
    assert (found.level, found.value, found.limit) == (WARN, None, 62.8)
    assert "nothing can be said" in found.message


def test_a_thermometers_error_is_taken_off_the_peak() -> None:
    assert cooked(rising(63), "pork").reached
    assert not cooked(rising(63), "pork", accuracy_c=1).reached


def test_a_thermometers_error_is_taken_off_for_the_tables_and_for_an_opened_piece() -> None:
    """57.3 °C is 135.1 °F: 36 min (6.5 log). With 1 °C off it is 133 °F: 56 min."""
    held = log((0, 50), (20, 57.3), (40, 57.3), (61, 57.3), (70, 50))
    sure, off = cooked(held, "beef").plant, cooked(held, "beef", accuracy_c=1).plant
    assert sure is not None
    assert off is not None
    assert (sure.conforms, off.conforms) == (True, False)
    opened = log((0, 64.5), (1, 68.4), (2, 64))
    for off_c, level in ((0, NOTE), (1, WARN)):
        piece = PieceCooked("pork", PORK, opened, treatments=("injected",), accuracy_c=off_c)
        assert levels(piece)["non-intact"] == level


def test_guests_who_need_it_fully_cooked_get_only_what_was_measured() -> None:
    assert levels(PieceCooked("pork", PORK, rising(66), guests=True))["fully cooked guests"] == NOTE
    assert levels(PieceCooked("pork", PORK, rising(60), guests=True))["fully cooked guests"] == STOP
    assert levels(PieceCooked("pork", PORK, guests=True))["fully cooked guests"] == STOP
    unrested = cooked(log((0, 4), (30, 30), (60, 50), (80, 63)), "pork")
    assert guests_finding(unrested, "pork").level == STOP
    assert "nothing was measured" in guests_finding(None, "beef").message


def test_trichinella_is_judged_for_pork_and_game_below_the_line_only() -> None:
    assert levels(PieceCooked("pork", PORK, rising(58)))["trichinella"] == NOTE
    assert "trichinella" not in levels(PieceCooked("pork", PORK, rising(66)))
    assert "trichinella" not in levels(PieceCooked("beef", BEEF, rising(58)))
    assert levels(PieceCooked("wild boar", "haunch", rising(45)))["trichinella"] == WARN


def test_moisture_and_oven_matter_where_the_table_alone_passes_it() -> None:
    held = log((0, 4), (20, 30), (40, 60.2), (60, 60.2), (70, 58))
    by_table = levels(PieceCooked("beef", BEEF, held, mass_g=3000, pit_c=110))
    assert (by_table["humidity"], by_table["oven"]) == (WARN, NOTE)
    wrapped = levels(PieceCooked("beef", BEEF, held, mass_g=3000, pit_c=110, how="wrapped"))
    assert "humidity" not in wrapped
    assert "oven" not in levels(PieceCooked("beef", BEEF, rising(66), mass_g=3000, pit_c=110))


def test_pit_and_time_out_are_told_beside() -> None:
    told = levels(PieceCooked("pork", PORK, rising(66), pit_c=90, raw_out=(Span("paste on", 150),)))
    assert told["smoker air"] == NOTE
    assert told["time out"] == STOP
    after = PieceCooked("pork", PORK, rising(66), pit_c=120, cooked_out=(Span("on the table", 30),))
    assert levels(after)["time out"] == NOTE
    assert "smoker air" not in levels(after)


@pytest.mark.parametrize(("cut", "treatments", "bones", "why"), [
    (BEEF, (), "tied", ()), (BEEF, (), "on", ()), ("brisket, whole", ("injected",), None, ("injected",)),
    (PORK, ("jaccarded",), None, ("bladed",)),
    (PORK, ("studded",), None, ("studded",)), ("pork shoulder, boned and rolled", (), None, ("boned and rolled",)),
    (PORK, ("stuffed with sage", "netted"), None, ("netted", "stuffed")),
    ("leg of lamb, boneless", (), None, ("boned and rolled",)), ("leg of lamb, boneless", ("butterflied",), None, ()),
    ("lamb shoulder, boneless", (), None, ("boned and rolled",)), ("fresh ham, bone in", (), None, ()),
    ("leg of lamb, boneless", ("netted",), None, ("netted",)), (PORK, (), None, ()),
])
def test_what_opens_a_piece_is_known_and_tied_bones_do_not(
        cut: str, treatments: tuple[str, ...], bones: str | None, why: tuple[str, ...]) -> None:
    state = intact(cut, treatments, bones)
    assert state.why == why
    assert state.whole == (not why)
    assert state.seam == (bones == "tied")


def test_the_seam_under_tied_bones_is_measured_there_too() -> None:
    found = non_intact_finding(intact(BEEF, bones="tied"), 55, 0)
    assert found is not None
    assert (found.level, found.rule) == (NOTE, "seam under the bones")
    assert non_intact_finding(intact(BEEF, bones="on"), 55, 0) is None


def test_an_opened_piece_must_come_to_155_f_or_hold_145_f() -> None:
    injected = intact("brisket, whole", ("injected",))
    for peak, held, level in ((60, 0, WARN), (63, 179, WARN), (63, 180, NOTE), (68.4, 0, NOTE)):
        found = non_intact_finding(injected, peak, held)
        assert found is not None
        assert (found.level, found.limit) == (level, 68.3)
        assert "155 °F (68.3 °C) or 145 °F (62.8 °C) for 3 min" in found.message
    stuffed = non_intact_finding(intact(PORK, ("stuffed",)), 70, 600)
    assert stuffed is not None
    assert (stuffed.level, stuffed.limit) == (WARN, 73.9)
    assert "145 °F" not in stuffed.message
    assert levels(PieceCooked("pork", PORK, rising(70), treatments=("stuffed",)))["household minimum"] == WARN


def test_the_household_rule_leads_among_equals_and_stops_come_first() -> None:
    found = piece_findings(PieceCooked("chicken", "chicken, whole", rising(60, minutes=60), pit_c=90))
    assert [one.level for one in found] == sorted((one.level for one in found), key=[STOP, WARN, NOTE].index)
    assert found[0].rule == "household minimum"
    other = Finding("readings", NOTE, None, None, "practice", "usda-probe", message="no probe was in it")
    assert by_gravity([other, other._replace(regime="household")])[0].regime == "household"


def test_a_recipe_with_garlic_under_oil_is_told_two_days() -> None:
    found = recipe_findings([Line("garlic"), Line("sage, fresh"), Line("olive oil")])
    told = [(one.rule, one.level, one.value, one.limit) for one in found]
    assert told == [("garlic in oil", NOTE, "garlic, sage", 2)]
    assert recipe_findings([Line("garlic powder"), Line("olive oil")]) == []


def test_curing_salt_by_the_spoon_or_by_surface_stops_a_recipe() -> None:
    assert recipe_findings([Line("curing salt", "surface")])[0].level == STOP
    assert "spoon" in recipe_findings([Line("curing salt", "weight", spooned=True)])[0].message
    assert [one.level for one in recipe_findings([Line("curing salt", "weight"), Line("fine salt")])] == [NOTE]


@pytest.mark.parametrize(("species", "cut", "pull_c", "rest", "treatments", "level"), [
    ("pork", PORK, 60, 25, (), NOTE), ("pork", PORK, 63, 25, (), NOTE), ("pork", PORK, 63, 1, (), WARN),
    ("pork", PORK, 63, None, (), NOTE), ("pork", PORK, 60, 25, ("injected",), WARN),
    ("chicken", "chicken, whole", 70, 10, (), WARN), ("chicken", "chicken, whole", 74, None, (), NOTE),
])
def test_a_planned_pull_is_told_for_a_plan(species: str, cut: str, pull_c: float, rest: float | None,
                                           treatments: tuple[str, ...], level: str) -> None:
    found = recipe_findings([], species, cut, pull_c, rest, treatments=treatments)
    assert [(one.rule, one.level, one.value) for one in found] == [("planned pull", level, pull_c)]


def test_a_recipes_pit_is_told_where_it_is_unusual() -> None:
    assert [one.rule for one in recipe_findings([], pit_c=90)] == ["smoker air"]
    assert recipe_findings([], pit_c=120) == []
    assert recipe_findings([], "pork", PORK) == []


def test_every_finding_stands_as_json_with_a_source_that_exists() -> None:
    piece = PieceCooked("pork", PORK, rising(58), pit_c=90, mass_g=2000, raw_out=(Span("paste on", 10),), guests=True,
                        treatments=("injected",))
    for found in piece_findings(piece):
        told = found.json()
        assert {"rule", "level", "value", "limit", "regime", "source"} <= set(told)
        assert told["memory"] == source(found.source).memory
        assert found.message


def test_an_unknown_species_gets_no_verdict() -> None:
    with pytest.raises(UnknownName):
        piece_findings(PieceCooked("unicorn", "haunch", rising(66)))


def test_the_household_finding_names_the_row_it_used() -> None:
    seen = cooked(rising(66), "pork", "fresh ham, bone in")
    assert household_finding(seen, "pork", intact("fresh ham, bone in")).source == "usda-safe-temperatures"


def test_one_reading_is_judged_as_a_peak_and_is_no_curve() -> None:
    told = levels(PieceCooked("pork", PORK, log((0, 64)), rest_min=20))
    assert told["household minimum"] == NOTE
    assert not {"come-up", "dwell table", "lethality, forecast figure"}.intersection(told)


def test_a_forecast_gives_notes_and_never_a_verdict() -> None:
    """An hour at 60 °C (140 °F, where 12 min are 6.5 log) integrates to 32.5 log; nobody measured it."""
    told = forecast_findings(Curve.of([0, 3600], [60, 60]), (60, 61), "pork", "pork loin, boneless")
    assert [one.level for one in told] == [NOTE, NOTE]
    assert told[0].value == 60
    assert "2.8 °C short" in told[0].message
    assert told[1].value == pytest.approx(32.5)
    assert all("no verdict" in one.message or "only a thermometer" in one.message for one in told)
    assert "past the household line" in forecast_findings(Curve.of([0], [70]), (66, 70), "pork")[0].message
    assert len(forecast_findings(Curve.of([0], [70]), (66, 70), "rabbit")) == 1
    assert forecast_findings(Curve.of([0], [70]), (66.04, 70), "pork")[0].value == 66.0
