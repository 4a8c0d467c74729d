"""Cooks from memory: amounts in words, shown as they were written and never counted."""

from __future__ import annotations

from collections.abc import Iterator

from cookbook.files import Node
from cookbook.journal.model import Entry


def as_written(entry: Entry, recipe: str) -> list[tuple[str, str]]:
    """What went into `recipe` in that cook as the entry writes it: `garlic`, `a good handful`; the sheet first."""
    root = entry.document.root
    if root is None:
        return []
    return [*_sheet(root, recipe), *_made(root, recipe)]


def _sheet(root: Node, recipe: str) -> Iterator[tuple[str, str]]:
    sheet = root.get("sheet")
    items = sheet.get(recipe) if sheet is not None else None
    for key, value in items.pairs if items is not None else ():
        yield key.text, value.text


def _made(root: Node, recipe: str) -> Iterator[tuple[str, str]]:
    made = root.get("as_made")
    lines = made.get(recipe) if made is not None else None
    for line in lines.items if lines is not None else ():
        item = line.get("item")
        if item is not None:
            told = [(key.text, value.text) for key, value in line.pairs if key.text not in ("item", "piece", "at")]
            yield item.text, ", ".join(words if key == "amount" else f"{key} {words}" for key, words in told)
