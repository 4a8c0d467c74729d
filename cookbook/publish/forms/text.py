"""The card for a terminal or a plain letter: figures to the left, words to the right, nothing wider than a page."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from textwrap import wrap

from cookbook.publish.content import Batch, Content, Grid, Item

WIDTH, LEAST = 78, 24


def text(card: Content) -> str:
    """The whole card as plain text, lines of at most 78 signs where a word allows it."""
    lines = [*_flow(card.title), "─" * WIDTH, *_flow(card.lead)]
    for told in (*card.disclosures, card.story):
        lines += ["", *_flow(told)] if told else []
    lines += ["", *_facts(card)] if card.facts else []
    for place, batch in enumerate(card.batches):
        lines += _batch(batch, card.kind == "cook" or place > 0)
    if card.items:
        lines += _section("Also needed" if card.batches else "Needed", _items(card.items))
    if card.steps:
        lines += _section("Method", _steps(card.steps))
    for place, batch in enumerate(card.batches):
        if batch.sizes:
            inside = card.kind == "cook" or place > 0
            lines += _section(f"Other sizes: {batch.title}" if inside else "Other sizes", _sizes(batch))
    for grid in card.grids:
        lines += _section(grid.title, _grid(grid))
    lines += _section("Keep it safe", _cautions(card))
    lines += _section("Made ahead, and left over", _listed(card.keeping)) if card.keeping else []
    for asked in card.answers:
        lines += _section(asked.asked, _flow(asked.answer, "  ", "  "))
    if card.links:
        lines += _section("Links", _listed(f"{link.what}: {link.address}" for link in card.links))
    signed = [*card.credit, *([card.address] if card.address else [])]
    lines += ["", "─" * WIDTH, *_flow(card.measures), *_flow(" · ".join(signed))]
    return "\n".join(lines).rstrip().replace("\u00a0", " ") + "\n"


def _flow(words: str, first: str = "", rest: str = "") -> list[str]:
    """Wrapped behind `first`; where that leaves no room to speak of, the words run on over the edge."""
    wide = max(WIDTH, len(first) + LEAST)
    lines = wrap(words, wide, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)
    return lines or ([first] if first else [])


def _section(head: str, lines: Sequence[str]) -> list[str]:
    return ["", *_flow(head.upper()), "", *lines]


def _facts(card: Content) -> Iterator[str]:
    wide = max((len(fact.both) for fact in card.facts), default=0)
    for fact in card.facts:
        yield from _flow(fact.label, f"  {fact.both:>{wide}}  ", " " * (wide + 4))


def _batch(batch: Batch, inside: bool) -> Iterator[str]:
    yield from _section(batch.heading if inside else "Ingredients", _items(batch.items))
    if inside and (said := f"{batch.lead} {batch.coat}".strip()):
        yield from ["", *_flow(said, "  ", "  ")]
    if batch.shares:
        yield ""
        for share in batch.shares:
            yield from _flow(share, "  ", "  ")
    if batch.steps:
        yield from ["", *_steps(batch.steps)] if inside else _section("Method", _steps(batch.steps))


def _items(items: Sequence[Item]) -> list[str]:
    """Two columns of amounts, the handiest first; what else there is to say under the item."""
    firsts = [item.amounts[0] if item.amounts else "" for item in items]
    others = [" = ".join(item.amounts[1:]) for item in items]
    one, two = (min(max(map(len, column), default=0), limit) for column, limit in ((firsts, 22), (others, 26)))
    lines = []
    for item, first, other in zip(items, firsts, others, strict=True):
        head = f"  {first:>{one}}  {other:<{two}}  " if two else f"  {first:>{one}}  "
        under = " " * (one + two + (6 if two else 4))
        lines += _flow(item.words, head, under)
        for aside in item.asides:
            lines += _flow(aside, under + "· ", under + "  ")
    return lines


def _steps(steps: Sequence[str]) -> list[str]:
    wide = len(str(len(steps)))
    return [line for number, step in enumerate(steps, 1)
            for line in _flow(step, f"  {number:>{wide}}  ", " " * (wide + 4))]


def _sizes(batch: Batch) -> list[str]:
    """A column for each size, the item behind them, so that a long name moves nothing."""
    sizes = batch.sizes
    rows = [list(heads) for heads in zip(*(size.heads for size in sizes), strict=True)]
    names = [""] * len(rows)
    for place, item in enumerate(batch.items):
        rows.append([size.amounts[place] for size in sizes])
        names.append(item.item)
    if all(size.total for size in sizes):
        rows.append([size.total for size in sizes])
        names.append("in all")
    wide = [max(len(row[place]) for row in rows) for place in range(len(sizes))]
    lines = []
    for row, name in zip(rows, names, strict=True):
        head = "  ".join(f"{cell:>{width}}" for cell, width in zip(row, wide, strict=True))
        lines += _flow(name, f"  {head}  ", " " * (len(head) + 4)) if name else [f"  {head}"]
    return [*lines, "", *_flow(_own(batch), "  ", "  ")]


def _own(batch: Batch) -> str:
    own = next(size for size in batch.sizes if size.own)
    return f"This card is for {own.heads[0]}. {batch.rule}"


def _grid(grid: Grid) -> list[str]:
    """The names to the left where they are short, else behind their figures; every column as wide as it needs."""
    table = [["", *row] for row in zip(*grid.heads, strict=True)] if grid.across else [
        ["", *(head[0] for head in grid.heads)]]
    rows = _apart(grid) if grid.across else grid.rows
    table += [[name, *cells] for name, cells in rows]
    wide = [max(len(row[place]) for row in table) for place in range(len(table[0]))]
    lines = []
    for row in table:
        cells = "  ".join(f"{cell:>{width}}" for cell, width in zip(row[1:], wide[1:], strict=True))
        lines.append(f"  {row[0]:<{wide[0]}}  {cells}".rstrip())
    return [*lines, *(["", *_flow(grid.note, "  ", "  ")] if grid.note else [])]


def _apart(grid: Grid) -> list[tuple[str, tuple[str, ...]]]:
    """Rows whose cells hold both scales as two rows, so that many columns fit on a page."""
    found = []
    for name, cells in grid.rows:
        parts = [cell.removesuffix(")").split(" (") for cell in cells]
        if all(len(part) == 2 for part in parts):
            found += [(name, tuple(part[0] for part in parts)), ("", tuple(part[1] for part in parts))]
        else:
            found.append((name, cells))
    return found


def _listed(sentences: Iterable[str]) -> list[str]:
    return [line for sentence in sentences for line in _flow(sentence, "  · ", "    ")]


def _cautions(card: Content) -> list[str]:
    return _listed(caution.text for caution in card.cautions)


