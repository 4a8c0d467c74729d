"""Something new on the page: made by eye and written down as it goes, or read from a text as people keep it."""

from __future__ import annotations

import io
import re
import zipfile
from html import unescape
from typing import Any

import pytest

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
        ({"how": "write", "kind": "rub", "cut": "pork shoulder"}, "what is it called? give it a title"),
    ]
    for fields, said in told:
        page = small.do("/new", 400, **fields).text
        assert said in words(page)
        for value in {"Nut paste", fields.get("words", "").strip()} if "title" in fields else ():
            assert value in page
    assert len(small.kitchen.entry_paths()) == 0


def test_a_text_is_read_and_saved_only_then(small: Visitor) -> None:
    page = small.do("/new", 200, how="read", words=TEXT).text
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
