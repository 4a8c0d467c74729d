"""How a cook would measure an amount: level spoons and cups that a drawer holds, a balance, or by counting."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING, Any, NamedTuple

from cookbook.quantity.interval import Interval
from cookbook.quantity.number import BY_VALUE
from cookbook.quantity.unit import COUNT, CUP_ML, FREE, MASS, PERCENT, VOLUME

if TYPE_CHECKING:
    from cookbook.quantity.amount import Amount

MOST_SCOOPS, MOST_KINDS = 8, 3
TOLERANCE, SALT_TOLERANCE = Fraction(1, 20), Fraction(1, 50)


class Scoop(NamedTuple):
    """One measure of a drawer: how it is written for so many of it, and its volume in ml."""

    unit: str
    part: Fraction
    ml: Fraction


class Measured(NamedTuple):
    """An amount as it is measured: `text` as the recipe counts it, `scoops` in spoons ('' where none fit), grams, and the
    error of the scoops as a share."""

    text: str
    scoops: str
    grams: Interval | None
    error: float


def _drawer(cup: Fraction, tbsp: Fraction, tsp: Fraction, cups: tuple[Fraction, ...]) -> tuple[Scoop, ...]:
    found = [Scoop("cup", part, size) for part, size in zip(
        (Fraction(1), Fraction(1, 2), Fraction(1, 3), Fraction(1, 4)), (cup, *cups), strict=True)]
    found += [Scoop("tbsp", Fraction(1), tbsp)]
    found += [Scoop("tsp", part, tsp * part) for part in (Fraction(1), Fraction(1, 2), Fraction(1, 4))]
    return tuple(found)


DRAWERS = {
    "us": _drawer(CUP_ML, CUP_ML / 16, CUP_ML / 48, (CUP_ML / 2, CUP_ML / 3, CUP_ML / 4)),
    "us-label": _drawer(Fraction(240), Fraction(15), Fraction(5), (Fraction(120), Fraction(80), Fraction(60))),
    "metric": _drawer(Fraction(250), Fraction(15), Fraction(5), (Fraction(125), Fraction(80), Fraction(60))),
    "au": _drawer(Fraction(250), Fraction(20), Fraction(5), (Fraction(125), Fraction(80), Fraction(60))),
    "uk": (Scoop("tbsp", Fraction(1), Fraction(15)), Scoop("tsp", Fraction(1), Fraction(5)),
           Scoop("tsp", Fraction(1, 2), Fraction(5, 2)), Scoop("tsp", Fraction(1, 4), Fraction(5, 4))),
    "jp": (Scoop("cup", Fraction(1), Fraction(200)), Scoop("tbsp", Fraction(1), Fraction(15)),
           Scoop("tsp", Fraction(1), Fraction(5)), Scoop("tsp", Fraction(1, 2), Fraction(5, 2))),
}
"""The basic sets. US, metric and Japanese ones: common practice; Australian: the New South Wales chart."""


@cache
def scoops(ml: Fraction, system: str = "us", tolerance: Fraction = TOLERANCE) -> tuple[tuple[int, ...], Fraction] | None:
    """How often to fill each measure of the drawer for `ml`, and the error in ml; None where nothing fits.

    Of all choices within the tolerance (a share of `ml`), at most eight scoops of three kinds: the fewest scoops, then
    the fewest kinds, then the smallest error, then the bigger measures.
    """
    sizes = [scoop.ml for scoop in DRAWERS[system]]
    slack = ml * tolerance
    best: tuple[int, int, Fraction, tuple[int, ...]] | None = None

    def go(place: int, left: Fraction, used: tuple[int, ...], count: int, kinds: int) -> None:
        nonlocal best
        if abs(left) <= slack and count:
            full = (*used, *([0] * (len(sizes) - place)))
            found = (count, kinds, abs(left), tuple(-n for n in full))
            if best is None or found < best:
                best = found
        if place == len(sizes) or left < -slack or count > MOST_SCOOPS:
            return
        room = min(MOST_SCOOPS if best is None else best[0], MOST_SCOOPS) - count
        most = min(room, int((left + slack) / sizes[place]))
        for n in range(most, -1, -1):
            if n and kinds == MOST_KINDS:
                continue
            go(place + 1, left - n * sizes[place], (*used, n), count + n, kinds + bool(n))

    go(0, ml, (), 0, 0)
    if best is None:
        return None
    counts = tuple(-n for n in best[3])
    return counts, sum((n * size for n, size in zip(counts, sizes, strict=True)), Fraction(0)) - ml


def words_of(counts: tuple[int, ...], system: str) -> str:
    """`1 1/2 cups + 1 tbsp`; parts that no fraction of a drawer adds up to stay apart, `1/2 + 1/3 cup`."""
    filled: dict[str, list[Fraction]] = {}
    for n, scoop in zip(counts, DRAWERS[system], strict=True):
        filled.setdefault(scoop.unit, []).extend([scoop.part] * n)
    parts = []
    for unit, scooped in filled.items():
        if scooped:
            whole, rest = divmod(sum(scooped, Fraction(0)), 1)
            shown = _number(whole, rest) if rest == 0 or rest in BY_VALUE and rest.denominator <= 4 else " + ".join(
                str(part) for part in scooped)
            parts.append(f"{shown} {unit}" + ("s" if unit == "cup" and whole + rest > 1 else ""))
    return " + ".join(parts)


def _number(whole: int, rest: Fraction) -> str:
    return f"{whole} {rest}" if whole and rest else str(rest or whole)


def measured(amount: Amount, units: str, item: str, weights: Mapping[str, Any] | None) -> Measured:
    """`amount` of `item` as a cook measures it; grams beside where the weight is known."""
    grams = amount.grams(item, weights)
    if amount.kind in (FREE, PERCENT):
        return Measured(str(amount), "", grams, 0.0)
    if amount.kind == COUNT:
        return Measured(str(amount.rounded()), "", grams, 0.0)
    spoons, error = _in_spoons(amount, item, weights)
    if amount.kind == MASS:
        return Measured(str(amount.rounded()), spoons if units != "metric" else "", grams, error)
    if amount.kind == VOLUME and amount.unit in ("ml", "cl", "dl", "l"):
        return Measured(str(amount.rounded()), spoons if units != "metric" else "", grams, error)
    return Measured(spoons or str(amount.rounded()), spoons, grams, error)


def _in_spoons(amount: Amount, item: str, weights: Mapping[str, Any] | None) -> tuple[str, float]:
    """Level spoons for the middle of an amount, and their error; '' where none fit or it is too much or too little."""
    volume = amount.ml()
    ml = volume.mid if volume is not None else _ml_of_grams(amount, item, weights)
    if ml is None or ml > 4 * float(CUP_ML) or amount.low != amount.high:
        return "", 0.0
    from cookbook.quantity.weight import salt_in

    tolerance = SALT_TOLERANCE if salt_in(item) > 0.5 else TOLERANCE
    exact = Fraction(ml).limit_denominator(10**6)
    found = scoops(exact, amount.measures, tolerance)
    if found is None:
        return "", 0.0
    return words_of(found[0], amount.measures), float(found[1] / exact)


def _ml_of_grams(amount: Amount, item: str, weights: Mapping[str, Any] | None) -> float | None:
    from cookbook.quantity.weight import lookup

    grams = amount.grams(item, weights)
    own = (weights or {}).get(" ".join(item.split()).casefold())
    density = own.g_per_ml if own and own.g_per_ml else (found.g_per_ml if (found := lookup(item)) else None)
    return grams.mid / density if grams is not None and density else None
