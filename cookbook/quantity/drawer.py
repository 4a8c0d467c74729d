"""The measures that a drawer holds, and the fewest scoops that come close enough to a volume: an exact search.

Basic US, metric and Japanese sets are common practice; the Australian one is the New South Wales chart
(`nsw-measures`).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import cache
from math import lcm
from typing import NamedTuple

from cookbook.errors import AmountError
from cookbook.quantity.number import ascii_number
from cookbook.quantity.unit import CUP_ML, VOLUME, unit

MOST_SCOOPS, MOST_KINDS = 8, 3
TOLERANCE, SALT_TOLERANCE = Fraction(1, 20), Fraction(1, 50)
"""How far off spoons may be, as a share: spices and liquids; salt."""


class Scoop(NamedTuple):
    """One measure of a drawer: `part` of a `unit` is marked on it, `ml` fills it."""

    unit: str
    part: Fraction
    ml: Fraction


class Scooped(NamedTuple):
    """How often to fill each measure of a drawer, and how far that is off: ml, more than asked for is positive."""

    counts: tuple[int, ...]
    error_ml: Fraction


def _set(cup: tuple[Fraction, ...], tbsp: Fraction, tsp: Fraction, *tsp_parts: int) -> tuple[Scoop, ...]:
    found = [Scoop("cup", Fraction(1, part), size) for part, size in zip((1, 2, 3, 4), cup, strict=False)]
    found += [Scoop("tbsp", Fraction(1), tbsp)]
    found += [Scoop("tsp", Fraction(1, part), tsp / part) for part in (1, *tsp_parts)]
    return tuple(found)


_METRIC_CUPS = tuple(Fraction(ml) for ml in (250, 125, 80, 60))
DRAWERS = {
    "us": _set(tuple(CUP_ML / part for part in (1, 2, 3, 4)), CUP_ML / 16, CUP_ML / 48, 2, 4),
    "us-label": _set(tuple(Fraction(240, part) for part in (1, 2, 3, 4)), Fraction(15), Fraction(5), 2, 4),
    "metric": _set(_METRIC_CUPS, Fraction(15), Fraction(5), 2, 4),
    "au": _set(_METRIC_CUPS, Fraction(20), Fraction(5), 2, 4),
    "uk": _set((), Fraction(15), Fraction(5), 2, 4),
    "jp": _set((Fraction(200),), Fraction(15), Fraction(5), 2),
}
"""The basic sets, largest measure first. Metric third and quarter cups hold the 80 and 60 ml that are marked on
them."""


@cache
def drawer_of(measures: tuple[str, ...], system: str = "us") -> tuple[Scoop, ...]:
    """A kitchen's own set from the words on its measures: `1 cup`, `1/2 tsp`, `10 ml`. Raises AmountError."""
    from cookbook.quantity.amount import Amount

    found = []
    for words in measures:
        amount = Amount.parse(words, system)
        size = unit(amount.unit, system)
        plain = amount.kind == VOLUME and amount.low == amount.high and not amount.words
        if not plain or not amount.low or size is None or size.size is None:
            raise AmountError(f"'{words}' is no measure of a drawer", text=words, length=len(words),
                              mend="write it like `1/2 cup`, `1 tsp` or `10 ml`")
        found.append(Scoop(amount.unit, amount.low, amount.low * size.size))
    return tuple(sorted(set(found), key=lambda scoop: -scoop.ml))


def scoops(ml: Fraction, measures: Sequence[Scoop], tolerance: Fraction = TOLERANCE) -> Scooped | None:
    """How often to fill each of `measures` (largest first) for `ml`; None where nothing fits.

    Of all choices within the tolerance (a share of `ml`), at most eight scoops of at most three kinds: the fewest
    scoops, then the fewest kinds, then the smallest error, then the larger measures.
    """
    scale = lcm(ml.denominator, *(scoop.ml.denominator for scoop in measures))
    sizes = [int(scoop.ml * scale) for scoop in measures]
    wanted = int(ml * scale)
    slack = int(wanted * tolerance)
    for many in range(1, MOST_SCOOPS + 1):
        best = _exactly(many, wanted, sizes, slack)
        if best is not None:
            return Scooped(best[1], Fraction(best[0], scale))
    return None


def _exactly(many: int, wanted: int, sizes: list[int], slack: int) -> tuple[int, tuple[int, ...]] | None:
    """The best way to reach `wanted` within `slack` with exactly so many scoops: error and counts, or None."""
    found: list[tuple[int, int, tuple[int, ...], int]] = []
    last = len(sizes) - 1

    def go(at: int, left: int, scoops_left: int, kinds: int, used: tuple[int, ...]) -> None:
        if scoops_left == 0:  # within the slack: nobody comes here with more or less left
            counts = used + (0,) * (len(sizes) - len(used))
            found.append((kinds, abs(left), tuple(-n for n in counts), -left))
            return
        if at > last or kinds == MOST_KINDS or left > scoops_left * sizes[at] + slack \
                or left < scoops_left * sizes[last] - slack:
            return
        for n in range(min(scoops_left, (left + slack) // sizes[at]), -1, -1):
            go(at + 1, left - n * sizes[at], scoops_left - n, kinds + (n > 0), (*used, n))

    go(0, wanted, many, 0, ())
    if not found:
        return None
    _, _, counts, error = min(found)
    return error, tuple(-n for n in counts)


def nearest(ml: Fraction, measures: Sequence[Scoop]) -> Scooped | None:
    """The nearest multiple of the smallest measure where nothing fits; None under half of it, or with too many
    scoops."""
    smallest = measures[-1].ml
    many = round(ml / smallest)
    found = scoops(many * smallest, measures, Fraction(0)) if many else None
    return None if found is None else Scooped(found.counts, many * smallest - ml)


def written(counts: Iterable[int], measures: Sequence[Scoop]) -> str:
    """`1 1/2 cups + 1 tbsp`."""
    by_unit: dict[str, list[Fraction]] = {}
    for n, scoop in zip(counts, measures, strict=True):
        by_unit.setdefault(scoop.unit, []).extend([scoop.part] * n)
    parts = []
    for name, filled in by_unit.items():
        if not filled:
            continue
        total = sum(filled, Fraction(0))
        many = total > 1 and name.endswith("cup")
        parts.append(f"{_number(filled, total)} {name}{'s' if many else ''}")
    return " + ".join(parts)


def _number(filled: list[Fraction], total: Fraction) -> str:
    """The sum where a cook would read it off these measures (`1 1/4`, `3/4`, two thirds), else one by one: two
    eighths are no quarter where the drawer has none."""
    whole = sum((part for part in filled if part == 1), Fraction(0))
    parts = {part: filled.count(part) for part in dict.fromkeys(filled) if part != 1}
    read = {part: (part * n).denominator == part.denominator for part, n in parts.items()}
    if all(read.values()) and (total.denominator in (1, 2, 3, 4, 8) or filled[0].denominator > 8):
        return ascii_number(total)
    shown = [
        word
        for part, n in parts.items()
        for word in ([ascii_number(part * n)] if read[part] else [ascii_number(part)] * n)
    ]
    return " + ".join([str(whole)] * bool(whole) + shown)
