"""The label of a jar of rub: what is in it by weight, allergens, net weight in both systems, and the panel.

An aid, not legal advice: what a label must say is for the maker to find out where the jar is sold.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import floor
from textwrap import wrap
from typing import TYPE_CHECKING, NamedTuple

from cookbook.errors import RequestError
from cookbook.publish import wording
from cookbook.publish.forms.nutrition import panel
from cookbook.quantity import allergens, totals
from cookbook.quantity.unit import POUND_G

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.publish.content.gathering import Gathered
    from cookbook.quantity import Totals
    from cookbook.recipe import Ingredient, Recipe
    from cookbook.recipe.scaling import Scaled

Parts = list[tuple["Ingredient", float | None]]
"""Lines of a recipe, each with its grams."""
AID = (
    "An aid and no legal advice: the law of where it is sold says what a label must carry. Numbers come from USDA's "
    "tables, not from a laboratory."
)
KINDS = ("rub", "paste", "sauce", "brine")
WIDTH = 64
QUARTER_TSP_ML = 1.232
"""A quarter of a US teaspoon: the amount that seasoning is declared for (from memory, 21 CFR 101.12)."""


class Jar(NamedTuple):
    """What only the maker knows of a jar; net weight in g, the others in their own words."""

    net_g: float | None = None
    lot: str = ""
    best_before: str = ""


BLANK = Jar()
"""A label to fill in by hand."""


def net_weight(net_g: float) -> str:
    """`Net wt 2.5 oz (71 g)`: both systems, each rounded down so that neither says more than is in it."""
    grams = floor(net_g) if net_g >= 100 else floor(net_g * 10 + 1e-9) / 10 if net_g < 10 else floor(net_g)
    ounces = floor(net_g / (float(POUND_G) / 16) * 10 + 1e-9) / 10
    return f"Net wt {ounces:g} oz ({grams:g} g)"


def contents(kitchen: Kitchen, recipe: Recipe, parts: Parts) -> list[tuple[str, float]]:
    """Everything in a batch with its grams, the heaviest first; a blend of the kitchen with what is in it, but a
    private formula without: only its own jar lists it.

    Raises RequestError where a weight is not known, since the order rests on it.
    """
    found = []
    for line, grams in parts:
        if grams is None:
            raise RequestError(
                f"what {line.item} weighs is not known, and a label lists by weight",
                mend=f'tell it once: `cookbook weigh "{line.item}" "1 tbsp" 7g`',
                code="no-weight",
            )
        name = wording.spoken(line.item)
        if line.recipe is not None:
            inner = kitchen.used_by(recipe)(line.recipe)
            name = wording.spoken(inner.title)
            if not inner.private:
                within = contents(kitchen, inner, _parts(kitchen, inner))
                name = f"{name} ({wording.row([item for item, _ in within])})"
        found.append((name, grams))
    return sorted(found, key=lambda one: -one[1])


def _parts(kitchen: Kitchen, recipe: Recipe) -> Parts:
    """The lines of a recipe as written, each with its grams."""
    if recipe.made_for is None:
        written = [(line, line.amount.grams(line.item, kitchen.weights)) for line in recipe.ingredients]
        return [(line, grams.mid if grams else None) for line, grams in written]
    from cookbook.publish.content.batching import scaled_for

    return _of(scaled_for(kitchen, recipe))


def _of(scaled: Scaled) -> Parts:
    return [(line.ingredient, line.grams.mid if line.grams else None) for line in scaled.lines]


def label(kitchen: Kitchen, found: Gathered, jar: Jar = BLANK) -> str:
    """The label as plain text; no share of anything. Raises RequestError for a cook, which fills no jar."""
    if found.recipe.kind not in KINDS:
        raise RequestError(f"{found.recipe.name} fills no jar", mend="a label is for a rub, a paste or a sauce")
    jar = jar._replace(lot=wording.spoken(jar.lot), best_before=wording.spoken(jar.best_before))
    scaled = next(iter(found.scaled), None)
    parts = _of(scaled) if scaled is not None else _parts(kitchen, found.recipe)
    inside = contents(kitchen, found.recipe, parts)
    flat = list(_flat(kitchen, found.recipe, parts))
    lines = [wording.spoken(found.content.title), ""]
    lines += _flow(f"Ingredients: {wording.row([item for item, _ in inside])}.")
    told = [allergens(one.item) for one in flat]
    contains = list(dict.fromkeys(one.name for each in told for one in each.contains))
    check = list(dict.fromkeys(one.name for each in told for one in each.check if one.name not in contains))
    lines += _flow(f"Contains: {', '.join(contains)}.") if contains else []
    lines += ["", net_weight(jar.net_g) if jar.net_g else "Net wt: ____ oz (____ g)"]
    lines += [f"Batch: {jar.lot or '____'}   Best before: {jar.best_before or '____'}"]
    by = " · ".join(part for part in (found.content.author, found.content.kitchen) if part)
    lines += _flow(f"Made by {by}" if by else "Made by: ____")
    whole = scaled.totals() if scaled is not None else totals(
        ((line.amount, line.item) for line in found.recipe.ingredients), kitchen.weights)
    lines += ["", *_panel(whole, flat)]
    missing = [f"what is in {title}" for title in dict.fromkeys(one.hidden for one in flat if one.hidden)]
    missing += ["the address of who makes it"] + [
        name
        for name, said in (
            ("net weight", jar.net_g),
            ("batch", jar.lot),
            ("best before", jar.best_before),
            ("who makes it", by),
        )
        if not said
    ]
    lines += ["", *_flow(f"Still to fill in: {', '.join(missing)}.")]
    lines += _flow(f"Labels to read for: {', '.join(check)}.") if check else []
    return "\n".join([*lines, *_flow(AID)]).replace("\u00a0", " ") + "\n"


class _Single(NamedTuple):
    """A single thing with its grams; `hidden` is the title of the private formula that brings it, '' for none."""

    item: str
    grams: float
    hidden: str


def _flat(kitchen: Kitchen, recipe: Recipe, parts: Parts) -> Iterator[_Single]:
    """Every single thing in it."""
    for line, grams in parts:
        if line.recipe is None:
            yield _Single(line.item, grams or 0.0, "")
            continue
        inner = kitchen.used_by(recipe)(line.recipe)
        found = list(_flat(kitchen, inner, _parts(kitchen, inner)))
        share = (grams or 0.0) / (sum(one.grams for one in found) or 1.0)
        for one in found:
            hidden = wording.spoken(inner.title) if inner.private else one.hidden
            yield _Single(one.item, one.grams * share, hidden)


def _panel(all_: Totals, flat: Sequence[_Single]) -> Iterator[str]:
    known = not any(one.total in ("volume", "mass") for one in all_.uncounted) and all_.ml.mid
    serving = QUARTER_TSP_ML * all_.grams.mid / all_.ml.mid if known else 100.0
    called = {one.item: one.hidden for one in flat if one.hidden}
    found = panel([(one.item, one.grams) for one in flat], serving, called)
    yield f"Nutrition facts, per ¼ tsp, {serving:.1f} g" if known else f"Nutrition facts, per {serving:.0f} g"
    wide = max((len(line.what) for line in found.lines), default=0)
    for line in found.lines:
        yield f"  {line.what:<{wide}}  {line.declared:>13}  {line.percent:>5}".rstrip()
    for sentence in found.missing:
        yield from (f"  {one}" for one in _flow(f"Missing: {wording.spoken(sentence)}"))


def _flow(words: str) -> list[str]:
    return wrap(words, WIDTH, break_on_hyphens=False)
