"""`show`, `versions` and `diff`."""

from __future__ import annotations

import argparse
from typing import Any

from cookbook.cli.running import Answer, Parser, Verb, bold, table
from cookbook.kitchen import Kitchen
from cookbook.recipe import Recipe
from cookbook.recipe.shown import coat_lines, facts, ingredient_rows, words_of


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
        "pit": words_of(recipe.pit) or None,
        "pull_at": str(recipe.pull_at) if recipe.pull_at else None,
        "rest": words_of(recipe.rest) or None,
        "steps": list(recipe.steps),
        "after": recipe.after,
        "notes": list(recipe.notes),
        "links": [{"what": what, "address": address} for what, address, *_ in recipe.links],
    }


def _show(arguments: argparse.Namespace) -> Answer:
    from cookbook.kitchen.log.reminders import for_recipe

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
    lines = [bold(recipe.title), *facts(recipe)]
    if recipe.ingredients:
        lines += ["", table(ingredient_rows(recipe), right=(0,))]
    lines += coat_lines(recipe)
    if recipe.steps:
        lines += ["", *(f"  {number}. {step}" for number, step in enumerate(recipe.steps, 1))]
    if recipe.notes:
        lines += ["", *recipe.notes]
    return "\n".join(lines)


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
