"""Entering a cook that is remembered, or copied from an old notebook: words may stand for amounts; never counted."""

from __future__ import annotations

import re
from collections.abc import Mapping
from difflib import get_close_matches
from typing import Any

from cookbook.errors import RequestError, UnknownName
from cookbook.files import lock
from cookbook.journal import Entry, slug
from cookbook.journal.field import day
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.log.logbook import create_entry
from cookbook.kitchen.sizing import settled
from cookbook.meat import Cut
from cookbook.meat.naming import synonyms

_DAY = re.compile(r"(\d{4})(-\d{2})?(-\d{2})?")


NEARLY = 0.8
"""How much alike words and a cut's name are where one is surely a slip of the other; chosen by trying slips."""


def unknown_cut(kitchen: Kitchen, words: str | None) -> str | None:
    """Why `words` stand for no one cut; UnknownName with the nearest ones where they are nearly one."""
    try:
        Cut.named(words or "", kitchen.cuts)
    except UnknownName:
        cuts = (*Cut.names(), *(own.name for own in kitchen.cuts))
        names = [name.casefold() for cut in cuts for name in (cut, *synonyms(cut))]
        if words and get_close_matches(words.casefold(), names, 1, NEARLY):
            raise
        return f"no cut is called '{words}'" if words else None
    except RequestError as two:
        return two.message
    return None


def remember(
    kitchen: Kitchen,
    when: str,
    recipe: str | None,
    title: str | None = None,
    kind: str | None = None,
    cut: str | None = None,
    pieces: Mapping[str, Mapping[str, str]] | None = None,
) -> Entry:
    """Begin an entry `from: memory`: of a recipe, without a version, or under a working title.

    `when` is a day, a month or a year (`2014-07-12`, `2014-07`, `2014`); `pieces` as `logbook.start` takes them, in
    words too. A cut that nobody knows stays as its words. Raises RequestError, UnknownName, also of a cut that is
    nearly one.
    """
    found = _DAY.fullmatch(when.strip())
    if found is None:
        raise RequestError(
            f"'{when}' is no day of a remembered cook", mend="write it like 2014-07-12, 2014-07 or 2014", code="time"
        )
    day((when.strip() + "-01-01")[:10])
    unknown_cut(kitchen, cut)
    name = kitchen.recipe(recipe).name if recipe else slug(title or "")
    meat = cut or (kitchen.recipe(recipe).meat if recipe else None)
    known: dict[str, Any] = {
        piece: {**({"cut": cut} if cut else {}), **said}
        for piece, said in settled(pieces or {"": {}}, meat, kitchen.cuts).items()
    }
    lone = set(known) == {""}
    head = {
        "recipe": name if recipe else None,
        "title": None if recipe else title,
        "kind": None if recipe else kind,
        "date": when.strip(),
        "from": "memory",
        "piece": known[""] if lone else None,
        "pieces": None if lone else {piece or "first": said for piece, said in known.items()},
    }
    with lock(kitchen.root):
        return create_entry(kitchen, name, when.strip(), head)
