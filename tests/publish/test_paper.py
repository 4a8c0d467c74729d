"""The card on paper, by what a reader of PDFs finds: nothing cut, nothing lost, no empty page, no heading alone."""

from __future__ import annotations

import re
from collections.abc import Callable
from io import BytesIO

import pikepdf
import pytest
from pdfminer.high_level import extract_pages
from pdfminer.layout import LAParams, LTChar, LTPage, LTTextContainer, LTTextLine

from cookbook.errors import FileError, RequestError
from cookbook.kitchen import Kitchen
from cookbook.publish.content import Content, Grid, Item
from cookbook.publish.content.gathering import gather
from cookbook.publish.forms.paper import PAPERS, SHEET, paper
from cookbook.publish.forms.ready import missing
from tests.publish.cards import COOK_CARD, PASTE, PASTE_CARD

MM = 72 / 25.4
LONG = (pytest.mark.long, pytest.mark.tenth)
THINGS = tuple(Item((f"{place} g",), f"thing {place}", "", (), float(place)) for place in range(1, 201))
MANY = PASTE_CARD._replace(batches=(PASTE._replace(items=THINGS, sizes=()),))
LONG_STEP = "Turn it once, look at the fire, and wait. " * 60
WORDS = (*PASTE.items[1:], Item(("20 g",), "pepper" * 30, "", ("or " + "salt" * 30,), 20.0))
WORD = PASTE._replace(title="paste" * 30, items=WORDS, steps=("stir" * 80,))
CARDS = {
    "cook": COOK_CARD, "paste": PASTE_CARD, "many": MANY,
    "long": COOK_CARD._replace(title="Loin " * 60, steps=(LONG_STEP,), story="It rained. " * 90),
    "word": PASTE_CARD._replace(title="Smoke" * 60, lead="Heat" * 60, batches=(WORD,)),
    "arabic": PASTE_CARD._replace(title="خلطة البهارات للحم المشوي"),
}
SHEETS = (("A4", 1), ("A5", 1), ("A6", 1), ("4x6", 1), ("5x7", 1), ("A5", 2), ("A6", 4), ("4x6", 2))


@pytest.fixture
def set_card(make_kitchen: Callable[..., Kitchen]) -> Callable[..., bytes]:
    kitchen = make_kitchen()
    return lambda card, size="A4", each=1: paper(kitchen, card, size, each)


def lines(page: LTPage) -> list[LTTextLine]:
    return [line for box in page if isinstance(box, LTTextContainer) for line in box if isinstance(line, LTTextLine)]


def text(made: bytes) -> str:
    pages = extract_pages(BytesIO(made), laparams=LAParams())
    return " ".join(" ".join(line.get_text() for page in pages for line in lines(page)).split())


@pytest.mark.parametrize(("size", "each"), SHEETS)
@pytest.mark.parametrize("name", ["cook", *(pytest.param(one, marks=LONG) for one in ("many", "long", "word"))])
def test_nothing_is_cut_and_no_page_is_empty(set_card: Callable[..., bytes], name: str, size: str, each: int) -> None:
    chosen = PAPERS[size]
    card = CARDS[name] if name != "many" or size in ("A4", "A6") else COOK_CARD
    pages = list(extract_pages(BytesIO(set_card(card, size, each))))
    wide, high = (chosen.width, chosen.height) if each == 1 else SHEET
    for page in pages:
        assert sorted((page.width, page.height)) == pytest.approx(sorted((wide * MM, high * MM)), abs=0.1)
        found = [sign for line in lines(page) for sign in line
                 if isinstance(sign, LTChar) and not sign.get_text().isspace()]
        assert found
        # The box of a letter holds the longest stroke of its font.
        edge, strokes = (chosen.margin - 0.1) * MM, 1.7 * MM
        assert edge <= min(sign.x0 for sign in found)
        assert max(sign.x1 for sign in found) <= page.width - edge
        assert edge - strokes <= min(sign.y0 for sign in found)
        assert max(sign.y1 for sign in found) <= page.height - edge + strokes


@pytest.mark.parametrize("size", ["A6", *(pytest.param(one, marks=pytest.mark.long) for one in ("A5", "4x6", "5x7"))])
def test_no_heading_stands_last_and_the_foot_never_alone(set_card: Callable[..., bytes], size: str) -> None:
    for card in (COOK_CARD, CARDS["long"]):
        pages = [sorted(lines(page), key=lambda line: -line.y0) for page in
                 extract_pages(BytesIO(set_card(card, size)))]
        heads = ("Keep it safe", "Method", "Also needed", PASTE.title)
        for found in pages[:-1]:
            assert found[-1].get_text().strip() not in heads
        assert not pages[-1][0].get_text().startswith("Cups and spoons")


@pytest.mark.long
@pytest.mark.tenth
@pytest.mark.parametrize("size", ["A6", "A5", "4x6", "5x7"])
def test_no_card_of_several_is_nearly_empty(set_card: Callable[..., bytes], size: str) -> None:
    """However many things go in: neither the last card nor any other holds but a line or two and the foot."""
    shares = []
    for many in (3, 5, 8, 11, 14):
        card = PASTE_CARD._replace(batches=(PASTE._replace(items=THINGS[:many], sizes=()),))
        cards = [lines(page) for page in extract_pages(BytesIO(set_card(card, size)))]
        room = (PAPERS[size].height - 2 * PAPERS[size].margin) * MM
        shares += [(max(line.y1 for line in found) - min(line.y0 for line in found)) / room
                   for found in cards if len(cards) > 1]
        told = [sum(re.search(r"thing\s\d", line.get_text()) is not None for line in found) for found in cards]
        assert sum(told) == many
        assert 1 not in told
        assert size == "4x6" or many > 8 or many in told, "what fits is not broken; on 4x6 it takes a card more"
    assert min(shares) > 0.35


def test_both_scales_stand_in_one_line_where_they_fit(set_card: Callable[..., bytes]) -> None:
    rows = (("kettle", ("1:40", "63\u00a0°C (145\u00a0°F)")),)
    narrow = Grid("cookers", "On another cooker", (("check from",), ("after the rest",)), rows, None, "")
    heads = tuple((f"{kilograms} kg",) for kilograms in range(1, 8))
    wide = Grid("times", "Times", heads, (("pull at", ("63\u00a0°C (145\u00a0°F)",) * 7),), None, "", True)
    made = set_card(COOK_CARD._replace(grids=(narrow, wide)), "A5")
    said = [line.get_text() for page in extract_pages(BytesIO(made)) for line in lines(page)]
    assert sum("63\u00a0°C (145\u00a0°F)" in line for line in said) == 1
    assert sum("145\u00a0°F" in line and "(" not in line for line in said) >= 1


def test_a_title_is_broken_within_a_word_only_where_the_word_is_too_wide(set_card: Callable[..., bytes]) -> None:
    def title(words: str) -> list[str]:
        page = next(iter(extract_pages(BytesIO(set_card(PASTE_CARD._replace(title=words), "A6")))))
        told = [line.get_text().strip() for line in sorted(lines(page), key=lambda line: -line.y0)]
        return told[1 : next(place for place, line in enumerate(told) if line.startswith("Makes about"))]

    assert title("Mustard and horseradish paste") == ["Mustard and", "horseradish paste"]
    assert title("Internationalisationprogramme") == ["Internationalisation\xad", "programme"]


@pytest.mark.parametrize("size", ["A4", pytest.param("A6", marks=pytest.mark.long)])
def test_every_word_is_there(set_card: Callable[..., bytes], size: str) -> None:
    said = text(set_card(MANY, size)).replace("\u00a0", " ")
    for place in range(1, 201):
        assert re.search(rf"\b{place} g\b", said), place
        assert re.search(rf"\bthing {place}\b", said), place
    whole = text(set_card(CARDS["long"], "A5"))
    assert whole.count("look at the fire") == 60
    assert whole.count("rained") == 90


@pytest.mark.parametrize("name", CARDS)
def test_it_is_tagged_titled_and_carries_its_fonts(set_card: Callable[..., bytes], name: str) -> None:
    with pikepdf.open(BytesIO(set_card(CARDS[name], "A5"))) as pdf:
        assert pdf.Root.MarkInfo.Marked
        assert "/StructTreeRoot" in pdf.Root
        assert str(pdf.docinfo["/Title"]).strip() == CARDS[name].title.strip()
        fonts = [font for page in pdf.pages for font in page.Resources.Font.values()]
        assert fonts
        for font in fonts:
            inner = font.DescendantFonts[0].FontDescriptor if "/DescendantFonts" in font else font.FontDescriptor
            assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(inner.keys())


def test_letters_are_large_enough_for_arms_length(set_card: Callable[..., bytes]) -> None:
    """0.2 degrees of x-height at 60 cm is 2.1 mm (Legge & Bigelow 2011, J. Vision 11(5):8): here what goes in."""
    for size in PAPERS:
        sizes = {sign.size for page in extract_pages(BytesIO(set_card(COOK_CARD, size))) for line in lines(page)
                 for sign in line if isinstance(sign, LTChar) and line.get_text().strip() == "garlic, minced"}
        assert min(sizes) >= 12


def test_a_title_from_the_right_stands_on_the_right(set_card: Callable[..., bytes]) -> None:
    page = next(iter(extract_pages(BytesIO(set_card(CARDS["arabic"], "A5")))))
    title = max(lines(page), key=lambda line: line.height)
    assert title.x1 == pytest.approx(page.width - PAPERS["A5"].margin * MM, abs=3)


@pytest.mark.parametrize("sign", ["ß", "½", "…", "🔥", "\u0378"])
def test_check_names_what_paper_would_lose(make_kitchen: Callable[..., Kitchen], sign: str) -> None:
    """What it names is what paper leaves out: never a letter, fire where no font has it, always what is no letter."""
    kitchen = make_kitchen()
    found = gather(kitchen, "walnut-paste")
    found = found._replace(content=found.content._replace(title=f"Fire {sign} paste"))
    told: list[str] = []
    paper(kitchen, found.content, told=told.append)
    said = [one for one in missing(kitchen, found) if one.startswith("paper leaves out")]
    assert said == [f"paper leaves out {one}, as no font here has it" for one in told]
    assert bool(told) == (sign == "\u0378") or sign == "🔥"


@pytest.mark.parametrize(("title", "shown"), [("🔥 Fire 🔥 rub 👨‍🍳", "Fire rub"), ("🔥🥩", "fennel-sage-paste")])
def test_what_no_font_of_ours_has_is_left_out_and_told(
    make_kitchen: Callable[..., Kitchen], title: str, shown: str
) -> None:
    """A machine with such a font shows them; where they are left out, that is told."""
    told: list[str] = []
    made = paper(make_kitchen(), PASTE_CARD._replace(title=title), "A6", told=told.append)
    with pikepdf.open(BytesIO(made)) as pdf:
        assert str(pdf.docinfo["/Title"]) == (shown if told else title)
    assert shown in text(made)
    assert not told or "🔥" in told[0].split()


def test_four_of_one_card_or_four_cards_of_one(set_card: Callable[..., bytes]) -> None:
    batch = PASTE._replace(steps=(), sizes=(), items=PASTE.items[2:])
    short = PASTE_CARD._replace(cautions=PASTE_CARD.cautions[1:2], facts=(), batches=(batch,))
    assert text(set_card(short, "A6", 4)).count("olive oil") == 4
    assert text(set_card(COOK_CARD, "A6", 4)).count("olive oil") == 1
    with pytest.raises(RequestError, match="don't fit"):
        set_card(short, "5x7", 4)
    with pytest.raises(RequestError, match="can be 1, 2 or 4"):
        set_card(short, "A6", 3)


def test_the_code_leads_to_the_card(set_card: Callable[..., bytes]) -> None:
    with_code, without = (set_card(_at(address), "A6") for address in ("https://example.org/cards", "no address"))
    with pikepdf.open(BytesIO(with_code)) as pdf:
        assert b"QR code of https://example.org/cards" in _alts(pdf)
    with pikepdf.open(BytesIO(without)) as pdf:
        assert b"QR" not in _alts(pdf)


def _at(address: str) -> Content:
    return COOK_CARD._replace(address=address)


def _alts(pdf: pikepdf.Pdf) -> bytes:
    found = [one for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and "/Alt" in one]
    return b" ".join(bytes(one["/Alt"]) for one in found)


def test_a_broken_template_of_ones_own_gives_its_line_and_the_name_that_is_missing(
    make_kitchen: Callable[..., Kitchen]
) -> None:
    kitchen = make_kitchen()
    own = kitchen.root / "shared" / "templates" / "card.typ"
    own.parent.mkdir(parents=True)
    own.write_text("= Card\n\n#let title = nowhere\n", encoding="utf-8")
    with pytest.raises(FileError, match="unknown variable: nowhere") as told:
        paper(kitchen, PASTE_CARD)
    place = told.value.place
    assert place is not None
    assert (place.file, place.line, place.column) == ("shared/templates/card.typ", 3, 14)
    assert place.source == "#let title = nowhere"
    assert any("shared/templates/card.typ:3" in one for one in missing(kitchen, gather(kitchen, "walnut-paste")))
