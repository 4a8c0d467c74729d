"""The household line of the consumer charts."""

import pytest

from cookbook.errors import RequestError, UnknownName
from cookbook.safety import household_minimum
from cookbook.safety.household import forms_of, household_row, minimums, species_named


def test_a_species_has_other_names() -> None:
    assert species_named("  Mutton ") == "lamb"
    assert species_named("deer") == "venison"
    assert household_minimum("mutton") == household_minimum("lamb")


def test_an_unknown_species_is_refused_with_the_nearest_ones() -> None:
    with pytest.raises(UnknownName) as caught:
        household_minimum("prok")
    assert "pork" in caught.value.nearest


def test_shellfish_is_judged_by_eye_and_gets_no_number() -> None:
    with pytest.raises(RequestError, match="by eye"):
        household_minimum("shellfish")


def test_wild_game_has_only_the_retail_figure_and_says_so() -> None:
    row = household_row("wild boar")
    assert (row.core_f, row.regime) == (165, "retail")


@pytest.mark.parametrize(("cut", "forms"), [
    (None, ()), ("rib roast, bone in", ()), ("boneless", ()), ("vacuum-packed loin", ()), ("blade roast", ()),
    ("ground chuck", ("ground",)), ("burger patties", ("ground",)), ("hamburgers", ("ground",)),
    ("chuck (ground, 80/20)", ("ground",)), ("meat loaf", ("ground",)), ("meat-balls", ("ground",)),
    ("stuffed shoulder", ("stuffing",)), ("brisket, injected", ("tenderized",)), ("jaccarded", ("tenderized",)),
    ("uncooked ham", ()), ("cooked ham", ("cooked",)), ("cooked ham, packed in a plant", ("cooked, packed",)),
    ("leftovers", ("leftovers",)), ("casserole", ("casserole",)), ("sausage, reheated", ("ground", "leftovers")),
])
def test_words_of_a_cut_choose_the_rows_of_the_chart(cut: str | None, forms: tuple[str, ...]) -> None:
    assert forms_of(cut) == forms


@pytest.mark.parametrize(("species", "cut", "core_f"), [
    ("beef", "hamburger", 160), ("bison", "ground", 160), ("goat", "minced", 160), ("ham", "ground", 160),
    ("beef", "ground, stuffed", 165), ("pork", "leftover sausage", 165), ("beef", "ground, cooked", 165),
    ("turkey", "burger", 165), ("wild game", "sausage", 165), ("ham", "cooked, packed", 140), ("fish", "cakes", 145),
])
def test_the_strictest_row_that_the_words_name_is_the_one(species: str, cut: str, core_f: float) -> None:
    assert household_row(species, cut).core_f == core_f


def test_cooked_meat_other_than_ham_is_reheated_like_leftovers() -> None:
    assert household_row("beef", "cooked").form == "leftovers"


def test_stuffing_raises_any_meat_and_lowers_none() -> None:
    assert household_row("pork", "stuffed").core_f == 165
    assert household_row("chicken", "injected").core_f == 165
    assert household_row("rabbit", "ground").core_f == 160


def test_a_core_meets_the_line_in_either_scale_as_the_chart_prints_it() -> None:
    ground = household_row("beef", "ground")
    whole = household_row("beef")
    assert ground.met_by(71.1)
    assert whole.met_by((145 - 32) / 1.8)
    assert not whole.met_by(62.7)


def test_rows_can_be_had_by_regime() -> None:
    assert {row.regime for row in minimums("retail")} == {"retail"}
    assert len(minimums()) > len(minimums("retail"))
