"""The text under a film: at most 5,000 bytes of UTF-8 without angle brackets, the dish in the first line."""

from __future__ import annotations

from collections.abc import Sequence

from cookbook.errors import RequestError
from cookbook.publish import wording
from cookbook.publish.content import Batch, Content, Grid, Item, Size
from cookbook.publish.forms import chapters

MOST_BYTES = 5000
"""What video platforms take, counted as bytes of UTF-8 ("°" and "½" are two)."""
MOST_TITLE, MOST_LINE, MOST_ASIDE = 200, 500, 90
"""Bytes that a title, any other line that always stays, and an aside may have."""

TRIMMED = ("answers", "other cookers", "other donenesses", "times for other sizes", "amounts for other sizes",
           "make-ahead", "method", "second measures", "asides", "ingredients")
"""What is left out when it is too long, in this order, as far as needed.

The dish and its yield, disclosures, what the fire and the thermometer must show, the cautions, the chapters and which
spoons are meant stay.
"""
TOLD_IN_SHORT = "Some of what is shown here was paid for or given, or its link earns the cook something."
"""Stands for the disclosures where they are too many for one text."""


def description(card: Content) -> str:
    """The description, trimmed as far as `TRIMMED` must go; what was left out is said in its last line."""
    gone: list[str] = []
    found = _plain(_compose(card, gone))
    for part in TRIMMED:
        if len(found.encode()) <= MOST_BYTES:
            return found
        if _joined(_blocks(card, [*gone, part])) != _joined(_blocks(card, gone)):
            gone.append(part)
            found = _plain(_compose(card, gone))
    if card.disclosures and len(found.encode()) > MOST_BYTES:
        told = [card.links[0]._replace(what="", address="", disclosed=TOLD_IN_SHORT)]
        found = _plain(_compose(card._replace(links=tuple(told)), gone))
    if len(found.encode()) > MOST_BYTES:
        size = len(found.encode())
        raise RequestError(f"the description of {card.name} has {size} bytes with nothing left to trim; "
                           f"{MOST_BYTES} fit", mend="fewer or shorter chapters", code="description-too-long")
    return found


def _plain(words: str) -> str:
    return words.replace("<", "‹").replace(">", "›").replace("\u00a0", " ")


def _short(words: str, most: int = MOST_LINE) -> str:
    """At most so many bytes, cut between signs."""
    words = _plain(words)
    if len(words.encode()) <= most:
        return words
    return words.encode()[:most - 3].decode(errors="ignore").rstrip() + "…"


def _compose(card: Content, without: Sequence[str]) -> str:
    blocks = _blocks(card, without)
    if without:
        blocks.append([f"Left out here for length: {', '.join(without)}. The whole card has them."])
    return _joined(blocks) + "\n"


def _joined(blocks: Sequence[Sequence[str]]) -> str:
    return "\n\n".join("\n".join(line for line in block if line) for block in blocks if any(block))


def _blocks(card: Content, without: Sequence[str]) -> list[list[str]]:
    blocks = [_head(card), list(card.disclosures), [_short(card.story)], _figures(card, without)]
    if card.film is not None and card.film.chapters:
        blocks.append(["CHAPTERS", *(_short(line, MOST_TITLE) for line in chapters.lines(card.film))])
    blocks += _lists(card, without)
    blocks.append([] if "method" in without else _numbered("Method", card.steps))
    blocks += [] if "amounts for other sizes" in without else [_sizes(batch, card) for batch in card.batches]
    blocks += [_grid(grid) for grid in card.grids if _PARTS.get(grid.key) not in without]
    blocks.append(["KEEP IT SAFE", *(caution.text for caution in card.cautions)])
    blocks.append([] if "make-ahead" in without else list(card.keeping))
    blocks += [] if "answers" in without else [[one.asked, one.answer] for one in card.answers]
    blocks.append([] if "asides" in without else [_short(f"{link.what}: {link.address}") for link in card.links
                                                  if link.what])
    blocks.append([_short(card.measures), _short(" · ".join(card.credit))])
    return blocks


_PARTS = {
    "also": "amounts for other sizes", "times": "times for other sizes", "doneness": "other donenesses",
    "cookers": "other cookers",
}
"""Under which part of `TRIMMED` each table goes."""


def _grid(grid: Grid) -> list[str]:
    """One line for each size, doneness or cooker, with its figures by name."""
    if grid.across:
        told = [(" (".join(head) + ")" * (len(head) > 1) if len(head) < 3 else f"{head[0]} ({', '.join(head[1:])})",
                 [(name, cells[place]) for name, cells in grid.rows]) for place, head in enumerate(grid.heads)]
    else:
        told = [(name, [(head[0], cell) for head, cell in zip(grid.heads, cells, strict=True)])
                for name, cells in grid.rows]
    said = [f"{name}: {'; '.join(f'{what} {value}' for what, value in figures)}" for name, figures in told]
    note = [grid.note] if grid.note.startswith("*") else []
    return [grid.title.upper(), *(wording.in_words(line) for line in said), *note]


def _head(card: Content) -> list[str]:
    """Dish and yield, then where the card is."""
    address = card.address if len(card.address.encode()) <= MOST_LINE else ""
    return [f"{_short(card.title, MOST_TITLE)}. {_short(card.lead)}", address]


def _figures(card: Content, without: Sequence[str]) -> list[str]:
    """What the fire and the thermometer must show, in one line, and what is known of each coat."""
    if card.kind != "cook":
        return [batch.coat for batch in card.batches[:1]]
    said = [wording.in_words(f"{fact.both} {fact.label}").strip() for fact in card.facts if fact.key != "piece"]
    coats = () if "asides" in without else card.batches
    return [_short(" · ".join(said)), *(_short(f"{one.title}: {one.lead} {one.coat}".strip()) for one in coats
                                          if not one.whole)]


def _lists(card: Content, without: Sequence[str]) -> list[list[str]]:
    """The ingredients of each batch with its method, then a cook's own; or only how many there are."""
    if "ingredients" in without:
        return [["INGREDIENTS", f"{len(card.every_item)} in all; the card lists them."]]
    cook = card.kind == "cook"
    found = []
    for place, batch in enumerate(card.batches):
        own = cook or place > 0
        head = _short(batch.heading, MOST_TITLE) if own else "Ingredients"
        head, *lines = _ingredients(head, batch.items, without)
        found.append([head, *([_short(batch.lead)] if batch.whole else []), *lines])
        found.append([] if "method" in without else _numbered("" if own else "Method", batch.steps))
    if card.items:
        found.append(_ingredients("Also needed" if card.batches else "Needed", card.items, without))
    return found


def _ingredients(head: str, items: Sequence[Item], without: Sequence[str]) -> list[str]:
    return [head.upper(), *(_ingredient(item, without) for item in items)]


def _ingredient(item: Item, without: Sequence[str]) -> str:
    first, *others = item.amounts or ("",)
    also = f" ({', '.join(others)})" if others and "second measures" not in without else ""
    asides = "" if "asides" in without else "".join(f"; {_short(aside, MOST_ASIDE)}" for aside in item.asides)
    return f"{first}{also} {item.words}{asides}".strip()


def _numbered(head: str, steps: Sequence[str]) -> list[str]:
    lines = [f"{number}. {step}" for number, step in enumerate(steps, 1)]
    return [head.upper(), *lines] if lines and head else lines


def _sizes(batch: Batch, card: Content) -> list[str]:
    if not batch.sizes:
        return []
    inside = card.kind == "cook" or batch is not card.batches[0]
    head = f"OTHER SIZES, {batch.title.upper()}" if inside else "OTHER SIZES"
    return [head, *(_size(size, batch) for size in batch.sizes if not size.own)]


def _size(size: Size, batch: Batch) -> str:
    first, *others = size.heads
    said = (f"{amount} {item.item}" for amount, item in zip(size.amounts, batch.items, strict=True))
    return f"{first} ({', '.join(others)}): {'; '.join(said)}"
