"""What a cook runs into seldom: guests of a recipe, ways of thawing, leftovers and long curves."""

from __future__ import annotations

import pytest

from cookbook.errors import RequestError
from cookbook.safety import NOTE, STOP, WARN, Curve, allergen_words, cooked, keeping_days, recipe_safety
from cookbook.safety.dwell import dwell_table
from cookbook.safety.finding import Finding
from cookbook.safety.keeping import keeping_finding
from cookbook.safety.reduction import table_log10
from cookbook.safety.thawing import thaw, thawing_finding
from cookbook.safety.verdict import flaw_findings, planned_guests_finding
from tests.safety.saying import DAY, LOIN_CUT, entry, event, found, ingredient, recipe

PIG = {LOIN_CUT: "pork"}.__getitem__


def test_a_recipe_for_guests_who_need_it_fully_cooked_waits_for_a_thermometer() -> None:
    short = planned_guests_finding("pork", LOIN_CUT, 60.04)
    assert (short.level, short.value, short.limit, short.unit) == (WARN, 60.0, 62.8, "°C")
    assert "62.8 °C, rested 3 min" in short.message
    assert "comes off at 60.0 °C" in short.message
    bird = planned_guests_finding("chicken", "chicken, whole", 80)
    assert (bird.level, bird.limit) == (NOTE, 73.9)
    assert "rested" not in bird.message
    assert "comes off" not in bird.message
    assert planned_guests_finding("pork", LOIN_CUT, None).value is None
    told = {one.rule for one in recipe_safety(recipe(ingredient("thyme"), pull_c=60), (), PIG, guests=True)}
    assert "fully cooked guests" in told
    assert "fully cooked guests" not in {one.rule for one in recipe_safety(recipe(ingredient("thyme")), (), PIG)}


def test_thawing_by_another_way_says_its_rule() -> None:
    told = thawing_finding(2000, "microwave", 1.04, "pork")
    assert (told.level, told.value, told.limit, told.unit) == (NOTE, 1.0, None, "h")
    assert told.message == "thawed by microwave: cook immediately"


@pytest.mark.parametrize(("method", "end"), [("refrigerator", "can't be said"), ("cold water", "cooked at once")])
def test_a_piece_that_nobody_weighed_has_no_time_to_thaw(method: str, end: str) -> None:
    told = thawing_finding(None, method, None, "turkey")
    assert (told.level, told.value, told.limit) == (NOTE, None, None)
    assert told.message.endswith(end)
    assert "nobody wrote down how long" in told.message


def test_how_long_it_takes_is_one_number_or_two() -> None:
    """The turkey's band is given in days, other pieces by weight."""
    bird, roast = (thawing_finding(5000, "refrigerator", 10.04, name) for name in ("turkey", "beef"))
    assert bird.limit == 24
    assert "takes 24 to 72 h" in bird.message
    assert (roast.level, roast.value) == (WARN, 10.0)
    wet = thawing_finding(2000, "cold water", 1, "pork")
    assert wet.limit == round(thaw(2000, "cold water").low_h, 1)
    assert f"about {thaw(2000, 'cold water').low_h:.0f} h" in wet.message


def test_half_a_gram_thaws_and_nothing_does_not() -> None:
    assert thaw(0.5).low_h > 0
    for mass_g in (0, -1, float("nan"), float("inf")):
        with pytest.raises(RequestError, match="is no weight") as refused:
            thaw(mass_g)
        assert refused.value.mend == "give the frozen piece's weight"


@pytest.mark.parametrize("days", [-1, float("nan"), float("inf")])
def test_days_that_are_none_are_refused(days: float) -> None:
    with pytest.raises(RequestError, match="is no number of days") as refused:
        keeping_finding("leftovers", days)
    assert refused.value.mend == "count from 0, the day it was made"


def test_leftovers_that_were_frozen_have_no_days_and_must_be_hot_again() -> None:
    day = 24 * 60
    kept = [*DAY, event(300, "in the refrigerator"), event(300 + 9 * day, "leftovers eaten")]
    assert found(entry(*kept), recipe(ingredient("thyme"), kind="cook"))["keeping, leftovers"].level == STOP
    frozen = [*DAY, event(300, "leftovers into the freezer"), event(300 + 9 * day, "leftovers eaten")]
    assert "keeping, leftovers" not in found(entry(*frozen), recipe(ingredient("thyme"), kind="cook"))


def test_a_piece_that_cannot_be_judged_gets_no_verdict_and_hears_why() -> None:
    told = found(entry(*DAY, weight=0.0, thawed="in the refrigerator"), recipe(ingredient("thyme"), kind="cook"))
    assert told["readings"].level == WARN
    assert told["readings"].message == "no verdict: 0.0 g is no weight; give the frozen piece's weight"


@pytest.mark.parametrize(("low_f", "high_f"), [(128.3, 141.7), (131.0, 139.0), (133.2, 133.9), (120.0, 146.0)])
def test_the_reduction_of_a_rise_is_that_of_its_thousand_parts(low_f: float, high_f: float) -> None:
    """The closed form between rows against the sum of slices so thin that each is held."""
    table = dwell_table("pork", None, None)
    minutes, parts = 240.0, 4000
    whole = Curve.of([0, minutes * 60], [(one - 32) / 1.8 for one in (low_f, high_f)])
    total = 0.0
    for part in range(parts):
        held = low_f + (high_f - low_f) * (part + 0.5) / parts
        slice_ = Curve.of([0, minutes * 60 / parts], [(held - 32) / 1.8] * 2)
        total += table_log10(slice_, table)
    assert table_log10(whole, table) == pytest.approx(total, rel=2e-3)


def test_a_flaw_of_the_readings_tells_its_minutes() -> None:
    gap = Curve.of([0, 600, 1200, 1200 + 5400, 8000], [4, 10, 20, 40, 60])
    told = [one for one in flaw_findings(cooked(gap, "pork")) if one.rule == "readings, gap"]
    assert [one.value for one in told] == [90.0]


def test_how_long_raw_meat_and_leftovers_keep_is_what_the_page_says() -> None:
    """FoodSafety.gov, Cold Food Storage Chart: raw poultry 1 to 2 days, leftovers 3 to 4."""
    assert keeping_days("raw poultry") == (1.0, 2.0, "usda-cold-storage")
    assert keeping_days("leftovers") == (3.0, 4.0, "usda-cold-storage")


def test_the_allergens_of_a_recipe_are_told_in_words_or_said_to_be_none() -> None:
    told = allergen_words([recipe(ingredient("walnuts"), ingredient("butter", alternatives=("anchovy fillets",)))])
    assert told.startswith("Contains nuts (walnut); milk.")
    assert " What may be taken instead: fish." in told
    assert told.endswith("an aid, not a label.")
    assert allergen_words([recipe(ingredient("thyme"))]).startswith("None of the EU's fourteen")
    assert allergen_words([recipe()]) == ""


def test_a_planned_pull_says_what_is_missing_in_degrees_or_in_minutes_of_rest() -> None:
    def planned(pull_c: float, rest_min: float) -> Finding:
        told = recipe_safety(recipe(kind="cook", pull_c=pull_c, rest_min=rest_min), (), PIG)
        return next(one for one in told if one.rule == "planned pull")

    cool, hurried, met = planned(60.06, 25), planned(71.04, 1), planned(71.04, 25)
    assert (cool.level, cool.value, cool.limit, cool.regime) == (NOTE, 60.1, 62.8, "household")
    assert ", 2.7 °C more: a rise in the rest counts only" in cool.message
    assert (hurried.level, hurried.value, hurried.limit, hurried.unit) == (WARN, 71.0, 62.8, "°C")
    assert hurried.message.endswith("; the recipe rests it 1 min")
    assert (met.level, met.value) == (NOTE, 71.0)
    assert met.message.startswith("pulled at 71 °C; ")
    assert met.message.endswith("3 min rest")
