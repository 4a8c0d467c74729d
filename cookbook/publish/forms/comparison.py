"""A comparison as one self-contained page: first line, numbers, what changed, the charts with their tables.

Nothing of a private formula stands on it: not what changed in one, not in a version's name.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from contextlib import suppress
from typing import TYPE_CHECKING

from cookbook.compare.headline import headline
from cookbook.errors import CookbookError
from cookbook.publish.rendering import environment
from cookbook.publish.secret import names, words_of

if TYPE_CHECKING:
    from cookbook.compare import Comparison
    from cookbook.kitchen import Kitchen
    from cookbook.picture import Chart, DotPlot
    from cookbook.recipe.difference import Change


_CHANGED = re.compile(r"(\((?:not cooked yet|\d+ \w+(?: \d+)?)), .*\)")
"""What changed, in a version's label: `(14 Nov, more garlic)`."""


def for_readers(kitchen: Kitchen, found: Comparison) -> Comparison:
    """The comparison without a word of the private formulas that these cooks used."""
    hidden = _hidden(kitchen, found)
    if not hidden:
        return found

    def bare(label: str) -> str:
        return _CHANGED.sub(r"\1)", label)

    def told(changes: Sequence[Change]) -> tuple[Change, ...]:
        return tuple(one for one in changes if not names(one.sentence(), hidden))

    return found._replace(
        groups=tuple(group._replace(label=bare(group.label)) for group in found.groups),
        changes=tuple(map(told, found.changes)),
        differences=tuple(one._replace(a=bare(one.a), b=bare(one.b)) for one in found.differences),
    )


def _hidden(kitchen: Kitchen, found: Comparison) -> set[str]:
    """All that the private formulas of these cooks ever said."""
    from cookbook.kitchen.history import versions

    cooked = [cook.entry for group in found.groups for cook in group.cooked]
    hidden: set[str] = set()
    for name in {name for entry in cooked for name in (entry.recipe, *entry.versions) if name}:
        with suppress(CookbookError):
            known = [one.recipe for one in versions(kitchen, name) if one.recipe is not None]
            if any(one.private for one in known):
                hidden.update(*(words_of(one) for one in known))
    return hidden


def comparison_page(
    found: Comparison, title: str, pictures: Sequence[Chart | DotPlot] = (), lessons: Sequence[str] = ()
) -> str:
    """The comparison as an HTML document for screen and paper; it asks nothing of anybody. `lessons` are sentences on
    what the cooks have taught."""
    from markupsafe import Markup

    from cookbook.picture import figure

    pairs = list(dict.fromkeys((one.a, one.b) for one in found.differences))
    return (
        environment()
        .get_template("comparison.html.j2")
        .render(
            title=title,
            first_line=headline(found),
            found=found,
            lessons=lessons,
            pairs=[(b, a, [one.cells() for one in found.differences if (one.a, one.b) == (a, b)]) for a, b in pairs],
            changed=[
                (group.label, [change.sentence() for change in changes])
                for group, changes in zip(found.groups[1:], found.changes, strict=False)
                if changes
            ],
            # `figure` escapes every word that it sets.
            figures=[Markup(figure(picture, f"picture-{place}")) for place, picture in enumerate(pictures)],
        )
    )
