"""The shopping list: every ingredient of all scaled recipes once, in what shops sell, less what is at home.

Amounts of one item are added up in grams; where nobody knows what it weighs they stay as the recipes write them.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import ceil
from typing import Any, NamedTuple

from cookbook.kitchen import Kitchen
from cookbook.kitchen.sizing import Said, for_pieces, inside
from cookbook.plan.buying import Buy, kilograms
from cookbook.plan.fire import Fuel
from cookbook.quantity import Amount, lookup
from cookbook.quantity.naming import key_of, words_of
from cookbook.quantity.number import digits
from cookbook.quantity.unit import FRUIT
from cookbook.recipe import Recipe
from cookbook.recipe.scaling import Scaled, scaled_to
from cookbook.table import rows

COUNTERS = ("butcher", "greens", "dairy", "dry goods", "jars and bottles", "fire", "other")
"""The counters of a shop, in the order in which the list walks them."""
_TAP = "tap"


class Need(NamedTuple):
    """So much of an item for one recipe."""

    item: str
    amount: Amount
    grams: float | None
    recipe: str


class Line(NamedTuple):
    """A line of the list: what is needed, what is at home, and what to buy (`packs` of `sold`, '' where nothing)."""

    counter: str
    item: str
    need: str
    buy: str
    at_home: str
    grams: float | None
    buy_grams: float | None
    packs: int | None
    sold: str
    recipes: tuple[str, ...]

    def json(self) -> dict[str, object]:
        """As `plan --json` lists it."""
        return {**self._asdict(), "recipes": list(self.recipes)}


class Sold(NamedTuple):
    """How a shop sells an item: its counter, the word for one, and the g in one (None: loose, by weight)."""

    counter: str
    word: str
    grams: float | None


def needs(kitchen: Kitchen, recipe: Recipe, said: Said) -> list[Need]:
    """Every ingredient of a cook's coats, or of a recipe by itself, scaled to the pieces."""
    found: list[Need] = []
    for coat, pieces in for_pieces(kitchen, recipe, said):
        made = scaled_to(coat, pieces, weights=kitchen.weights, used=kitchen.used_by(coat))
        found += needs_of(kitchen, made)
    return found


def needs_of(kitchen: Kitchen, made: Scaled) -> list[Need]:
    """Every ingredient of a scaled recipe and of those that go into it."""
    found = [Need(line.item, line.amount, line.grams.mid if line.grams is not None else None, made.recipe.title)
             for line in made.lines if line.ingredient.recipe is None]
    return found + [need for inner in inside(kitchen, made) for need in needs_of(kitchen, inner)]


def shopping(kitchen: Kitchen, bought: Sequence[Buy], wanted: Iterable[Need], fuel: Sequence[Fuel]) -> list[Line]:
    """The list by counter: meat, ingredients, fuel. Raises FileError where `shared/at_home.yaml` holds faults."""
    home = {key_of(item): amount for item, amount in (kitchen.shared("at_home.yaml") or {}).items()}
    lines = [_meat(one) for one in bought]
    merged: dict[frozenset[str], list[Need]] = {}
    for need in wanted:
        merged.setdefault(key_of(need.item), []).append(need)
    lines += [line for key, same in merged.items() if (line := _line(kitchen, same, home, key)) is not None]
    lines += [_fuel(one, home) for one in fuel]
    return sorted(_fruit_once(lines), key=lambda line: COUNTERS.index(line.counter))


def _meat(one: Buy) -> Line:
    said = one.words().partition(": ")[2]
    need = kilograms(one.mass_g.mid)
    return Line(
        "butcher",
        one.cut,
        need,
        said,
        "",
        one.mass_g.mid,
        one.ask_g,
        one.pieces,
        "piece",
        (),
    )


def _line(kitchen: Kitchen, same: Sequence[Need], home: dict[Any, Any], key: frozenset[str]) -> Line | None:
    item = same[0].item
    sold = sold_as(kitchen, item)
    if sold.counter == _TAP:
        return None
    recipes = tuple(dict.fromkeys(one.recipe for one in same))
    weighed = [one.grams for one in same if one.grams is not None]
    grams = sum(weighed) if len(weighed) == len(same) else None
    free = all(one.amount.kind == "free" for one in same)
    need = _grams_words(grams) if grams is not None else " and ".join(dict.fromkeys(str(one.amount) for one in same))
    there = key in home
    stock = home.get(key)
    if there and (stock is None or free):
        return Line(
            sold.counter, item, need, "", "plenty" if stock is None else str(stock), grams, 0.0, 0, sold.word, recipes
        )
    have = stock.grams(item, kitchen.weights) if stock is not None else None
    left = max(grams - (have.mid if have is not None else 0.0), 0.0) if grams is not None else None
    uncounted = ", not counted: no unit that says how much" if grams is not None and stock and have is None else ""
    buy, packs, buy_grams = _packed(left, sold, need)
    return Line(
        sold.counter,
        item,
        need,
        buy,
        f"{stock}{uncounted}" if stock is not None else "",
        grams,
        buy_grams,
        packs,
        sold.word,
        recipes,
    )


def _packed(left: float | None, sold: Sold, need: str) -> tuple[str, int | None, float | None]:
    """In words, packs and grams what to buy: up to whole packs, loose goods to 10 g and from 1 kg on to 100 g."""
    if left is None:
        return f"1 {sold.word}" if sold.word and sold.grams else need, None, None
    if left <= 0.5:
        return "", 0, 0.0
    if sold.grams:
        packs = ceil(left / sold.grams - 1e-6)
        word = sold.word if packs == 1 else _plural(sold.word)
        return f"{packs} {word}", packs, packs * sold.grams
    step = 100.0 if left >= 1000 else 10.0
    loose = ceil(left / step - 1e-6) * step
    return _grams_words(loose), None, loose


def _plural(word: str) -> str:
    from cookbook.quantity.unit import unit

    found = unit(word, "us")
    return found.plural if found is not None else word + "s"


def _grams_words(grams: float) -> str:
    return f"{digits(grams / 1000, 3)} kg" if grams >= 1000 else f"{digits(grams, 2 if grams < 100 else 3)} g"


def sold_as(kitchen: Kitchen, item: str) -> Sold:
    """How shops sell an item: by the table's first row whose words are all in it, else by the sort of thing it is."""
    words = set(words_of(item))
    weight = lookup(item, kitchen.weights)
    for row in rows("plan_counters"):
        if set(row["words"].split()) <= words:
            return Sold(row["counter"], row["sold"] or "", _each(kitchen, item, row))
    if weight is None:
        return Sold("other", "", None)
    if weight.form == "herb":
        bunch = weight.counts.get("bunch")
        return Sold("greens", "bunch", bunch.mid if bunch is not None else 25.0)
    if weight.form in ("ground", "granular", "leaf"):
        return Sold("dry goods", "jar", 40.0)
    if weight.form in ("liquid", "paste"):
        return Sold("jars and bottles", "bottle" if weight.form == "liquid" else "jar", 250.0)
    return Sold("other", "", None)


def _each(kitchen: Kitchen, item: str, row: dict[str, str]) -> float | None:
    """Grams in one pack: the table's own figure, else what one bunch, head or fruit of it weighs."""
    weight = lookup(item, kitchen.weights)
    if row["each"]:
        size = float(row["each"])
        return (
            size * (weight.g_per_ml if weight is not None and weight.g_per_ml else 1.0)
            if row["unit"] == "ml"
            else size
        )
    if not row["sold"]:
        return None
    if row["sold"] in FRUIT:
        part = next((part for part in ("juice", "zest") if part in words_of(item)), None)
        said = f"{part} of 1 {row['sold']}" if part else f"1 {row['sold']}"
        grams = Amount.parse(said).grams(item)
        return grams.mid if grams is not None else None
    grams = Amount.parse(f"1 {row['sold']}").grams(item, kitchen.weights)
    return grams.mid if grams is not None else None


def _fruit_once(lines: Sequence[Line]) -> list[Line]:
    """Zest and juice come from the same fruit: the line that asks for more of them stands for both."""
    most = {
        fruit: max((line for line in lines if line.sold == fruit and line.packs), key=lambda line: line.packs or 0)
        for fruit in FRUIT
        if sum(1 for line in lines if line.sold == fruit and line.packs) > 1
    }
    return [
        line._replace(buy=f"of the same {_plural(line.sold)}", packs=0, buy_grams=0.0)
        if line.sold in most and line.packs and line is not most[line.sold]
        else line
        for line in lines
    ]


def _fuel(one: Fuel, home: dict[Any, Any]) -> Line:
    stock = home.get(key_of(one.what)) or home.get(key_of(one.what.partition(" wood")[0]))
    have = stock.grams() if isinstance(stock, Amount) else None
    left_kg = max(one.kg.high - (have.mid / 1000 if have is not None else 0.0), 0.0)
    need = f"{digits(one.kg.mid, 2)} kg ({digits(one.kg.low, 2)} to {digits(one.kg.high, 2)})"
    buy = f"{digits(ceil(left_kg * 2 - 1e-9) / 2, 3)} kg" if left_kg > 0 else ""
    return Line(
        "fire",
        one.what,
        need,
        buy,
        str(stock) if stock is not None else "",
        one.kg.mid * 1000,
        left_kg * 1000,
        None,
        "",
        (one.cooker,),
    )


def as_text(lines: Sequence[Line], title: str = "") -> str:
    """The list as text for a phone: a line an item, a box before what is to be bought, by counter."""
    out = [title] if title else []
    for counter in COUNTERS:
        mine = [line for line in lines if line.counter == counter and line.buy]
        if mine:
            out += ["", counter.upper()] if out else [counter.upper()]
            out += [
                f"[ ] {line.item}: {line.buy}" + (f", for {line.need}" if line.buy != line.need else "")
                for line in mine
            ]
    home = [line for line in lines if not line.buy]
    if home:
        out += ["", "AT HOME, LOOK ONCE"]
        out += [
            f"[ ] {line.item}: {line.need}" + (f", there is {line.at_home}" if line.at_home else "") for line in home
        ]
    return "\n".join(out)
