"""How much meat: cooked grams on the plates, and what is left of raw meat after the knife, the bone and the fire.

Shares are fractions of the weight as bought; every interval is an 80 % one. Doubts that have nothing to do with each
other are put together as the root of their squares.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from math import exp, hypot, log
from typing import NamedTuple

from cookbook.errors import UnknownName
from cookbook.meat import Cut
from cookbook.meat.coverage import Learned
from cookbook.plan.eater import Eater
from cookbook.quantity import Interval
from cookbook.quantity.interval import NORMAL_80
from cookbook.table import rows, source

TENDER_TO_SHRED_C = 85.0
"""From this pull on a cut is cooked until it falls apart, and loses as the braised and pulled rows say (practice)."""
_LOW_AND_SLOW = ("low pit", "pulled", "braised")
_YIELD_DOUBT = 0.05
"""How far a roast may lie beside a yield that its source prints without a range, as a share of it (assumption)."""


class Portion(NamedTuple):
    """Cooked meat without bone for one appetite, g, and the key of its source."""

    appetite: str
    grams: Interval
    source: str


class Share(NamedTuple):
    """What is left on the way from the shop to the plate; `edible` is all three together."""

    trimmed: Interval
    cooked: Interval
    boned: Interval
    edible: Interval
    rests_on: tuple[str, ...]


def portion(appetite: str) -> Portion:
    """The portion of an appetite: child, small, usual or big. Raises UnknownName."""
    for row in rows("plan_portions"):
        if row["appetite"] == appetite:
            grams = Interval(float(row["low_g"]), float(row["mid_g"]), float(row["high_g"]))
            return Portion(appetite, grams, row["source"])
    raise UnknownName("appetite", appetite, [row["appetite"] for row in rows("plan_portions")])


def needed(eaters: Iterable[Eater], leftovers: int = 0) -> Interval:
    """Cooked meat without bone for all of them and so many usual portions to keep, g."""
    total = portion("usual").grams.scaled(leftovers)
    for one in eaters:
        total = total.plus(portion(one.appetite).grams)
    return total


def share(cut: Cut, pull_c: float, bones: str | None = None, own_loss: Learned | None = None) -> Share:
    """The edible share of a cut as bought, cooked to `pull_c`; `own_loss` is this kitchen's cook loss in percent."""
    trim = _trim(cut.name)
    trimmed = Interval(1 - trim.high, 1 - trim.mid, 1 - trim.low)
    cooked, ground = _cooked(cut, pull_c, own_loss)
    bone = Interval.exact(0.0) if bones == "off" else cut.bone_share
    boned = Interval(1 - bone.high, 1 - bone.mid, 1 - bone.low)
    grounds = [f"trim {trim.mid:.0%} ({trim.low:.0%} to {trim.high:.0%}, from memory)", ground]
    if bone.mid:
        grounds.append(f"bone {bone.mid:.0%} of the weight, cooked as raw ({source('usda-sr28').title})")
    return Share(trimmed, cooked, boned, _product(trimmed, cooked, boned), tuple(grounds))


def raw_for(cooked_g: Interval, edible: Interval) -> Interval:
    """Raw weight as bought that gives so much on the plates."""
    return _product(cooked_g, Interval(1 / edible.high, 1 / edible.mid, 1 / edible.low))


def _trim(cut: str) -> Interval:
    table = {row["cut"]: row for row in rows("plan_trims")}
    row = table.get(cut, table["any"])
    return Interval(float(row["low"]) / 100, float(row["mid"]) / 100, float(row["high"]) / 100)


def _cooked(cut: Cut, pull_c: float, own: Learned | None) -> tuple[Interval, str]:
    if own is not None and own.spread is not None and own.cooks >= 3:
        left, doubt = 1 - own.mean / 100, NORMAL_80 * own.spread / 100 * (1 + 1 / own.cooks) ** 0.5
        said = f"cooked {left:.0%} of raw: cook loss of {own.cooks} cooks in this kitchen"
        return Interval(max(left - doubt, 0.05), left, min(left + doubt, 1.0)), said
    known = cut.yields
    slow = [one for one in known if one.method in _LOW_AND_SLOW]
    quick = [one for one in known if one.method not in _LOW_AND_SLOW]
    order: Sequence[str] = _LOW_AND_SLOW
    row = (
        min(slow, key=lambda one: order.index(one.method))
        if slow and (pull_c >= TENDER_TO_SHRED_C or not quick)
        else quick[0]
        if quick
        else None
    )
    if row is None:
        return Interval(0.65, 0.75, 0.82), "cooked 75 % of raw: an assumption, no yield of this cut is known"
    low = row.low or row.share * (1 - _YIELD_DOUBT)
    high = row.high or row.share * (1 + _YIELD_DOUBT)
    origin = source(row.source)
    memory = ", from memory" if origin.memory else ""
    return Interval(low, row.share, high), f"cooked {row.share:.1%} of raw ({row.method}: {origin.title}{memory})"


def _product(*factors: Interval) -> Interval:
    mid, below, above = 1.0, 0.0, 0.0
    for one in factors:
        if one.mid <= 0:
            return Interval.exact(0.0)
        mid *= one.mid
        below = hypot(below, log(one.mid / max(one.low, one.mid * 1e-3)))
        above = hypot(above, log(one.high / one.mid))
    return Interval(mid * exp(-below), mid, mid * exp(above))
