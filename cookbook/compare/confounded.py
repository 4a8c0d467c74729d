"""What changed along with what is compared, and so can't be told apart from it."""

from __future__ import annotations

from collections.abc import Sequence

from cookbook.compare.condition import CHANCE_COMPANIONS, condition
from cookbook.journal import Entry
from cookbook.kitchen import Kitchen
from cookbook.recipe.difference import Change

_FOLLOWS = ("step", "measures", "order")
"""Fields of a change that tell of another one, or have no effect by themselves."""
MOST = 6
"""Changes made at once that are named one by one."""


def companions(
    kitchen: Kitchen, one: Sequence[Entry], two: Sequence[Entry], besides: str | None = None
) -> tuple[str, ...]:
    """Conditions that were never the same on the two sides: `cooker (drum, then offset)`."""
    found = []
    for field in CHANCE_COMPANIONS:
        if field == besides:
            continue
        before, after = ({condition(kitchen, entry, field) for entry in side} for side in (one, two))
        if before and after and None not in before | after and not before & after:
            was, now = (", ".join(sorted(map(str, side))) for side in (before, after))
            found.append(f"{field} ({was}, then {now})")
    return tuple(found)


def sentence(changes: Sequence[Change], along: Sequence[str]) -> str | None:
    """`garlic, lemon zest and pull at changed at once: …`, or None where at most one thing changed."""
    names = list(dict.fromkeys(_name(change) for change in changes if change.field not in _FOLLOWS))
    said = {part for change in changes for part in (change.item, change.field)}
    everything = names + [f"the {word}" for one in along if (word := one.partition(" (")[0]) not in said]
    if len(everything) < 2:
        return None
    if len(everything) > MOST:
        everything = [*everything[: MOST - 1], f"{len(everything) - MOST + 1} more things"]
    listed = ", ".join(everything[:-1]) + f" and {everything[-1]}"
    return f"{listed} changed at once: what came of which can't be told apart"


def _name(change: Change) -> str:
    part = change.field if change.field != change.item else ""
    return change.item if part in ("amount", "ingredient", "coat", "") else f"{change.item} {part}"
