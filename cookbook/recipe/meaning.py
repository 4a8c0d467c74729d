"""What a recipe means under rule 1, and the digest that names it. The rule never changes; see the frozen vectors.

The meaning is a tree of text: an amount is [low, high, unit, words] with exact fractions, volumes in ml, weights in
g, temperatures in °C, times in s, lengths in cm, counts with their own word. Defaults are not filled in, except the
kitchen's word for cups and spoons where the recipe uses them and has none of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from cookbook.errors import ERROR, FileError, Problem
from cookbook.quantity import Amount, Duration, Length, Temperature
from cookbook.recipe.field import clean
from cookbook.recipe.model import Coat, Ingredient, Recipe

RULE = 1

Tree = Any


def digest(recipe: Recipe, used: Callable[[str], Recipe]) -> str:
    """SHA-256 (64 hexadecimal digits) over the RFC 8785 form of the meaning under rule 1.

    `used` finds the recipes inside it. Raises FileError where one is missing or the recipe uses itself.
    """
    return _digest(recipe, used, (recipe.name,))


def version(digest_: str) -> str:
    """The short name of a version: the rule and the first 12 digits."""
    return f"{RULE}-{digest_[:12]}"


def stored_version(digest_: str, data: bytes) -> str:
    """The name under which an exact text is kept: version, and the first 8 digits of the bytes' SHA-256."""
    import hashlib

    return f"{version(digest_)}.{hashlib.sha256(data).hexdigest()[:8]}"


def _digest(recipe: Recipe, used: Callable[[str], Recipe], path: tuple[str, ...]) -> str:
    import hashlib

    import rfc8785

    inner: dict[str, str] = {}
    for name in recipe.uses:
        if name in path:
            raise FileError([loop(recipe, name, (*path, name))])
        inner[name] = _digest(used(name), used, (*path, name))
    return hashlib.sha256(rfc8785.dumps(meaning(recipe, inner))).hexdigest()


def loop(recipe: Recipe, name: str, path: tuple[str, ...]) -> Problem:
    """The problem of a recipe that uses itself by `path`, at the line that names the next one."""
    node = use_node(recipe, name)
    place = recipe.document.place(node) if node is not None else None
    return Problem(
        ERROR,
        "recipe-loop",
        f"the recipe uses itself: {' → '.join(path[path.index(name) :])}",
        place,
        "take one of them out of the other",
    )


def use_node(recipe: Recipe, name: str) -> Any:
    """The node in which `recipe` names the recipe `name` that it uses, or None."""
    for key in ("coats", "ingredients"):
        for fields in recipe.fields.get(key) or ():
            if fields.get("recipe") == name:
                return fields.nodes["recipe"]
    return None


def meaning(recipe: Recipe, inner: Mapping[str, str]) -> Tree:
    """The tree of text that is digested; `inner` gives the full digest of every recipe used."""
    tree: dict[str, Tree] = {
        "kind": recipe.kind,
        "measures": recipe.measures if recipe.measures_written or _needs_measures(recipe) else None,
        "cut": recipe.cut and clean(recipe.cut),
        "serves": recipe.serves and str(recipe.serves),
        "ingredients": [_ingredient(line, inner) for line in recipe.ingredients],
        "coats": [_coat(coat, inner) for coat in recipe.coats],
        "pull_at": recipe.pull_at and recipe.pull_at.canonical(),
        "steps": [clean(step) for step in recipe.steps],
    }
    if recipe.made_for is not None:
        nodes = recipe.made_for.nodes
        tree["made_for"] = {key: _known(key, node.text) for key, node in nodes.items()}
    if recipe.pit is not None:
        tree["pit"] = {key: _plain(value) for key, value in recipe.pit._asdict().items() if value is not None}
    if recipe.rest is not None:
        tree["rest"] = {key: _plain(value) for key, value in recipe.rest._asdict().items() if value is not None}
    return {key: value for key, value in tree.items() if value}


def _needs_measures(recipe: Recipe) -> bool:
    amounts = [line.amount for line in recipe.ingredients]
    amounts += [line.hold_back for line in recipe.ingredients if line.hold_back]
    amounts += [coat.amount for coat in recipe.coats if coat.amount]
    return any(amount.depends_on_measures for amount in amounts)


def _ingredient(line: Ingredient, inner: Mapping[str, str]) -> Tree:
    tree: dict[str, Tree] = {
        "item": None if line.recipe else line.item,
        "recipe": line.recipe and inner[line.recipe],
        "amount": line.amount.canonical(),
        "prep": line.prep and clean(line.prep),
        "or": [clean(words) for words in line.alternatives],
        "until": line.until and clean(line.until),
        "hold_back": line.hold_back and line.hold_back.canonical(),
        "follows": line.follows if line.follows_written else None,
    }
    return {key: value for key, value in tree.items() if value}


def _coat(coat: Coat, inner: Mapping[str, str]) -> Tree:
    tree = {
        "recipe": coat.recipe and inner[coat.recipe],
        "item": coat.item and clean(coat.item),
        "amount": coat.amount and coat.amount.canonical(),
        "faces": coat.faces and clean(coat.faces),
    }
    return {key: value for key, value in tree.items() if value}


def _plain(value: Temperature | Duration | str) -> Tree:
    return clean(value) if isinstance(value, str) else value.canonical()


def _known(key: str, written: str) -> Tree:
    if key == "weight":
        return Amount.parse(written).canonical()
    if key in ("length", "girth", "width", "thickness", "frenched"):
        return Length.parse(written).canonical()
    if key == "girth_ends":
        return [Length.parse(one.strip()).canonical() for one in written.split(",")]
    if key == "scan":
        return clean(written).rpartition(": ")[2]
    return clean(written)
