"""A card's content: what stands in it is what the library computes, and the cautions that apply."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from cookbook.errors import FileError
from cookbook.kitchen import Kitchen
from cookbook.meat import Cut
from cookbook.publish import card
from cookbook.publish.content import Content
from cookbook.publish.content.gathering import content, gather
from cookbook.publish.content.ingredient import in_grams
from cookbook.publish.forms.ready import missing
from cookbook.recipe.scaling import scaled_to
from tests.conftest import SPICE
from tests.publish.kitchens import COOK, FILES, PASTE, ROAST, RUB, SHARED

Make = Callable[..., Kitchen]


def grams_on(found: Content) -> dict[str, float | None]:
    return {item.item: item.grams for batch in found.batches for item in batch.items}


def keys(found: Content) -> list[str]:
    return [caution.key for caution in found.cautions]


@pytest.mark.parametrize("known", [None, {"": {"weight": "4.4 kg"}}, {"": {"length": "40 cm", "girth": "32 cm"}}])
def test_the_amounts_are_those_of_scale(kitchen: Kitchen, known: dict[str, dict[str, str]] | None) -> None:
    from cookbook.kitchen.sizing import for_pieces

    recipe = kitchen.recipe("walnut-paste")
    ((_, pieces),) = for_pieces(kitchen, recipe, known or {})
    scaled = scaled_to(recipe, pieces, weights=kitchen.weights)
    found = content(kitchen, "walnut-paste", known)
    assert grams_on(found) == {line.item: line.grams.mid if line.grams else None for line in scaled.lines}
    assert scaled.coat is not None
    assert f"{scaled.coat.thickness_mm:.1f}\u00a0mm" in [fact.value for fact in found.facts]
    assert scaled.salt is not None
    assert f"{scaled.salt.percent_as_weighed:.1f}\u00a0%" in [fact.value for fact in found.facts]


def test_a_piece_of_the_library_does_as_well_as_words(kitchen: Kitchen) -> None:
    piece = Cut.named("pork loin, boneless").piece(mass_g=4400)
    words = content(kitchen, "walnut-paste", {"": {"weight": "4.4 kg"}})
    assert content(kitchen, "walnut-paste", piece) == words
    assert content(kitchen, "walnut-paste", [piece]) == words


def test_other_sizes_say_what_scale_says_for_them(kitchen: Kitchen) -> None:
    recipe = kitchen.recipe("walnut-paste")
    (batch,) = content(kitchen, "walnut-paste").batches
    assert [size.own for size in batch.sizes].count(True) == 1
    assert len(batch.sizes) == 5
    assert [size.factor for size in batch.sizes] == sorted(size.factor for size in batch.sizes)
    for size in batch.sizes:
        kilograms = float(size.heads[0].removesuffix("\u00a0kg"))
        scaled = scaled_to(recipe, Cut.named("pork loin, boneless").piece(mass_g=1000 * kilograms))
        shown = [in_grams(line.grams.mid).replace(" ", "\u00a0") for line in scaled.lines if line.grams]
        assert list(size.amounts) == shown
        assert size.factor == pytest.approx(scaled.factor.surface)


def test_a_rib_roast_is_sized_by_the_rib_and_keeps_its_bare_bones(kitchen: Kitchen) -> None:
    (batch,) = content(kitchen, "pepper-rub").batches
    assert [size.heads[0] for size in batch.sizes] == [f"{ribs}\u00a0ribs" for ribs in (2, 3, 4, 5, 6)]
    by_ribs = {size.heads[0]: size for size in batch.sizes}
    cut = Cut.named("rib roast, bone in")
    six = scaled_to(kitchen.recipe("pepper-rub"), cut.piece(ribs=6, mass_g=7800, faces="no-bone"))
    assert by_ribs["6\u00a0ribs"].factor == pytest.approx(six.factor.surface)
    assert "on every face but the bone side" in batch.lead


def test_the_rule_of_other_sizes_names_what_follows_the_weight(kitchen: Kitchen) -> None:
    (paste,), (rub,) = content(kitchen, "walnut-paste").batches, content(kitchen, "pepper-rub").batches
    assert paste.rule == "Amounts follow the surface of the meat, not its weight; fine salt follows the weight."
    assert rub.rule == "Amounts follow the surface of the meat, not its weight."


def test_a_roast_of_which_only_the_ribs_are_known_is_sized_by_them_alone(kitchen: Kitchen) -> None:
    found = content(kitchen, "pepper-rub", {"": {"ribs": "4"}})
    assert re.search(r"of 4\u00a0ribs, about \d(\.\d)?\u00a0kg \(", found.lead)
    (batch,) = found.batches
    recipe = kitchen.recipe("pepper-rub")
    for size in batch.sizes:
        piece = Cut.named("rib roast, bone in").piece(ribs=int(size.heads[0].split("\u00a0")[0]), faces="no-bone")
        assert size.factor == pytest.approx(scaled_to(recipe, piece).factor.surface)


def test_other_sizes_keep_bare_shafts_and_bones_tied_back(make_kitchen: Make) -> None:
    cut = Cut.named("rib roast, bone in")
    for said, known in (("frenched: 15 cm", {"frenched_cm": 15.0}), ("bones: tied", {"bones": "tied"})):
        rub = RUB.replace("  ribs: 3\n", f"  ribs: 3\n  {said}\n")
        kitchen = make_kitchen({**FILES, "recipes/pepper-rub.yaml": rub})
        (batch,) = content(kitchen, "pepper-rub").batches
        five = next(size for size in batch.sizes if size.heads[0] == "5\u00a0ribs")
        piece = cut.piece(ribs=5, mass_g=6500, faces="no-bone", **known)
        assert five.factor == pytest.approx(scaled_to(kitchen.recipe("pepper-rub"), piece).factor.surface)


@pytest.mark.parametrize("cut", Cut.names())
def test_every_cut_has_a_card_with_its_safe_temperature(make_kitchen: Make, cut: str) -> None:
    low, high = Cut.named(cut).usual_kg
    rub = RUB.replace("rib roast, bone in", cut).replace("3.9 kg", f"{(low + high) / 2:.2f} kg")
    rub = rub.replace("  ribs: 3\n", "").replace("  faces: no-bone\n", "")
    found = content(make_kitchen({"recipes/rub.yaml": rub}), "rub")
    assert cut in found.lead
    assert "safe-temperature" in keys(found)
    assert len(found.batches[0].sizes) >= 3


def test_a_cook_scales_its_coat_to_its_own_piece(kitchen: Kitchen) -> None:
    as_written = content(kitchen, "loin")
    bigger = content(kitchen, "loin", {"": {"weight": "4.4 kg"}})
    ratios = {item: (bigger_grams or 0) / (grams or 1) for (item, grams), bigger_grams in
              zip(grams_on(as_written).items(), grams_on(bigger).values(), strict=True)}
    assert ratios["fine salt"] == pytest.approx(2)
    assert 1.7 < ratios["garlic"] < 2
    assert ratios["garlic"] == pytest.approx(ratios["walnuts"])


def test_a_cook_made_for_a_piece_of_its_own_takes_that(make_kitchen: Make) -> None:
    made_for = "made_for:\n  cut: pork loin, boneless\n  weight: 4.4 kg\n"
    made = content(make_kitchen({**FILES, "recipes/loin.yaml": COOK + made_for}), "loin")
    said = content(make_kitchen(FILES), "loin", {"": {"weight": "4.4 kg"}})
    assert grams_on(made) == grams_on(said)


def test_a_cook_of_another_cut_than_its_rub_was_made_for_is_about_its_own_cut(make_kitchen: Make) -> None:
    other = ROAST.replace("rib roast, bone in", "brisket, whole")
    found = content(make_kitchen({**FILES, "recipes/roast.yaml": other}), "roast")
    assert found.lead == "Brisket, whole, of 3.9\u00a0kg (8.6\u00a0lb), on the oven."
    assert (found.facts[0].value, found.facts[0].label) == ("3.9\u00a0kg", "brisket, whole")


def test_all_coats_of_a_cook_go_on_one_piece(make_kitchen: Make) -> None:
    """The second coat was made for a bigger piece of another cut; on this card it is for the cook's piece."""
    mustard = "  - item: yellow mustard\n    amount: 2 tbsp\n"
    two = COOK.replace(mustard, "  - recipe: pepper-rub\n    faces: no-ends\n")
    kitchen = make_kitchen({**FILES, "recipes/loin.yaml": two})
    paste, rub = content(kitchen, "loin").batches
    assert "of 2.2\u00a0kg (4.9\u00a0lb), on every face." in paste.lead
    assert "of 2.2\u00a0kg (4.9\u00a0lb), on " in rub.lead
    assert "on every face." not in rub.lead
    piece = Cut.named("pork loin, boneless").piece(mass_g=2200, faces="no-ends")
    scaled = scaled_to(kitchen.recipe("pepper-rub"), piece)
    assert [item.grams for item in rub.items] == [line.grams.mid for line in scaled.lines if line.grams]


def test_the_salt_of_two_coats_is_summed_where_both_bring_some(make_kitchen: Make) -> None:
    """1.1 % in the paste and 30 ml of soy sauce, 32 g with 14 % salt in it: 4.5 g on 2.2 kg are 0.2 % more."""
    soy = COOK.replace("item: yellow mustard", "item: soy sauce")
    found = content(make_kitchen({**FILES, "recipes/loin.yaml": soy}), "loin")
    assert found.batches[-1].coat.endswith("Salt of all coats together is 1.3\u00a0% of the piece as weighed.")
    assert "together" not in content(make_kitchen({**FILES, "recipes/loin.yaml": COOK}), "loin").batches[-1].coat


def test_several_pieces_share_one_batch(kitchen: Kitchen) -> None:
    found = content(kitchen, "walnut-paste", {"big": {"weight": "3 kg"}, "small": {"weight": "1.5 kg"}})
    (batch,) = found.batches
    assert batch.sizes == ()
    shares = [int(re.findall(r"(\d+)\u00a0%", share)[0]) for share in batch.shares]
    assert sum(shares) == pytest.approx(100, abs=1)
    grams = [int(re.findall(r": (\d+)\u00a0g", share)[0]) for share in batch.shares]
    assert sum(grams) == pytest.approx(sum(item.grams or 0 for item in batch.items), abs=1)
    assert batch.shares[0].startswith("big, 3\u00a0kg (6.6\u00a0lb): ")
    assert "2 pieces of pork loin, boneless (big, 3\u00a0kg" in batch.lead


def test_a_coat_is_tasted_before_the_bowl_meets_the_meat(kitchen: Kitchen) -> None:
    for recipe in ("walnut-paste", "pepper-rub", "loin", "roast"):
        found = {caution.key: caution for caution in content(kitchen, recipe).cautions}
        assert "Taste before the bowl meets the meat" in found["taste-first"].text
        assert "raw-meat" in found


def test_garlic_in_oil_is_warned_of_only_where_both_are(make_kitchen: Make) -> None:
    assert "garlic-in-oil" in keys(content(make_kitchen(FILES), "walnut-paste"))
    assert "garlic-in-oil" in keys(content(make_kitchen(FILES), "loin"))
    for gone in ("  - item: garlic\n    amount: 60 g\n    prep: minced\n",
                 "  - item: olive oil\n    amount: 80 ml\n    until: it drops slowly from the spoon\n"):
        kitchen = make_kitchen({**FILES, "recipes/walnut-paste.yaml": PASTE.replace(gone, "")})
        assert "garlic-in-oil" not in keys(content(kitchen, "walnut-paste"))


def test_the_safe_temperature_of_the_species_comes_with_its_source(kitchen: Kitchen) -> None:
    """145 °F and 3 minutes for whole pork and beef: the USDA chart of safe minimum internal temperatures."""
    for recipe, species in (("loin", "pork"), ("roast", "beef")):
        safe = next(one for one in content(kitchen, recipe).cautions if one.key == "safe-temperature")
        assert f"Safe for {species}: 62.8 °C (145 °F)" in safe.text.replace("\u00a0", " ")
        assert "USDA" in safe.source
        assert safe.source in safe.text


def test_a_pull_below_the_household_line_is_named_for_what_it_is(make_kitchen: Make) -> None:
    found = content(make_kitchen(FILES), "roast")
    assert "planned-pull" in keys(found)
    assert keys(found).index("planned-pull") == keys(found).index("safe-temperature") + 1
    hot = content(make_kitchen({**FILES, "recipes/loin.yaml": COOK.replace("pull_at: 60", "pull_at: 63")}), "loin")
    assert "planned-pull" not in keys(hot)


def allergens(kitchen: Kitchen, recipe: str) -> str:
    return next((one.text for one in content(kitchen, recipe).cautions if one.key == "allergens"), "")


def test_allergens_of_a_recipe_and_of_what_may_be_taken_instead_are_told(kitchen: Kitchen) -> None:
    """Nuts and mustard are on the list of Regulation (EU) 1169/2011, Annex II; garlic, pepper and salt are not."""
    assert allergens(kitchen, "walnut-paste").startswith(
        "Contains nuts (walnut). What may be taken instead: nuts (hazelnut, pecan).")
    cook = allergens(kitchen, "loin")
    assert cook.startswith("Contains nuts (walnut); mustard.")
    assert "Labels to read for:" in cook
    assert allergens(kitchen, "pepper-rub").startswith("None of the EU's fourteen")


def test_a_cook_into_which_nothing_goes_has_no_allergens_to_tell(make_kitchen: Make) -> None:
    bare = "kind: cook\ntitle: Bare\ncut: brisket, whole\npit: {temperature: 120 °C}\n"
    assert allergens(make_kitchen({"recipes/bare.yaml": bare}), "bare") == ""


def test_fire_is_warned_of_at_a_fire_and_not_in_an_oven(kitchen: Kitchen) -> None:
    assert "carbon-monoxide" in keys(content(kitchen, "loin"))
    assert "carbon-monoxide" not in keys(content(kitchen, "roast"))


def test_no_caution_is_said_twice(kitchen: Kitchen) -> None:
    for recipe in kitchen.recipe_names():
        texts = [caution.text for caution in content(kitchen, recipe).cautions]
        assert len(texts) == len(set(texts))


def test_a_cook_gives_its_figures_in_the_order_of_the_day(kitchen: Kitchen) -> None:
    facts = content(kitchen, "loin").facts
    assert [fact.key for fact in facts] == ["piece", "pit", "wrap", "time", "check", "pull", "rest", "board"]
    assert [fact.both.replace("\u00a0", " ") for fact in facts if fact.key not in ("time", "check", "board")] == [
        "2.2 kg (4.9 lb)", "130 °C (266 °F)", "50 °C (122 °F)", "60 °C (140 °F)", "25 min"]


@pytest.mark.parametrize(("units", "unit"), [("both", "cup"), ("us", "cup"), ("metric", "g")])
def test_a_kitchen_of_one_system_puts_its_own_measure_first(make_kitchen: Make, units: str, unit: str) -> None:
    kitchen = make_kitchen({**FILES, "shared/kitchen.yaml": SHARED.replace("units: both", f"units: {units}")})
    walnuts = next(item for item in content(kitchen, "walnut-paste").batches[0].items if item.item == "walnuts")
    assert walnuts.grams is not None
    both = {"cup": "¾\u00a0cup", "g": in_grams(walnuts.grams).replace(" ", "\u00a0")}
    assert walnuts.amounts[0].removeprefix("about ") == both[unit]
    assert {amount.removeprefix("about ") for amount in walnuts.amounts} == set(both.values())


def test_salt_that_comes_out_in_whole_grams_is_printed_so(make_kitchen: Make) -> None:
    share = RUB.replace("amount: 39 g", "amount: 1 % of meat")
    salt = content(make_kitchen({"recipes/pepper-rub.yaml": share}), "pepper-rub").batches[0].items[1]
    assert salt.amounts[0] == "39\u00a0g"
    assert salt.grams == pytest.approx(39)


def test_a_weight_that_no_spoon_measures_is_given_in_ounces_too(make_kitchen: Make) -> None:
    heavy = PASTE.replace("60 g", "1.2 kg").replace("garlic", "quince")
    kitchen = make_kitchen({**FILES, "recipes/walnut-paste.yaml": heavy})
    quince = content(kitchen, "walnut-paste").batches[0].items[0]
    assert quince.amounts[0] == "1.2\u00a0kg"
    assert re.search(r"lb|oz", quince.amounts[1])


def test_a_sauce_that_was_made_for_no_piece_is_given_as_written(kitchen: Kitchen) -> None:
    found = content(kitchen, "green-sauce")
    assert found.lead == "One batch, for 6."
    assert [item.amounts for item in found.batches[0].items][1] == ("to taste",)
    assert "Green sauce" in card(kitchen, "green-sauce", "text")


def test_a_recipe_inside_another_is_given_in_the_amount_that_goes_in(make_kitchen: Make) -> None:
    outer = RUB.replace("  - item: fine salt\n    amount: 39 g\n", "  - recipe: walnut-paste\n    amount: 50 g\n")
    kitchen = make_kitchen({**FILES, "recipes/pepper-rub.yaml": outer})
    found = content(kitchen, "pepper-rub")
    outer_batch, inner = found.batches
    assert [item.item for item in outer_batch.items] == ["black pepper, ground", "Walnut and sage paste"]
    assert sum(item.grams or 0 for item in inner.items) == pytest.approx(50)
    assert "garlic-in-oil" in keys(found)
    for form in ("text", "description", "page", "json-ld"):
        assert "walnuts" in card(kitchen, "pepper-rub", form)


def test_a_recipe_inside_another_grows_with_it_in_the_table_of_sizes(make_kitchen: Make) -> None:
    outer = PASTE.replace("  - item: walnuts\n    amount: 3/4 cup\n", "  - recipe: dust\n    amount: 90 g\n")
    kitchen = make_kitchen({"recipes/dust.yaml": SPICE, "recipes/walnut-paste.yaml": outer})
    one, two = content(kitchen, "walnut-paste").batches
    place = [item.item for item in one.items].index("Seven-pepper dust")
    assert len(two.sizes) == len(one.sizes) == 5
    assert [size.total for size in two.sizes] == [size.amounts[place] for size in one.sizes]
    assert two.rule == "As much as goes into Walnut and sage paste."
    for form, head in (("text", "OTHER SIZES: SEVEN-PEPPER"), ("description", "OTHER SIZES, SEVEN-PEPPER"),
                       ("page", "Seven-pepper dust</bdi> for other sizes")):
        assert head in card(kitchen, "walnut-paste", form)


def test_a_reply_names_what_goes_into_a_recipe_inside(make_kitchen: Make) -> None:
    outer = PASTE.replace("  - item: walnuts\n    amount: 3/4 cup\n", "  - recipe: dust\n    amount: 90 g\n")
    kitchen = make_kitchen({"recipes/dust.yaml": SPICE, "recipes/walnut-paste.yaml": outer})
    said = card(kitchen, "walnut-paste", "reply")
    assert re.search(r"90 g Seven-pepper dust \([^;]*black pepper, [^;]*fine salt, [^;]*juniper\);", said)
    private = make_kitchen({"recipes/dust.yaml": SPICE + "formula: private\n", "recipes/walnut-paste.yaml": outer})
    for form in ("text", "reply", "page", "sheet", "description", "json-ld"):
        assert "juniper" not in card(private, "walnut-paste", form)


def test_an_amount_that_nobody_measured_is_missing_inside_too(make_kitchen: Make) -> None:
    outer = PASTE.replace("  - item: walnuts\n    amount: 3/4 cup\n", "  - recipe: dust\n    amount: 90 g\n")
    dust = SPICE + "  - {item: cayenne, amount: to taste}\n"
    for formula, named in (("", "cayenne"), ("formula: private\n", "the private formula")):
        kitchen = make_kitchen({"recipes/dust.yaml": dust + formula, "recipes/walnut-paste.yaml": outer})
        lacks = missing(kitchen, gather(kitchen, "walnut-paste"))
        assert f"dust: {named} is 'to taste': measure it once" in lacks


@pytest.mark.parametrize("outer", [
    pytest.param(PASTE.replace("item: walnuts\n    amount: 3/4 cup\n", "recipe: dust\n    amount: 2 handfuls\n"),
                 marks=[pytest.mark.long, pytest.mark.tenth]),
    "kind: sauce\ntitle: Walnut and sage paste\ningredients: [{recipe: dust, amount: 2 handfuls}]\n"])
def test_where_nobody_can_tell_the_part_every_form_says_a_whole_batch(make_kitchen: Make, outer: str) -> None:
    kitchen = make_kitchen({"recipes/dust.yaml": SPICE, "recipes/walnut-paste.yaml": outer})
    said = "A whole batch: nobody has weighed how much of it goes into Walnut and sage paste."
    for form in ("text", "description", "page", "sheet"):
        assert said in " ".join(card(kitchen, "walnut-paste", form).split()), form
    reply = card(kitchen, "walnut-paste", "reply")
    assert "Seven-pepper dust (a whole batch: " in reply
    assert reply.count("juniper") == 1
    weighed = outer.replace("2 handfuls", "90 g")
    kitchen = make_kitchen({"recipes/dust.yaml": SPICE, "recipes/walnut-paste.yaml": weighed})
    assert not [form for form in ("text", "page", "reply") if "whole batch" in card(kitchen, "walnut-paste", form)]


def test_a_whole_batch_that_goes_into_a_cook_is_told_once(make_kitchen: Make) -> None:
    cook = "kind: cook\ntitle: Loin\ncut: pork loin, boneless\ningredients: [{recipe: dust, amount: 2 handfuls}]\n"
    kitchen = make_kitchen({"recipes/dust.yaml": SPICE, "recipes/loin.yaml": cook})
    for form in ("text", "description", "page", "sheet"):
        assert card(kitchen, "loin", form).count("A whole batch") == 1, form


def test_a_sauce_for_no_piece_gives_what_goes_into_it(make_kitchen: Make) -> None:
    sauce = "kind: sauce\ntitle: Gravy\ningredients:\n- {item: stock, amount: 400 g}\n- {recipe: dust, amount: 9 g}\n"
    found = content(make_kitchen({"recipes/dust.yaml": SPICE, "recipes/gravy.yaml": sauce}), "gravy")
    assert [batch.title for batch in found.batches] == ["Gravy", "Seven-pepper dust"]
    assert [item.grams for item in found.batches[1].items] == pytest.approx([6, 2, 1])


def test_a_recipe_that_uses_itself_has_no_card(make_kitchen: Make) -> None:
    loop = RUB + "  # \n"
    loop = loop.replace("  - item: fine salt\n    amount: 39 g\n", "  - recipe: pepper-rub\n    amount: 50 g\n")
    with pytest.raises(FileError):
        card(make_kitchen({"recipes/pepper-rub.yaml": loop}), "pepper-rub", "text")


def test_no_other_size_is_as_good_as_the_cards_own() -> None:
    """Each a weight that is asked for in a shop, none within a twelfth of the card's own."""
    from cookbook.publish.content.sizes import others

    for mass_g in (1900, 2000, 2100, 2500, 3100, 4000):
        own = Cut.named("pork loin, boneless").piece(mass_g=mass_g)
        found = [one.mass_g.mid for one in others(own)]
        assert 3 <= len(found) <= 4
        assert all(abs(one / mass_g - 1) > 0.08 and one % 250 == 0 for one in found)
