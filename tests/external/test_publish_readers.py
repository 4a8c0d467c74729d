"""What is published, read back by other people's readers.

extruct and html5lib (the HTML standard), pikepdf and pdfminer.six (PDF), webvtt-py and srt (chapter tracks),
feedparser (Atom, RFC 4287). Each is a reader of its own; none is used by the cookbook.
"""

from __future__ import annotations

import io
import json
from collections.abc import Callable
from pathlib import Path

import pytest

from cookbook.kitchen import Kitchen
from cookbook.publish import card
from cookbook.publish.content.gathering import content
from cookbook.publish.forms.paper import PAPERS, paper
from cookbook.publish.site import site
from tests.publish.kitchens import PASTE, SHARED
from tests.publish.more import MORE, png

pytestmark = pytest.mark.usefixtures("short_table")

Make = Callable[..., Kitchen]

HOSTILE = {
    "a script": "</script><script>alert(1)</script>",
    "a template": "{{ 7 * 7 }} {% for x in y %} #set page(width: 1mm)",
    "a formula": "=1+1 @SUM(A1)",
    "right to left": "לחם שום",
    "emoji": "🔥🥩 👩‍🍳",
    "long": "x" * 300,
    "markup": "*a* _b_ $c$ #d @e",
}


@pytest.fixture
def kitchen(make_kitchen: Make) -> Kitchen:
    made = make_kitchen({name: text for name, text in MORE.items() if "roast" not in name})
    (made.root / "pictures").mkdir()
    (made.root / "pictures" / "the-loin.png").write_bytes(png())
    return made


def test_the_data_in_the_page_is_read_back_as_it_was_written(kitchen: Kitchen) -> None:
    import extruct

    page = card(kitchen, "rubbed", "page")
    (found,) = extruct.extract(page, syntaxes=["json-ld"])["json-ld"]
    assert found == json.loads(card(kitchen, "rubbed", "json-ld"))
    assert found["@type"] == "Recipe"
    assert [clip["startOffset"] for clip in found["video"]["hasPart"]] == [0, 40, 130]
    assert found["video"]["uploadDate"] == "2026-05-01"


def test_every_page_of_a_site_is_html_without_a_fault(kitchen: Kitchen, tmp_path: Path) -> None:
    import html5lib

    made = site(kitchen, tmp_path / "site")
    assert {"index.html", "recipes/rubbed.html"} <= set(made.pages)
    for name in made.pages:
        html5lib.HTMLParser(strict=True).parse((tmp_path / "site" / name).read_text(encoding="utf-8"))


def test_the_feed_is_a_feed(kitchen: Kitchen, tmp_path: Path) -> None:
    import feedparser

    site(kitchen, tmp_path / "site")
    found = feedparser.parse((tmp_path / "site" / "feed.xml").read_bytes())
    assert not found.bozo
    assert found.version == "atom10"
    assert (found.feed.title, found.feed.id) == ("The hall kitchen", "https://example.org/cards/")


def test_chapter_tracks_are_read_by_both_readers(kitchen: Kitchen) -> None:
    import srt
    import webvtt

    cues = webvtt.from_string(card(kitchen, "rubbed", "chapters")).captions
    assert [(cue.start, cue.end) for cue in cues] == [
        ("00:00:00.000", "00:00:40.000"),
        ("00:00:40.000", "00:02:10.000"),
        ("00:02:10.000", "00:03:00.000"),
    ]
    parts = list(srt.parse(card(kitchen, "rubbed", "chapters", srt=True)))
    assert [part.content for part in parts] == ["The rub", "<The> pull → now", "Carving"]
    assert srt.compose(parts, reindex=False).strip() == card(kitchen, "rubbed", "chapters", srt=True).strip()


@pytest.mark.parametrize("size", PAPERS)
def test_paper_is_tagged_titled_with_its_fonts_inside(kitchen: Kitchen, size: str) -> None:
    import pikepdf

    data = paper(kitchen, content(kitchen, "walnut-paste"), size)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        assert pdf.Root.MarkInfo.Marked
        assert str(pdf.Root.Lang) == "en"
        assert "pdfuaid:part" in str(pdf.open_metadata())
        assert str(pdf.open_metadata()["dc:title"]) == "Walnut and sage paste"
        fonts = [font for page in pdf.pages for font in page.resources.get("/Font", {}).values()]
        assert fonts
        for font in fonts:
            inner = font.DescendantFonts[0].FontDescriptor if "/DescendantFonts" in font else font.FontDescriptor
            assert any(key in inner for key in ("/FontFile", "/FontFile2", "/FontFile3"))
        width, height = (float(pdf.pages[0].mediabox[place]) for place in (2, 3))
        assert (width, height) == pytest.approx(
            (PAPERS[size].width / 25.4 * 72, PAPERS[size].height / 25.4 * 72), abs=0.5
        )


@pytest.mark.parametrize(("size", "each"), [("A6", 4), ("A5", 2), ("4x6", 2), ("5x7", 2)])
def test_several_cards_fit_on_a_sheet(kitchen: Kitchen, size: str, each: int) -> None:
    import pikepdf

    with pikepdf.open(io.BytesIO(paper(kitchen, content(kitchen, "green-sauce"), size, each))) as pdf:
        box = sorted(round(float(pdf.pages[0].mediabox[place])) for place in (2, 3))
        assert box == [595, 842]


@pytest.mark.parametrize("title", HOSTILE.values(), ids=HOSTILE.keys())
def test_a_hostile_title_is_set_as_it_is(make_kitchen: Make, title: str) -> None:
    from pdfminer.high_level import extract_text

    quoted = json.dumps(title, ensure_ascii=False)
    text = PASTE.replace("Walnut and sage paste", quoted).replace(
        "item: walnuts\n    amount: 3/4 cup", f"item: {quoted}\n    amount: 75 g"
    )
    made = make_kitchen({"recipes/p.yaml": text, "shared/kitchen.yaml": SHARED})
    found = content(made, "p")
    words = extract_text(io.BytesIO(paper(made, found, "A5")))
    if title.isascii():
        whole = "".join(words.split()).translate(dict.fromkeys((0x2D, 0xAD, 0x200B)))  # signs of a broken word
        assert "".join(found.title.split()) in whole or "-" in found.title
    assert "Loosenwiththeoil" in "".join(words.split())
    for form in ("reply", "sheet", "label"):
        shown = card(made, "p", form)
        assert "49" not in shown.partition("\n")[0] or "49" in title


def test_two_hundred_ingredients_are_all_on_paper(make_kitchen: Make) -> None:
    from pdfminer.high_level import extract_text

    lines = "".join(f"  - item: spice number {n} of many\n    amount: {n + 1} g\n" for n in range(200))
    text = f"kind: rub\ntitle: Many\nmade_for: {{cut: brisket flat, weight: 2 kg}}\ningredients:\n{lines}".replace(
        "brisket flat", '"brisket, flat"'
    )
    made = make_kitchen({"recipes/r.yaml": text})
    words = " ".join(extract_text(io.BytesIO(paper(made, content(made, "r"), "A6"))).split())
    assert all(f"spice number {n} of many" in words for n in range(200))


def test_the_same_card_twice_is_the_same_file(kitchen: Kitchen) -> None:
    one, two = (paper(kitchen, content(kitchen, "walnut-paste"), "A6") for _ in range(2))
    assert len(one) == len(two)
