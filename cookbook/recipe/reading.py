"""From a document to a recipe, with every fault it holds."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from cookbook.errors import ERROR, PieceError, Problem, RequestError
from cookbook.files.record import Fields, fault_at, top
from cookbook.files.record import read as read_fields
from cookbook.meat import Cut
from cookbook.quantity.unit import SYSTEMS
from cookbook.recipe.field import KINDS, TERMS, clean, recipe_record
from cookbook.recipe.model import DEFAULT_FOLLOWS, Coat, Ingredient, Link, MadeFor, Pit, Recipe, Rest

if TYPE_CHECKING:
    from cookbook.files import Document, Node


def read(
    document: Document, name: str, measures: str = "us", cuts: Sequence[Cut] = ()
) -> tuple[Recipe | None, list[Problem]]:
    """The recipe in `document` and all its problems; no recipe where one of them is an error.

    `measures` is the kitchen's word for cups and spoons, used where the file has none of its own; `cuts` are the
    kitchen's own cuts.
    """
    problems = list(document.problems)
    root = top(document, "a recipe is a list of `key: value` lines, beginning with `kind:`", problems)
    if root is None:
        return None, problems
    kind = _word(root, "kind", KINDS)
    if kind is None:
        problems.append(_no_kind(document, root))
        return None, problems
    written = _word(root, "measures", SYSTEMS)
    system = written or measures
    fields = read_fields(document, root, recipe_record(kind, system), problems)
    problems += _cut_faults(document, fields, tuple(cuts))
    if any(problem.severity == ERROR for problem in problems):
        return None, problems
    recipe = _recipe(document, name, fields, system, written is not None, tuple(cuts))
    problems += _faults(recipe)
    return (None if any(problem.severity == ERROR for problem in problems) else recipe), problems


def _word(root: Node, key: str, words: tuple[str, ...]) -> str | None:
    node = root.get(key)
    return node.text.strip() if node is not None and node.kind == "scalar" and node.text.strip() in words else None


def _no_kind(document: Document, root: Node) -> Problem:
    node = root.get("kind")
    kinds = ", ".join(KINDS)
    if node is None:
        return Problem(
            ERROR,
            "missing-field",
            f"a recipe needs `kind:`, one of {kinds}",
            document.place(root)._replace(width=1),
            "add a first line such as `kind: paste`",
        )
    found = f"'{node.text}'" if node.kind == "scalar" else f"a {node.kind}"
    from difflib import get_close_matches

    near = get_close_matches(node.text, KINDS, 1, 0.5)
    return Problem(
        ERROR,
        "unknown-word",
        f"`kind` is {found}; it can be {kinds}",
        document.place(node),
        f"did you mean '{near[0]}'?" if near else "write one of them, for example `kind: paste`",
    )


def _recipe(
    document: Document, name: str, fields: Fields, measures: str, written: bool, cuts: tuple[Cut, ...]
) -> Recipe:
    kind = fields["kind"]
    pit, rest, made_for = fields.get("pit"), fields.get("rest"), fields.get("made_for")
    notes = fields.get("notes") or ()
    return Recipe(
        name=name,
        kind=kind,
        title=fields["title"],
        measures=measures,
        measures_written=written,
        revision=fields.get("revision"),
        ingredients=tuple(_ingredient(line, kind) for line in fields.get("ingredients") or ()),
        made_for=MadeFor(made_for["cut"], dict(made_for), made_for.nodes, cuts) if made_for else None,
        cut=fields.get("cut"),
        serves=fields.get("serves"),
        coats=tuple(Coat(**dict(coat)) for coat in fields.get("coats") or ()),
        pit=Pit(**dict(pit)) if pit else None,
        pull_at=fields.get("pull_at"),
        rest=Rest(**dict(rest)) if rest else None,
        steps=tuple(fields.get("steps") or ()),
        after=fields.get("after"),
        notes=(notes,) if isinstance(notes, str) else tuple(notes),
        links=links_of(fields.get("links")),
        formerly=tuple(fields.get("formerly") or ()),
        private=fields.get("formula") == "private",
        stand_in=fields.get("stand_in"),
        story=fields.get("story"),
        keeping=fields.get("keeping"),
        photos=tuple(fields.get("photos") or ()),
        document=document,
        fields=fields,
    )


def links_of(written: Sequence[Fields] | None) -> tuple[Link, ...]:
    """Links as a recipe or the kitchen's settings write them."""
    return tuple(
        Link(one["what"], one["address"], one.get("kind"), tuple(term for term in TERMS if one.get(term) == "yes"))
        for one in written or ()
    )


def _ingredient(line: Fields, kind: str) -> Ingredient:
    follows = line.get("follows")
    amount = line["amount"]
    default = "weight" if amount.kind == "percent" else DEFAULT_FOLLOWS[kind]
    return Ingredient(
        item=clean(line.get("item") or line.get("recipe") or ""),
        amount=amount,
        follows=follows or default,
        recipe=line.get("recipe"),
        prep=line.get("prep"),
        alternatives=tuple(line.get("or") or ()),
        until=line.get("until"),
        hold_back=line.get("hold_back"),
        follows_written=follows is not None,
        nodes=line.nodes,
    )


def _faults(recipe: Recipe) -> list[Problem]:
    """What is wrong though every value reads: choices that exclude each other, pieces that cannot be."""
    problems: list[Problem] = []
    seen: dict[str, Ingredient] = {}
    for line, fields in zip(recipe.ingredients, recipe.fields.get("ingredients") or (), strict=True):
        problems += _one_of(recipe, fields, "ingredient")
        problems += _held_back(recipe, line)
        key = line.item.casefold()
        if key in seen:
            first = recipe.document.place(seen[key].nodes.get("item") or fields.node)
            problems.append(
                Problem(
                    ERROR,
                    "duplicate-item",
                    f"'{line.item}' stands twice, first in line {first.line}",
                    recipe.document.place(line.nodes.get("item") or fields.node),
                    f"make one line of the two, or tell them apart: `{line.item}, for the pan`",
                )
            )
        seen.setdefault(key, line)
    for fields in recipe.fields.get("coats") or ():
        problems += _one_of(recipe, fields, "coat")
    return problems


def _one_of(recipe: Recipe, fields: Fields, what: str) -> list[Problem]:
    has = [key for key in ("item", "recipe") if key in fields]
    if len(has) == 1:
        return []
    message = (
        f"this {what} has both `item:` and `recipe:`" if has else f"this {what} says neither `item:` nor `recipe:`"
    )
    place = recipe.document.place(fields.node)._replace(width=1)
    return [Problem(ERROR, "one-of", message, place, "keep one: `item:` for a thing, `recipe:` for another recipe")]


def _held_back(recipe: Recipe, line: Ingredient) -> list[Problem]:
    part, whole = line.hold_back, line.amount
    if part is None:
        return []
    place = recipe.document.place(line.nodes["hold_back"])
    if part.kind != whole.kind or (part.kind == "count" and part.unit != whole.unit) or part.high is None:
        return [
            Problem(
                ERROR,
                "hold-back",
                f"'{part}' cannot be a part of '{whole}'",
                place,
                "write the part in the same measure as the amount",
            )
        ]
    if _size(part) > _size(whole):
        return [
            Problem(
                ERROR,
                "hold-back",
                f"the part held back, '{part}', is more than the whole, '{whole}'",
                place,
                "the amount counts everything; `hold_back` is the part of it kept for tasting",
            )
        ]
    return []


def _size(amount: Any) -> float:
    if amount.kind == "volume":
        return float(amount.ml().high)
    if amount.kind == "mass":
        return float(amount.grams("").high)
    return float(amount.high)


def _cut_faults(document: Document, fields: Fields, cuts: tuple[Cut, ...]) -> list[Problem]:
    """What is wrong with the cut and the piece made for, as far as their own values could be read."""
    problems: list[Problem] = []
    if fields.get("cut") is not None:
        try:
            Cut.named(fields["cut"], cuts)
        except RequestError as fault:
            problems.append(fault_at(document, fields.nodes["cut"], fault))
    made_for = fields.get("made_for")
    if made_for is not None and made_for.get("cut") is not None:
        problems += _piece_faults(document, MadeFor(made_for["cut"], dict(made_for), made_for.nodes, cuts))
    return problems


def _piece_faults(document: Document, made_for: MadeFor) -> list[Problem]:
    """What cannot be in the piece as the file describes it, each at the measurement that is to blame."""
    nodes, known = made_for.nodes, dict(made_for.known)
    problems: list[Problem] = []
    while True:
        try:
            made_for._replace(known=known).piece()
        except PieceError as fault:
            node = nodes.get(fault.measurement)
            if node is None:
                return problems or [fault_at(document, nodes.get("weight") or nodes["cut"], fault)]
            problems.append(fault_at(document, node, fault))
            if known.pop(fault.measurement, None) is None:
                return problems
        except RequestError as fault:
            about_faces = fault.code == "unknown-name" and "face" in fault.message and "faces" in nodes
            return [*problems, fault_at(document, nodes["faces" if about_faces else "cut"], fault)]
        else:
            return problems
