"""Whole cards in every form: nothing that a cook wrote and no caution is lost on the way."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from collections.abc import Callable

import pytest

from cookbook.errors import UnknownName
from cookbook.kitchen import Kitchen
from cookbook.publish import card
from cookbook.publish.content.gathering import content
from tests.publish.kitchens import FILES, PASTE, SHARED

Make = Callable[..., Kitchen]

FORMS = ("text", "description", "page", "json-ld")
"""The forms that carry the whole card; what the others carry has tests of its own."""


def plain(text: str) -> str:
    """A card with its blanks single, tags and escapes of HTML away."""
    from html import unescape

    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]*>", " ", text)))


@pytest.mark.parametrize("form", FORMS)
def test_what_the_cook_wrote_beside_an_amount_stands_on_every_form(kitchen: Kitchen, form: str) -> None:
    shown = plain(card(kitchen, "loin", form))
    for words in ("garlic, minced", "or hazelnuts or pecans", "until it drops slowly from the spoon",
                  "keep back ½ tsp of it, to add by taste", "2 tbsp", "yellow mustard", "160 °C (320 °F)"):
        assert words in shown.replace(" ,", ","), words


@pytest.mark.parametrize("form", ["text", "description", "page"])
def test_which_cups_are_meant_who_made_it_and_which_version_stand_on_every_card(kitchen: Kitchen, form: str) -> None:
    shown = plain(card(kitchen, "walnut-paste", form))
    for words in ("Cups and spoons are US, level: 1 cup is 237 ml", "Revision 2", "The supper club", "CC BY 4.0",
                  "https://example.org/cards"):
        assert words in shown, words


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("recipe", ["walnut-paste", "pepper-rub", "loin", "roast", "green-sauce"])
def test_every_card_carries_all_its_cautions(kitchen: Kitchen, recipe: str, form: str) -> None:
    found = content(kitchen, recipe)
    shown = card(kitchen, recipe, form)
    said = json.loads(shown)["recipeInstructions"][-1]["text"] if form == "json-ld" else plain(shown)
    assert found.cautions[-1].key == "authority"
    for caution in found.cautions:
        assert caution.text.replace("\u00a0", " ") in said


def test_a_version_says_when_it_was_cooked_and_how_often(make_kitchen: Make) -> None:
    first = make_kitchen(FILES)
    version = first.version_now(first.recipe("walnut-paste"))
    entries = {f"journal/2026/2026-11-{day}-walnut-paste.yaml": f'recipe: walnut-paste\nversion: {version}\n'
               f'uses: {{}}\ndate: "2026-11-{day}"\npiece: {{weight: 2.2 kg}}\n' for day in (14, 21)}
    kept = {f"recipes/versions/walnut-paste/{version}.yaml": PASTE}
    assert content(first, "walnut-paste").revision == "Revision 2"
    kitchen = make_kitchen({**FILES, **kept, **entries})
    found = content(kitchen, "walnut-paste")
    assert (found.revision, found.cooked) == ("Revision 2 (14 Nov 2026)", "cooked twice")
    for form in ("text", "description", "page"):
        assert "Revision 2 (14 Nov 2026) · cooked twice" in plain(card(kitchen, "walnut-paste", form))


def test_a_form_that_is_none_is_named_with_those_that_are(kitchen: Kitchen) -> None:
    with pytest.raises(UnknownName) as caught:
        card(kitchen, "walnut-paste", "poster")
    assert set(FORMS) <= set(caught.value.nearest)


HOSTILE = {
    "a script": "</script><script>alert(1)</script>", "a comment": "<!-- --><![CDATA[ ]]>",
    "entities": "&lt;b&gt; & &#0;",
    "a template": "{{ 7 * 7 }} {% for x in y %} {# z #}", "right to left": "לחם \u202egnirts\u202c עם \u2067שום",
    "emoji": "🔥🥩 👩‍🍳 roast", "three hundred": "x" * 300, "three hundred words": "long title " * 30,
    "quotes": "\"double\" 'single' `tick` =1+1", "lines": "one\u2028two\u0085three",
}


@pytest.mark.parametrize("title", HOSTILE.values(), ids=HOSTILE.keys())
def test_a_hostile_title_is_a_title_and_nothing_else(make_kitchen: Make, title: str) -> None:
    quoted = json.dumps(title, ensure_ascii=False).replace("\u0085", "\\N").replace("\u2028", "\\L")
    text = PASTE.replace("Walnut and sage paste", quoted).replace("item: walnuts", f"item: {quoted}").replace(
        "  - Loosen with the oil and coat the meat.", f"  - {quoted}")
    kitchen = make_kitchen({"recipes/p.yaml": text, "shared/kitchen.yaml": SHARED.replace("The supper club", quoted)})
    shown = content(kitchen, "p").title
    assert card(kitchen, "p", "text").split() != []
    assert "".join(shown.split()) in "".join(card(kitchen, "p", "text").split())
    assert json.loads(card(kitchen, "p", "json-ld"))["name"] == shown
    description = card(kitchen, "p", "description")
    assert not set("<>") & set(description)
    assert len(description.encode()) <= 5000
    for form in FORMS:
        assert not set(card(kitchen, "p", form)) & set("\u202e\u202c\u2067\u2028\u0085\0")


@pytest.mark.parametrize("title", HOSTILE.values(), ids=HOSTILE.keys())
def test_a_hostile_title_changes_no_element_of_the_page(make_kitchen: Make, title: str) -> None:
    """The page as a browser reads it, by an independent parser of the HTML standard."""
    import html5lib

    plain_page = card(make_kitchen({"recipes/p.yaml": PASTE, "shared/kitchen.yaml": SHARED}), "p", "page")
    quoted = json.dumps(title, ensure_ascii=False).replace("\u0085", "\\N").replace("\u2028", "\\L")
    hostile = PASTE.replace("Walnut and sage paste", quoted)
    kitchen = make_kitchen({"recipes/p.yaml": hostile, "shared/kitchen.yaml": SHARED})
    read = [html5lib.HTMLParser(strict=True, namespaceHTMLElements=False).parse(page)
            for page in (plain_page, card(kitchen, "p", "page"))]
    assert [element.tag for element in read[0].iter()] == [element.tag for element in read[1].iter()]
    assert read[1].find(".//h1").text == content(kitchen, "p").title
    assert json.loads(read[1].find(".//script").text)["name"] == content(kitchen, "p").title


@pytest.mark.parametrize("form", FORMS)
def test_only_the_page_loads_the_template_library(make_kitchen: Make, form: str) -> None:
    root = make_kitchen(FILES).root
    code = (f"import sys; from cookbook.kitchen import Kitchen; from cookbook.publish import card; "
            f"card(Kitchen.open({str(root)!r}), 'walnut-paste', {form!r}); print('jinja2' in sys.modules)")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.split() == [str(form == "page")]


@pytest.mark.parametrize("form", FORMS)
def test_notes_and_comments_of_a_recipe_are_the_cooks_own(make_kitchen: Make, form: str) -> None:
    private = PASTE.replace("kind: paste", "kind: paste   # plum-cellar") + "notes: told nobody about plum-cellar\n"
    kitchen = make_kitchen({**FILES, "recipes/walnut-paste.yaml": private})
    assert "plum-cellar" not in card(kitchen, "walnut-paste", form) + card(kitchen, "loin", form)
