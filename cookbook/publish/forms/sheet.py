"""One page to stand beside the camera: what to say and what to show, in the order of the day."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from textwrap import wrap
from typing import TYPE_CHECKING

from cookbook.publish import wording
from cookbook.publish.content import Content, Item

if TYPE_CHECKING:
    from cookbook.publish.content.gathering import Gathered

WIDTH = 72
_PARTS = {
    "½": "and a half",
    "⅓": "and a third",
    "⅔": "and two thirds",
    "¼": "and a quarter",
    "¾": "and three quarters",
    "⅛": "and an eighth",
}
_ALONE = {
    "½": "half a",
    "⅓": "a third of a",
    "⅔": "two thirds of a",
    "¼": "a quarter of a",
    "¾": "three quarters of a",
    "⅛": "an eighth of a",
}
_WORDS = {
    "tbsp": "tablespoon",
    "tsp": "teaspoon",
    "cup": "cup",
    "cups": "cup",
    "g": "gram",
    "kg": "kilo",
    "ml": "millilitre",
    "clove": "clove",
    "cloves": "clove",
    "oz": "ounce",
    "lb": "pound",
}
_AMOUNT = re.compile(r"(?P<whole>\d+(?:\.\d+)?(?:–\d+(?:\.\d+)?)?)?(?P<part>[½⅓⅔¼¾⅛])?\s?(?P<unit>[a-z]+)")


def spoken(amount: str) -> str:
    """An amount as it is said: `1½ tbsp` is `1 and a half tablespoons`, `½ cup` `half a cup`."""
    return " plus ".join(_said(part) for part in amount.replace("\u00a0", " ").split(" + "))


def _said(amount: str) -> str:
    found = _AMOUNT.fullmatch(amount.removeprefix("about "))
    about = "about " if amount.startswith("about ") else ""
    if amount in _PARTS:
        return _PARTS[amount].removeprefix("and ").replace("a half", "half")
    if found is None or found["unit"] not in _WORDS or not (found["whole"] or found["part"]):
        return amount
    unit, whole, part = _WORDS[found["unit"]], found["whole"] or "", found["part"]
    if not whole and part:
        return f"{about}{_ALONE[part]} {unit}"
    many = "" if whole == "1" and not part else "s"
    return f"{about}{whole} {f'{_PARTS[part]} ' if part else ''}{unit}{many}"


def sheet(found: Gathered) -> str:
    """The page as plain text: a box for each thing to show, a line for each thing to say."""
    card = found.content
    lines = [card.title.upper(), *_flow(card.lead, "")]
    lines += [""] if card.disclosures else []
    for told in card.disclosures:
        lines += _flow(f"SAY FIRST: {told}", "")
    parts: list[tuple[str, Sequence[str], Sequence[str]]] = []
    for batch in card.batches:
        said = [*([batch.lead] if batch.whole else []), *batch.steps, batch.coat]
        parts.append((batch.title, [_item(item) for item in batch.items], said))
    if card.items:
        parts.append(("Also", [_item(item) for item in card.items], []))
    fire = [wording.in_words(f"{fact.both} {fact.label}").strip() for fact in card.facts]
    parts.append(("At the fire" if card.kind == "cook" else "What it makes", fire, card.steps))
    for number, (head, show, say) in enumerate(parts, 1):
        lines += ["", f"{number}  {head.upper()}"]
        lines += [line for one in show if one for line in _flow(one, "  [ ] ")]
        lines += [line for one in say if one for line in _flow(one, "  say: ")]
    lines += ["", f"{len(parts) + 1}  KEEP IT SAFE"]
    lines += [line for one in _cautions(card) for line in _flow(one, "  say: ")]
    return "\n".join(lines).replace("\u00a0", " ").rstrip() + "\n"


def _item(item: Item) -> str:
    """Both systems as they are said: `2 tablespoons lemon juice, or about 30 grams`."""
    first, *others = [spoken(one) for one in item.amounts[:2]] or [""]
    return ", or ".join([f"{first} {item.words}".strip(), *others])


def _cautions(card: Content) -> Iterator[str]:
    """Those a viewer needs before copying it; the others stand in the description."""
    wanted = ("garlic-in-oil", "cure", "safe-temperature", "planned-pull", "raw-meat", "carbon-monoxide", "allergens")
    yield from (caution.text for caution in card.cautions if caution.key in wanted)


def _flow(words: str, first: str) -> list[str]:
    return wrap(
        wording.spoken(words.replace("\u00a0", " ")),
        WIDTH,
        initial_indent=first,
        subsequent_indent=" " * len(first),
        break_on_hyphens=False,
    )
