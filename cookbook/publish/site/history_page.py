"""A recipe's versions as a page: what changed in its meaning, never its raw text; of a private formula only when."""

from __future__ import annotations

from typing import TYPE_CHECKING

from cookbook.publish import wording
from cookbook.publish.content.around import place_in_site
from cookbook.publish.rendering import rendered

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.recipe import Recipe
    from cookbook.recipe.difference import Change


def history_page(kitchen: Kitchen, recipe: Recipe) -> str:
    """The versions, newest first."""
    from cookbook.publish.content.tested import NO_YEAR, told_versions

    listed = []
    for one in reversed(told_versions(kitchen, recipe)):
        label = wording.capital(one._replace(changes=()).label(NO_YEAR))
        cooked = {0: "", 1: "cooked once", 2: "cooked twice"}.get(one.cooks, f"cooked {one.cooks} times")
        listed.append(
            {
                "label": label,
                "cooked": cooked,
                "changes": [_sentence(change) for change in one.changes],
            }
        )
    return rendered(
        "versions.html.j2",
        kitchen.root,
        title=wording.spoken(recipe.title),
        address=place_in_site("recipes", recipe.name),
        private=recipe.private,
        versions=listed,
    )


def _sentence(change: Change) -> str:
    """What changed, in both scales; of a coat that is the same recipe, only that it changed."""
    if change.field == "coat" and change.before is not None and change.after is not None:
        return f"{change.item}: in a newer version"
    return wording.both_scales(wording.capital(wording.spoken(change.sentence())))
