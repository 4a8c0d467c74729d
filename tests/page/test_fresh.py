"""Something new on the page: made by eye and written down as it goes, or read from a text as people keep it."""

from __future__ import annotations

import io
import re
import zipfile
from html import unescape
from typing import Any

import pytest

from cookbook.kitchen.clock import now
from cookbook.kitchen.log import once
from tests.page.visiting import Visitor, words

TEXT = "Garlic rub\r\n6 cloves garlic\r\n2 tbsp rosemary, chopped\r\na whim\r\n\r\nRub on a 3 kg pork shoulder.\r\n"


def by_eye(visitor: Visitor) -> str:
    """An entry without a recipe, its name."""
    said: dict[str, Any] = {"title": "Hazelnut paste", "kind": "paste", "cut": "pork loin, boneless", "weight": "3,1"}
    return str(visitor.do("/new", how="eye", bowl="212", **said).headers["location"]).split("/")[2]


def test_a_paste_made_by_eye_becomes_a_recipe_without_a_line_typed(small: Visitor) -> None:
    name = by_eye(small)
    into = "hazelnut-paste"
    page = words(small.see(f"/cook/{name}/made"))
    assert "as it goes in" in page
    assert "empty 212 g" in page
    told: list[dict[str, Any]] = [
        {"item": "hazelnuts", "value": "292", "how": "reads"},
        {"item": "garlic", "value": "330,5", "how": "reads"},
        {"item": "olive oil", "value": "5 tbsp", "how": "amount"},
        {"item": "honey", "value": "412", "then": "380", "how": "amount"},
        {"item": "zest", "how": "unweighed"},
        {"item": "bowl", "value": "500", "then": "260", "how": "amount"},
    ]
    for fields in told:
        small.do(f"/cook/{name}/made", into=into, **fields)
    page = words(small.see(f"/cook/{name}/made"))
    assert "80 g hazelnuts by the balance" in page
    assert "38.5 g garlic by the balance" in page
    assert "32 g honey jar before and after" in page
    assert "240 g went onto the meat" in page
    assert "Make it a recipe" in page
    adopting = small.see(f"/cook/{name}/adopt")
    assert "Write the recipe" in adopting
    assert "Make today’s piece" not in adopting
    keys = re.findall(r'name="take" value="([^"]+)"', adopting)
    seen: dict[str, Any] = {f"seen {into}": ""}
    small.do(f"/cook/{name}/adopt", take=keys, **seen)
    recipe = small.kitchen.recipe(into)
    assert {line.item: str(line.amount) for line in recipe.ingredients}["hazelnuts"] == "80 g"
    assert recipe.kind == "paste"


def test_a_cook_by_eye_lies_beside_the_fire(small: Visitor) -> None:
    answer = small.do("/new", how="eye", title="Ducks", kind="cook", cut="pork shoulder")
    assert answer.headers["location"].endswith("-ducks")
    assert "Next" in words(small.see(answer.headers["location"]))


def test_what_was_typed_stands_there_still_where_something_is_missing(small: Visitor) -> None:
    told: list[tuple[dict[str, Any], str]] = [
        ({"how": "eye", "title": "Nut paste", "kind": "paste"}, "which cut is it for?"),
        ({"how": "eye", "title": "Nut paste", "kind": "paste", "cut": "unicorn"}, "unicorn"),
        ({"how": "eye", "title": "Nut paste", "kind": "paste", "cut": "pork shoulder", "weight": "9000"}, "9000"),
        ({"how": "read", "title": "Nut paste", "words": "Title\n1 leg of lamb\nsalt to taste"}, "for which cut"),
        ({"how": "read", "title": "Nut paste", "words": " "}, "there is no text"),
        ({"how": "write", "kind": "rub", "cut": "pork shoulder"}, "what is it called? Give it a title"),
    ]
    for fields, said in told:
        page = small.do("/new", 400, **fields).text
        assert said in words(page)
        for value in {"Nut paste", fields.get("words", "").strip()} if "title" in fields else ():
            assert value in page
    assert len(small.kitchen.entry_paths()) == 0


def test_a_text_is_read_and_saved_only_then(small: Visitor) -> None:
    page = small.do("/new", 200, how="read", words=TEXT).text
    assert "Garlic rub Not read as an amount, kept in the notes" in words(page)
    assert "a whim" in words(page)
    assert not small.kitchen.has_recipe("garlic-rub")
    text = re.search(r"<textarea id=\"text\"[^>]*>\n(.*?)</textarea>", page, re.S)
    assert text
    small.do("/recipe/garlic-rub/text", text=unescape(text[1]), seen="")
    recipe = small.kitchen.recipe("garlic-rub")
    assert (recipe.kind, recipe.meat) == ("rub", "pork shoulder")
    assert "garlic-rub already" in small.do("/new", 400, how="read", words=TEXT).text
    two = "A RUB\n\n1 g salt\n2 g pepper\n\nMix.\n\nB RUB\n\n1 g salt\n2 g pepper\n\nMix.\n"
    assert "2 recipes in this text" in small.do("/new", 400, how="read", words=two).text


def test_a_text_without_its_meat_says_what_it_is_as_yet(small: Visitor) -> None:
    page = words(small.do("/new", 200, how="read", words="HERB RUB\n\n2 tbsp salt\n1 tbsp sage\n\nMix it.").text)
    assert "Herb rub A sauce as yet: a rub is made for a piece" in page
    assert "Not read as an amount" not in page


@pytest.mark.parametrize(("cut", "line"), [("chicken, whole", "74 °C"), ("pork shoulder", "63 °C"), ("", "63 °C")])
def test_a_cook_that_is_begun_as_a_text_pulls_at_the_household_line(small: Visitor, cut: str, line: str) -> None:
    assert f"pull_at: {line}" in small.do("/new", 200, how="write", title="Sunday", kind="cook", cut=cut).text


def test_sizes_that_were_said_go_along(full: Visitor) -> None:
    page = unescape(full.see("/recipe/rib-roast-on-oak?weight=2.4&ribs=2"))
    for part in ("start", "plan", "card"):
        assert f"/recipe/rib-roast-on-oak/{part}?weight=2.4+kg&ribs=2" in page or (
            f"/recipe/rib-roast-on-oak/{part}?weight=2.4%20kg&ribs=2" in page
        )
    assert "As written" in words(full.see("/recipe/rib-roast-on-oak"))
    assert "As written" not in words(page)


@pytest.mark.parametrize("read_only", [False, True])
def test_the_whole_kitchen_comes_as_one_file(small: Visitor, read_only: bool) -> None:
    name = by_eye(small)
    page = Visitor(small.root, read_only=read_only)
    assert "private formulas" in page.see("/")
    answer = page.browser.get("/kitchen.zip")
    assert answer.status_code == 200
    assert int(answer.headers["content-length"]) == len(answer.content)
    assert ".zip" in answer.headers["content-disposition"]
    with zipfile.ZipFile(io.BytesIO(answer.content)) as packed:
        names = packed.namelist()
        assert f"{small.root.name}/journal/{name[:4]}/{name}.yaml" in names
        path = small.root / "recipes/walnut-paste.yaml"
        assert packed.read(f"{small.root.name}/recipes/walnut-paste.yaml") == path.read_bytes()


def test_pounds_and_fahrenheit_are_chosen_without_a_file(full: Visitor) -> None:
    path = full.root / "shared/kitchen.yaml"
    before = path.read_text()
    full.do("/about", units="both", temperature="C", measures="us", name="The hall kitchen", author="The supper club")
    assert path.read_text() == before, "nothing was said that did not stand there"
    full.do("/about", units="us", temperature="F", author="", thermometer="2 °C")
    text = path.read_text()
    assert "units: us           # what screens" in text.replace("us             #", "us           #")
    assert "temperature: F" in text
    assert "author" not in text
    assert "thermometer: 2 °C" in text
    assert "# What this kitchen has in common." in text
    page = full.see("/recipe/rib-roast-on-oak?weight=8&ribs=3&length=9")
    assert "weight, lb" in words(page)
    assert "rib roast, bone in, 8 lb" in words(page) or "3.63 kg" in words(page) or "3.6 kg" in words(page)
    assert "°F" in words(full.see("/recipe/rib-roast-on-oak/start"))
    about = full.see("/about")
    assert 'value="2 °C"' in about
    full.do("/about", thermometer="2 °C", units="us", temperature="F")
    assert path.read_text() == text
    full.do("/about", thermometer="1,5", units="us", temperature="F")
    assert "thermometer: 1.5F" in path.read_text(), "a bare number is on the scale that was chosen"


def test_what_a_kitchen_cannot_be_is_refused_and_nothing_is_written(small: Visitor) -> None:
    before = {path: path.read_bytes() for path in small.root.rglob("*.yaml")}
    assert "rather far" in small.do("/about", 400, thermometer="rather far").text
    small.do("/about", 400, units="cubits")
    assert {path: path.read_bytes() for path in small.root.rglob("*.yaml")} == before
    small.do("/about", name="The yard")
    assert small.kitchen.settings["name"] == "The yard"
    (small.root / "shared/kitchen.yaml").unlink()
    small.do("/about", name="The yard again", units="metric")
    assert small.kitchen.settings["units"] == "metric"
    assert "measures" not in (small.root / "shared/kitchen.yaml").read_text()


def test_a_cook_by_eye_becomes_a_recipe_of_its_fire(small: Visitor) -> None:
    answer = small.do("/new", how="eye", title="Roast", kind="cook", cut="pork shoulder", weight="3")
    name = answer.headers["location"].split("/")[2]
    for line in ("02:00 on", "02:10 core 5C and pit is 130C", "04:00 core 60C, stirred the coals", "04:00 pulled"):
        small.do(f"/cook/{name}/log", send="line", words=line)
    log = words(small.see(f"/cook/{name}"))
    assert "core 5 °C, pit 130 °C" in log
    assert "core 5 °C, pit 130 °C:" not in log, "what was read is not said twice"
    assert "stirred the coals" in log
    assert ": 04:00" not in log, "nor is its time"
    once.log(small.kitchen, name, "taste", {"words": ["18:00 may be too late"]}, now().replace(hour=0, minute=1))
    assert "tasted: 18:00 may be too late" in words(small.see(f"/cook/{name}")), "that is another time"
    assert "Make it a recipe" in small.see(f"/cook/{name}/after")
    page = small.see(f"/cook/{name}/adopt")
    assert "Cut, fire, pull and rest" in page
    seen: dict[str, Any] = {"seen roast": ""}
    small.do(f"/cook/{name}/adopt", **seen)
    recipe = small.kitchen.recipe("roast")
    assert (recipe.kind, str(recipe.pull_at)) == ("cook", "60 °C")
