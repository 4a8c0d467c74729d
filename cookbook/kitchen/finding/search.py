"""Finding recipes and entries by words and by what they say of themselves, newest use first."""

from __future__ import annotations

import re
from datetime import date
from typing import NamedTuple

from cookbook.errors import RequestError, UnknownName
from cookbook.kitchen.descent import names_of
from cookbook.kitchen.finding.index import CUT
from cookbook.kitchen.finding.indexing import words_in
from cookbook.kitchen.kitchen import Kitchen
from cookbook.meat import Cut

COOKS_TO_PUBLISH = 1
"""How often a recipe is cooked before it goes out, where `shared/kitchen.yaml` doesn't say; common practice."""


class Wanted(NamedTuple):
    """What is looked for; everything that is said must hold.

    `version` is a version's name or its beginning, a revision of `recipe`, or NAME@2; `since` and `until` are days
    (both counted), `score` the lowest mean score of a cook.
    """

    words: str = ""
    recipe: str | None = None
    version: str | None = None
    cut: str | None = None
    cooker: str | None = None
    since: date | None = None
    until: date | None = None
    score: float | None = None


class FoundRecipe(NamedTuple):
    """A recipe; `cooks` counts no remembered ones, `best` is the highest mean score of a cook, `missing` what it
    lacks to be published."""

    name: str
    kind: str
    title: str
    revision: int | None
    last_cooked: str | None
    cooks: int
    best: float | None
    missing: str | None


class FoundEntry(NamedTuple):
    """An entry; `cut` is its own or its recipe's."""

    name: str
    date: str
    recipe: str | None
    title: str | None
    cut: str | None
    cooker: str | None
    score: float | None
    open: bool
    memory: bool


class Found(NamedTuple):
    """Recipes and entries, newest use first, and the files that can't be read, each with why."""

    recipes: list[FoundRecipe]
    entries: list[FoundEntry]
    unread: list[tuple[str, str]]


RECIPES = """
SELECT r.name, r.kind, r.title, r.revision, max(e.date), count(DISTINCT CASE WHEN e.memory THEN NULL ELSE e.id END),
    max(CASE WHEN e.memory THEN NULL ELSE e.score END),
    CASE WHEN NOT r.steps THEN 'steps'
         WHEN count(DISTINCT CASE WHEN e.memory THEN NULL ELSE e.id END) < ? THEN 'cooks' END
FROM recipe r
LEFT JOIN name n ON n.id = r.id
LEFT JOIN used u ON u.recipe = n.called
LEFT JOIN entry e ON e.id = u.entry
{where}
GROUP BY r.id
ORDER BY max(e.date) DESC NULLS LAST, r.name
"""

ENTRIES = """
SELECT e.name, e.date, e.recipe, e.title, {cut}, e.cooker, e.score, e.open, e.memory
FROM entry e
{where}
ORDER BY e.date DESC, e.name DESC
"""


def everything(kitchen: Kitchen) -> Found:
    """Every recipe and every entry."""
    return _found(kitchen, "", [], "", [])


def find(kitchen: Kitchen, wanted: Wanted) -> Found:
    """What fits `wanted`. A word fits by its stem and its beginning; a cook also by the words of its recipe.

    Raises RequestError where nothing is said to look for, UnknownName for a recipe that there is not.
    """
    words = words_in(wanted.words)
    wanted = _of_one_recipe(wanted)
    if not words and wanted == Wanted(wanted.words):
        raise RequestError("what are you looking for?", mend='say it in words: cookbook find "cherry lamb wrapped"')
    marks = [_mark(kitchen, word) for word in words]
    cook_where, cook_values = _cook_filters(kitchen, wanted)
    for mark, value in marks:
        cook_where.append(
            f"(e.id IN ({mark}) OR e.id IN (SELECT entry FROM used WHERE recipe IN (SELECT called FROM name "
            f"WHERE id IN ({mark}))))"
        )
        cook_values += [value, value]
    values: list[object] = [value for _, value in marks]
    where = [f"r.id IN ({mark})" for mark, _ in marks]
    if wanted.recipe is not None:
        where.append("r.name = ?")
        values.append(wanted.recipe)
    if wanted.cut is not None:
        where.append("r.cut = ?")
        values.append(Cut.named(wanted.cut, kitchen.cuts).name)
    if any(one is not None for one in wanted[4:]) or wanted.version is not None:
        inner, inner_values = _cook_filters(kitchen, wanted)
        where.append(
            f"r.id IN (SELECT n2.id FROM name n2 JOIN used u2 ON u2.recipe = n2.called JOIN entry e ON "
            f"e.id = u2.entry WHERE {' AND '.join(inner)})"
        )
        values += inner_values
    return _found(kitchen, _all(where), values, _all(cook_where), cook_values)


def _of_one_recipe(wanted: Wanted) -> Wanted:
    """`NAME@2` as the version 2 of the recipe NAME."""
    recipe, at, version = (wanted.version or "").partition("@")
    if not at:
        return wanted
    if wanted.recipe not in (None, recipe):
        raise RequestError(f"'{wanted.version}' is no version of {wanted.recipe}", mend="name the recipe only once")
    return wanted._replace(recipe=recipe, version=version)


def _found(kitchen: Kitchen, where: str, values: list[object], cook_where: str, cook_values: list[object]) -> Found:
    needed = kitchen.settings.get("cooks_to_publish") or COOKS_TO_PUBLISH
    recipes, entries, unread = kitchen.index.ask_all(
        [
            (RECIPES.format(where=where), (needed, *values)),
            (ENTRIES.format(where=cook_where, cut=CUT), cook_values),
            ("SELECT path, fault FROM file WHERE fault IS NOT NULL ORDER BY path", ()),
        ]
    )
    return Found([*map(FoundRecipe._make, recipes)], [*map(FoundEntry._make, entries)], unread)


def _all(where: list[str]) -> str:
    return f"WHERE {' AND '.join(where)}" if where else ""


def _mark(kitchen: Kitchen, word: str) -> tuple[str, str]:
    """The question for the rows that hold a word, and its value."""
    if kitchen.index.full_text:
        return "SELECT rowid FROM words WHERE words MATCH ?", f'"{word}"*'
    return "SELECT rowid FROM words WHERE text LIKE ?", f"% {word}%"


def _cook_filters(kitchen: Kitchen, wanted: Wanted) -> tuple[list[str], list[object]]:
    where: list[str] = []
    values: list[object] = []

    def add(question: str, *answers: object) -> None:
        where.append(question)
        values.extend(answers)

    if wanted.recipe is not None:
        names = names_of(kitchen, kitchen.recipe(wanted.recipe).name)
        add(f"e.id IN (SELECT entry FROM used WHERE recipe IN ({', '.join('?' * len(names))}))", *names)
    if wanted.version is not None:
        starts = _versions(kitchen, wanted)
        add(f"e.id IN (SELECT entry FROM used WHERE {' OR '.join(['version GLOB ?'] * len(starts))})", *starts)
    if wanted.cut is not None:
        add(f"{CUT} = ?", Cut.named(wanted.cut, kitchen.cuts).name)
    if wanted.cooker is not None:
        add("e.cooker = ?", wanted.cooker.casefold())
    if wanted.since is not None:
        add("e.date >= ?", wanted.since.isoformat())
    if wanted.until is not None:
        add("e.date <= ?", wanted.until.isoformat())
    if wanted.score is not None:
        add("e.score >= ?", wanted.score)
    return where, values


def _versions(kitchen: Kitchen, wanted: Wanted) -> list[str]:
    """How the names of the versions begin: as said, or those with that revision of the recipe."""
    words = wanted.version or ""
    if wanted.recipe is not None and words.isdigit():
        from cookbook.kitchen.history import versions

        known = versions(kitchen, wanted.recipe)
        found = [f"{one.name}*" for one in known if str(one.revision) == words]
        if not found:
            there = [f"{wanted.recipe}@{one.revision or one.name}" for one in known]
            raise UnknownName("version", f"{wanted.recipe}@{words}", there)
        return found
    if not re.fullmatch(r"[0-9]+-[0-9a-f]*(\.[0-9a-f]*)?", words):
        raise RequestError(
            f"'{words}' is no version", mend="write it like walnut-paste@2 or 1-5f0c1e9a77b2"
        )
    return [f"{words}*"]
