"""What to know before doing it again: the last cooks of a recipe or a cut, lines for next time, questions, prices."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from datetime import date
from itertools import islice
from statistics import fmean
from typing import Any, NamedTuple

from cookbook.errors import UnknownName
from cookbook.journal import Entry
from cookbook.journal.made import made
from cookbook.journal.outcome import money, outcomes
from cookbook.kitchen.descent import cooks_of, cut_name, cut_of, names_of
from cookbook.kitchen.forecasting.expecting import Expected
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.log.reminders import Reminder, for_recipe, open_lines

COOKS = 5
"""How many cooks fit on one screen."""

Expecting = Callable[[Entry], Expected | None]
"""Gives what was to be expected of a cook, or None where nothing can be said."""


class PastCook(NamedTuple):
    """One cook as far as its entry tells it; `pit_c` is the mean of the pit's readings, `expected` what the forecast
    says of that piece in that pit, `changed` in the cook's words what was done otherwise."""

    entry: str
    date: date
    recipe: str | None
    version: str | None
    size: str
    pit_c: float | None
    measured: Mapping[str, tuple[float, str]]
    expected: Expected | None
    scores: Mapping[str, float]
    price: str | None
    changed: tuple[str, ...]
    memory: bool

    def json(self) -> dict[str, object]:
        """The cook as `last --json` lists it."""
        return {
            **self._asdict(),
            "date": self.date.isoformat(),
            "month": self.date.month,
            "pit_c": None if self.pit_c is None else round(self.pit_c, 1),
            "measured": {
                name: {"value": round(value, 2), "unit": unit} for name, (value, unit) in self.measured.items()
            },
            "expected": None if self.expected is None else self.expected.json(),
            "scores": {aspect: round(value, 2) for aspect, value in self.scores.items()},
            "changed": list(self.changed),
        }


class Price(NamedTuple):
    """What was paid; `per_kg` in the price's own currency, None where the words hold no number."""

    item: str
    mass_g: float
    price: str
    date: date
    shop: str | None
    per_kg: float | None

    def json(self) -> dict[str, object]:
        """The price as `last --json` lists it."""
        return {**self._asdict(), "date": self.date.isoformat(), "month": self.date.month}


class Recall(NamedTuple):
    """One screen before doing it again, everything newest first."""

    title: str
    cut: str | None
    cooks: tuple[PastCook, ...]
    next_time: tuple[Reminder, ...]
    questions: tuple[Mapping[str, Any], ...]
    prices: tuple[Price, ...]

    def json(self) -> dict[str, object]:
        """What `last --json` answers, and `plan --json` in short."""
        return {
            **self._asdict(),
            "cooks": [one.json() for one in self.cooks],
            "next_time": [one.json() for one in self.next_time],
            "questions": list(self.questions),
            "prices": [one.json() for one in self.prices],
        }


def last(
    kitchen: Kitchen, name: str, cooks: int = COOKS, expecting: Expecting = lambda _: None
) -> Recall:
    """The last `cooks` of the recipe or cut called `name`, with what was to be expected of each.

    `expecting` gives that, such as `expecting.expected`, which takes a while the first time; without it nothing is.
    Raises UnknownName where it is neither.
    """
    if kitchen.has_recipe(name):
        recipe = kitchen.recipe(name)
        from cookbook.kitchen.history import labels_of, versions

        labels = labels_of(versions(kitchen, name))
        found = islice(cooks_of(kitchen, name, memory=True, newest=True), cooks)
        past = [_past(kitchen, cook.entry, labels.get(cook.meaning or ""), expecting) for cook in found]
        cut, lines = recipe.meat, for_recipe(kitchen, recipe)
        about = {called for one in (name, *recipe.uses) for called in names_of(kitchen, one)}
        title = recipe.title
    else:
        cut = title = _cut(kitchen, name)
        found_entries = islice(_on_cut(kitchen, cut), cooks)
        past = [_past(kitchen, entry, None, expecting) for entry in found_entries]
        lines = open_lines(kitchen, (), cut)
        about = {one.recipe for one in past if one.recipe}
    return Recall(
        title, cut, tuple(past), tuple(lines), tuple(_questions(kitchen, about)), tuple(_prices(kitchen, cut))
    )


def _cut(kitchen: Kitchen, name: str) -> str:
    from cookbook.meat import Cut

    try:
        return Cut.named(name, kitchen.cuts).name
    except UnknownName as fault:
        from difflib import get_close_matches

        near = [*get_close_matches(name, kitchen.recipe_names(), 2, 0.5), *fault.nearest]
        raise UnknownName("recipe or cut", name, near) from None


def _on_cut(kitchen: Kitchen, cut: str) -> Iterator[Entry]:
    return (entry for entry in kitchen.entries(cut=cut, newest=True) if cut_of(kitchen, entry) == cut)


def _past(kitchen: Kitchen, entry: Entry, label: str | None, expecting: Expecting) -> PastCook:
    readings = kitchen.readings(entry)
    pit = [reading.pit_c for reading in readings if reading.pit_c is not None]
    found = outcomes(entry, readings)
    return PastCook(
        entry.name,
        entry.date,
        entry.recipe,
        label,
        " and ".join(filter(None, (_size(piece.fields) for piece in entry.pieces))),
        fmean(pit) if pit else None,
        {one.name: (one.value, one.unit) for one in found if one.unit != "points"},
        expecting(entry),
        {one.name: one.value for one in found if one.unit == "points"},
        entry.fields.get("price"),
        tuple(_changed(kitchen, entry)),
        entry.memory,
    )


def _size(fields: Any) -> str:
    """A piece in the entry's own words: `3.1 kg`, `4 ribs, 4.4 kg`."""
    said = {key: node.text for key, node in fields.nodes.items() if key in ("ribs", "weight", "length", "girth")}
    words = [f"{said['ribs']} ribs"] if "ribs" in said else []
    words += (
        [said["weight"]] if "weight" in said else [f"{key} {said[key]}" for key in ("length", "girth") if key in said]
    )
    return ", ".join(words) or ("as scanned" if "scan" in fields.nodes else "")


def _changed(kitchen: Kitchen, entry: Entry) -> Iterator[str]:
    for recipe, lines in entry.as_made.items():
        for item in made(lines, entry.sheet.get(recipe, {}), kitchen.weights)[0]:
            if item.how != "as on the sheet":
                yield f"{item.item}: {item.how}"
    yield from entry.deviations


def _questions(kitchen: Kitchen, recipes: set[str]) -> list[Mapping[str, Any]]:
    """The questions that nobody has answered, the most asked first."""
    found = [
        {"recipe": one["recipe"], "asked": one["asked"], "times": one.get("times")}
        for one in kitchen.shared("questions.yaml") or ()
        if one["recipe"] in recipes and one.get("answer") is None and one.get("answered_in") is None
    ]
    return sorted(found, key=lambda one: -(one["times"] or 0))


def _prices(kitchen: Kitchen, cut: str | None) -> list[Price]:
    wanted = cut_name(cut, kitchen.cuts)
    found = [
        Price(
            one["item"],
            grams.mid,
            one["price"],
            one["date"],
            one.get("shop"),
            _per_kg(one["price"], grams.mid),
        )
        for one in kitchen.shared("prices.yaml") or ()
        if cut_name(one["item"], kitchen.cuts) == wanted and (grams := one["amount"].grams()) is not None
    ]
    return sorted(found, key=lambda one: one.date, reverse=True)


def _per_kg(words: str, mass_g: float) -> float | None:
    paid = money(words)
    return round(paid[0] / mass_g * 1000, 2) if paid is not None else None
