"""What a cook takes besides its coats, amounts in both systems, what a portion costs, what is missing."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

import pytest

from cookbook.kitchen import Kitchen
from cookbook.publish import card
from cookbook.publish.content import Content, Item
from cookbook.publish.content.gathering import content, gather
from cookbook.publish.forms.ready import missing
from cookbook.publish.forms.reply import MOST
from tests.publish.kitchens import COOK, FILES, SHARED

Make = Callable[..., Kitchen]

BIRD = """\
kind: cook
title: Sunday bird
cut: chicken, whole
serves: 4
made_for: {cut: "chicken, whole", weight: 1.7 kg}
ingredients:
  - {item: fine salt, amount: 1 % of meat}
  - {item: lemons, amount: 1}
"""
MOP = """\
kind: sauce
title: Saturday mop
ingredients:
  - {item: brown sugar, amount: 1/4 cup packed}
  - {item: "black pepper, ground", amount: 2-3 tsp}
  - {item: galangal, amount: 2-3 oz}
  - {item: fine salt, amount: 1 oz}
  - {item: cayenne, amount: a pinch}
  - {item: tomatoes, amount: 1 (28 oz) can}
  - {item: onions, amount: about 12 oz}
  - {item: cabbage, amount: 1 kg}
"""


def own(kitchen: Kitchen, item: str, recipe: str = "bird", weight: str = "") -> Item:
    found = content(kitchen, recipe, {"": {"weight": weight}} if weight else None)
    return next(one for one in found.every_item if one.item == item)


def test_a_cooks_own_ingredients_are_those_of_scale(make_kitchen: Make) -> None:
    """1 % of 1.7 kg is 17 g, of 2.5 kg 25 g; a lemon stays a lemon."""
    made = make_kitchen({"recipes/bird.yaml": BIRD})
    assert own(made, "fine salt").amounts[0] == "17\u00a0g"
    assert own(made, "fine salt", weight="2.5 kg").amounts[0] == "25\u00a0g"
    assert own(made, "lemons", weight="2.5 kg").amounts[0] == "1"
    found = content(made, "bird")
    assert found.lead == "Chicken, whole, of 1.7\u00a0kg (3.7\u00a0lb), for 4."
    assert ("salt", "1.0\u00a0%") in [(fact.key, fact.value) for fact in found.facts]
    (also,) = [grid for grid in found.grids if grid.key == "also"]
    assert also.rows == (("fine salt", ("15\u00a0g", "17\u00a0g", "20\u00a0g", "25\u00a0g")),)
    assert also.heads[also.own or 0] == ("1.7\u00a0kg", "3.7\u00a0lb")
    for form in ("text", "description", "page"):
        assert "Other sizes: also needed".casefold() in card(made, "bird", form).casefold()


def test_a_coat_of_one_thing_says_that_it_coats_and_where(make_kitchen: Make) -> None:
    there = COOK.replace("    amount: 2 tbsp\n", "    amount: 2 tbsp\n    faces: no-ends\n")
    mustard = own(make_kitchen({**FILES, "recipes/loin.yaml": there}), "yellow mustard", "loin")
    assert mustard.asides == ("coats the meat, on the fat side and underside",)
    mustard = own(make_kitchen(FILES), "yellow mustard", "loin")
    assert mustard.asides == ("coats the meat, on every face",)


def test_a_sauce_of_a_cook_stands_on_its_card(make_kitchen: Make) -> None:
    more = "ingredients: [{recipe: green-sauce, amount: 100 g}]\n"
    made = make_kitchen({**FILES, "recipes/loin.yaml": COOK + more})
    (sauce,) = [batch for batch in content(made, "loin").batches if batch.kind == "sauce"]
    assert sauce.title == "Green sauce"
    assert "parsley" not in card(made, "loin", "reply")


def test_every_amount_is_told_in_both_systems_with_its_grams(make_kitchen: Make) -> None:
    found = content(make_kitchen({"recipes/mop.yaml": MOP}), "mop")
    told = {item.item: tuple(one.replace("\u00a0", " ") for one in item.amounts) for item in found.every_item}
    assert told == {
        "brown sugar": ("¼ cup packed", "55 g"),
        "black pepper, ground": ("2 tsp to 1 tbsp", "4.6–7 g"),
        "galangal": ("2–3 oz", "57–85 g"),
        "fine salt": ("1 oz", "1 tbsp + 1¾ tsp", "28 g"),
        "cayenne": ("a pinch", "about 0.1 g"),
        "tomatoes": ("1 (28 oz) can", "794 g"),
        "onions": ("about 12 oz", "2 cups + 1 tbsp", "340 g"),
        "cabbage": ("1 kg", "2 lb 3½ oz"),
    }


def test_a_brines_salt_is_not_said_to_be_in_the_meat(make_kitchen: Make) -> None:
    brine = (
        'kind: brine\ntitle: Brine\nmade_for: {cut: "fresh ham, bone in", weight: 7 kg}\n'
        "ingredients:\n  - {item: water, amount: 4 l}\n  - {item: fine salt, amount: 300 g}\n"
    )
    found = content(make_kitchen({"recipes/brine.yaml": brine}), "brine")
    assert "of the piece" not in found.batches[0].coat
    assert "salt" not in [fact.key for fact in found.facts]


def test_a_rest_that_the_forecast_takes_for_granted_is_told(kitchen: Kitchen) -> None:
    assert kitchen.recipe("roast").rest is None
    found = gather(kitchen, "roast")
    assert found.times is not None
    rests = [fact.value for fact in found.content.facts if fact.key == "rest"]
    assert rests == [f"{found.times.rest_min:.0f}\u00a0min"]
    assert [fact.key for fact in content(kitchen, "loin").facts].count("rest") == 1


def test_a_reply_keeps_the_salt_and_says_the_household_line_once(make_kitchen: Make) -> None:
    paste = FILES["recipes/walnut-paste.yaml"]
    more = "".join(f"  - {{item: spice number {n} of many, amount: {n} g}}\n" for n in range(1, 30))
    made = make_kitchen({**FILES, "recipes/walnut-paste.yaml": paste.replace("steps:", more + "steps:")})
    said = card(made, "loin", "reply")
    assert len(said) <= MOST
    assert "fine salt" in said
    assert "more on the card: https://example.org/cards" in said
    assert said.count("62.8") == 1
    assert "rest 25 min." in said
    hot = make_kitchen({**FILES, "recipes/loin.yaml": COOK.replace("pull_at: 60", "pull_at: 66")})
    assert "Safe for pork: 62.8 °C" in card(hot, "loin", "reply")


def test_what_goes_on_the_day_before_is_said_to(kitchen: Kitchen) -> None:
    early = card(kitchen, "loin", "reply", eat=datetime.fromisoformat("2026-11-21T01:00:00+01:00"))
    assert " the day before, from the refrigerator" in early
    late = card(kitchen, "loin", "reply", eat=datetime.fromisoformat("2026-11-21T20:00:00+01:00"))
    assert "before, from" not in late
    assert "put it on the drum" in late


PRICES = """\
- {item: "pork loin, boneless", amount: 2 kg, price: 20 EUR, date: "2026-01-02"}
- {item: garlic, amount: 100 g, price: 1 EUR, date: "2026-01-02"}
- {item: walnuts, amount: 100 g, price: 2 EUR, date: "2026-01-02"}
- {item: "black pepper, ground", amount: 100 g, price: 3 EUR, date: "2026-01-02"}
- {item: olive oil, amount: 1 kg, price: 9 EUR, date: "2026-01-02"}
- {item: fine salt, amount: 1 kg, price: 1 EUR, date: "2026-01-02"}
"""


def cost(found: Content) -> str:
    told = [f"{fact.value} {fact.label}".replace("\u00a0", " ") for fact in found.facts if fact.key == "cost"]
    return next(iter(told), "")


@pytest.mark.long
@pytest.mark.tenth
def test_a_portion_costs_what_the_kitchens_own_prices_say(make_kitchen: Make) -> None:
    """2.2 kg of meat at 10 EUR, and what is in the paste; the mustard has no price. Twice the meat is twice the
    portions."""
    bare = COOK.partition("pit:")[0]
    made = make_kitchen({**FILES, "recipes/loin.yaml": bare, "shared/prices.yaml": PRICES})
    grams = {item.item: item.grams or 0.0 for item in content(made, "loin").every_item}
    each = {"garlic": 10, "walnuts": 20, "black pepper, ground": 30, "olive oil": 9, "fine salt": 1}
    whole = 22 + sum(grams[item] * price / 1000 for item, price in each.items())
    found = gather(made, "loin", cost=True).content
    value, _, words = cost(found).partition(" ")
    assert float(value) == pytest.approx(whole / 8, abs=0.006)
    assert words == "EUR a portion, by this kitchen's own prices, one thing without a price left out"
    bigger = gather(made, "loin", {"": {"weight": "4.4 kg"}}, cost=True).content
    assert float(cost(bigger).partition(" ")[0]) == pytest.approx(whole / 8, abs=0.2)
    assert cost(content(made, "loin")) == ""
    without = make_kitchen({**FILES, "recipes/loin.yaml": bare, "shared/prices.yaml": PRICES.partition("\n")[2]})
    assert cost(gather(without, "loin", cost=True).content) == ""


def test_what_nobody_weighed_of_a_sauce_is_missing(make_kitchen: Make) -> None:
    made = make_kitchen({"recipes/mop.yaml": MOP + "  - {item: cream of nothing, amount: 2 cups}\n"})
    lacks = missing(made, gather(made, "mop"))
    assert [one for one in lacks if "weighs" in one] == [
        "mop: what cream of nothing weighs is not known: `cookbook weigh` tells it"
    ]


def test_a_time_in_the_text_that_may_be_taken_for_a_chapter_is_missing_another_way(make_kitchen: Make) -> None:
    release = (
        '- {recipe: loin, out: "2026-05-01", length: 5:00, chapters: [{at: 0:00, name: a}, {at: 1:00, name: b}, '
        "{at: 2:00, name: c}]}\n"
    )
    cook = COOK.replace("  - Pull at 60", "  - Light it at 14:30.\n  - Pull at 60")
    files = {**FILES, "recipes/loin.yaml": cook, "shared/kitchen.yaml": SHARED}
    made = make_kitchen({**files, "shared/releases.yaml": release})
    assert "'14:30' in the text may be taken for a chapter: write that time in another way" in missing(
        made, gather(made, "loin")
    )
    (made.root / "shared" / "releases.yaml").unlink()
    made = Kitchen.open(made.root)
    assert not any("14:30" in one for one in missing(made, gather(made, "loin")))


def test_the_pages_scaler_takes_a_cooks_own_ingredients_along(make_kitchen: Make) -> None:
    from cookbook.publish.forms.scaler import scaler

    made = make_kitchen({**FILES, "recipes/loin.yaml": COOK.replace("title:", MADE_FOR + "title:") + OWN})
    found = gather(made, "loin")
    data = scaler(made, found)
    assert data is not None
    lines = [line for batch in data["batches"][1:] for line in batch["lines"]]
    assert [(line["item"], line["follows"], line["kind"]) for line in lines] == [
        ("yellow mustard", "surface", "volume"), ("paprika", "weight", "percent"), ("oak", "fixed", "count"),
    ]
    assert data["others"] == []


MADE_FOR = 'made_for: {cut: "pork loin, boneless", weight: 2.2 kg}\n'
OWN = "ingredients:\n  - {item: paprika, amount: 1 % of meat}\n  - {item: oak, amount: 2 chunks}\n"
