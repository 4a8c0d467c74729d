"""A comparison as one self-contained page: first line, numbers, what changed, the charts with their tables."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from cookbook.compare.difference import signed
from cookbook.compare.headline import headline
from cookbook.publish.rendering import environment

if TYPE_CHECKING:
    from cookbook.compare import Comparison, Difference
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
            pairs=[(b, a, [_cells(one) for one in found.differences if (one.a, one.b) == (a, b)]) for a, b in pairs],
            changed=[
                (group.label, [change.sentence() for change in changes])
                for group, changes in zip(found.groups[1:], found.changes, strict=False)
                if changes
            ],
            # `figure` escapes every word that it sets.
            figures=[Markup(figure(picture, f"picture-{place}")) for place, picture in enumerate(pictures)],
        )
    )


def _cells(one: Difference) -> tuple[str, ...]:
    return (
        one.outcome,
        f"{signed(one.estimate)} {one.unit}",
        f"{signed(one.low)} to {signed(one.high)}",
        f"{signed(one.low_95)} to {signed(one.high_95)}",
        "" if one.probability_better is None else f"{one.probability_better:.0%}",
        one.verdict + (f" ({one.why})" if one.why else ""),
    )
