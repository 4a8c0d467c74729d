"""What is kept of the pages of a run for the next: what each rests on, and whether it may stay as it was made.

A page whose recipe doesn't read any more stays, since links lead to it, unless it may show what is private by now.
"""

from __future__ import annotations

import json
import re
from collections.abc import Collection, Mapping, Sequence
from contextlib import suppress
from difflib import get_close_matches
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from cookbook.errors import CookbookError
from cookbook.files import MAP, MAX_BYTES, SCALAR, plain_bytes
from cookbook.kitchen.cache import keep
from cookbook.publish.content.around import inside

if TYPE_CHECKING:
    from cookbook.files import Document
    from cookbook.kitchen import Kitchen

_HINTS = re.compile(rb"formula|privat|stand_in|\\", re.IGNORECASE)
"""What can mark a recipe private where its file can't be taken apart; a backslash can spell any of it."""

LEFT_OUT, STAYS, AWAY = "left out", "stays", "away"
"""What becomes of pages that can't be made."""
NAMED = 5


class Known(NamedTuple):
    """What is kept of a recipe's pages: what they rest on, the recipes inside, their files with size and time, what
    the index, the feed and the map say of it, which of these recipes were private formulas, the pictures and the
    cooks that it shows."""

    key: str
    inner: tuple[str, ...]
    files: Mapping[str, str]
    about: Mapping[str, Any]
    private: tuple[str, ...]
    pictures: tuple[str, ...]
    cooks: tuple[str, ...]


def remembered(kept: Path) -> dict[str, Known]:
    """What the last run kept, by recipe; nothing where that can't be read."""
    with suppress(OSError, ValueError, LookupError, TypeError, AttributeError):
        found = json.loads(kept.read_text(encoding="utf-8"))
        return {name: Known(one["key"], tuple(one["inner"]), dict(one["files"]), one["about"], tuple(one["private"]),
                            tuple(one["pictures"]), tuple(one["cooks"])) for name, one in found.items()}
    return {}


def stamps(target: Path, files: Sequence[str]) -> dict[str, str]:
    """Size and time of each of these files of the site; '' for one that is not there."""
    found = dict.fromkeys(files, "")
    for file in files:
        with suppress(OSError):
            seen = (target / file).stat()
            found[file] = f"{seen.st_size} {seen.st_mtime_ns}"
    return found


def as_made(target: Path, known: Known) -> bool:
    """Whether all pages are there as this was kept of them: a run that was cut off may have written others."""
    return all(known.files.values()) and stamps(target, tuple(known.files)) == known.files


def remember(kept: Path, now: Mapping[str, Known]) -> None:
    """Keep it for the next run, where the cache can be written."""
    keep(kept, json.dumps({name: one._asdict() for name, one in now.items()}))


def against(kitchen: Kitchen, name: str, known: Known, public: Collection[str]) -> str:
    """Why the pages last made of a recipe must not stay though nothing newer can be made; '' where they may.

    `public` are the cooks of the recipe that are marked so now.
    """
    for one in (name, *known.inner):
        if one not in known.private and (why := _closed(kitchen, one)):
            return why
    if gone := [one for one in known.pictures if not _there(kitchen, one)]:
        return f"the picture {gone[0]} is not in the kitchen any more"
    if gone := [one for one in known.cooks if one not in public]:
        return f"{gone[0]} is not public any more"
    return ""


def _closed(kitchen: Kitchen, name: str) -> str:
    """Whether a recipe is, or may be, a private formula by now."""
    if not kitchen.has_recipe(name):
        return f"{name} is gone, and may be private under another name"
    try:
        path = inside(kitchen, "recipes", f"{name}.yaml")
        with suppress(CookbookError):
            return f"{name} is a private formula now" if kitchen.recipe(name).private else ""
        data = plain_bytes(path, MAX_BYTES)
        data.decode("utf-8")
    except CookbookError as fault:
        return fault.message
    except (OSError, UnicodeDecodeError):
        return f"{name} may be private by now: its file can't be read"
    document, _ = kitchen.document(path)
    marked = _HINTS.search(data) is not None if document is None or document.problems else _marked(document)
    return f"{name} may be private by now: something in its file says so" if marked or len(data) > MAX_BYTES else ""


def _marked(document: Document) -> bool:
    """Whether a recipe that has other faults is marked private, be it misspelt."""
    root = document.root
    if root is None or root.kind != MAP:
        return True
    for name, node in root.pairs:
        key = name.text
        said = node.text.strip().casefold() if node.kind == SCALAR else ""
        if said.startswith("priv") or (said != "open" and get_close_matches(key, ("formula", "stand_in"), 1, 0.7)):
            return True
    return False


def _there(kitchen: Kitchen, picture: str) -> bool:
    try:
        return inside(kitchen, "", picture).is_file()
    except CookbookError:
        return False


def placed(fault: CookbookError) -> str:
    """What is wrong, behind its place where it has one."""
    place = fault.place
    return f"{place.file}:{place.line}:{place.column}: {fault.message}" if place is not None else fault.message


def told(fate: str, names: Sequence[str], fault: str) -> str:
    """What became of the pages of these, which one fault touches; of many some are named."""
    many, more = len(names) > 1, len(names) - NAMED
    *before, last = [*names[:NAMED], *([f"{more} more"] if more > 0 else [])]
    listed = f"{', '.join(before)} and {last}" if before else last
    if fate == LEFT_OUT:
        return f"{listed} {'are' if many else 'is'} left out: {fault}"
    if fate == STAYS:
        stay = "stay as they were" if many else "stays as it was"
        return f"the {'pages' if many else 'page'} of {listed} {stay} last made: {fault}"
    return f"the {'pages' if many else 'page'} of {listed} {'are' if many else 'is'} taken away: {fault}"
