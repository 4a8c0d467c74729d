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
    changed = [
        f"{group.label}: {'; '.join(change.sentence() for change in changes)}"
        for group, changes in zip(found.groups[1:], found.changes, strict=False)
        if changes
    ]
    parts: list[Part] = [_outcomes(found), changed]
    for a, b in dict.fromkeys((one.a, one.b) for one in found.differences):
        own = [one.cells() for one in found.differences if (one.a, one.b) == (a, b)]
        parts.append(f"{b}, against {a}")
        head = ("", "difference", "80 % interval", "95 % interval", "better with", "verdict")
        parts.append(Table(head, tuple(own)))
    with suppress(RequestError):
        parts.append(score_chart(found))
    return shown(headline(found), *parts, found.confounded, found.notes)


def _outcomes(found: Comparison) -> Table:
    """Every outcome in a line, every group in a column."""
    said = [{one.name: " ".join(one.cells()[1:]).strip() for one in group.outcomes} for group in found.groups]
    names = dict.fromkeys(name for own in said for name in own)
    heads = (f"{group.label}: {group.cooks} cook{'' if group.cooks == 1 else 's'}" for group in found.groups)
    return Table(("", *heads), tuple((name, *(own.get(name, "") for own in said)) for name in names))
