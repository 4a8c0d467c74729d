"""A recipe's first revision, from an entry that had none: items in the order they went in."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from cookbook.errors import RequestError
from cookbook.files import parse
from cookbook.journal import Entry
from cookbook.journal.made import made
from cookbook.kitchen.adopting.adopted import MEASURED, Adopted, Adoption, Keep, sizes
from cookbook.kitchen.adopting.first_fire import fire_lines
from cookbook.kitchen.kitchen import Kitchen
from cookbook.quantity import Amount
from cookbook.recipe import Ingredient
from cookbook.recipe import read as read_recipe
from cookbook.recipe.scaling import salt_share

_NOBODY_KNOWS = "as needed"
"""The amount of what went in and nobody weighed, where no bowl tells it either."""


def first(kitchen: Kitchen, entry: Entry, name: str, lines: Any, keep: Keep) -> Adoption:
    """The first revision from an entry without a recipe: items in the order they went in; of a cook also the fire."""
    items, notes = made(lines, {}, kitchen.weights)
    known = [
        Adopted(
            item.item,
            amount,
            amount,
            1.0,
            None,
            guess=item.guess or item.amount is None,
            exact=str(amount),
            salt=salt_share(Ingredient(item.item, amount, "weight"), kitchen.weights) > 0.5,
        )
        for item in items
        if not item.left_out
        for amount in (item.amount or Amount.parse(_NOBODY_KNOWS),)
    ]
    chosen = tuple(line for line in known if keep(name, line))
    if all(str(line.today) == _NOBODY_KNOWS for line in chosen) and entry.kind != "cook":
        raise RequestError(
            f"{entry.name} has no amounts to make a recipe of", mend="log what went in with `cookbook log used`"
        )
    piece = entry.pieces[0]
    data = _text(kitchen, entry, piece.fields.nodes, chosen).encode()
    again, problems = read_recipe(parse(data, f"recipes/{name}.yaml"), name, kitchen.settings["measures"])
    if again is None:
        raise RequestError(
            f"the recipe would not read: {problems[0].message}; nothing was written", mend=problems[0].mend
        )
    size = piece.piece(None)
    said = sizes([size]) if size is not None else ""
    return Adoption(name, None, 1, chosen, said, said, data, tuple(notes))


def _text(kitchen: Kitchen, entry: Entry, piece: Mapping[str, Any], lines: tuple[Adopted, ...]) -> str:
    from cookbook.files import quote

    out = [f"kind: {entry.kind or 'paste'}", f"title: {quote(entry.shown_title())}", "revision: 1"]
    if entry.kind == "cook" and "cut" in piece:
        out.append(f"cut: {quote(piece['cut'].text)}")
    out.append("made_for:")
    out += [f"  {key}: {quote(piece[key].text)}" for key in ("cut", *MEASURED, "faces") if key in piece]
    out += fire_lines(kitchen, entry) if entry.kind == "cook" else []
    out += ["ingredients:"] if lines else []
    for line in lines:
        out.append(f"  - item: {quote(line.item)}")
        beside = "a guess: nobody weighed it" if line.guess else spoons(kitchen, line)
        out.append(f"    amount: {quote(str(line.in_recipe))}" + (f"   # {beside}" if beside else ""))
        if line.salt:
            out.append("    follows: weight")
    return "\n".join(out) + "\n"


def spoons(kitchen: Kitchen, line: Adopted) -> str:
    """The spoons that an amount in grams fills, `` where its weight by volume is not known."""
    if line.in_recipe is None or line.in_recipe.kind != "mass":
        return ""
    shown = line.in_recipe.measured("us", line.item, kitchen.weights, kitchen.drawer)
    return shown.scoops if shown is not None else ""
