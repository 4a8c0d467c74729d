"""Curing amounts: by weight, under the class's limit, and nothing where something is missing."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import RequestError, UnknownName
from cookbook.safety import NOTE, STOP, WARN, cure, curing_limit, ingoing_ppm, refuse_cure_by
from cookbook.safety.curing import CLASSES


def test_without_a_wish_the_classs_limit_is_taken() -> None:
    made = cure("dry", "sausage", 1000, 2, 6.25)
    assert (made.nitrite_ppm.asked, made.nitrite_ppm.limit) == (156, 156)
    assert made.cure_g == pytest.approx(2.496)
    assert made.salt_g == pytest.approx(20 - 2.496 * 0.9375)


def test_120_ppm_is_no_weak_cure_and_one_less_is() -> None:
    rules = {ppm: [found.rule for found in cure("dry", "dry cured", 1000, 2, 6.25, nitrite_ppm=ppm).findings]
             for ppm in (119, 120)}
    assert rules == {119: ["nitrite limit", "nitrite floor"], 120: ["nitrite limit"]}


def test_rind_lowers_the_limit_by_a_tenth() -> None:
    assert cure("dry", "bacon, dry", 1000, 2.5, 6.25, rind=True).nitrite_ppm.asked == 180
    over = cure("dry", "bacon, dry", 1000, 2.5, 6.25, nitrite_ppm=190, rind=True)
    assert over.cure_g is None
    assert "rind on" in over.findings[0].message


def test_every_answer_says_twice_fine_scale_and_local_rules() -> None:
    for asked in (100.0, 900.0):
        said = cure("dry", "dry cured", 1000, 3, 6.25, nitrite_ppm=asked).json()["cautions"]
        assert len(said) == 3  # type: ignore[arg-type] # the list of cautions
        assert all(word in " ".join(said) for word in ("twice", "Weigh", "local rules"))  # type: ignore[arg-type]


def test_the_answer_as_json_has_the_agreed_keys() -> None:
    told = cure("dry", "bacon, dry", 1000, 2.5, 6.25, nitrite_ppm=500).json()
    assert (told["cure_g"], told["salt_g"]) == (None, None)
    assert told["nitrite_ppm"] == {"asked": 500, "limit": 200}
    assert [found["level"] for found in told["findings"]] == [STOP]  # type: ignore[attr-defined]


def test_pumped_bacon_asks_for_ascorbate() -> None:
    made = cure("pumped", "bacon, pumped", 1000, 2, 6.25, pickle_g=1000, pump_percent=10)
    assert any(found.rule == "ascorbate" and found.limit == 550 for found in made.findings)


def test_a_pickle_takes_its_salt_by_the_gain_of_the_meat() -> None:
    made = cure("immersion", "pumped", 5000, 1.5, 6.25, nitrite_ppm=100, pickle_g=2000, pump_percent=10)
    assert made.cure_g == pytest.approx(100 * 2000 / 0.1 / 1e6 / 0.0625)
    assert made.salt_g is not None
    assert made.cure_g is not None
    assert made.salt_g + made.cure_g * 0.9375 == pytest.approx(2000 * 0.15)


def test_more_salt_than_water_holds_is_told_and_more_than_the_pickle_is_refused() -> None:
    strong = cure("immersion", "pumped", 5000, 2.8, 6.25, nitrite_ppm=100, pickle_g=1000, pump_percent=10)
    assert [found.level for found in strong.findings if found.rule == "brine strength"] == [WARN]
    with pytest.raises(RequestError, match="do not go into"):
        cure("immersion", "pumped", 5000, 11, 6.25, pickle_g=1000, pump_percent=10)


@pytest.mark.parametrize(("arguments", "named", "match"), [
    (("dry", None, 1000, 2, 6.25), {}, "no curing class"),
    (("dry", " ", 1000, 2, 6.25), {}, "no curing class"),
    (("dry", "sausage", 1000, 2, None), {}, "strength"),
    (("dry", "sausage", 1000, 2, 0), {}, "strength"),
    (("dry", "sausage", 1000, 2, 101), {}, "strength"),
    (("dry", "sausage", 0, 2, 6.25), {}, "weight of meat"),
    (("dry", "sausage", float("nan"), 2, 6.25), {}, "weight of meat"),
    (("dry", "sausage", 1000, -1, 6.25), {}, "salt"),
    (("dry", "sausage", 1000, 2, 6.25), {"nitrite_ppm": -5}, "nitrite"),
    (("dry", "pumped", 1000, 2, 6.25), {}, "no class for the method dry"),
    (("pumped", "bacon, dry", 1000, 2, 6.25), {"pickle_g": 100, "pump_percent": 10}, "no class for the method"),
    (("dry", "sausage", 1000, 2, 6.25), {"water_g": 500}, "water has no place"),
    (("dry", "sausage", 1000, 2, 6.25), {"pump_percent": 10}, "pump have no place"),
    (("pumped", "pumped", 1000, 2, 6.25), {"pickle_g": 100}, "needs the weight of the pickle"),
    (("immersion", "pumped", 1000, 2, 6.25), {"pump_percent": 10}, "needs the weight of the pickle"),
    (("equilibrium", "pumped", 1000, 2, 6.25), {"water_g": -1}, "water in g"),
    (("dry", "dry cured", 1000, 0.5, 6.25), {}, "more than the"),
])
def test_nothing_is_computed_from_what_is_missing_or_cannot_be(
        arguments: tuple[object, ...], named: dict[str, float], match: str) -> None:
    with pytest.raises(RequestError, match=match):
        cure(*arguments, **named)  # type: ignore[arg-type] # one mixture after the other


def test_a_class_that_another_method_is_for_is_told_with_those_that_fit() -> None:
    with pytest.raises(RequestError) as caught:
        cure("dry", "pumped", 1000, 2, 6.25)
    assert caught.value.mend is not None
    assert "sausage" in caught.value.mend
    assert "pumped" not in caught.value.mend


def test_an_unknown_class_or_method_names_the_known_ones() -> None:
    with pytest.raises(UnknownName) as caught:
        cure("dry", "bacon dry", 1000, 2, 6.25)
    assert "bacon, dry" in caught.value.nearest
    with pytest.raises(UnknownName, match="curing method"):
        cure("smoke", "sausage", 1000, 2, 6.25)


def test_a_limit_that_is_not_in_the_table_is_none() -> None:
    with pytest.raises(RequestError, match="no limit of potassium nitrite for sausage"):
        curing_limit("sausage", "potassium nitrite")
    assert curing_limit("bacon, immersed", "nitrate").exact_ppm == 0


def test_the_salt_of_too_much_cure_is_told_in_grams() -> None:
    with pytest.raises(RequestError, match=r"brings 9\.38 g of salt, more than the 5\.00 g"):
        cure("dry", "dry cured", 1000, 0.5, 6.25)


def test_cure_by_the_spoon_or_by_surface_is_refused() -> None:
    assert "spoon" in refuse_cure_by("spoon").message
    assert "surface" in refuse_cure_by("surface").message
    assert "by eye" in refuse_cure_by("measured by eye").message


@given(st.sampled_from(["sausage", "dry cured", "bacon, dry"]), st.floats(100, 50_000), st.floats(2.5, 6),
       st.floats(4, 20), st.floats(1, 120))
def test_a_dry_cure_brings_in_just_what_was_asked(
        product: str, meat_g: float, salt: float, strength: float, ppm: float) -> None:
    made = cure("dry", product, meat_g, salt, strength, nitrite_ppm=ppm)
    assert made.cure_g is not None
    assert made.salt_g is not None
    assert ingoing_ppm(made.cure_g, strength, meat_g) == pytest.approx(ppm)
    assert made.salt_g + made.cure_g * (1 - strength / 100) == pytest.approx(salt / 100 * meat_g)


@given(st.sampled_from(CLASSES), st.floats(100, 50_000), st.floats(0, 50_000), st.floats(0.1, 2000))
def test_no_amount_is_ever_given_above_the_limit(product: str, meat_g: float, water_g: float, ppm: float) -> None:
    made = cure("equilibrium", product, meat_g, 6, 20, nitrite_ppm=ppm, water_g=water_g)
    over = ppm > curing_limit(product).exact_ppm
    assert (made.cure_g is None) == (made.salt_g is None) == over
    assert any(found.level == STOP for found in made.findings) == over


def test_a_mix_stronger_than_any_sold_is_asked_about() -> None:
    assert "mix strength" not in [found.rule for found in cure("dry", "dry cured", 1000, 2.5, 6.25).findings]
    assert cure("dry", "dry cured", 1000, 2.5, 100).findings[0].level == WARN


def test_a_pickle_smaller_than_what_the_meat_takes_up_is_told() -> None:
    short = cure("pumped", "pumped", 10_000, 2, 6.25, pickle_g=500, pump_percent=10)
    assert short.findings[0][:4] == ("pickle", WARN, 500, 1000)
    enough = cure("pumped", "pumped", 5_000, 2, 6.25, pickle_g=500, pump_percent=10)
    assert "pickle" not in [found.rule for found in enough.findings]


def test_more_than_a_home_cure_mix_may_leave_leads_for_a_cook_at_home() -> None:
    """200 ppm in the finished meat (21 CFR 172.170), though a plant may bring 625 ppm into a dry cured piece."""
    first = cure("dry", "dry cured", 1000, 2.5, 6.25).findings[0]
    assert (first.level, first.value, first.limit, first.regime) == (WARN, 625, 200, "home-cure mixes")
    assert cure("dry", "dry cured", 1000, 2.5, 6.25, nitrite_ppm=200).findings[0].level == NOTE


def test_the_unrounded_limit_is_told_where_it_was_rounded() -> None:
    assert "156 ppm, 156.25 unrounded" in cure("dry", "sausage", 1000, 2, 6.25).findings[0].message
    assert "unrounded" not in cure("dry", "bacon, dry", 1000, 2, 6.25).findings[0].message


def test_every_answer_says_to_check_twice_to_weigh_and_to_follow_local_rules() -> None:
    said = " ".join(caution.text for caution in cure("dry", "dry cured", 1000, 2.5, 6.25, nitrite_ppm=900).cautions)
    assert all(words in said for words in ("Check twice", "fine scale", "local rules"))
