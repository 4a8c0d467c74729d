"""What reads well and yet can hardly be: a hundred times the usual amount, meat hotter than its pit, lost photos."""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime, timedelta
from itertools import pairwise
from pathlib import Path
from typing import Any

from cookbook.errors import NOTE, WARNING, CookbookError, Place, Problem, UnknownName
from cookbook.files import Document, Node
from cookbook.journal import Entry
from cookbook.journal.made import made
from cookbook.journal.outcome import moment_of
from cookbook.journal.readings import Reading, read_csv
from cookbook.kitchen import store
from cookbook.kitchen.descent import called, names_of
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.probes import bytes_of, readings_of
from cookbook.kitchen.shared import is_address
from cookbook.quantity import doubts, is_cure, lookup
from cookbook.recipe import Recipe
from cookbook.recipe.difference import ratio
from cookbook.recipe.scaling import cure_fault

TIMES = 100
"""An amount so many times another one of the same thing is a slip of the pen."""

BOILS_C = 101.0
"""Meat is mostly water: no core goes above its boiling point, 100 °C at sea level, by more than a probe's error."""

ORDER = ("lit", "on", "pulled", "sliced")
FAR = timedelta(days=10)
"""Events further than this from the entry's day belong to another cook; common practice."""


def recipe_doubts(kitchen: Kitchen, recipe: Recipe) -> Iterator[Problem]:
    """Ingredients that nobody knows, amounts unclear or far from every kept version, pictures that are not there,
    links that lead nowhere."""
    for line in recipe.ingredients:
        if (fault := cure_fault(line)) is not None:
            yield Problem(
                WARNING, "curing-salt", fault.message, recipe.document.place(line.nodes["amount"]), fault.mend
            )
        elif is_cure(line.item):
            continue
        elif recipe.kind != "cook" and line.recipe is None and lookup(line.item, kitchen.weights) is None:
            yield Problem(
                NOTE,
                "unknown-ingredient",
                f"'{line.item}' is in no table: what a spoonful of it weighs is not known",
                recipe.document.place(line.nodes["item"]),
                "weigh it once with `cookbook weigh`, or write its amount in grams",
            )
    yield from _unclear(kitchen, recipe)
    yield from _unlike_before(kitchen, recipe)
    for node in _items(recipe, "photos"):
        if not (kitchen.root / node.text).is_file():
            yield _lost(recipe, node)
    for node in _items(recipe, "links"):
        yield from _no_address(recipe.document, node.get("address"))


def named_doubts(kitchen: Kitchen, document: Document, lines: Iterable[Any]) -> Iterator[Problem]:
    """Recipes, cooks and markers that releases or questions name and that are not there, under any name (of a recipe
    that is gone its versions tell already), and addresses that are none."""
    for one in lines:
        wanted: list[tuple[str, str, Callable[[str], object]]] = []
        if one.get("recipe") and (name := called(kitchen, one["recipe"])) not in kitchen.lost_names:
            wanted.append(("recipe", name, kitchen.recipe))
        wanted += [("entry", one["entry"], kitchen.entry)] if one.get("entry") else []
        for key, said, found in wanted:
            try:
                found(said)
            except UnknownName as fault:
                yield Problem(WARNING, fault.code, fault.message, document.place(one.nodes[key]), fault.mend)
            except CookbookError:
                continue  # It is there, and its own file tells what is wrong with it.
        for key in ("address", "picture"):
            yield from _no_address(document, one.nodes.get(key))
        if one.get("markers") and not (kitchen.root / "shared" / one["markers"]).is_file():
            yield Problem(WARNING, "markers-missing", f"there are no markers {one['markers']} beside this file",
                          document.place(one.nodes["markers"]), "bring them back, or mend their path")


def _no_address(document: Document, node: Node | None) -> Iterator[Problem]:
    """What is to lead somewhere and is no web address."""
    if node is not None and not node.empty and not is_address(node.text.strip()):
        yield Problem(WARNING, "no-address", f"'{node.text}' is no whole web address, so nothing leads there",
                      document.place(node), "write it like https://example.org/film")


def _unclear(kitchen: Kitchen, recipe: Recipe) -> Iterator[Problem]:
    """What a cook should know about an amount as it is written: a heaped spoon, a spoon of some salt."""
    for line in recipe.ingredients:
        for words in doubts(line.amount, line.item, kitchen.weights) if line.recipe is None else ():
            yield Problem(NOTE, "doubtful-amount", words, recipe.document.place(line.nodes["amount"]))


def _unclear_as_made(kitchen: Kitchen, entry: Entry) -> Iterator[Problem]:
    """The same of what went in, as long as adopting may still carry it into a recipe."""
    if entry.adopted is not None or entry.memory:
        return
    for line in (line for lines in entry.as_made.values() for line in lines):
        for key in ("amount", "more", "less"):
            amount = line.get(key)
            item = line.get("instead") or line.get("item") or ""
            for words in doubts(amount, item, kitchen.weights) if amount is not None else ():
                yield Problem(NOTE, "doubtful-amount", words, entry.document.place(line.nodes[key]))


def _items(found: Recipe | Entry, key: str) -> tuple[Any, ...]:
    node = found.fields.nodes.get(key)
    return tuple(node.items) if node is not None else ()


def _lost(found: Recipe | Entry, node: Any) -> Problem:
    place = found.document.place(node)
    return Problem(
        WARNING, "photo-missing", f"there is no picture {node.text}", place, "bring it back, or mend its path"
    )


def _unlike_before(kitchen: Kitchen, recipe: Recipe) -> Iterator[Problem]:
    before = []
    for name in names_of(kitchen, recipe.name):
        for kept in store.kept(kitchen.root, name):
            try:
                before.append(kitchen.kept_recipe(kept))
            except CookbookError:
                continue
    for line in recipe.ingredients:
        known = [found for old in before if (found := old.ingredient(line.item)) is not None]
        times = [ratio(line.item, old.amount, line.amount) for old in known]
        if times and all(one is not None and not 1 / TIMES < one < TIMES for one in times):
            yield _hundredfold(recipe, line.nodes["amount"], f"{line.amount} {line.item}", str(known[-1].amount))


def _hundredfold(found: Recipe | Entry, node: Any, now: str, before: str) -> Problem:
    return Problem(
        WARNING,
        "hundredfold",
        f"{now} is {TIMES} times away from what it was before, {before}",
        found.document.place(node),
        "look at the unit and the decimal point",
    )


def entry_doubts(kitchen: Kitchen, entry: Entry) -> Iterator[Problem]:
    """Amounts unclear or far from the day's sheet, times out of order, readings that cannot be, pictures lost or
    changed."""
    yield from _unclear_as_made(kitchen, entry)
    for recipe, lines in entry.as_made.items():
        for item in made(lines, entry.sheet.get(recipe, {}), kitchen.weights)[0]:
            times = ratio(item.item, item.sheet, item.amount) if item.sheet and item.amount else None
            if times is not None and not item.instead_of and not 1 / TIMES < times < TIMES:
                line = next(one for one in lines if (one.get("item") or "").casefold() == item.item.casefold())
                yield _hundredfold(entry, line.node, f"{item.amount} {item.item}", f"{item.sheet} on the day's sheet")
    yield from _times(entry)
    yield from _readings(kitchen, entry)
    yield from _photos(kitchen, entry)


def _times(entry: Entry) -> Iterator[Problem]:
    day = entry.fields.nodes["date"]
    if entry.name[:10] != entry.date.isoformat() and _is_day(entry.name[:10]):
        yield Problem(
            WARNING,
            "other-day",
            f"the file is named for {entry.name[:10]}, the entry is of {entry.date}",
            entry.document.place(day),
            "mend the one that is wrong",
        )
    for event, fields in zip(entry.events, entry.fields.get("events") or (), strict=True):
        if abs(event.at.date() - entry.date) > FAR:
            yield Problem(
                WARNING,
                "far-away",
                f"this line is {abs(event.at.date() - entry.date).days} days away from the day of the entry",
                entry.document.place(fields.nodes["at"]),
                "mend the date",
            )
    known = [(did, at) for did in ORDER if (at := moment_of(entry, did)) is not None]
    for (one, first), (two, second) in pairwise(known):
        if second < first:
            yield Problem(
                WARNING,
                "out-of-order",
                f"it was {two} at {second:%H:%M}, before it was {one} at {first:%H:%M}",
                entry.document.place(entry.fields.nodes["events"])._replace(width=1),
                "mend the time of one of them",
            )


def _is_day(words: str) -> bool:
    try:
        return bool(datetime.fromisoformat(words))
    except ValueError:
        return False


def _readings(kitchen: Kitchen, entry: Entry) -> Iterator[Problem]:
    """Readings in the fire that cannot be; after the pull a dying pit may well be cooler than the meat."""
    pulled = moment_of(entry, "pulled")
    readings, _ = readings_of(kitchen, entry)
    above = [
        one
        for one in readings
        if one.core_c is not None and one.pit_c is not None and one.core_c > one.pit_c
        if pulled is None or one.at < pulled
    ]
    boiling = [one for one in readings if one.core_c is not None and one.core_c > BOILS_C]
    if above:
        said = f"the core read {above[0].core_c:.0f} °C, the pit {above[0].pit_c:.0f} °C"
        yield _reading(entry, "core-above-pit", above, said, "were the two probes exchanged?")
    if boiling:
        said = f"the core read {boiling[0].core_c:.0f} °C, above what water boils at"
        yield _reading(entry, "core-boils", boiling, said, "was it another probe, or °F?")
    for name in entry.readings:
        yield from _backwards(kitchen, entry, name)


def _reading(entry: Entry, code: str, found: list[Reading], said: str, mend: str) -> Problem:
    node = entry.fields.nodes.get("readings") or entry.fields.nodes["events"]
    for event, fields in zip(entry.events, entry.fields.get("events") or (), strict=True):
        if event.at == found[0].at and event.core is not None:
            node = fields.nodes["core"]
    more = f", and {len(found) - 1} more like it" if len(found) > 1 else ""
    place = entry.document.place(node)
    return Problem(WARNING, code, f"at {found[0].at:%H:%M} {said}{more}", place, mend)


def _backwards(kitchen: Kitchen, entry: Entry, name: str) -> Iterator[Problem]:
    path = kitchen.entry_path(entry).parent / name
    try:
        rows, _ = read_csv(bytes_of(path), kitchen.shown(path))
    except OSError:
        return
    for before, after in pairwise(rows):
        if after.at < before.at:
            yield Problem(
                WARNING,
                "time-backwards",
                f"the readings go back from {before.at:%H:%M:%S} to {after.at:%H:%M:%S}",
                Place(kitchen.shown(path), 1, 1),
                "was the logger's clock set, or were two logs joined? put the lines in the order of their times",
            )
            return


def _photos(kitchen: Kitchen, entry: Entry) -> Iterator[Problem]:
    home = kitchen.entry_path(entry).parent
    for photo, node in zip(entry.fields.get("photos") or (), _items(entry, "photos"), strict=True):
        path = home / (photo if isinstance(photo, str) else photo["path"])
        if not path.is_file():
            yield _lost(entry, node if isinstance(photo, str) else photo.nodes["path"])
        elif not isinstance(photo, str) and photo.get("digest") and not _is(path, photo["digest"]):
            yield Problem(
                WARNING,
                "photo-altered",
                f"{path.name} is no longer the picture that was noted: its bytes have changed",
                entry.document.place(photo.nodes["digest"]),
                "bring the picture back, or take its digest out",
            )


def _is(path: Path, digest: str) -> bool:
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest() == digest.strip().removeprefix("sha256:").casefold()
