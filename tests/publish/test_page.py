"""The card as a page. Contrast by WCAG 2.2, success criterion 1.4.3, and its definition of relative luminance."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser

import pytest

from cookbook.publish.forms.page import page
from cookbook.publish.rendering import FOLDER
from tests.publish.cards import CAUTIONS, COOK_CARD, PASTE, PASTE_CARD

CSS = "".join((FOLDER / name).read_text(encoding="utf-8") for name in ("colours.css", "page.css"))


class Seen(HTMLParser):
    """Elements and texts of a page."""

    def __init__(self, document: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text: dict[str, str] = {}
        self._open: list[str] = []
        self.feed(document)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        self._open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        while self._open and self._open.pop() != tag:
            pass

    def handle_data(self, data: str) -> None:
        if self._open:
            self.text[self._open[-1]] = self.text.get(self._open[-1], "") + data


def words(document: str) -> str:
    """What a reader sees, tags as blanks."""
    body = document.partition("<body>")[2]
    return re.sub(r"\s+", " ", re.sub(r"<[^>]*>", " ", body)).replace(" ,", ",")


def test_the_page_asks_nothing_of_anywhere() -> None:
    for card in (PASTE_CARD, COOK_CARD):
        seen = Seen(page(card))
        assert not [attrs for _, attrs in seen.tags if {"src", "srcset", "data", "poster", "background"} & set(attrs)]
        assert [tag for tag, _ in seen.tags if tag in ("link", "iframe", "img", "object", "form", "base")] == []
        assert [attrs["type"] for tag, attrs in seen.tags if tag == "script"] == ["application/ld+json"]
        assert [attrs["href"] for tag, attrs in seen.tags if tag == "a"] == ["https://example.org/cards"]
        assert "default-src 'none'" in page(card)
    assert not re.search(r"@import|url\(|https?:", CSS)


def test_its_data_is_the_structured_form() -> None:
    from cookbook.publish.forms.structured import recipe_data

    seen = Seen(page(COOK_CARD))
    assert json.loads(seen.text["script"]) == json.loads(json.dumps(recipe_data(COOK_CARD)).replace("\\u00a0", " "))


def test_everything_a_cook_needs_can_be_read() -> None:
    shown = words(page(COOK_CARD))
    for said in ("Pork loin over cherry wood", "130 °C 266 °F", "pull, in the thickest part", "olive oil",
                 "80 ml ⅓ cup 73 g", "or thyme, fresh", "until it drops slowly from the spoon",
                 "keep back 10 ml of it, to add by taste", "2 chunks", "cherry wood",
                 "Fennel and sage paste for other sizes", "Keep it safe", COOK_CARD.measures,
                 "Revision 2 (21 Nov 2026, hotter pit)", "The supper club", "CC BY 4.0",
                 *(caution.text for caution in CAUTIONS), *COOK_CARD.steps, *PASTE.steps):
        assert said in shown, said


def test_the_table_of_sizes_has_heads_for_rows_and_columns_and_marks_its_own() -> None:
    seen = Seen(page(PASTE_CARD))
    heads = [attrs for tag, attrs in seen.tags if tag == "th"]
    assert [attrs["scope"] for attrs in heads].count("col") == len(PASTE.sizes)
    assert [attrs["scope"] for attrs in heads].count("row") == len(PASTE.items) + 1
    own = [attrs for tag, attrs in seen.tags if tag in ("th", "td") and attrs.get("class") == "own"]
    assert len(own) == len(PASTE.items) + 2


def test_the_page_names_its_language_its_landmarks_and_one_heading_of_the_first_rank() -> None:
    seen = Seen(page(COOK_CARD))
    assert ("html", {"lang": "en"}) in seen.tags
    assert [tag for tag, _ in seen.tags if tag in ("main", "h1", "footer")] == ["main", "h1", "footer"]
    ids = [attrs["id"] for _, attrs in seen.tags if "id" in attrs]
    assert len(ids) == len(set(ids))
    assert {attrs["aria-labelledby"] for _, attrs in seen.tags if "aria-labelledby" in attrs} <= set(ids)


def test_an_address_that_is_none_is_not_a_link() -> None:
    seen = Seen(page(PASTE_CARD._replace(address="javascript:alert(1)")))
    assert [tag for tag, _ in seen.tags if tag == "a"] == []


def test_nothing_of_a_template_in_a_title_is_carried_out() -> None:
    title = "{{ 7 * 7 }} {% for x in y %} ${7*7} {# gone #}"
    assert Seen(page(PASTE_CARD._replace(title=title))).text["h1"] == title


def luminance(colour: str) -> float:
    parts = [int(colour[place:place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, two: str) -> float:
    light, dark = sorted((luminance(one), luminance(two)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def palettes() -> list[dict[str, str]]:
    """The colours of light, dark and paper, by the name of their variable."""
    found = []
    for block in re.findall(r":root \{([^}]*)\}", CSS):
        colours = dict(re.findall(r"--(\w+): (#[0-9a-f]{3,6})\b", block))
        found.append({name: "#" + "".join(2 * sign for sign in value[1:]) if len(value) == 4 else value
                      for name, value in colours.items()})
    return list(filter(None, found))


def test_black_on_white_has_the_contrast_that_the_standard_prints() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)


@pytest.mark.parametrize("palette", palettes(), ids=["light", "dark", "paper"])
def test_every_text_is_readable_in_light_in_the_dark_and_on_paper(palette: dict[str, str]) -> None:
    for ground in ("paper", "tint"):
        assert contrast(palette["ink"], palette[ground]) >= 7
        for text in ("quiet", "ember"):
            assert contrast(palette[text], palette[ground]) >= 4.5


def test_colours_stand_in_the_palettes_only() -> None:
    outside = re.sub(r":root \{[^}]*\}", "", CSS)
    assert not re.search(r"#[0-9a-fA-F]{3,8}\b|rgb|hsl", outside)
