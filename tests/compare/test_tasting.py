"""Blind tastings: orders dealt evenly, codes that give nothing away, answers read out exactly."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.compare.tasting import KINDS, hits, plan, power_of, result, tasters_needed
from cookbook.errors import RequestError, UnknownName

NAMES = [f"taster {number}" for number in range(1, 13)]


@given(st.sampled_from(list(KINDS)), st.integers(0, 10**6), st.integers(1, 40))
def test_orders_are_balanced_and_codes_have_three_digits_and_are_never_used_twice(
    kind: str, seed: int, tasters: int
) -> None:
    made = plan(kind, [f"{number}" for number in range(tasters)], seed)
    orders = Counter("".join(portion.sample for portion in one.portions) for one in made.servings)
    assert set(orders) <= set(KINDS[kind].orders)
    assert max(orders.values()) - min(orders[order] for order in KINDS[kind].orders) <= 1
    codes = [portion.code for one in made.servings for portion in one.portions]
    assert len(set(codes)) == len(codes)
    assert all(100 <= code <= 999 for code in codes)


def test_the_same_seed_deals_the_same_plan_and_another_another() -> None:
    assert plan("triangle", NAMES, 5) == plan("triangle", NAMES, 5)
    assert plan("triangle", NAMES, 5) != plan("triangle", NAMES, 6)


def test_every_right_answer_counts_as_one() -> None:
    made = plan("triangle", NAMES, 5)
    right = {one.taster: odd.code for one in made.servings if (odd := one.odd) is not None}
    assert hits(made, right) == (12, 12)
    wrong = {one.taster: next(p.code for p in one.portions if p != one.odd) for one in made.servings}
    assert hits(made, wrong) == (0, 12)


def test_a_preference_counts_those_who_chose_b() -> None:
    made = plan("preference", NAMES, 5)
    chosen = {one.taster: next(p.code for p in one.portions if p.sample == "B") for one in made.servings[:9]}
    assert hits(made, chosen) == (9, 9)


def test_verdicts_at_and_below_the_critical_number() -> None:
    assert result("triangle", 9, 15).verdict == "they taste different"
    assert result("triangle", 8, 15).verdict == "can't tell yet"
    assert result("preference", 12, 15).verdict == "B is liked better"
    assert result("preference", 3, 15).verdict == "A is liked better"
    assert result("preference", 11, 15).verdict == "can't tell yet"


@given(st.integers(1, 60).flatmap(lambda of: st.tuples(st.integers(0, of), st.just(of))))
def test_the_interval_goes_with_the_verdict(counts: tuple[int, int]) -> None:
    found = result("triangle", *counts)
    assert (found.noticed[0] > 0) == (found.verdict == "they taste different")
    liked = result("preference", *counts)
    assert (liked.noticed[0] > 0 or liked.noticed[1] < 0) == ("liked better" in liked.verdict)


@pytest.mark.parametrize("kind", list(KINDS))
def test_the_tasters_needed_find_it_four_times_in_five(kind: str) -> None:
    needed = tasters_needed(kind)
    assert power_of(kind, needed) >= 0.8 > power_of(kind, needed - 1)


@pytest.mark.parametrize(
    ("kind", "tasters", "fault"),
    [
        ("square", ["Ada"], UnknownName),
        ("triangle", [], RequestError),
        ("triangle", ["Ada", "Ada"], RequestError),
        ("triangle", [f"{n}" for n in range(151)], RequestError),
    ],
)
def test_a_tasting_that_cannot_be_is_refused(kind: str, tasters: list[str], fault: type[Exception]) -> None:
    with pytest.raises(fault):
        plan(kind, tasters, 1)


def test_answers_that_were_not_served_are_refused() -> None:
    made = plan("triangle", NAMES, 5)
    with pytest.raises(RequestError, match="was not served"):
        hits(made, {NAMES[0]: 99})
    with pytest.raises(RequestError, match="not in the plan"):
        hits(made, {"somebody": 512})
    with pytest.raises(RequestError, match="can't be"):
        result("triangle", 16, 15)
