"""Scaling by surface: what coats follows the surface, salt as a share the weight; there and back is the identity."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import RequestError
from cookbook.meat import Cut
from cookbook.meat.coverage import Learned
from cookbook.quantity import own_weights, weighing
from cookbook.recipe.reaching import top_up
from cookbook.recipe.remarks import salt_together
from cookbook.recipe.scaling import Habits, factor_between, salt_share, scaled_to, unknown_salts
from tests.conftest import PASTE
from tests.recipe.test_reading import recipe

LOIN = Cut.named("pork loin, boneless")
RIB = Cut.named("rib roast, bone in")

RIB_PASTE = PASTE.replace(
    "cut: pork loin, boneless\n  weight: 2.2 kg", "cut: rib roast, bone in\n  ribs: 3\n  faces: no-bone"
)


def test_a_loin_twice_as_heavy_needs_less_than_twice_the_paste() -> None:
    scaled = scaled_to(recipe(PASTE), LOIN.piece(mass_g=4400))
    assert scaled.factor.weight == pytest.approx(2.0)
    assert 1.8 < scaled.factor.surface < 1.9
    assert scaled.factor.surface_low < scaled.factor.surface < scaled.factor.surface_high


def test_everything_follows_the_surface_but_salt_as_a_share_of_the_meat() -> None:
    scaled = scaled_to(recipe(PASTE), LOIN.piece(mass_g=4400))
    by_item = {line.item: line for line in scaled.lines}
    assert by_item["walnuts"].factor == pytest.approx(scaled.factor.surface)
    assert by_item["walnuts"].grams is not None
    assert by_item["walnuts"].grams.mid == pytest.approx(80 * scaled.factor.surface, rel=1e-5)
    salt = by_item["fine salt"]
    assert salt.follows == "weight"
    assert salt.factor == pytest.approx(2.0)
    assert salt.grams is not None
    assert salt.grams.mid == pytest.approx(0.011 * 4400)


def test_without_a_piece_it_is_the_batch_as_written() -> None:
    scaled = scaled_to(recipe(PASTE))
    assert scaled.factor.surface == pytest.approx(1.0)
    assert [str(line.amount) for line in scaled.lines[:3]] == ["80 g", "1/4 cup", "80 ml"]


def test_what_weight_alone_would_have_said_stands_beside() -> None:
    scaled = scaled_to(recipe(PASTE), LOIN.piece(mass_g=4400))
    assert scaled.lines[0].naive_text() == "160 g"


def test_bones_tied_back_take_1_30_times_the_paste_of_the_bone_side_bare() -> None:
    """cuts of a three-rib roast at a fixed section; closed form 1426 / 1096 cm²."""
    scaled = scaled_to(recipe(RIB_PASTE), RIB.piece(ribs=3, bones="tied", faces="all"))
    assert scaled.factor.surface == pytest.approx(1.30, abs=0.01)


def test_three_to_six_ribs_all_faces_take_1_68_times() -> None:
    paste = recipe(RIB_PASTE.replace("no-bone", "all"))
    assert scaled_to(paste, RIB.piece(ribs=6, faces="all")).factor.surface == pytest.approx(1.68, abs=0.01)


def test_count_follows_the_ribs() -> None:
    paste = recipe(RIB_PASTE.replace("    amount: 80 g\n", "    amount: 6\n    follows: count\n"))
    assert scaled_to(paste, RIB.piece(ribs=6)).lines[0].factor == pytest.approx(2.0)


def test_fixed_stays_as_it_is() -> None:
    paste = recipe(PASTE.replace("    amount: 80 g\n", "    amount: 80 g\n    follows: fixed\n"))
    assert str(scaled_to(paste, LOIN.piece(mass_g=4400)).lines[0].amount) == "80 g"


def test_several_pieces_share_the_batch_by_their_surface() -> None:
    pieces = [LOIN.piece(mass_g=2200, name="big"), LOIN.piece(mass_g=1100, name="small")]
    scaled = scaled_to(recipe(PASTE), pieces)
    shares = scaled.shares()
    assert sum(shares) == pytest.approx(1.0)
    assert shares[0] / shares[1] == pytest.approx(pieces[0].coated_cm2.mid / pieces[1].coated_cm2.mid)
    assert scaled.factor.weight == pytest.approx(1.5)


def test_the_coat_has_grams_and_a_thickness() -> None:
    coat = scaled_to(recipe(PASTE), LOIN.piece(mass_g=4400)).coat
    as_written = scaled_to(recipe(PASTE)).coat
    assert coat is not None
    assert as_written is not None
    assert coat.g_per_cm2 == pytest.approx(coat.grams / LOIN.piece(mass_g=4400).coated_cm2.mid)
    assert coat.thickness_mm == pytest.approx(10 * coat.g_per_cm2 / 1.05)
    assert coat.missing == ()


def test_a_batch_and_a_layer_decide_how_much_is_made() -> None:
    two = scaled_to(recipe(PASTE), batch=2)
    assert str(two.lines[0].amount) == "160 g"
    thick = scaled_to(recipe(PASTE), LOIN.piece(mass_g=2200), layer_mm=3)
    assert thick.coat is not None
    assert thick.coat.thickness_mm == pytest.approx(3, rel=0.05)


def test_salt_of_several_coats_on_one_piece_adds_up() -> None:
    scaled = scaled_to(recipe(PASTE), LOIN.piece(mass_g=2200))
    plain = scaled_to(recipe(PASTE.replace("fine salt", "sugar").replace("1.1 % of meat", "9 g")), scaled.pieces)
    assert salt_together([scaled]) == salt_together([scaled, plain]) == []
    (said,) = salt_together([scaled, scaled])
    assert "2.20 % of the meat: it will taste salty" in said


def test_what_is_held_back_scales_and_counts_as_perhaps() -> None:
    paste = recipe(PASTE.replace("    amount: 80 ml\n", "    amount: 80 ml\n    hold_back: 20 ml\n"))
    line = scaled_to(paste, LOIN.piece(mass_g=4400)).lines[2]
    whole = scaled_to(recipe(PASTE), LOIN.piece(mass_g=4400)).lines[2]
    assert line.hold_back is not None
    assert float(line.hold_back.low or 0) == pytest.approx(20 * line.factor, rel=1e-5)
    assert line.grams is not None
    assert whole.grams is not None
    assert line.grams.mid == whole.grams.mid
    assert line.grams.low < 0.8 * whole.grams.low


@pytest.mark.parametrize(("share", "words"), [("0.1 % of meat", "unsalted"), ("2.5 % of meat", "salty")])
def test_salt_outside_common_practice_is_remarked_on(share: str, words: str) -> None:
    notes = scaled_to(recipe(PASTE.replace("1.1 % of meat", share))).notes
    assert any(words in note and "common practice" in note for note in notes)


def test_salt_that_leaves_this_cooks_own_range_by_a_third_is_remarked_on() -> None:
    own = scaled_to(recipe(PASTE), habits=Habits((0.5, 0.7))).notes
    assert any("your own cooks" in note for note in own)
    for usual in ((0.9, 1.0), (1.5, 1.6)):
        assert not any("your own cooks" in note for note in scaled_to(recipe(PASTE), habits=Habits(usual)).notes)
    assert any("your own cooks" in note for note in scaled_to(recipe(PASTE), habits=Habits((1.8, 1.9))).notes)


def test_what_stays_in_the_bowl_on_average_is_made_besides() -> None:
    """A fifth stays behind: a quarter more has to be made."""
    scaled = scaled_to(recipe(PASTE), habits=Habits(spare=Learned(0.2, 0.01, 3)))
    assert scaled.coat is not None
    assert any(f"20% of your bowl stayed behind (3 cooks): make {scaled.coat.grams / 4:.0f} g more" in note
               for note in scaled.notes)
    once = scaled_to(recipe(PASTE), habits=Habits(spare=Learned(0.2, None, 1)))
    assert not any("stayed behind" in note for note in once.notes)


def test_a_little_salt_in_a_binder_is_not_worth_a_word() -> None:
    head = PASTE.partition("ingredients:")[0]
    binder = recipe(f"{head}ingredients:\n  - item: yellow mustard\n    amount: 2 tbsp\nsteps:\n  - Spread it.\n")
    scaled = scaled_to(binder, LOIN.piece(mass_g=600))
    assert scaled.salt is not None
    assert scaled.salt.percent_of_meat < 0.2
    assert not any("salt" in note for note in scaled.notes)


@pytest.mark.parametrize("amount", ["to taste", "a small handful"])
def test_of_salt_that_nobody_weighed_no_share_is_said(amount: str) -> None:
    known = "ingredients:\n  - item: soy sauce\n    amount: 5 ml\n"
    scaled = scaled_to(recipe(salted("fine salt", amount).replace("ingredients:\n", known)))
    assert scaled.salt is None
    assert not any("unsalted" in note for note in scaled.notes)
    assert any(note.startswith("how much salt this is can't be said") for note in scaled.notes)


def test_salt_in_grams_follows_the_surface_and_the_change_of_its_share_is_said() -> None:
    paste = recipe(PASTE.replace("1.1 % of meat", "24 g"))
    notes = scaled_to(paste, LOIN.piece(mass_g=600)).notes
    assert any("following the surface takes salt from" in note for note in notes)
    before, after = scaled_to(paste).salt, scaled_to(paste, LOIN.piece(mass_g=1200)).salt
    assert before is not None
    assert after is not None
    assert 0.1 < after.percent_as_weighed / before.percent_as_weighed - 1 < 0.13
    assert any("following the surface" in note for note in scaled_to(paste, LOIN.piece(mass_g=1200)).notes)


def test_salt_in_something_else_that_follows_the_surface_is_said_too() -> None:
    paste = recipe(salted("soy sauce", "160 ml"))
    notes = scaled_to(paste, LOIN.piece(mass_g=1000)).notes
    assert any("following the surface takes salt from" in note and "in the soy sauce" in note for note in notes)


@pytest.mark.parametrize("share", ["24 g", "1.1 % of meat"])
def test_a_share_of_salt_that_moves_by_less_than_a_tenth_is_not(share: str) -> None:
    """A loin of 2.2 kg to one of 3 kg: 5 % less salt to the kilogram by surface, none by weight."""
    notes = scaled_to(recipe(PASTE.replace("1.1 % of meat", share)), LOIN.piece(mass_g=3000)).notes
    assert not any("following the surface" in note for note in notes)


def test_a_weighing_of_this_kitchen_is_the_one_that_why_names() -> None:
    own = own_weights([weighing("thyme, fresh", "1 tbsp", "2 g")])
    said = scaled_to(recipe(PASTE), weights=own).why()
    assert [line for line in said if "own weighing" in line and line.startswith("thyme")]


def test_a_top_up_keeps_the_proportions_and_comes_to_what_is_missing() -> None:
    whole = scaled_to(recipe(PASTE), LOIN.piece(mass_g=4400))
    assert whole.coat is not None
    need, part = top_up(whole, 5, "ends,underside")
    assert part is not None
    assert sum(line.grams.mid for line in part.lines if line.grams) == pytest.approx(need.make_g)
    for one, other in zip(part.lines, whole.lines, strict=True):
        assert one.grams is not None
        assert other.grams is not None
        assert one.grams.mid / other.grams.mid == pytest.approx(need.make_g / whole.coat.grams)
        assert one.factor == pytest.approx(other.factor * need.factor)
        assert float(one.amount.low or 0) == pytest.approx(float(other.amount.low or 0) * need.factor, rel=1e-5)


def test_a_top_up_or_a_layer_of_what_nobody_weighed_names_it() -> None:
    unknown = recipe(PASTE.replace("item: walnuts\n    amount: 80 g", "item: zebra dust\n    amount: 2 tbsp"))
    with pytest.raises(RequestError, match="all have a known weight") as caught:
        top_up(scaled_to(unknown, LOIN.piece(mass_g=3000)), 5, "ends")
    assert caught.value.mend == "weigh zebra dust once"
    with pytest.raises(RequestError, match="thickness can't be told") as caught:
        scaled_to(unknown, layer_mm=2)
    assert caught.value.mend == "weigh zebra dust"
    two = [LOIN.piece(mass_g=3000), LOIN.piece(mass_g=1000)]
    with pytest.raises(RequestError, match="needs one piece"):
        top_up(scaled_to(recipe(PASTE), two), 5, "ends")


def test_one_batch_on_a_bigger_piece_says_how_thick_it_lies_and_on_its_own_nothing() -> None:
    scaled = scaled_to(recipe(PASTE), LOIN.piece(mass_g=4400), batch=1)
    as_written = scaled_to(recipe(PASTE))
    assert scaled.coat is not None
    assert as_written.coat is not None
    said = f"covers {scaled.coat.thickness_mm:.1f} mm instead of {as_written.coat.thickness_mm:.1f} mm"
    assert any(note.startswith(said) for note in scaled.notes), scaled.notes
    assert scaled.coat.grams == pytest.approx(as_written.coat.grams)
    assert not any("covers" in note for note in scaled_to(recipe(PASTE), batch=1).notes)
    assert not any("covers" in note for note in scaled_to(recipe(PASTE), LOIN.piece(mass_g=4400)).notes)


def test_a_thick_paste_is_told_that_it_may_slump_and_a_rub_is_not() -> None:
    assert any("may slump" in note for note in scaled_to(recipe(PASTE), layer_mm=6).notes)
    rub = recipe(PASTE.replace("kind: paste", "kind: rub"))
    assert not any("may slump" in note for note in scaled_to(rub, layer_mm=6).notes)


def test_most_of_the_doubt_of_two_pieces_of_one_cut_cancels_in_their_ratio() -> None:
    """cuts, section 3: section and pitch move the area by 20 %, the ratio of 3 to 6 ribs only from 1.659 to 1.703."""
    ribs = recipe(RIB_PASTE.replace("faces: no-bone", "faces: all"))
    factor = scaled_to(ribs, RIB.piece(ribs=6, faces="all")).factor
    assert factor.surface_low < 1.659 < 1.703 < factor.surface_high
    assert factor.surface_high / factor.surface_low < 1.15
    loin = scaled_to(recipe(PASTE), LOIN.piece(mass_g=4400)).factor
    assert 1.02 < loin.surface_high / loin.surface_low < 1.1
    other = scaled_to(recipe(PASTE), RIB.piece(mass_g=4400)).factor
    assert other.surface_high / other.surface_low > loin.surface_high / loin.surface_low


def test_the_salt_of_a_recipe_that_goes_in_is_its_share_of_all_its_lines() -> None:
    inner = recipe(PASTE.replace("1.1 % of meat", "24 g"))
    outer = recipe(PASTE.replace("1.1 % of meat", "1.1 % of meat\n  - recipe: inner\n    amount: 100 g"))
    whole = scaled_to(inner)
    assert whole.salt is not None
    assert whole.coat is not None
    share = salt_share(outer.ingredients[-1], used=lambda _: inner)
    assert share == pytest.approx(whole.salt.grams / whole.coat.grams)
    assert salt_share(outer.ingredients[-1]) == 0


def test_a_top_up_that_the_bowl_covers_makes_nothing() -> None:
    need, part = top_up(scaled_to(recipe(PASTE), LOIN.piece(mass_g=4400)), 200, "ends")
    assert need.make_g == 0
    assert part is None


def salted(item: str, amount: str) -> str:
    """The paste with another salt."""
    text = PASTE.replace("1.1 % of meat", amount).replace("item: fine salt", f"item: {item}")
    assert item in text
    return text


def test_a_spoon_of_a_salt_that_differs_from_maker_to_maker_gives_no_figure_for_salt() -> None:
    spooned = scaled_to(recipe(salted("kosher salt", "2 tbsp")))
    assert spooned.salt is None
    assert any("a spoon of kosher salt" in note and "weigh" in note for note in spooned.notes)
    assert not any("unsalted" in note for note in spooned.notes)


@pytest.mark.parametrize(("item", "amount"), [("kosher salt", "24 g"), ("table salt", "1 1/2 tbsp")])
def test_salt_by_weight_and_table_salt_are_counted(item: str, amount: str) -> None:
    scaled = scaled_to(recipe(salted(item, amount)))
    assert scaled.salt is not None
    assert scaled.salt.grams == pytest.approx(24, rel=0.2)
    assert not any("a spoon of" in note for note in scaled.notes)


def test_a_salt_that_was_weighed_here_is_trusted_by_the_spoon() -> None:
    own = own_weights([weighing("kosher salt", "1 tbsp", "10.0 g")])
    scaled = scaled_to(recipe(salted("kosher salt", "2 tbsp")), weights=own)
    assert scaled.salt is not None
    assert scaled.salt.grams == pytest.approx(20, rel=0.02)


def test_salt_inside_a_recipe_that_goes_in_is_as_doubtful() -> None:
    inner = recipe(salted("kosher salt", "2 tbsp"))
    more = "1.1 % of meat\n  - recipe: inner\n    amount: 100 g"
    outer = recipe(PASTE.replace("1.1 % of meat", more))
    assert unknown_salts(outer, used=lambda _: inner) == ("kosher salt",)


def test_a_recipe_that_was_made_for_nothing_cannot_be_scaled() -> None:
    sauce = recipe("kind: sauce\ntitle: Gravy\ningredients:\n  - item: stock\n    amount: 1 l\n")
    with pytest.raises(RequestError, match="doesn't say what it was made for"):
        scaled_to(sauce, LOIN.piece(mass_g=2000))


MASS = st.floats(900, 6500)


@given(MASS, MASS)
def test_there_and_back_is_the_identity(one: float, two: float) -> None:
    first, second = LOIN.piece(mass_g=one), LOIN.piece(mass_g=two)
    for follows in ("surface", "weight", "volume", "count", "fixed"):
        there, back = factor_between(first, [second], follows), factor_between(second, [first], follows)
        assert there * back == pytest.approx(1.0, rel=1e-9)


@given(MASS, MASS)
def test_more_meat_never_needs_less_paste(one: float, two: float) -> None:
    small, big = sorted((one, two))
    start = LOIN.piece(mass_g=2200)
    assert (
        factor_between(start, [LOIN.piece(mass_g=small)], "surface")
        <= factor_between(start, [LOIN.piece(mass_g=big)], "surface") + 1e-9
    )


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("{item: curing salt, amount: 1 tsp, follows: weight}", "spoon"),
        ("{item: Prague powder, amount: 5 g}", "surface"),
        ("{item: pink curing salt, amount: 5 g, follows: fixed}", "fixed"),
        ("{item: cure no. 1, amount: 2 packets, follows: weight}", "by eye"),
    ],
)
def test_curing_salt_is_scaled_by_weight_or_not_at_all(line: str, word: str) -> None:
    written = recipe(PASTE.replace("ingredients:", f"ingredients:\n  - {line}"))
    with pytest.raises(RequestError, match=word) as caught:
        scaled_to(written, LOIN.piece(mass_g=4400))
    assert "safety cure" in (caught.value.mend or "")


@pytest.mark.parametrize("line", ["{item: curing salt, amount: 0.25 % of meat}",
                                  "{item: curing salt, amount: 5 g, follows: weight}",
                                  "{item: Himalayan pink salt, amount: 1 tsp}"])  # fmt: skip
def test_curing_salt_by_weight_and_pink_table_salt_are_scaled(line: str) -> None:
    written = recipe(PASTE.replace("ingredients:", f"ingredients:\n  - {line}"))
    assert scaled_to(written, LOIN.piece(mass_g=4400)).lines
