"""What an entry's own moments say of its keeping: paste, raw meat, thawing, cooling, leftovers, what touched what."""

from __future__ import annotations

from types import SimpleNamespace as Said
from typing import Any

import pytest

from cookbook.safety import NOTE, STOP, WARN, Around, entry_safety
from cookbook.safety.moments import air_c, kind_of
from tests.safety.saying import (
    DAY,
    LOIN,
    LOIN_CUT,
    SPECIES,
    at,
    cook,
    entry,
    event,
    found,
    ingredient,
    reading,
    recipe,
)

DAY_MIN = 24 * 60
HERBS = (ingredient("garlic"), ingredient("rosemary, fresh"), ingredient("olive oil"))
PASTE = recipe(*HERBS, kind="cook", cut=LOIN_CUT)
TURKEY = (Said(name="", cut="turkey, whole", known={"weight": 6000.0}),)


def oil(days: float, *more: Any, notes: tuple[str, ...] = ()) -> Any:
    """The finding on a paste made so many days before it went on."""
    return found(entry(event(-days * DAY_MIN, "paste made"), *more, *DAY, notes=notes), PASTE)["garlic in oil"]


@pytest.mark.parametrize(("days", "level"), [(0.5, NOTE), (2, NOTE), (2.5, WARN), (4, WARN), (4.5, STOP)])
def test_a_paste_of_garlic_in_oil_is_as_old_as_it_was_when_it_went_on(days: float, level: str) -> None:
    """Two days by the strictest page, a warning from the third, a stop after the fourth (S35)."""
    told = oil(days)
    assert (told.level, told.value) == (level, days)


def test_a_paste_frozen_or_measured_acid_has_no_days() -> None:
    assert oil(9, event(-9 * DAY_MIN + 30, "paste into the freezer")).level == NOTE
    late = (event(-9 * DAY_MIN + 30, "paste into the refrigerator"), event(-3 * DAY_MIN, "paste into the freezer"))
    assert (oil(9, *late).level, oil(9, *late).limit) == (STOP, 4)
    assert oil(9, event(-9 * DAY_MIN + 300, "paste into the freezer")).level == STOP
    assert oil(5, event(30, "rest of the paste into the freezer")).level == STOP
    acid = found(entry(event(-9 * DAY_MIN, "paste made"), *DAY, notes=("the paste has pH 4.3",)), PASTE)
    assert acid["acid line"].level == NOTE
    assert "garlic in oil" not in acid


def test_a_ph_above_the_line_changes_nothing_and_one_that_is_none_is_named() -> None:
    assert oil(5, notes=("pH 4.7 measured",)).level == STOP
    assert oil(5, notes=("the oil has pH 4.2", "pH 4.9 in the paste")).level == STOP
    assert "no pH" in found(entry(event(-9000, "paste made"), *DAY, notes=("pH 43",)), PASTE)["readings"].message


def test_a_paste_that_stood_out_before_the_refrigerator_is_thrown_away() -> None:
    warm = oil(1, event(-DAY_MIN + 180, "paste into the refrigerator"))
    assert (warm.level, warm.limit) == (STOP, 0)
    assert oil(1, event(-DAY_MIN + 60, "paste into the refrigerator")).level == NOTE
    assert "nobody wrote down" in oil(1).message


def test_a_paste_not_used_yet_is_as_old_as_this_moment_and_a_finished_entry_is_not() -> None:
    waiting = entry(event(0, "paste made"))
    assert found(waiting, PASTE, around=Around(now=at(3 * DAY_MIN)))["garlic in oil"].level == WARN
    done = entry(event(0, "paste made"), finished=at(100))
    assert "days old" not in found(done, PASTE, around=Around(now=at(3 * DAY_MIN)))["garlic in oil"].message


def test_without_a_paste_made_the_first_ingredient_that_was_logged_begins_it() -> None:
    made = ({"item": "garlic", "at": at(-3 * DAY_MIN)}, {"item": "fine salt", "at": at(-9 * DAY_MIN)})
    assert found(entry(*DAY, as_made=made), PASTE)["garlic in oil"].value == 3
    late = ({"item": "garlic", "at": at(50)},)
    assert "days old" not in found(entry(*DAY, as_made=late), PASTE)["garlic in oil"].message


@pytest.mark.parametrize(("days", "level"), [(1, NOTE), (3.5, WARN), (6, STOP)])
def test_raw_meat_is_counted_from_the_shop_to_the_fire(days: float, level: str) -> None:
    told = found(entry(event(-days * DAY_MIN, "bought"), *DAY), LOIN)["keeping, raw meat"]
    assert (told.level, told.value) == (level, days)


def test_days_in_the_freezer_and_hung_meat_are_not_counted() -> None:
    frozen = (event(-30 * DAY_MIN, "bought"), event(-29 * DAY_MIN, "into the freezer"), event(-DAY_MIN, "thawed"))
    assert found(entry(*frozen, *DAY), LOIN)["keeping, raw meat"].value == 2
    assert "keeping, raw meat" not in found(entry(event(-9 * DAY_MIN, "bought"), *DAY, aged="28 days dry"), LOIN)


@pytest.mark.parametrize(("how", "hours", "level"), [
    ("thawing in the refrigerator", 80, NOTE), ("thawing in the refrigerator", 24, WARN),
    ("thawing in cold water", 7, NOTE), ("thawing on the counter", 12, STOP), ("thawing on the counter", 2.1, STOP),
    ("thawing on the counter", 1, WARN),
    ("out of the freezer", 30, NOTE),
])
def test_a_turkey_of_six_kilograms_is_thawed_by_its_band(how: str, hours: float, level: str) -> None:
    """13.2 lb: 3 to 4 days in the refrigerator, 6 to 8 h in cold water (FSIS turkey text)."""
    log = entry(event(-60 * hours - 60, how), event(-60, "thawed"), *DAY, pieces=TURKEY)
    told = found(log)["thawing"]
    assert (told.level, told.value) == (level, hours)


def test_how_it_was_thawed_may_stand_with_the_piece() -> None:
    assert found(entry(*DAY, thawed="overnight on the kitchen counter"), LOIN)["thawing"].level == WARN
    assert found(entry(*DAY, thawed="2 days in the fridge"), LOIN)["thawing"].value == 48
    assert "h" not in str(found(entry(*DAY, thawed="in the microwave"), LOIN)["thawing"].value)


def test_the_hour_rule_holds_in_hot_air() -> None:
    """75 minutes at 95 °F: thrown away (S33)."""
    served = (*DAY[:2], event(205, "sliced"), event(205 + 75, "leftovers into the refrigerator"))
    log = [*cook(66), reading(205, 58)]
    assert found(entry(*served), LOIN, log)["time out"].level == NOTE
    hot = found(entry(*served, weather="95 °F, still"), LOIN, log)["time out"]
    assert (hot.level, hot.limit) == (STOP, 60)


def test_a_long_rest_whose_core_nobody_read_is_asked_about_and_one_that_was_read_is_judged() -> None:
    late = (event(0, "on"), event(200, "pulled"), event(380, "sliced"))
    unread = found(entry(*late), LOIN, cook(66))["time out"]
    assert (unread.level, unread.value) == (WARN, 180)
    assert "nobody wrote down" in unread.message
    once = found(entry(*late), LOIN, [*cook(66), reading(210, 67)])["time out"]
    assert (once.level, once.value) == (WARN, 170)
    cold = found(entry(*late), LOIN, [*cook(66), reading(230, 59), reading(370, 40)])["time out"]
    assert cold.level == STOP
    held = [*cook(66), *(reading(200 + 25 * step, 66 - step / 2) for step in range(1, 8))]
    assert "time out" not in found(entry(*late), LOIN, held)


def test_a_coat_put_on_the_evening_before_is_asked_about_not_thrown_away() -> None:
    evening = found(entry(event(-900, "paste on"), *DAY), LOIN)["time out"]
    assert evening.level == WARN
    assert found(entry(event(-150, "paste on"), *DAY), LOIN)["time out"].level == STOP


def test_raw_meat_that_is_out_now_is_counted_up_to_now() -> None:
    waiting = entry(event(0, "out"))
    for minutes, level in ((60, NOTE), (100, WARN), (121, STOP), (3000, WARN)):
        assert found(waiting, LOIN, around=Around(now=at(minutes)))["time out"].level == level
    assert "time out" not in found(entry(event(0, "out"), finished=at(10)), LOIN, around=Around(now=at(300)))
    assert "time out" not in found(waiting, LOIN, cook(58), Around(now=at(300)))
    unlit = entry(event(0, "out"), event(300, "pulled"))
    assert found(unlit, LOIN)["time out"].level == WARN


def test_a_probe_taken_out_of_the_meat_cools_nothing() -> None:
    log = [reading(200, 60), reading(210, 57.2), reading(212, 20), reading(240, 5), reading(300, 4)]
    assert not [rule for rule in found(entry(*DAY, event(230, "into the refrigerator")), LOIN, log)
                if rule.startswith("cooling")]


def test_a_second_coat_over_the_fire_is_not_raw_meat_left_out() -> None:
    log = entry(event(0, "on"), event(60, "paste on"), event(200, "pulled"), event(220, "leftovers away"))
    assert found(log, LOIN, cook(66))["time out"].value == 20


def test_leftovers_are_counted_from_the_refrigerator_and_reheated_by_the_thermometer() -> None:
    away, eaten = event(260, "leftovers into the refrigerator"), event(260 + 5 * DAY_MIN, "leftovers eaten")
    told = found(entry(*DAY, away, eaten, event(260 + DAY_MIN, "reheated")), LOIN,
                 [*cook(66), reading(260 + DAY_MIN, 60)])
    assert (told["keeping, leftovers"].level, told["keeping, leftovers"].value) == (STOP, 5)
    assert told["leftovers reheated"].level == WARN
    assert told["household minimum"].value == 66


def test_a_reheated_core_is_no_core_of_the_cook() -> None:
    log = [*cook(58), reading(225 + DAY_MIN, 76)]
    told = found(entry(*DAY, event(225 + DAY_MIN, "reheated")), LOIN, log)
    assert told["household minimum"].value == 58
    assert told["leftovers reheated"].level == NOTE


def test_cooling_with_the_probe_in_is_held_against_the_shops_steps() -> None:
    """135 to 70 °F in 2 h and to 41 °F in 6 h in all (Food Code 3-501.14, S31)."""
    away = event(230, "into the refrigerator")
    good = [reading(200, 60), reading(210, 57.2), reading(320, 21), reading(540, 5)]
    told = found(entry(*DAY, away), LOIN, good)
    assert told["cooling, 1"].level == NOTE
    slow = [reading(200, 60), reading(210, 57.2), reading(360, 21), reading(700, 4)]
    told = found(entry(*DAY, away), LOIN, slow)
    assert told["cooling, 1"].level == WARN
    assert not [rule for rule in found(entry(*DAY), LOIN, good) if rule.startswith("cooling")]


@pytest.mark.parametrize(("did", "minutes", "level"), [
    ("basted with the marinade", 100, NOTE), ("basted with the marinade", 205, STOP),
    ("sliced on the same board", 205, STOP), ("leftover paste served as a sauce", 230, STOP),
])
def test_what_touched_raw_meat_is_never_served_unboiled(did: str, minutes: float, level: str) -> None:
    assert found(entry(*DAY, event(minutes, did)), LOIN)["raw contact"].level == level
    boiled = event(minutes - 1, "marinade and paste boiled")
    told = found(entry(*DAY, boiled, event(minutes, did)), LOIN)["raw contact"]
    assert told.level == (level if "board" in did else NOTE)


def test_what_was_boiled_before_it_met_the_meat_is_raw_again() -> None:
    early = (event(-90, "marinade boiled"), event(-60, "marinade on"))
    told = found(entry(*early, *DAY, event(205, "basted with the marinade")), LOIN)
    assert told["raw contact"].level == STOP


def test_what_was_set_aside_is_clean() -> None:
    assert "raw contact" not in found(entry(*DAY, event(205, "brushed with the paste that was set aside")), LOIN)


@pytest.mark.parametrize(("did", "kind"), [
    ("on", None), ("pulled", None), ("served with a green sauce", None), ("sprayed with apple juice", None),
    ("paste made", "paste made"), ("fennel-sage-paste mixed", "paste made"),
    ("coated, into the refrigerator", "away"), ("out", "out"), ("ate the leftovers", "leftovers eaten"),
    ("paste in the fridge", "paste away"), ("out of the freezer, thawing in cold water", "thawing"),
    ("leftovers away", "away"), ("leftovers frozen", "frozen"),
])
def test_the_cooks_words_mean_what_they_say(did: str, kind: str | None) -> None:
    assert kind_of(did) == kind


@pytest.mark.parametrize(("words", "scale", "degrees"), [
    ("24 degrees, gusty", "C", 24), ("90 °F, still", "C", 32.2), ("95 degrees", None, 35), ("85 degrees", "C", 29.4),
    ("wind from 3 sides", "C", None), (None, None, None), ("35 °C by noon, 20 °C later", None, 35),
])
def test_the_air_is_read_out_of_the_weather(words: str | None, scale: str | None, degrees: float | None) -> None:
    read = air_c(words, scale)
    assert read is None if degrees is None else read == pytest.approx(degrees, abs=0.05)


def test_a_thermometer_that_may_be_off_asks_for_more() -> None:
    """63.0 °C with a thermometer ± 1 °C is not past 62.8 °C."""
    sure = found(entry(*DAY), LOIN, cook(63))["household minimum"]
    off = found(entry(*DAY), LOIN, cook(63), Around(accuracy_c=1.0))["household minimum"]
    assert (sure.level, off.level) == (NOTE, WARN)
    assert off.limit == pytest.approx(63.8, abs=0.05)


def test_what_went_in_instead_brings_its_allergens_into_the_entry() -> None:
    made = ({"item": "olive oil", "instead": "walnut oil"}, {"item": "anchovy fillets"})
    told = entry_safety(entry(*DAY, as_made=made), LOIN, (), [], Around(), SPECIES.__getitem__)
    laws = {one.regime: one.message for one in told if one.rule == "allergens"}
    assert set(laws) == {"EU", "US"}
    assert all("fish" in said and "walnut" in said and "ay contain" not in said for said in laws.values())


def test_a_paste_without_a_recipe_is_known_by_what_went_in() -> None:
    made = ({"item": "garlic"}, {"item": "olive oil"})
    assert found(entry(*DAY, as_made=made), LOIN)["garlic in oil"].level == NOTE
    cure = ({"item": "curing salt", "amount": Said(kind="volume")},)
    assert found(entry(*DAY, as_made=cure), LOIN)["curing salt"].level == STOP
    weighed = ({"item": "curing salt", "amount": Said(kind="mass")},)
    assert found(entry(*DAY, as_made=weighed), LOIN)["curing salt"].level == NOTE
