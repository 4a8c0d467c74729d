"""Before: finding, scaling as one types, writing a recipe's text."""

from __future__ import annotations

import re
from collections.abc import Callable
from pathlib import Path

import pytest

from cookbook.kitchen import Kitchen
from cookbook.kitchen.sizing import for_pieces
from cookbook.recipe.scaling import scaled_to
from tests.conftest import PASTE, SPICE
from tests.page.visiting import Visitor, words


def test_home_shows_recipes_cooks_and_what_is_on(full: Visitor) -> None:
    page = full.see("/")
    assert "Pork loin over cherry wood" in page
    assert "On now" not in page
    full.do("/recipe/pork-loin-over-cherry/start", weight="3.1")
    assert "On now" in full.see("/")


def test_an_empty_folder_is_made_a_kitchen_on_the_page(tmp_path: Path) -> None:
    for name, example in (("plain", ""), ("told", "1")):
        root = tmp_path / name
        root.mkdir()
        visitor = Visitor(root)
        assert "Make a kitchen here" in visitor.see("/")
        assert visitor.see("/recipe/loin", 400)
        visitor.do("/kitchen", example=example)
        assert "Pork loin over cherry wood" in visitor.see("/")
        assert bool(visitor.kitchen.entry_paths()) == bool(example)
        visitor.do("/kitchen", 400)


def test_search_finds_recipes_and_cooks_by_all_words(full: Visitor) -> None:
    found = words(full.see("/?words=lamb+vine"))
    assert "Leg of lamb over vine cuttings" in found
    assert "Brisket" not in found
    assert "No recipe has all of these words" in words(full.see("/?words=zeppelin"))


def test_scaling_shows_what_the_library_says(full: Visitor) -> None:
    kitchen = full.kitchen
    paste = kitchen.recipe("fennel-sage-paste")
    ((coat, pieces),) = for_pieces(kitchen, paste, {"": {"weight": "4.4 kg"}})
    scaled = scaled_to(coat, pieces, weights=kitchen.weights, used=kitchen.used_by(coat), drawer=kitchen.drawer)
    page = words(full.see("/recipe/fennel-sage-paste/scaled?weight=4.4"))
    for line in scaled.lines:
        assert line.measured("both").text in page
    assert f"{scaled.factor.surface:.2f} times" in page
    assert f"By weight it would have been {scaled.factor.weight:.2f} times" in page
    assert f"{scaled.coated_to_cm2:.0f} cm²" in page
    assert "<svg" in full.see("/recipe/fennel-sage-paste/scaled?weight=4.4")


def test_what_goes_into_a_recipe_stands_below_it(make_kitchen: Callable[..., Kitchen]) -> None:
    outer = PASTE.replace("  - item: walnuts\n    amount: 80 g\n", "  - {recipe: dust, amount: 90 g}\n")
    there = Visitor(make_kitchen({"recipes/dust.yaml": SPICE, "recipes/walnut-paste.yaml": outer}).root)
    page = words(there.see("/recipe/walnut-paste/scaled"))
    assert "Seven-pepper dust As much as goes into Walnut and thyme paste 60 g" in page


@pytest.mark.parametrize("said", ["weight=4.4", "weight=4,4", "weight=4400 g", "weight=4.4kg"])
def test_a_bare_number_is_kilograms(full: Visitor, said: str) -> None:
    assert "1.86 times" in words(full.see(f"/recipe/fennel-sage-paste/scaled?{said}"))


def test_a_piece_that_cannot_be_is_said_and_nothing_breaks(full: Visitor) -> None:
    for said in ("weight=900", "weight=many", "length=1&girth=1&weight=20", "weight=0"):
        assert 'class="fault"' in full.see(f"/recipe/fennel-sage-paste/scaled?{said}")


def test_a_recipe_shows_its_method_its_versions_and_its_safety(full: Visitor) -> None:
    page = words(full.see("/recipe/fennel-sage-paste"))
    assert "Crush garlic and salt" in page
    assert "revision 3" in page
    assert "food-safety authority" in page
    assert "Last time you said" in page


def test_faults_of_a_text_stand_beside_their_lines_before_it_is_saved(small: Visitor) -> None:
    whole = small.kitchen.recipe("walnut-paste").document.text
    text = whole.replace("80 g", "eighty grams")
    odd = small.do("/recipe/walnut-paste/check", 200, text=whole.replace("item: walnuts", "item: moonwort"))
    told = [(one["code"], one["mend"]) for one in odd.json()["problems"]]
    assert ("unknown-ingredient", None) in told, "what only a command can do is no mend here"
    answer = small.do("/recipe/walnut-paste/check", 200, text=text)
    (problem, *_) = answer.json()["problems"]
    assert problem["line"] == text[: text.index("eighty")].count("\n") + 1
    assert problem["severity"] == "error"
    refused = small.do("/recipe/walnut-paste/text", 422, text=text, seen=seen(small, "walnut-paste"))
    assert "eighty grams" in refused.text, "what was written is not lost"
    assert "80 g" in (small.root / "recipes/walnut-paste.yaml").read_text()


def seen(visitor: Visitor, name: str) -> str:
    """The hash that the text's page carries."""
    found = re.search(r'name="seen" value="([0-9a-f]{64})"', visitor.see(f"/recipe/{name}/text"))
    assert found
    return found[1]


@pytest.mark.parametrize("ends", ["\n", "\r\n"])
def test_only_what_was_changed_is_another_byte(small: Visitor, ends: str) -> None:
    path = small.root / "recipes/walnut-paste.yaml"
    before = path.read_bytes().replace(b"\n", ends.encode())
    path.write_bytes(before)
    sent = before.decode().replace("\r\n", "\n").replace("80 g", "90 g").replace("\n", "\r\n")
    small.do("/recipe/walnut-paste/text", text=sent, seen=seen(small, "walnut-paste"))
    assert path.read_bytes() == before.replace(b"80 g", b"90 g")


def test_two_who_change_the_same_recipe_lose_neither_text(small: Visitor) -> None:
    path = small.root / "recipes/walnut-paste.yaml"
    mine, hers = seen(small, "walnut-paste"), seen(small, "walnut-paste")
    text = path.read_text()
    small.do("/recipe/walnut-paste/text", text=text.replace("80 g", "90 g"), seen=hers)
    clash = small.do("/recipe/walnut-paste/text", 409, text=text.replace("80 g", "70 g"), seen=mine)
    assert "70 g" in clash.text
    assert "90 g" in clash.text
    assert "90 g" in path.read_text(), "nothing was written over"
    now = re.search(r'name="seen" value="([0-9a-f]{64})"', clash.text)
    assert now
    small.do("/recipe/walnut-paste/text", text=text.replace("80 g", "70 g"), seen=now[1])
    assert "70 g" in path.read_text()


def test_a_recipe_is_begun_written_and_there(small: Visitor) -> None:
    page = small.do("/new", 200, title="Juniper & orange rub", kind="rub", cut="leg of lamb, bone in").text
    assert "juniper-orange-rub" in page
    assert not (small.root / "recipes/juniper-orange-rub.yaml").exists()
    text = re.search(r"<textarea id=\"text\"[^>]*>\n(.*?)</textarea>", page, re.S)
    assert text
    from html import unescape

    small.do("/recipe/juniper-orange-rub/text", text=unescape(text[1]), seen="")
    assert small.kitchen.recipe("juniper-orange-rub").title == "Juniper & orange rub"
    small.do("/recipe/juniper-orange-rub/text", 409, text=unescape(text[1]), seen="")
    small.do("/new", 400, title="Juniper & orange rub", kind="rub")


def test_a_recipe_that_cannot_be_read_is_shown_with_its_faults_and_can_be_mended(small: Visitor) -> None:
    (small.root / "recipes/walnut-paste.yaml").write_text("kind: paste\ntitle: [\n")
    assert "can’t be read" in small.see("/recipe/walnut-paste", 422)
    assert "title: [" in small.see("/recipe/walnut-paste/text")
    assert small.see("/")


def test_the_card_in_every_form_and_to_take_away(full: Visitor) -> None:
    from cookbook.publish import card
    from cookbook.publish.forms import FORMS

    for form in FORMS:
        page = full.see(f"/recipe/fennel-sage-paste/card?form={form}")
        if form in ("chapters", "correction", "pdf"):
            assert ('class="fault"' in page) == (form != "pdf"), "what the form lacks is said"
            continue
        answer = full.browser.get(f"/recipe/fennel-sage-paste/card/{form}?weight=4.4&take=1")
        assert answer.text == card(full.kitchen, "fennel-sage-paste", form, {"": {"weight": "4.4 kg"}})
        assert "attachment" in answer.headers["content-disposition"]
        policy = answer.headers["content-security-policy"]
        assert "sandbox" in policy
        scripts = re.findall(r"script-src ([^;]*);", policy)
        assert scripts == ["'none'"] if form != "page" else re.fullmatch(r"('sha256-[^']+' ?)+", scripts[0])


def test_the_last_cook_is_held_against_an_earlier_one(full: Visitor) -> None:
    page = full.see("/recipe/rib-roast-on-oak/compare")
    (address,) = re.findall(r'href="([^"]*[?]a=[^"]*)"', page)
    assert "nothing to hold it against" in words(page)
    page = words(full.see(address.replace("&amp;", "&")))
    assert "7 Feb" in page
    assert "against 13 Dec 2025" in page
    assert "2025-12-13" not in page, "the day, not the file, everywhere"
    assert "juiciness" in page
    full.see("/recipe/rib-roast-on-oak/compare?a=none&b=nobody", 404)


def test_compare_begins_with_the_answer(full: Visitor) -> None:
    from cookbook.compare import compare_versions
    from cookbook.compare.headline import headline
    from cookbook.compare.spreadsheet import csv_text

    found = compare_versions(full.kitchen, "pork-loin-over-cherry")
    assert headline(found) in words(full.see("/recipe/pork-loin-over-cherry/compare"))
    table = full.browser.get("/recipe/pork-loin-over-cherry/compare.csv")
    assert table.content.decode() == csv_text(found)
    assert "attachment" in table.headers["content-disposition"]
