"""A recipe that goes into another: as much of it as is needed, every line of it alike."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Any

from cookbook.recipe.scaling import Factor, Scaled, scaled_to

if TYPE_CHECKING:
    from collections.abc import Callable

    from cookbook.quantity import Interval
    from cookbook.recipe.model import Recipe


def needed(inner: Recipe, grams: Interval | None, outer: Scaled, used: Callable[[str], Recipe], weights: Any = None,
           drawer: Any = None) -> Scaled:
    """So many `grams` of a recipe that goes into `outer`; the batch as written where its own weight or what is
    needed isn't known."""
    made_for = inner.made_for or outer.recipe.made_for
    whole = scaled_to(inner._replace(made_for=made_for), weights=weights, used=used, drawer=drawer)
    total = sum(line.grams.mid for line in whole.lines if line.grams)
    return times(whole, grams.mid / total if grams is not None and total else 1.0)


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
