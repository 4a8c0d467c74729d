"""What the index keeps of one recipe or entry: its rows, from the bytes of the file."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from functools import cache
from typing import Any, NamedTuple

from cookbook.errors import FileError
from cookbook.files import Document, Node, parse
from cookbook.files.record import Either, ListOf, MapOf, Record
from cookbook.journal import Entry
from cookbook.journal import read as read_entry
from cookbook.journal.field import entry_record
from cookbook.journal.outcome import overall
from cookbook.kitchen.descent import cut_name
from cookbook.meat import Cut
from cookbook.recipe import Recipe
from cookbook.recipe import read as read_recipe
from cookbook.recipe.field import KINDS, recipe_record

_MUTE = frozenset(("at", "version", "uses", "digest", "finished", "readings", "kind", "measures", "follows"))
"""Fields whose values nobody would look for by a word."""


class Seen(NamedTuple):
    """One file: the row of its table (None where it can't be read, then `fault` says why), names, uses, words."""

    row: tuple[Any, ...] | None
    fault: str | None
    names: tuple[str, ...]
    uses: tuple[tuple[str, str | None], ...]
    words: str


def see(data: bytes, name: str, shown: str, recipe: bool, measures: str, cuts: Sequence[Cut] = ()) -> Seen:
    """What the index keeps of the file called `name` that holds `data`."""
    try:
        document = parse(data, shown)
        found, problems = (read_recipe if recipe else read_entry)(document, name, measures, cuts)
    except FileError as fault:
        return Seen(None, fault.message, (), (), "")
    if found is None:
        return Seen(None, next(one.message for one in problems if one.severity == "error"), (), (), "")
    words = " " + " ".join(words_in(" ".join((name, *_words(document)))))
    if isinstance(found, Recipe):
        return Seen(_recipe_row(found, cuts), None, (name, *found.formerly), (), words)
    own = [(found.recipe, found.version)] if found.recipe else []
    return Seen(_entry_row(found, cuts), None, (), tuple(dict([*found.uses.items(), *own]).items()), words)


def words_in(text: str) -> list[str]:
    """The words of a text in small letters, as they are kept and looked for."""
    return re.findall(r"[^\W_]+", text.casefold())


def _recipe_row(recipe: Recipe, cuts: Sequence[Cut]) -> tuple[Any, ...]:
    return (recipe.name, recipe.kind, recipe.title, recipe.revision, cut_name(recipe.meat, cuts), bool(recipe.steps))


def _entry_row(entry: Entry, own: Sequence[Cut]) -> tuple[Any, ...]:
    cooker = entry.fields.get("cooker")
    cuts = [piece.cut for piece in entry.pieces if piece.cut]
    lines = sum(line.done is None for line in entry.next_time)
    return (
        entry.name,
        entry.date.isoformat(),
        entry.recipe,
        entry.version,
        entry.title,
        cut_name(cuts[0], own) if cuts else None,
        cooker.casefold() if cooker else None,
        entry.memory,
        entry.open,
        overall(entry),
        lines,
    )


def _words(document: Document) -> Iterator[str]:
    """Everything a person wrote: values, and keys that are no field's name."""
    fields = _fields()
    todo: list[Node] = [document.root] if document.root is not None else []
    while todo:
        node = todo.pop()
        if node.kind == "scalar":
            yield node.text
        for key, value in node.pairs:
            if key.text not in fields:
                yield key.text
            if key.text not in _MUTE:
                todo.append(value)
        todo += node.items


@cache
def _fields() -> frozenset[str]:
    """The name of every field of every record."""
    found: set[str] = set()
    todo: list[Any] = [entry_record(), *(recipe_record(kind) for kind in KINDS)]
    while todo:
        kind = todo.pop()
        if isinstance(kind, Record):
            found |= set(kind.fields)
            todo += [field.kind for field in kind.fields.values()]
        elif isinstance(kind, MapOf):
            todo.append(kind.value)
        elif isinstance(kind, ListOf):
            todo.append(kind.item)
        elif isinstance(kind, Either):
            todo += [kind.scalar, kind.nested]
    return frozenset(found)
