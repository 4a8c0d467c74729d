"""A comparison as a notebook shows it."""

from __future__ import annotations

from contextlib import suppress

from cookbook.compare.charts import score_chart
from cookbook.compare.groups import Comparison
from cookbook.compare.headline import headline
from cookbook.errors import RequestError
from cookbook.picture import Table
from cookbook.picture.notebook import Part, shown


def comparison_shown(found: Comparison) -> str:
    """Its first line, every group, what changed, the differences, and the scores drawn, as HTML."""
    parts: list[Part] = []
    for group, changes in zip(found.groups, ((), *found.changes), strict=False):
        parts.append([change.sentence() for change in changes])
        parts.append(Table(
            (group.label, f"{group.cooks} cook{'' if group.cooks == 1 else 's'}", ""),
            tuple(one.cells() for one in group.outcomes),
        ))
    for a, b in dict.fromkeys((one.a, one.b) for one in found.differences):
        own = [one.cells() for one in found.differences if (one.a, one.b) == (a, b)]
        parts.append(f"{b}, against {a}")
        head = ("", "difference", "80 % interval", "95 % interval", "better with", "verdict")
        parts.append(Table(head, tuple(own)))
    with suppress(RequestError):
        parts.append(score_chart(found))
    return shown(headline(found), *parts, found.confounded, found.notes)
