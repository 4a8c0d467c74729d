"""A kitchen's own weighings: they win over the table, and more of them are worth more."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from cookbook.errors import AmountError, RequestError
from cookbook.quantity import Amount, OwnWeight, convert, lookup, own_weight, own_weights, weighing
from cookbook.quantity.measuring import measured
from cookbook.quantity.own import _T90, USUAL_SPREAD

TBSP_ML = 14.78676478125


def test_a_spoonful_on_the_balance() -> None:
    own = own_weight([weighing("fine salt", "1 tbsp", "17.5g")])
    assert own.g_per_ml == pytest.approx(17.5 / TBSP_ML)
    assert own.weighings == 1


def test_it_wins_over_the_table_and_says_so() -> None:
    weights = own_weights([weighing("fine salt", "1 tbsp", "17.5 g"), weighing("fine salt", "1 tbsp", "17.9 g")])
    found = convert("2 tbsp", "salt, fine", to="g", weights=weights)
    assert found.value == pytest.approx(35.4)
    assert found.source == "salt, table: own weighing, mean of 2"
    assert convert("2 tbsp", "fine salt", to="g").value == pytest.approx(36.5, abs=0.1)


def test_what_the_table_lacks_is_known_once_it_was_weighed() -> None:
    weights = own_weights([weighing("Aunt's spice mix", "2 tbsp", "13 g")])
    assert convert("1 tbsp", "aunt's spice mix", to="g", weights=weights).value == pytest.approx(6.5)
    assert convert("13 g", "aunt's spice mix", to="tbsp", weights=weights).value == pytest.approx(2)
    assert lookup("aunt's spice mix") is None


def test_counted_things_are_weighed_by_the_piece() -> None:
    weights = own_weights([weighing("garlic", "10 cloves", "41 g"), weighing("garlic", "1 tbsp", "9 g")])
    assert convert("6 cloves", "garlic", to="g", weights=weights).value == pytest.approx(24.6)
    doubt = weights["garlic, clove"].doubt
    found = convert("6 cloves", "garlic", to="g", weights=weights)
    assert [found.interval["low"], found.interval["high"]] == pytest.approx([24.6 * (1 - doubt), 24.6 * (1 + doubt)])
    assert convert("1 tbsp", "garlic", to="g", weights=weights).value == pytest.approx(9)
    assert convert("1 head", "garlic", to="g", weights=weights).value == 45


def test_packed_and_loose_are_weighed_apart() -> None:
    weights = own_weights([weighing("brown sugar", "1 cup packed", "210 g")])
    assert convert("1 cup packed", "brown sugar", to="g", weights=weights).value == pytest.approx(210)
    assert convert("1 cup", "brown sugar", to="g", weights=weights).value == pytest.approx(145, abs=0.1)


def test_a_plain_record_by_name_is_enough() -> None:
    weights = {"sea salt": OwnWeight(0.9, None, 1, 0.08)}
    assert convert("1 tbsp", "sea salt", to="g", weights=weights).value == pytest.approx(0.9 * TBSP_ML)


def test_an_own_weight_tells_grams_where_a_cook_measures_metric() -> None:
    weights = {"house rub": OwnWeight(0.9, None, 1, 0.08)}
    assert measured(Amount.parse("1 tbsp"), "metric", "house rub", weights).text == "13.5 g"
    assert measured(Amount.parse("1 tbsp"), "metric", "house rub")[:2] == ("15 ml", "")


def test_a_coarse_balance_adds_its_rounding_to_the_doubt() -> None:
    """Evenly spread over the last digit: a twelfth of its square."""
    own = own_weight([weighing("salt", "1 tbsp", "5 g")])
    assert own.doubt == pytest.approx(_T90[1] * (USUAL_SPREAD ** 2 + (1 / 5) ** 2 / 12) ** 0.5)


@given(st.floats(5, 500), st.integers(1, 30))
def test_the_interval_shrinks_with_each_weighing_that_agrees(grams: float, times: int) -> None:
    one = weighing("salt", "1 tbsp", f"{grams:.1f} g")
    assert own_weight([one] * (times + 1)).doubt < own_weight([one] * times).doubt


def test_weighings_that_disagree_keep_a_wide_interval() -> None:
    close = own_weight([weighing("salt", "1 tbsp", f"{g} g") for g in (17.4, 17.5, 17.6)])
    apart = own_weight([weighing("salt", "1 tbsp", f"{g} g") for g in (12.5, 17.5, 22.5)])
    assert apart.doubt > 3 * close.doubt
    assert apart.g_per_ml == pytest.approx(close.g_per_ml)


def test_a_coarse_balance_leaves_more_doubt() -> None:
    coarse = own_weight([weighing("saffron", "1 tsp", "1 g")])
    fine = own_weight([weighing("saffron", "1 tsp", "1.00 g")])
    assert coarse.doubt > 3 * fine.doubt


def test_student_quantiles_agree_with_scipy() -> None:
    for freedom, value in enumerate(_T90, 1):
        assert value == pytest.approx(stats.t.ppf(0.9, freedom), abs=5e-4)


@pytest.mark.parametrize(("amount", "mass"), [("1 tbsp", "1 cup"), ("60 g", "60 g"), ("to taste", "3 g"),
                                              ("1-2 tbsp", "9 g"), ("1 tbsp", "9-10 g"),
                                              ("0 tbsp", "9 g"), ("1 tbsp", "0 g"), ("1.1 % of meat", "3 g")])
def test_what_can_be_no_weighing(amount: str, mass: str) -> None:
    with pytest.raises(RequestError) as caught:
        weighing("salt", amount, mass)
    assert caught.value.mend


def test_nonsense_is_an_amount_error() -> None:
    with pytest.raises(AmountError):
        weighing("salt", "1 blob", "17 g")


def test_spoons_and_pieces_are_not_averaged() -> None:
    with pytest.raises(RequestError, match="different measures"):
        own_weight([weighing("garlic", "1 tbsp", "9 g"), weighing("garlic", "3 cloves", "9 g")])
