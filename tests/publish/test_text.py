"""The card in a terminal."""

from __future__ import annotations

from cookbook.publish.forms.text import WIDTH, text
from tests.publish.cards import CAUTIONS, COOK_CARD, PASTE, PASTE_CARD


def flat(card_text: str) -> str:
    return " ".join(card_text.split())


def test_a_paste_reads_from_top_to_bottom() -> None:
    shown = text(PASTE_CARD)
    places = [shown.index(words) for words in (
        "Fennel and sage paste", "Makes about 189 g", "INGREDIENTS", "METHOD", "OTHER SIZES", "KEEP IT SAFE",
        "Cups and spoons are US", "Revision 3")]
    assert places == sorted(places)


def test_amounts_stand_in_columns_before_the_words() -> None:
    ends = ("garlic, minced", "olive oil", "fine salt")
    lines = [line for line in text(PASTE_CARD).splitlines() if line.endswith(ends)][:3]
    assert len({line.index(word) for line, word in zip(lines, ("garlic", "olive", "fine"), strict=True)}) == 1
    assert lines[1].split() == ["80", "ml", "⅓", "cup", "=", "73", "g", "olive", "oil"]


def test_what_the_eye_decides_stands_under_its_ingredient() -> None:
    shown = flat(text(PASTE_CARD))
    assert "olive oil · until it drops slowly from the spoon · keep back 10 ml of it, to add by taste" in shown
    assert "sage, fresh, chopped · or thyme, fresh" in shown


def test_every_caution_stands_in_full() -> None:
    for card in (PASTE_CARD, COOK_CARD):
        shown = flat(text(card))
        assert all(caution.text in shown for caution in CAUTIONS)


def test_no_line_is_wider_than_a_page() -> None:
    assert max(len(line) for card in (PASTE_CARD, COOK_CARD) for line in text(card).splitlines()) <= WIDTH
    assert "\u00a0" not in text(PASTE_CARD)


def test_sizes_are_columns_and_the_item_moves_nothing() -> None:
    lines = text(PASTE_CARD).splitlines()
    start = next(place for place, line in enumerate(lines) if line.split()[:4] == ["1", "kg", "1.5", "kg"])
    assert lines[start + 1].split() == ["2.2", "lb", "3.3", "lb", "4.9", "lb", "7.7", "lb", "9.9", "lb"]
    assert lines[start + 2].split() == ["33", "g", "45", "g", "62", "g", "93", "g", "117", "g", "garlic"]
    assert lines[start + 2].index("garlic") == lines[start + 3].index("sage")
    assert f"This card is for 2.2 kg. {PASTE.rule}" in flat(text(PASTE_CARD))


def test_a_cook_gives_fire_pull_and_rest_in_both_scales_then_its_coat() -> None:
    shown = flat(text(COOK_CARD))
    for words in ("130 °C (266 °F) pit, drum, charcoal, cherry", "60 °C (140 °F) pull, in the thickest part",
                  "25 min rest, tented", "FENNEL AND SAGE PASTE, REVISION 3", "The coat is 1.4 mm thick on average",
                  "ALSO NEEDED 2 chunks cherry wood", "OTHER SIZES: FENNEL AND SAGE PASTE"):
        assert words in shown


def test_columns_too_wide_for_the_page_run_over_it_and_stay_readable() -> None:
    wide = PASTE.sizes[0]._replace(amounts=tuple("½ cup + 1 tbsp + ¼ tsp" for _ in PASTE.items))
    card = PASTE_CARD._replace(batches=(PASTE._replace(sizes=(*PASTE.sizes[1:], wide, wide, wide)),))
    assert any(line.endswith("fine salt") and len(line) > WIDTH for line in text(card).splitlines())
