"""The cautions of a card: those that apply, short, each with its source."""

from __future__ import annotations

import pytest

from cookbook.errors import RequestError, UnknownName
from cookbook.safety import cautions, fire_cautions
from cookbook.table import source

PASTE = ["garlic", "sage, fresh", "fennel seed", "olive oil", "fine salt"]


def keys(*arguments: object, **named: object) -> list[str]:
    return [said.key for said in cautions(*arguments, **named)]  # type: ignore[arg-type] # any mixture is tried here


def test_a_paste_with_garlic_and_oil_leads_with_its_keeping_limit() -> None:
    said = cautions(PASTE, kind="paste")
    assert said[0].key == "garlic-in-oil"
    assert "garlic and sage" in said[0].text
    assert "within 2 days" in said[0].text
    assert "refrigerator" in said[0].text
    assert "freeze" in said[0].text
    assert [other.key for other in said[1:]] == ["raw-meat", "taste-first", "authority"]


def test_many_herbs_are_named_by_three_and_the_like() -> None:
    said = cautions(["garlic", "sage", "thyme", "parsley", "lard"], kind="paste")
    assert "garlic, sage, thyme and the like" in said[0].text
    assert "Fresh garlic in oil" in cautions(["garlic", "ghee"], kind="paste")[0].text


def test_a_dry_rub_has_no_keeping_limit() -> None:
    assert "garlic-in-oil" not in keys(["garlic powder", "dried sage", "olive oil"], kind="rub")


def test_a_cook_over_fire_carries_temperature_guests_and_fire() -> None:
    said = keys([], "pork", "pork loin, boneless", True, "cook")
    assert said == ["safe-temperature", "guests", "raw-meat", "carbon-monoxide", "ash", "hot-fat", "fire-code",
                    "authority"]


def test_guests_are_spoken_of_where_meat_is_cooked_and_not_on_a_jar_of_rub() -> None:
    assert "guests" not in keys(["pepper"], "pork", None, False, "rub")
    assert "guests" not in keys(["cream"], None, None, False, "cook")


def test_the_safe_temperature_stands_in_both_scales_with_its_rest_and_source() -> None:
    text = next(said.text for said in cautions([], "pork") if said.key == "safe-temperature")
    assert "62.8 °C (145 °F)" in text
    assert "3 minutes' rest" in text
    assert "USDA" in text
    bird = next(said.text for said in cautions([], "turkey", "stuffed") if said.key == "safe-temperature")
    assert "stuffed turkey: 73.9 °C (165 °F)" in bird
    assert "rest" not in bird
    assert "ground beef: 71.1 °C" in next(said.text for said in cautions([], "beef", "ground") if "safe" in said.key)


def test_a_figure_from_memory_says_so_on_the_card() -> None:
    said = next(said for said in cautions([], "venison") if said.key == "safe-temperature")
    assert said.memory
    assert "from memory" in said.text


def test_hot_fat_is_named_at_an_oven_only_where_there_is_fat() -> None:
    assert "hot-fat" in keys(["lard"], "beef")
    assert "hot-fat" not in keys(["fine salt"], "beef")
    assert "hot-fat" not in keys(["lard"], kind="paste")


def test_a_sauce_that_never_meets_raw_meat_has_no_raw_meat_caution() -> None:
    assert "raw-meat" not in keys(["cider vinegar"], kind="sauce")


def test_curing_salt_is_weighed_and_never_spooned() -> None:
    assert "cure" in keys(["curing salt, 6.25 %"], kind="brine")
    assert "cure" not in keys(["pink Himalayan salt"], kind="brine")


def test_cautions_of_the_fire_defer_to_the_local_code() -> None:
    assert "3 m (10 ft)" in fire_cautions()[-1].text
    assert "follow your local fire code and any burn ban" in fire_cautions()[-1].text


def test_every_caution_is_short_and_its_source_is_in_the_bibliography() -> None:
    every = cautions([*PASTE, "curing salt"], "pork", "ground", True, "cook") + cautions(["lard"], "beef")
    assert len({said.key for said in every}) >= 11
    for said in every:
        assert source(said.source).title
        assert len(said.text) <= 260
        assert "!" not in said.text
        assert said.text.endswith(".")


def test_unknown_kind_or_species_is_refused() -> None:
    with pytest.raises(RequestError, match="no kind"):
        cautions([], kind="soup")
    with pytest.raises(UnknownName):
        cautions([], "unicorn")
