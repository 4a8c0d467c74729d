"""A comparison as one self-contained page: first line, numbers, what changed, the charts with their tables."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from cookbook.compare.headline import headline
from cookbook.publish.rendering import environment

if TYPE_CHECKING:
    from cookbook.compare import Comparison
    from cookbook.picture import Chart, DotPlot


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
