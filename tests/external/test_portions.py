"""Raw meat to plates, worked by hand from the published yields and bone shares.

Cooked weight of raw: USDA Table of Cooking Yields for Meat and Poultry (2012; release 2, 2014), rows read in open
transcriptions: beef retail cuts bone in, roasted 77 %; lamb roasts 74 % (from Agriculture Handbook 102); chicken
whole with skin 78 % (68 to 84); turkey whole 71 %; boneless beef 79 %. Bone of the weight: USDA National Nutrient
Database for Standard Reference, refuse: beef rib 17, leg of lamb 22 raw and 23 roasted, chicken 32 and 33, turkey 29
and 31.
Servings from a pound: USDA ARS, Money-Saving Main Dishes. Reference portion of cooked lean meat: 3 oz (85 g).
"""

from __future__ import annotations

import pytest

from cookbook.meat import Cut
from cookbook.plan import Eater, buy, needed, portion, raw_for, share

POUND_G, OUNCE_G = 453.59237, 453.59237 / 16
BY_HAND = {
    "rib roast, bone in": 0.77 * (1 - 0.17),
    "leg of lamb, bone in": 0.74 * (1 - 0.23),
    "chicken, whole": 0.78 * (1 - 0.33),
    "turkey, whole": 0.71 * (1 - 0.31),
    "rib roast, boneless": 0.79,
}
"""Edible cooked = raw × cook yield × (1 − cooked bone share): 0.64, 0.57, 0.52, 0.49, 0.79."""
PER_EDIBLE = {
    # SR28, cooked edible from 1 lb raw with refuse: rows 13826, 17012, 5200; lean and fat, meat and skin.
    "rib roast, bone in": 0.637,
    "leg of lamb, bone in": 0.584,
    "turkey, whole": 0.505,
}


@pytest.mark.parametrize("name", BY_HAND)
def test_the_edible_share_before_the_knife_is_the_one_worked_by_hand(name: str) -> None:
    found = share(Cut.named(name), 60.0)
    before_trim = found.cooked.mid * found.boned.mid
    # A raw bone share stands for the cooked one: up to two points of difference in the tables themselves.
    assert before_trim == pytest.approx(BY_HAND[name], abs=0.02)
    assert found.edible.mid == pytest.approx(before_trim * found.trimmed.mid)


@pytest.mark.parametrize("name", PER_EDIBLE)
def test_the_nutrient_tables_own_yields_lie_within_the_interval(name: str) -> None:
    found = share(Cut.named(name), 60.0).edible
    assert found.low <= PER_EDIBLE[name] <= found.high


def test_ten_portions_of_a_three_rib_roast_of_four_kilograms() -> None:
    """4 kg × 0.64 = 2.55 kg: ten of 250 g (a worked example)."""
    found = share(Cut.named("rib roast, bone in"), 54.0)
    plates = 4000 * found.cooked.mid * found.boned.mid
    assert plates == pytest.approx(2550, rel=0.01)
    assert plates / portion("usual").grams.mid == pytest.approx(10.2, abs=0.1)


def test_eight_adults_worked_by_hand() -> None:
    eight = [Eater(f"{number}") for number in range(8)]
    cut = Cut.named("rib roast, bone in")
    edible = share(cut, 54.0).edible
    raw = raw_for(needed(eight), edible)
    assert needed(eight).mid == 8 * 250
    assert raw.mid == pytest.approx(2000 / (0.98 * 0.77 * 0.83), rel=1e-6)
    asked = buy(cut, raw)
    # 0.91 to 1.43 kg a rib (IMPS 109A, 14 to 22 lb over 7 ribs).
    assert asked.ribs is not None
    assert 0.91 <= asked.each_g / asked.ribs / 1000 <= 1.43
    assert asked.ribs == 3


def test_a_childs_least_portion_is_the_reference_portion() -> None:
    assert portion("child").grams.low == pytest.approx(3 * OUNCE_G, abs=0.5)


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [("turkey, whole", 1, 3), ("rib roast, bone in", 2, 3), ("rib roast, boneless", 4, 5)],
)
def test_reference_portions_from_a_pound_are_those_of_the_guidance(name: str, low: float, high: float) -> None:
    """Much bone 1 to 2, medium bone 2 to 3, boneless 4 to 5 servings a pound; one serving to spare each way."""
    servings = POUND_G * share(Cut.named(name), 60.0).edible.mid / (3 * OUNCE_G)
    assert low - 1 <= servings <= high + 1
