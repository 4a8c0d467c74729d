"""A recipe that goes into another: as much of it as is needed, every line of it alike."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from cookbook.recipe.scaling import Factor, Scaled, scaled_to

if TYPE_CHECKING:
    from collections.abc import Callable

    from cookbook.quantity import Amount, Interval, Totals
    from cookbook.recipe.model import Recipe
    from cookbook.recipe.scaling import Line


WHOLE = ("a whole batch, since nobody can tell which part of it goes in: write the amount in grams, or weigh a "
         "spoonful with `cookbook weigh`")
"""What is noted of a recipe that goes into another by a measure which its own batch doesn't have."""


def needed(inner: Recipe, line: Line, outer: Scaled, used: Callable[[str], Recipe], weights: Any = None,
           drawer: Any = None) -> Scaled:
    """As much of a recipe as a `line` of `outer` takes of it; a whole batch, with `WHOLE` noted, where nobody can
    tell."""
    made_for = inner.made_for or outer.recipe.made_for
    whole = scaled_to(inner._replace(made_for=made_for), weights=weights, used=used, drawer=drawer)
    part = part_of(whole.totals(), line.amount, line.grams)
    return times(whole, part) if part is not None else times(whole, 1.0)._replace(notes=(WHOLE,))


def part_of(batch: Totals, amount: Amount, grams: Interval | None) -> float | None:
    """Which part of a batch an amount of it is, by weight or else by volume; None where nobody can tell."""
    ml = amount.ml()
    if grams is not None and grams.mid and batch.grams.mid:
        return grams.mid / batch.grams.mid
    if ml is not None and ml.mid and batch.ml.mid and not any(one.total == "volume" for one in batch.uncounted):
        return ml.mid / batch.ml.mid
    return None


def times(whole: Scaled, part: float) -> Scaled:
    """So many times a scaled recipe, whatever its lines follow."""
    exact = Fraction(part).limit_denominator(10**6)
    lines = tuple(
        line._replace(
            amount=line.amount.scaled(exact),
            grams=line.grams.scaled(part) if line.grams else None,
            factor=line.factor * part,
            naive=line.naive.scaled(exact),
            hold_back=line.hold_back.scaled(exact) if line.hold_back else None,
        )
        for line in whole.lines
    )
    coat, salt = whole.coat, whole.salt
    return whole._replace(
        lines=lines,
        factor=Factor(*(part * one for one in whole.factor)),
        coat=coat and coat._replace(grams=coat.grams * part, g_per_cm2=coat.g_per_cm2 * part,
                                    thickness_mm=coat.thickness_mm * part),
        salt=salt and salt._replace(grams=salt.grams * part, percent_as_weighed=salt.percent_as_weighed * part,
                                    percent_of_meat=salt.percent_of_meat * part),
        notes=(),
    )
