"""Totals of a batch, and the lines they leave out."""

from __future__ import annotations

import pytest

from cookbook.quantity import Amount, is_cure, is_salt, own_weights, salt_grams, salt_in, totals, weighing


def batch(*lines: tuple[str, str]) -> list[tuple[Amount, str]]:
    """Lines of a batch."""
    return [(Amount.parse(text), item) for text, item in lines]


def test_grams_add_up_and_ranges_keep_both_ends() -> None:
    found = totals(batch(("60 g", "garlic"), ("100-200 g", "onion")))
    assert tuple(found.grams) == (160, 210, 260)
    assert found.ranges
    assert not totals(batch(("60 g", "garlic"))).ranges


def test_to_taste_is_named_as_uncounted() -> None:
    found = totals(batch(("60 g", "garlic"), ("to taste", "black pepper")))
    assert {one.item for one in found.uncounted} == {"black pepper"}
    assert {one.total for one in found.uncounted} == {"mass", "volume", "salt"}
    assert all("nobody measures" in one.why for one in found.uncounted)


def test_salt_comes_from_salt_and_from_what_is_salty() -> None:
    """USDA SR28: soy sauce 5,493 mg sodium in 100 g; salt is sodium times 58.443/22.990."""
    found = totals(batch(("10 g", "table salt"), ("32 g", "soy sauce")))
    assert found.salt_g.mid == pytest.approx(10 + 0.32 * 5.493 * 58.443 / 22.990, rel=1e-2)
    assert found.sodium_mg.mid == pytest.approx(3934 + 1758, rel=1e-2)
    assert not found.uncounted


def test_a_spoon_of_an_unknown_salt_feeds_no_salt_figure() -> None:
    """Extension texts: flake salts differ by volume and are weighed instead."""
    found = totals(batch(("1 tbsp", "kosher salt")))
    assert found.salt_g.mid == 0
    assert [(one.item, one.total) for one in found.uncounted] == [("kosher salt", "salt")]
    assert "weigh a level tablespoon" in found.uncounted[0].why
    assert found.grams.mid > 0


@pytest.mark.parametrize(("text", "item"), [("1 tbsp", "table salt"), ("12 g", "kosher salt"),
                                            ("1 tbsp", "soy sauce")])
def test_a_weight_or_table_salt_does(text: str, item: str) -> None:
    amount = Amount.parse(text)
    assert salt_grams(amount, item) is not None
    assert totals([(amount, item)]).salt_g.mid > 0


def test_a_salt_weighed_here_does() -> None:
    weights = own_weights([weighing("kosher salt", "1 tbsp", "10 g")])
    found = totals(batch(("2 tbsp", "kosher salt")), weights)
    assert found.salt_g.mid == pytest.approx(20)
    assert not found.uncounted


def test_what_is_not_known_is_named_with_its_reason() -> None:
    found = totals(batch(("2 tsp", "zork"), ("1 head", "carrot"), ("1 tbsp", "gochujang"),
                         ("1.1 % of meat", "fine salt"), ("1", "lemon")))
    whys = {(one.item, one.total): one.why for one in found.uncounted}
    assert whys["zork", "mass"] == "what zork weighs is not known"
    assert "one head of carrot" in whys["carrot", "mass"]
    assert whys["gochujang", "salt"] == "the sodium of gochujang is not known"
    assert "follows the weight of the meat" in whys["fine salt", "mass"]
    assert whys["lemon", "volume"] == "what a spoonful of lemon weighs is not known"


def test_volumes_add_up_across_weights_and_measures() -> None:
    found = totals(batch(("1 cup", "olive oil"), ("216 g", "olive oil")))
    assert found.ml.mid == pytest.approx(2 * 236.588, rel=1e-3)
    assert found.ml.low < found.ml.mid < found.ml.high


@pytest.mark.parametrize(("item", "share"), [("fine salt", 1.0), ("kosher salt", 1.0), ("salt", 1.0),
                                             ("soy sauce", 0.14), ("unsalted butter", 0.0),
                                             ("fish sauce", 0.2), ("zork", 0.0), ("salt, flaked", 1.0)])
def test_how_much_of_it_is_salt(item: str, share: float) -> None:
    assert salt_in(item) == pytest.approx(share, abs=5e-3)


@pytest.mark.parametrize("item", ["salt", "fine salt", "sea salt", "kosher salt", "salt, table", "smoked salt"])
def test_salts(item: str) -> None:
    assert is_salt(item)
    assert not is_cure(item)


@pytest.mark.parametrize("item", ["unsalted butter", "celery salt", "garlic salt", "butter, lightly salted",
                                  "curing salt", "low-salt soy sauce", "garlic"])
def test_what_is_no_plain_salt(item: str) -> None:
    assert not is_salt(item)
