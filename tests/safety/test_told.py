"""What recipes and entries say, turned into the checks' own records."""

from __future__ import annotations

from types import SimpleNamespace as Said

import pytest

from cookbook.safety import NOTE, STOP, WARN, Around, entry_safety, recipe_cautions, recipe_safety
from cookbook.safety.told import live_fire, treatments_in
from tests.safety.saying import (
    DAY,
    LOIN,
    LOIN_CUT,
    SPECIES,
    cook,
    entry,
    event,
    found,
    ingredient,
    pit,
    reading,
    recipe,
)


def test_a_recipe_is_told_its_planned_pull_and_the_paste_inside_it() -> None:
    paste = recipe(ingredient("garlic"), ingredient("olive oil"))
    rules = {one.rule: one.level for one in recipe_safety(LOIN, [paste], SPECIES.__getitem__)}
    assert rules == {"planned pull": NOTE, "garlic in oil": NOTE}
    assert recipe_safety(recipe(cut=None)) == []


def test_what_may_stand_in_an_ingredients_place_counts_too() -> None:
    told = recipe_safety(recipe(ingredient("garlic powder", alternatives=("garlic",)), ingredient("lard"), cut=None))
    assert [one.rule for one in told] == ["garlic in oil"]


def test_curing_salt_by_volume_or_by_surface_is_stopped() -> None:
    spooned = recipe(ingredient("curing salt", "volume", "weight"), cut=None)
    assert [one.level for one in recipe_safety(spooned)] == [STOP]
    by_count = recipe(ingredient("curing salt", "count", "weight"), cut=None)
    assert [one.level for one in recipe_safety(by_count)] == [STOP]
    (told,) = recipe_safety(recipe(ingredient("curing salt", "mass", "weight"), cut=None))
    assert told.level == NOTE
    assert "safety cure" in told.message


def test_a_recipe_that_injects_is_not_intact() -> None:
    told = recipe_safety(recipe(kind="cook", pull_c=60, steps=("Inject with brine.",)), (), SPECIES.__getitem__)
    assert told[0].level == WARN
    assert recipe_safety(recipe(kind="cook", pull_c=60, steps=("Do not inject.",)), (), SPECIES.__getitem__
                         )[0].level == NOTE


@pytest.mark.parametrize(("text", "names"), [
    ("Inject the brine", ("injected",)), ("do not inject it", ()), ("never stuff it", ()),
    ("stuffed with sage", ("stuffed",)),
    ("Roll up and tie every 3 cm", ("rolled",)), ("roll in the rub", ()), ("jaccarded first", ("bladed",)),
    ("tenderised by the butcher", ("bladed",)), ("stuffing, then inject", ("injected", "stuffed")), ("", ()),
    ("Spread the filling, roll, tie every 3 cm", ("rolled",)), ("boned and rolled by the butcher", ("rolled",)),
    ("Prick it all over with a fork", ("bladed",)), ("Prick the skin of the duck", ()),
    ("Make slits and push garlic in", ("studded",)), ("Stud the ham with cloves", ("studded",)),
    ("Pump with brine to 10 %", ("injected",)), ("Cut a pocket and fill it", ("stuffed",)),
    ("Tie the bones back on", ()), ("Fill the chimney with charcoal", ()), ("the stuff in the jar", ()),
])
def test_words_that_open_a_piece_are_found_unless_denied(text: str, names: tuple[str, ...]) -> None:
    assert treatments_in([text]) == names


def test_a_card_takes_the_cautions_of_its_pastes_and_its_fire() -> None:
    paste = recipe(ingredient("garlic"), ingredient("olive oil"))
    keys = [said.key for said in recipe_cautions(LOIN, [paste], SPECIES.__getitem__)]
    assert keys[0] == "garlic-in-oil"
    assert "carbon-monoxide" in keys
    oven = recipe(kind="cook", pit=pit(cooker="oven", fuel=None), coats=(Said(item="lard"), Said(item=None)))
    keys = [said.key for said in recipe_cautions(oven, [], SPECIES.__getitem__)]
    assert "carbon-monoxide" not in keys
    assert "hot-fat" in keys
    assert "safe-temperature" not in [said.key for said in recipe_cautions(recipe(cut=None))]


def test_every_device_is_a_fire_unless_it_is_electric_and_burns_nothing() -> None:
    assert live_fire(None)
    assert live_fire(pit(cooker="drum", fuel=None))
    assert live_fire(pit(cooker="electric box", fuel="pellets"))
    assert not live_fire(pit(cooker="oven", fuel=None))


def test_a_logged_cook_is_judged_by_its_readings_and_its_rest() -> None:
    told = found(entry(*DAY), LOIN, readings=cook(66))
    assert told["household minimum"].level == NOTE
    assert "reached and rested" in told["household minimum"].message
    assert "readings" not in told
    assert told["come-up"].level == NOTE


def test_the_pit_is_the_middle_of_its_readings_over_the_cook_else_the_recipes() -> None:
    cold = [reading(minutes, None, 80) for minutes in (10, 20, 30)]
    hot = [reading(-60, None, 400), reading(300, None, 30)]
    assert found(entry(*DAY), LOIN, readings=[*hot, *cold])["smoker air"].value == 176
    asked = recipe(kind="cook", pit=pit(90))
    assert found(entry(*DAY), asked)["smoker air"].value == 194
    assert "smoker air" not in found(entry(*DAY), recipe(kind="cook", pit=pit(None)))
    assert "smoker air" not in found(entry(), recipe(kind="cook"), readings=[reading(0, None, 120)])


def test_a_peak_written_down_counts_where_no_probe_was_logged() -> None:
    written = {"pulled": Said(c=60), "peak": Said(c=64), "served": None}
    told = found(entry(*DAY, outcome=written), LOIN)
    assert told["household minimum"].value == 64
    assert told["household minimum"].level == NOTE
    assert found(entry(*DAY, outcome={}), LOIN)["household minimum"].value is None
    higher = found(entry(*DAY, outcome={"peak": Said(c=67)}), LOIN, readings=cook(66))
    assert higher["household minimum"].value == 67


def test_a_core_that_no_meat_has_gives_no_verdict() -> None:
    told = found(entry(*DAY, outcome={"peak": Said(c=64)}), LOIN, readings=[reading(0, 130)])
    assert "no verdict" in told["readings"].message
    assert told["household minimum"].value is None


def test_without_a_cut_there_is_no_line_to_measure_by() -> None:
    told = found(entry(*DAY), None, readings=cook(66))
    assert "no cut is named" in told["readings"].message


@pytest.mark.parametrize(("sliced", "level"), [(216, WARN), (217.9, WARN), (218, NOTE), (240, NOTE)])
def test_a_line_that_only_the_rest_reached_is_rested_from_then_on(sliced: float, level: str) -> None:
    """62.9 °C read at 215 min: three minutes more, though it was pulled at 200."""
    log = [*cook(58), reading(208, 61), reading(215, 62.9)]
    day = (event(0, "on"), event(200, "pulled"), event(sliced, "sliced"))
    assert found(entry(*day), LOIN, log)["household minimum"].level == level


def test_several_pieces_are_judged_each_by_its_own_probe() -> None:
    pieces = (Said(name="big", cut=LOIN_CUT, known={}), Said(name="bird", cut="chicken, whole", known={}))
    log = [reading(0, 66, piece="big"), reading(1, 50, piece="bird"), reading(60, 80, 118)]
    both = entry(*DAY, event(100, "injected", piece="bird"), pieces=pieces, outcome={"peak": Said(c=90)})
    told = entry_safety(both, None, (), log, species_of=SPECIES.__getitem__)
    lines = [(one.message[:4], one.value) for one in told if one.rule == "household minimum"]
    assert lines == [("bird", 50), ("big:", 66)]
    assert [one.message[:4] for one in told if one.rule == "non-intact"] == ["bird"]


def test_guests_who_need_it_cooked_through_are_asked_about() -> None:
    assert found(entry(*DAY), LOIN, around=Around(guests=True))["fully cooked guests"].level == STOP


def test_the_time_out_runs_between_logged_moments_only() -> None:
    morning = (event(-200, "paste on"), event(-100, "into the refrigerator"), event(-40, "taken out"), *DAY)
    told = found(entry(*morning), LOIN)["time out"]
    assert (told.value, told.level) == (140, STOP)
    assert "paste on 100 min, taken out 40 min" in told.message
    assert "time out" not in found(entry(event(-60, "taken out"), event(210, "taken out"), event(220, "note")), LOIN)
    named = entry(event(-60, "coated", piece="other"), event(-50), *DAY)
    assert "time out" not in found(named, LOIN)


def test_cooked_meat_is_out_from_where_it_fell_below_60_c() -> None:
    put_away = event(400, "leftovers into the refrigerator")
    assert found(entry(*DAY, put_away), LOIN)["time out"].value == 200
    hot = [reading(200, 66), reading(260, 61), reading(300, 55)]
    assert found(entry(*DAY, put_away), LOIN, readings=hot)["time out"].value == 140
    assert "time out" not in found(entry(event(200, "pulled"), put_away), LOIN)


def test_a_rest_is_known_only_between_the_pull_and_the_knife() -> None:
    ended = cook(63)
    assert "no rest in the log" in found(entry(event(0, "on"), event(200, "pulled")), LOIN,
                                         readings=ended)["household minimum"].message
    hasty = entry(event(0, "on"), event(200, "pulled"), event(201, "sliced"))
    assert "rest too short" in found(hasty, LOIN, readings=ended)["household minimum"].message
    patient = entry(event(0, "on"), event(200, "pulled"), event(203, "sliced"))
    assert "reached and rested" in found(patient, LOIN, readings=ended)["household minimum"].message
    backwards = entry(event(0, "on"), event(100, "sliced"), event(200, "pulled"))
    assert "no rest in the log" in found(backwards, LOIN, readings=ended)["household minimum"].message


def test_foil_keeps_its_own_steam_and_paper_does_not() -> None:
    held = [reading(0, 4), reading(20, 30), reading(40, 60.2), reading(60, 60.2), reading(70, 58)]
    piece = (Said(name="", cut="rib roast, bone in", known={"weight": 3000.0}),)
    paper = recipe(kind="cook", pit=pit(110, wrap="paper"))
    foil = recipe(kind="cook", pit=pit(110, wrap="foil"))
    assert "humidity" in found(entry(pieces=piece), paper, readings=held)
    assert "humidity" not in found(entry(pieces=piece), foil, readings=held)


def test_a_probe_at_a_depth_is_never_taken_for_the_core() -> None:
    bare = found(entry(*DAY), LOIN)
    near = [reading(20 * step, 8.0 * step, 118, depth_cm=2.0) for step in range(11)]
    assert found(entry(*DAY), LOIN, near) == bare
    out = (event(0, "on"), event(200, "pulled"), event(500, "sliced"))
    cold = [*cook(62.0), reading(230, 55.0)]
    late = [*cold, reading(490, 61.0, depth_cm=1.0)]
    assert found(entry(*out), LOIN, late) == found(entry(*out), LOIN, cold)
