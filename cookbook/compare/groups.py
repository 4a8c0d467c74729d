"""Cooks grouped by version, recipe or condition; each outcome's mean and spread; what the change did."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import pairwise
from statistics import fmean, stdev
from typing import NamedTuple

from cookbook.compare.condition import chosen, condition, cut_of
from cookbook.compare.confounded import companions, sentence
from cookbook.compare.cook import Cook, Expected, cook
from cookbook.compare.difference import Difference, Table, differences, measured
from cookbook.errors import CookbookError, RequestError, UnknownName
from cookbook.journal import Entry
from cookbook.kitchen import Kitchen, descent
from cookbook.kitchen.history import Version, labels_of, versions
from cookbook.recipe import Recipe
from cookbook.recipe.difference import Change
from cookbook.recipe.difference import differences as changes_between

UNSAID = "not said"


class Spread(NamedTuple):
    """One outcome of a group: how many days say it, their mean (tasters evened out), and standard deviation."""

    name: str
    unit: str
    cooks: int
    mean: float
    spread: float | None

    def cells(self) -> tuple[str, str, str]:
        """In words: the outcome, its mean, its standard deviation."""
        return self.name, f"{self.mean:.1f} {self.unit}", "" if self.spread is None else f"± {self.spread:.1f}"


class Group(NamedTuple):
    """The cooks under one label, in the order they were cooked."""

    label: str
    cooked: tuple[Cook, ...]
    outcomes: tuple[Spread, ...]

    @property
    def entries(self) -> tuple[str, ...]:
        """Their entries' names."""
        return tuple(cook.entry.name for cook in self.cooked)

    @property
    def cooks(self) -> int:
        """How many."""
        return len(self.cooked)

    def __repr__(self) -> str:
        return f"<Group {self.label}: {self.cooks} cooks>"


class Comparison(NamedTuple):
    """Groups in order, what changed from each to the next, the differences that were asked for, what else changed
    (a sentence, for the pair that the differences begin with), each taster's hand, and how it was worked out."""

    groups: tuple[Group, ...]
    changes: tuple[tuple[Change, ...], ...]
    differences: tuple[Difference, ...]
    confounded: str | None
    hands: dict[str, dict[str, float]]
    notes: tuple[str, ...]
    table: Table

    def __repr__(self) -> str:
        from cookbook.compare.headline import headline

        return f"<Comparison of {len(self.groups)} groups: {headline(self)}>"

    def _repr_html_(self) -> str:
        from cookbook.compare.shown import comparison_shown

        return comparison_shown(self)


class Choice(NamedTuple):
    """Which cooks count, and what was to be expected of them."""

    where: tuple[str, ...] = ()
    since: date | None = None
    expected: Expected | None = None

    def of(self, kitchen: Kitchen, entries: Sequence[Entry]) -> list[Entry]:
        """Those of the entries that count."""
        return chosen(kitchen, entries, self.where, self.since)


EVERYTHING = Choice()


def compare_versions(kitchen: Kitchen, name: str, choice: Choice = EVERYTHING) -> Comparison:
    """The cooks of `name` by version, oldest first, the newest against the one before; those of a cut by recipe.

    Raises RequestError where nothing was cooked.
    """
    if not kitchen.has_recipe(name) and name not in kitchen.lost_names:
        _cut_meant(kitchen, name)
        return compare_by(kitchen, name, "recipe", choice)
    known = versions(kitchen, name)
    by_meaning: dict[str, list[Entry]] = {}
    meanings = {cook.entry.name: cook.meaning or "" for cook in descent.cooks_of(kitchen, name)}
    for entry in choice.of(kitchen, cooks_of(kitchen, name)):
        by_meaning.setdefault(meanings[entry.name], []).append(entry)
    cooked = [version for version in known if version.name in by_meaning]
    said = labels_of(known)
    parted = [(said[version.name], by_meaning[version.name]) for version in cooked]
    _something(name, parted)
    changes = tuple(
        _changes(kitchen, one, two, by_meaning[one.name], by_meaning[two.name]) for one, two in pairwise(cooked)
    )
    return _comparison(kitchen, parted, choice, _last_two(parted), changes)


def compare_recipes(kitchen: Kitchen, one: str, two: str, choice: Choice = EVERYTHING) -> Comparison:
    """Two recipes on the same cut, or two versions of recipes (`NAME@2`; a name alone is then as it stands now).

    Cooks that both were in count for the one that has no others.

    Raises RequestError where they are for different cuts or one was never cooked.
    """
    versioned = "@" in one + two
    sides = [_side(kitchen, name, versioned) for name in (one, two)]
    recipes = [side.recipe for side in sides]
    if descent.cut_name(recipes[0].meat, kitchen.cuts) != descent.cut_name(recipes[1].meat, kitchen.cuts):
        raise RequestError(
            f"{one} is for {recipes[0].meat}, {two} for {recipes[1].meat}: cooks of different cuts can't be "
            "held against each other",
            mend="compare two recipes on the same cut",
        )
    apart = recipes[0].name != recipes[1].name and versioned
    cooks = [choice.of(kitchen, side.cooks) for side in sides]
    for name, own in zip((one, two), cooks, strict=True):
        _something(name, own)
    shared = {entry.name for entry in cooks[0]} & {entry.name for entry in cooks[1]}
    if shared:
        cooks = [[entry for entry in own if entry.name not in shared] or own for own in cooks]
    if shared & {entry.name for entry in cooks[0]} & {entry.name for entry in cooks[1]}:
        raise RequestError(
            f"{one} and {two} were in the same cooks: there is nothing to hold against each other",
            mend="name another recipe or version",
        )
    labels = [f"{side.recipe.title}, {side.label}" if apart else side.label for side in sides]
    changes = changes_between(recipes[0], recipes[1]) + _inside(kitchen, recipes[1].uses, cooks[0], cooks[1])
    return _comparison(kitchen, list(zip(labels, cooks, strict=True)), choice, [(0, 1)], (tuple(changes),))


class _Side(NamedTuple):
    label: str
    recipe: Recipe
    cooks: list[Entry]


def _side(kitchen: Kitchen, name: str, versioned: bool) -> _Side:
    """A recipe with all its cooks; or one version of it with its own."""
    plain, _, wanted = name.partition("@")
    recipe = kitchen.recipe(name)
    if not versioned:
        return _Side(recipe.title, recipe, cooks_of(kitchen, recipe.name))
    meaning = kitchen.find_version(plain, wanted).meaning if wanted else kitchen.short_version(recipe)
    own = [cook.entry for cook in descent.cooks_of(kitchen, plain) if cook.meaning == meaning]
    return _Side(labels_of(versions(kitchen, plain))[meaning], recipe, own)


def compare_by(kitchen: Kitchen, name: str, field: str, choice: Choice = EVERYTHING) -> Comparison:
    """The cooks of a recipe, or of a cut, by a condition; the condition most cooked is what others are held against.

    Raises UnknownName, or RequestError where nothing was cooked.
    """
    by_value: dict[str, list[Entry]] = {}
    for entry in choice.of(kitchen, cooks_of(kitchen, name)):
        by_value.setdefault(condition(kitchen, entry, field) or UNSAID, []).append(entry)
    parted = sorted(by_value.items(), key=lambda part: (part[0] == UNSAID, -len(part[1]), part[0]))
    _something(name, parted)
    pairs = [(0, place) for place, (label, _) in enumerate(parted) if place and label != UNSAID]
    return _comparison(kitchen, parted, choice, pairs, ((),) * (len(parted) - 1), field)


def compare_one(kitchen: Kitchen, entry: Entry, choice: Choice = EVERYTHING) -> Comparison:
    """One cook by itself, with nothing to hold it against."""
    return _comparison(kitchen, [(entry.name, [entry])], choice, [], ())


def compare_entries(kitchen: Kitchen, one: Entry, two: Entry, choice: Choice = EVERYTHING) -> Comparison:
    """Two cooks held against each other; remembered ones are no cooks that count. Raises RequestError."""
    for entry in (one, two):
        if entry.memory:
            raise RequestError(
                f"{entry.name} is remembered, and remembered cooks are never counted",
                mend="name a cook that was logged",
                code="remembered",
            )
    if one.name == two.name:
        raise RequestError(f"{one.name} can't be held against itself", mend="name another cook")
    return _comparison(kitchen, [(one.name, [one]), (two.name, [two])], choice, [(0, 1)], ((),))


def cooks_of(kitchen: Kitchen, name: str) -> list[Entry]:
    """The counted cooks of a recipe, or of a cut where no recipe is called so.

    A recipe answers under any name it had. Raises UnknownName.
    """
    found = [cook.entry for cook in descent.cooks_of(kitchen, name)]
    if found or kitchen.has_recipe(name) or name in kitchen.lost_names:
        return found
    cut = _cut_meant(kitchen, name)
    return [entry for entry in kitchen.entries() if not entry.memory and cut_of(kitchen, entry) == cut]


def _cut_meant(kitchen: Kitchen, name: str) -> str:
    """The cut called so. Raises UnknownName where neither a recipe nor a cut is, RequestError where two are."""
    from cookbook.meat import Cut

    try:
        return Cut.named(name, kitchen.cuts).name
    except UnknownName:
        kitchen.recipe(name)
        raise


def _something(name: str, parted: Sequence[object]) -> None:
    if not parted:
        raise RequestError(
            f"nothing was cooked with {name} that counts here",
            mend="begin with `cookbook log start`, or ask for less with --where and --since",
            code="no-cooks",
        )


def _last_two(parted: Sequence[object]) -> list[tuple[int, int]]:
    return [(len(parted) - 2, len(parted) - 1)] if len(parted) > 1 else []


def _comparison(
    kitchen: Kitchen,
    parted: Sequence[tuple[str, Sequence[Entry]]],
    choice: Choice,
    pairs: Sequence[tuple[int, int]],
    changes: tuple[tuple[Change, ...], ...],
    field: str | None = None,
) -> Comparison:
    cooked = [[cook(kitchen, entry, choice.expected) for entry in entries] for _, entries in parted]
    table = measured(cooked)
    groups = tuple(
        Group(label, tuple(cooks), _spreads(table, place))
        for place, ((label, _), cooks) in enumerate(zip(parted, cooked, strict=True))
    )
    mixed = None
    if pairs:
        a, b = pairs[0]
        along = companions(kitchen, parted[a][1], parted[b][1], field)
        mixed = sentence(changes[b - 1] if field is None else (), ((f"{field}", *along) if field else along))
    hands = {
        aspect: {taster: round(hand, 2) for taster, hand in even.hands.items() if taster}
        for aspect, even in table.hands.items()
    }
    found = differences(table, [label for label, _ in parted], pairs)
    return Comparison(groups, changes, found, mixed, hands, table.notes, table)


def _spreads(table: Table, place: int) -> tuple[Spread, ...]:
    found = []
    for one in table.measured:
        values = one.values(place)
        if values and not one.logs:
            found.append(
                Spread(one.outcome, one.unit, len(values), fmean(values), stdev(values) if len(values) > 1 else None)
            )
    return tuple(found)


def _changes(
    kitchen: Kitchen, one: Version, two: Version, before: Sequence[Entry], after: Sequence[Entry]
) -> tuple[Change, ...]:
    """What changed between two versions, and in the recipes inside them."""
    own = changes_between(one.recipe, two.recipe) if one.recipe and two.recipe else []
    return (*own, *_inside(kitchen, two.recipe.uses if two.recipe else (), before, after))


def _inside(
    kitchen: Kitchen, names: Sequence[str], before: Sequence[Entry], after: Sequence[Entry]
) -> list[Change]:
    """What changed in the recipes inside, where each side used just one version of them."""
    inside: list[Change] = []
    for name in names:
        used = [{e.versions[name].partition(".")[0] for e in side if name in e.versions} for side in (before, after)]
        if all(len(side) == 1 for side in used) and used[0] != used[1]:
            try:
                was, now = (kitchen.recipe(f"{name}@{side.pop()}") for side in used)
            except CookbookError:
                continue
            inside += changes_between(was, now)
    return inside
