"""What a viewer types into the scaler: numbers as people write them, nonsense, hours, scans, several pieces."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from cookbook.kitchen import Kitchen
from cookbook.kitchen.sizing import for_pieces, inside
from cookbook.meat import Cut
from cookbook.publish import card
from cookbook.publish.content.gathering import gather
from cookbook.publish.content.ingredient import amounts
from cookbook.publish.forms.scaler import scaler
from cookbook.recipe.scaling import scaled_to
from tests.conftest import COOK, PASTE, SPICE

pytestmark = pytest.mark.browser

NUMBERS = {"3.9": 3.9, "3,9": 3.9, " 12 ": 12, "8 1/2": 8.5, "8½": 8.5, "½": 0.5, "1/3": 1 / 3, "": None}
NONE = ("abc", "3.9.1", "1.234,5", "-2", "0", "NaN", "Infinity", "1e3", "1/0", "3 9", "0x10", "<b>4</b>", "٣")


@pytest.fixture(autouse=True)
def quick(short_table: None) -> None:
    """Every page by the short table of times."""


Opened = Callable[..., Any]


@pytest.fixture
def opened(browser: Any, tmp_path: Path) -> Iterator[Opened]:
    """Opens the page of a kitchen's recipe, in a time zone; it may ask for nothing and throw nothing."""
    contexts = []

    def open_page(kitchen: Kitchen, name: str, pieces: Any = None, zone: str = "UTC") -> Any:
        path = tmp_path / f"{name}.html"
        path.write_text(card(kitchen, name, "page", pieces), encoding="utf-8")
        context = browser.new_context(timezone_id=zone, viewport={"width": 390, "height": 844})
        contexts.append(context)
        page = context.new_page()
        page.on("request", lambda one: asked.append(one.url))
        page.on("pageerror", lambda one: faults.append(str(one)))
        page.goto(path.as_uri())
        return page

    asked: list[str] = []
    faults: list[str] = []
    yield open_page
    assert all(one.startswith("file:") for one in asked)
    assert not faults
    for context in contexts:
        context.close()


def answer(page: Any) -> str:
    return str(page.locator("#scaler-answer").inner_text()).replace("\u00a0", " ")


def day(page: Any) -> str:
    return re.sub(r"\s+", " ", page.locator("#scaler-day").inner_text().replace("\u00a0", " "))


def test_numbers_are_read_as_people_write_them(opened: Opened, demo: Kitchen) -> None:
    page = opened(demo, "pork-loin-over-cherry")
    for words, value in NUMBERS.items():
        wanted = pytest.approx(value) if value else None
        assert page.evaluate("words => scaler.number(words)", words) == wanted, words
    for words in NONE:
        assert page.evaluate("words => Number.isNaN(scaler.number(words))", words), words


def test_pounds_and_ounces_and_inches_say_the_same_size(opened: Opened, demo: Kitchen) -> None:
    page = opened(demo, "pork-loin-over-cherry")
    page.fill("#s-weight", "2,2")
    kilos = page.locator("#scaler-lists").inner_text()
    page.select_option("[name=weight-unit]", "lb")
    assert page.input_value("#s-weight") == "4.9"
    page.fill("#s-weight", "4")
    page.fill("#s-ounces", "13.6")
    assert page.locator("#scaler-lists").inner_text() == kilos
    assert "2.2 kg (4.9 lb)" in answer(page)
    page.check("[name=by][value=tape]")
    page.fill("#s-weight", "")
    page.fill("#s-ounces", "")
    page.fill("#s-length", "35")
    page.fill("#s-girth", "33.5")
    taped = answer(page)
    page.select_option("[name=length-unit]", "in")
    assert page.input_value("#s-length") == "13.78"
    assert answer(page) == taped


def test_nonsense_gets_words_and_never_a_number_that_is_none(opened: Opened, demo: Kitchen) -> None:
    page = opened(demo, "rib-roast-on-oak")
    page.locator(".finer summary").click()
    for way, fields in {"weight": ["weight", "count", "frenched"], "ribs": ["ribs", "weight"],
                        "tape": ["length", "girth", "width", "thickness", "thick", "thin"]}.items():
        page.check(f"[name=by][value={way}]")
        for name in fields:
            before = page.input_value(f"#s-{name}")
            for words in (*NONE, "9999"):
                page.fill(f"#s-{name}", words)
                shown = page.locator("#scaler-part").inner_text()
                assert not re.search(r"NaN|undefined|Infinity(?!”)|null", shown.replace("“NaN”", "")), (name, words)
                assert page.locator(f"#s-{name}").get_attribute("aria-invalid") == "true", (name, words)
                assert len(answer(page)) > 20
                assert not page.locator("#scaler-result").is_visible()
            page.fill(f"#s-{name}", before)
    page.fill("#s-frenched", "50")
    assert "50 cm of bare bone can't be" in answer(page)
    page.fill("#s-frenched", "")
    page.fill("#s-length", "25")
    page.fill("#s-thick", "80")
    assert "near both ends" in answer(page)


def test_measures_that_do_not_go_together_are_asked_about(opened: Opened, demo: Kitchen) -> None:
    page = opened(demo, "rib-roast-on-oak")
    page.fill("#s-ribs", "2")
    page.fill("#s-weight", "9")
    assert re.search(r"right\? .* would be usual for rib roast, bone in", answer(page))
    assert not page.locator("#scaler-result").is_visible()
    assert page.locator("#scaler-jump").is_visible()
    assert page.locator("#s-weight, #s-ribs").locator("xpath=self::*[@aria-invalid]").count() == 1
    page.fill("#s-ribs", "3")
    page.fill("#s-weight", "6.6")
    assert "right?" in answer(page)
    assert page.locator("#scaler-result").is_visible()
    assert page.locator("[aria-invalid]").count() == 0


def test_a_measure_of_the_viewers_own_takes_the_place_of_the_cards_weight(opened: Opened, demo: Kitchen) -> None:
    page = opened(demo, "rib-roast-on-oak")
    page.fill("#s-ribs", "5")
    assert page.input_value("#s-weight") == ""
    page.fill("#s-weight", "6")
    page.fill("#s-ribs", "4")
    assert page.input_value("#s-weight") == "6"


def test_the_hour_to_put_it_on_is_the_replys(opened: Opened, demo: Kitchen) -> None:
    page = opened(demo, "leg-of-lamb-over-vine")
    for eat in ("19:00", "18:03", "0:40"):
        hour, minute = map(int, eat.split(":"))
        said = card(demo, "leg-of-lamb-over-vine", "reply", eat=datetime(2026, 7, 4, hour, minute))
        clock = r" at (\d\d:\d\d)(?: the day before)?, from the refrigerator; check from (\d\d:\d\d)"
        put, look = re.findall(clock, said)[0]
        page.fill("#s-eat", f"{hour:02}:{minute:02}")
        wanted = [one.removeprefix("0") for one in (put, look)]
        found = re.findall(r"Put on (\d+:\d\d).*check from (\d+:\d\d)", answer(page))[0]
        assert list(found) == wanted


@pytest.mark.parametrize(("much", "last", "title"), [
    ("90 g", "juniper, amount: 5 g", "Seven-pepper dust"), ("2 tbsp", "juniper, amount: 5 g", "Seven-pepper dust"),
    ("2 tbsp", "anchovy fillets, amount: 4", "Seven-pepper dust, a whole batch"),
])  # fmt: skip
def test_what_goes_into_a_recipe_grows_with_it_and_is_bought_in_its_place(
    opened: Opened, make_kitchen: Callable[..., Kitchen], much: str, last: str, title: str
) -> None:
    outer = PASTE.replace("  - item: walnuts\n    amount: 80 g\n", f"  - {{recipe: dust, amount: {much}}}\n")
    dust = SPICE.replace("juniper, amount: 5 g", last)
    files = {"recipes/dust.yaml": dust, "recipes/walnut-paste.yaml": outer, "recipes/loin.yaml": COOK}
    kitchen = make_kitchen(files)
    page = opened(kitchen, "loin")
    page.locator(".shop summary").click()
    for grams in (1100, 2200, 4730):
        page.fill("#s-weight", f"{grams / 1000}")
        ((recipe, pieces),) = for_pieces(kitchen, kitchen.recipe("loin"), {"": {"weight": f"{grams} g"}})
        (wanted,) = inside(kitchen, scaled_to(recipe, pieces))
        shown = page.evaluate("scaler.data.batches[1].lines.map(line => scaler.amounts(scaler.data.batches[1], line, "
                              f"scaler.piece({{mass: {grams}}}, '')))")
        assert [one["said"] for one in shown] == [
            list(amounts(kitchen, line.amount, line.item, line.grams)) for line in wanted.lines]
        bought = page.locator("#scaler-shop").inner_text()
        assert last.split(",")[0] in bought
        assert bought.count("fine salt") == 1
        assert "dust" not in bought
        assert title in page.locator("#scaler-lists h3").all_inner_texts()


def test_before_midnight_and_over_the_change_of_summer_time(opened: Opened, demo: Kitchen) -> None:
    page = opened(demo, "leg-of-lamb-over-vine", zone="Europe/Berlin")
    page.fill("#s-eat", "01:00")
    plain = answer(page)
    assert "the day before" in plain
    before = re.findall(r"Put on (\d+):(\d\d)", plain)[0]
    page.fill("#s-day", "2027-03-27")
    assert f"Put on Friday {before[0]}:{before[1]}" in answer(page)
    # On 28 March 2027 there is no hour from 2 to 3: what takes three hours begins an hour earlier by the clock.
    page.fill("#s-eat", "04:30")
    page.fill("#s-day", "2027-03-27")
    usual = re.findall(r"Put on (\d+):(\d\d)", answer(page))[0]
    page.fill("#s-day", "2027-03-28")
    skipped = re.findall(r"Put on (?:Saturday )?(\d+):(\d\d)", answer(page))[0]
    assert (60 * (int(usual[0]) - int(skipped[0])) + int(usual[1]) - int(skipped[1])) % 1440 == 60
    page.fill("#s-day", "2020-03-28")
    assert "That hour is gone" in answer(page)


def test_sizes_and_donenesses_out_of_reach_are_said_to_be(opened: Opened, demo: Kitchen) -> None:
    page = opened(demo, "leg-of-lamb-over-vine")
    page.fill("#s-weight", "8")
    assert "Thicker than the sizes worked out" in answer(page)
    assert "An unusual size for leg of lamb" in answer(page)
    page.fill("#s-weight", "0.5")
    assert "Thinner than the sizes worked out" in answer(page)
    page.fill("#s-weight", "3")
    assert "worked out" not in answer(page)
    assert "unusual" not in answer(page)
    assert page.evaluate("scaler.data.times.doneness.push({name: 'charcoal', served: 95})") > 1
    page.evaluate("document.getElementById('s-want').add(new Option('charcoal'))")
    page.select_option("#s-want", "charcoal")
    assert "“charcoal” is out of reach here" in answer(page)


def test_pieces_alike_take_so_many_times_the_coat_and_no_longer(opened: Opened, demo: Kitchen) -> None:
    page = opened(demo, "leg-of-lamb-over-vine")
    times = page.evaluate("scaler.timing(scaler.piece({mass: 2500}, ''), 'oven', 60).minutes")
    page.locator(".finer summary").click()
    page.fill("#s-count", "2")
    assert "2 × 2.5 kg" in answer(page)
    assert "24 cloves" in page.locator("#scaler-lists").inner_text().replace("\u00a0", " ")
    assert page.evaluate("scaler.timing(scaler.piece({mass: 2500, count: 2}, ''), 'oven', 60).minutes") == times
    page.locator(".shop summary").click()
    assert "2 × 2.5 kg" in page.locator("#scaler-shop").inner_text().replace("\u00a0", " ")


def test_a_card_for_two_alike_begins_with_two_and_one_for_unlike_ones_says_so(
    opened: Opened, demo: Kitchen
) -> None:
    page = opened(demo, "leg-of-lamb-over-vine", {"a": {"weight": "2 kg"}, "b": {"weight": "2 kg"}})
    assert page.input_value("#s-count") == "2"
    wanted = gather(demo, "leg-of-lamb-over-vine", {"a": {"weight": "2 kg"}, "b": {"weight": "2 kg"}}).scaled[0]
    shown = page.evaluate("scaler.data.batches[0].lines.map(line => scaler.amounts(scaler.data.batches[0], line, "
                          "scaler.piece({mass: 2000, count: 2}, '')).grams)")
    assert shown == pytest.approx([line.grams.mid for line in wanted.lines if line.grams], rel=1e-5)
    page = opened(demo, "leg-of-lamb-over-vine", {"a": {"weight": "2 kg"}, "b": {"weight": "3 kg"}})
    assert page.input_value("#s-count") == "1"
    assert "one size at a time" in page.locator("#scaler-result").inner_text()


SCAN = "loin.ply: 1400 cm2 give or take 4 %, 420 cm2 of it underneath, 2100 cm3, 34 x 12 x 8 cm"
SCANNED = PASTE.replace("  weight: 2.2 kg\n", f'  scan: "{SCAN}"\n')
ONE_LINE = COOK.replace("coats:\n", "coats:\n  - item: yellow mustard\n    amount: 40 g\n")


def test_a_scanned_piece_is_scaled_by_the_cuts_proportions_and_says_so(
    opened: Opened, make_kitchen: Callable[..., Kitchen]
) -> None:
    kitchen = make_kitchen({"recipes/walnut-paste.yaml": SCANNED, "recipes/loin.yaml": COOK})
    page = opened(kitchen, "loin")
    assert "was scanned" in page.locator("#scaler-result").inner_text()
    found = gather(kitchen, "loin")
    other = found.scaled[0].pieces[0].in_size(1500)
    wanted = other.coated_cm2.mid / found.scaled[0].coated_from_cm2
    batch, line = "scaler.data.batches[0]", "scaler.data.batches[0].lines[0]"
    shown = page.evaluate(f"scaler.amounts({batch}, {line}, scaler.piece({{mass: 1500}}, '')).grams")
    assert shown == pytest.approx(80 * wanted, rel=1e-5)
    assert "Check from" in answer(page)


def test_a_coat_in_one_line_follows_the_surface_too(opened: Opened, make_kitchen: Callable[..., Kitchen]) -> None:
    kitchen = make_kitchen({"recipes/walnut-paste.yaml": PASTE, "recipes/loin.yaml": ONE_LINE})
    data = scaler(kitchen, gather(kitchen, "loin"))
    assert data is not None
    assert data["others"] == []
    page = opened(kitchen, "loin")
    needed = page.locator("#scaler-lists").inner_text().replace("\u00a0", " ")
    assert "40 g" in needed
    page.fill("#s-weight", "4.4")
    more = page.locator("#scaler-lists").inner_text().replace("\u00a0", " ")
    line = next(line.grams.mid for scaled in gather(kitchen, "loin", {"": {"weight": "4.4 kg"}}).alone
                for line in scaled.lines if line.grams)
    assert f"{round(line)} g" in more
    assert line > 60


ODD = """\
kind: brine
title: Odd amounts
made_for: {cut: "rib roast, bone in", ribs: 3, bones: "on"}
ingredients:
  - {item: fine salt, amount: 1.3 % of boneless meat}
  - {item: sugar, amount: 0.7 % of meat}
  - {item: water, amount: 1.5 l, follows: volume}
  - {item: black pepper, ground, amount: 3-4 tbsp}
  - {item: paprika, amount: 2/3 cup}
  - {item: cayenne, amount: 1/8 tsp}
  - {item: olive oil, amount: 77 ml}
  - {item: beef stock, amount: 1.1 l}
  - {item: butter, amount: 1.25 kg}
  - {item: brown sugar, amount: 150-210 g}
  - {item: garlic, amount: 3 cloves, follows: count}
  - {item: onion, amount: 2}
  - {item: mustard, amount: 7 tsp, follows: weight}
  - {item: wood, amount: 2 chunks, follows: fixed}
  - {item: thyme, fresh, amount: a handful}
  - {item: lemon zest, amount: to taste}
"""


def test_every_kind_of_amount_is_the_librarys(opened: Opened, make_kitchen: Callable[..., Kitchen]) -> None:
    lines = ODD.replace("black pepper, ground", '"black pepper, ground"').replace("thyme, fresh", '"thyme, fresh"')
    kitchen = make_kitchen({"recipes/odd.yaml": lines})
    recipe, cut = kitchen.recipe("odd"), Cut.named("rib roast, bone in")
    page = opened(kitchen, "odd")
    for ribs, bones, count in itertools.product((1, 2, 4, 5, 7), ("on", "tied", "off"), (1, 3)):
        faces = page.evaluate("bones => scaler.data.batches[0].faces[bones]", bones)
        mass = 1170 * ribs + 137
        piece = cut.piece(ribs=ribs, mass_g=mass, bones=bones, faces=",".join(faces))
        shown = page.evaluate(
            "known => scaler.data.batches[0].lines.map(line => scaler.amounts(scaler.data.batches[0], line, "
            "scaler.piece(known, known.bones)).said)", {"ribs": ribs, "mass": mass, "bones": bones, "count": count})
        for said, line in zip(shown, scaled_to(recipe, [piece] * count, weights=kitchen.weights).lines, strict=True):
            assert said == list(amounts(kitchen, line.amount, line.item, line.grams)), (ribs, bones, count, line.item)


def test_the_whole_form_by_keyboard(opened: Opened, demo: Kitchen) -> None:
    page = opened(demo, "rib-roast-on-oak")
    page.locator(".finer summary").click()
    page.locator(".shop summary").click()
    page.check("[name=by][value=tape]")
    page.focus("[name=by][value=tape]")
    seen = []
    for _ in range(60):
        page.keyboard.press("Tab")
        seen.append(page.evaluate("document.activeElement.name || document.activeElement.tagName"))
    for name in ("length", "length-unit", "girth", "weight", "weight-unit", "bones", "cooker", "want", "eat", "day",
                 "count", "frenched", "width", "thickness", "thick", "thin", "faces", "measures"):
        assert name in seen, name
    boxes = page.evaluate("[...document.querySelectorAll('#scaler-form :is(.by label, input, select, summary)')]"
                          ".filter(e => e.offsetParent && e.type !== 'radio').map(e => e.offsetHeight)")
    assert min(boxes) >= 24
