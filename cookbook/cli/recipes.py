"""`show`, `versions` and `diff`."""

from __future__ import annotations

import argparse
from typing import Any

from cookbook.cli.running import Answer, Parser, Verb, bold, table
from cookbook.kitchen import Kitchen
from cookbook.recipe import Recipe


def _recipe_option(parser: Parser) -> None:
    parser.add_argument("recipe", metavar="RECIPE", help="a recipe's name; RECIPE@3 is its revision 3")


def recipe_data(recipe: Recipe) -> dict[str, Any]:
    """A whole recipe as `show --json` gives it."""
    return {
        "name": recipe.name,
        "kind": recipe.kind,
        "title": recipe.title,
        "measures": recipe.measures,
        "made_for": {key: node.text for key, node in recipe.made_for.nodes.items()} if recipe.made_for else None,
        "cut": recipe.cut,
        "serves": recipe.serves,
        "ingredients": [
            {
                "item": line.item,
                "amount": str(line.amount),
                "prep": line.prep,
                "or": list(line.alternatives),
                "until": line.until,
                "hold_back": str(line.hold_back) if line.hold_back else None,
                "follows": line.follows,
                "recipe": line.recipe,
            }
            for line in recipe.ingredients
        ],
        "coats": [
            {
                "recipe": coat.recipe,
                "item": coat.item,
                "amount": str(coat.amount) if coat.amount else None,
                "faces": coat.faces,
            }
            for coat in recipe.coats
        ],
        "pit": _words(recipe.pit),
        "pull_at": str(recipe.pull_at) if recipe.pull_at else None,
        "rest": _words(recipe.rest),
        "steps": list(recipe.steps),
        "after": recipe.after,
        "notes": list(recipe.notes),
        "links": [{"what": what, "address": address} for what, address, *_ in recipe.links],
    }


def _words(record: Any) -> dict[str, str] | None:
    return {key: str(value) for key, value in record._asdict().items() if value is not None} if record else None


def _show(arguments: argparse.Namespace) -> Answer:
    from cookbook.kitchen.reminders import for_recipe

    kitchen = Kitchen.open(arguments.kitchen)
    recipe = kitchen.recipe(arguments.recipe)
    version = None if "@" in arguments.recipe else kitchen.short_version(recipe)
    lines = for_recipe(kitchen, recipe)
    data = {
        "recipe": recipe_data(recipe),
        "version": version,
        "revision": recipe.revision,
        "next_time": [one.json() for one in lines],
    }
    said = "".join(f"\n  next time: {one.line}" for one in lines)
    return Answer(data, recipe_text(recipe) + ("\n" + said if said else ""))


def recipe_text(recipe: Recipe) -> str:
    """A recipe as a reader would want it."""
    lines = [bold(recipe.title), f"{recipe.kind}, {recipe.label()}, {recipe.measures_words}"]
    if recipe.made_for is not None:
        lines.append(
            "made for "
            + ", ".join(
                node.text if key in ("cut", "weight") else f"{key} {node.text}"
                for key, node in recipe.made_for.nodes.items()
            )
        )
    if recipe.cut:
        lines.append(f"for {recipe.cut}" + (f", serves {recipe.serves}" if recipe.serves else ""))
    for record, name in ((recipe.pit, "pit"), (recipe.rest, "rest")):
        words = _words(record)
        if words:
            lines.append(f"{name}: " + ", ".join(f"{key.replace('_', ' ')} {value}" for key, value in words.items()))
    if recipe.pull_at is not None:
        lines.append(f"pull at {recipe.pull_at.both()}")
    if recipe.ingredients:
        rows = [[line.amount.typographic(), line.words + _asides(line)] for line in recipe.ingredients]
        lines += ["", table(rows, right=(0,))]
    for coat in recipe.coats:
        lines.append(f"coat: {coat.recipe or coat.item}" + (f", {coat.faces}" if coat.faces else ""))
    if recipe.steps:
        lines += ["", *(f"  {number}. {step}" for number, step in enumerate(recipe.steps, 1))]
    if recipe.notes:
        lines += ["", *recipe.notes]
    return "\n".join(lines)


def _asides(line: Any) -> str:
    said = [f"or {' or '.join(line.alternatives)}"] if line.alternatives else []
    said += [f"until {line.until}"] if line.until else []
    said += [f"hold back {line.hold_back} to add by taste"] if line.hold_back else []
    return f" ({'; '.join(said)})" if said else ""


def _versions(arguments: argparse.Namespace) -> Answer:
    from cookbook.kitchen.descent import names_of
    from cookbook.kitchen.history import labels_of, versions

    kitchen = Kitchen.open(arguments.kitchen)
    found = versions(kitchen, arguments.recipe)
    names = names_of(kitchen, arguments.recipe)
    after = found[-1].recipe.after if found[-1].recipe is not None else None
    labels = labels_of(found)
    data = {
        "names": list(names),
        "after": after,
        "versions": [
            {
                "version": one.name,
                "revision": one.revision,
                "label": labels[one.name],
                "current": one.current,
                "first_used": one.first_used.isoformat() if one.first_used else None,
                "cooks": one.cooks,
                "texts": list(one.texts),
                "changes": [change.json() for change in one.changes],
            }
            for one in found
        ]
    }
    lines = [f"grew out of {after}"] if after else []
    lines += [f"once called {', '.join(names[1:])}"] if names[1:] else []
    for one in found:
        label = labels[one.name]
        shown = label if one.name in label or not arguments.why else f"{label}, {one.name}"
        cooks = f"{one.cooks} cook{'' if one.cooks == 1 else 's'}"
        lines.append(f"{bold(shown)}: {cooks}" + (", as it stands now" if one.current else ""))
        lines += [f"    {change.sentence()}" for change in one.changes]
    return Answer(data, "\n".join(lines))


def _diff_options(parser: Parser) -> None:
    parser.add_argument("recipe", metavar="A", help="a recipe")
    parser.add_argument("b", metavar="B", help="a version or revision of A, or another recipe")
    parser.add_argument("c", metavar="C", nargs="?", help="another version of A; left out, A as it stands now")


def _diff(arguments: argparse.Namespace) -> Answer:
    from cookbook.kitchen.history import version_or_recipe
    from cookbook.recipe.difference import differences

    kitchen = Kitchen.open(arguments.kitchen)
    before, after = version_or_recipe(kitchen, arguments.recipe, arguments.b, arguments.c)
    changes = differences(before, after)
    lines = [change.sentence() for change in changes] or ["nothing that would taste different"]
    return Answer({"changes": [change.json() for change in changes]}, "\n".join(lines))


VERBS = {
    "show": Verb(_recipe_option, _show),
    "versions": Verb(_recipe_option, _versions),
    "diff": Verb(_diff_options, _diff),
}
