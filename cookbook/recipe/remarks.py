"""What is worth saying of a scaled recipe: salt out of the usual, a coat that slumps, this cook's own hand."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from cookbook.meat.coat import slump_note
from cookbook.meat.coverage import own_hand
from cookbook.quantity.salt import is_salt

if TYPE_CHECKING:
    from cookbook.recipe.scaling import Habits, Salt, Scaled

LEAST_SALT, MOST_SALT = 0.2, 1.5
"""Percent of the meat outside which salt is remarked on; common practice, no standard."""


def remarks(
    scaled: Scaled, salt_before: Salt | None, habits: Habits | None, unknown: Sequence[str] = ()
) -> list[str]:
    """Sentences on the pieces, the coat and its salt; `salt_before` is that of the batch as written, `unknown` are
    salts whose spoon can't be trusted."""
    notes = [f"{piece.name + ': ' if piece.name else ''}{note}" for piece in scaled.pieces for note in piece.notes]
    if scaled.coat and scaled.coat.missing:
        notes.append("not counted in the coat's weight: " + ", ".join(scaled.coat.missing))
    notes += _coat_notes(scaled, habits)
    if unknown:
        notes.append(
            f"how much salt this is can't be said: a spoon of {' or '.join(unknown)} may hold twice the salt of "
            "another; weigh it, or a level tablespoon of yours once with `cookbook weigh`"
        )
    if scaled.salt is not None and scaled.coat is not None:
        notes += _salt_notes(scaled.salt, salt_before, habits, binder=len(scaled.lines) == 1)
    return notes


def salt_together(coats: Sequence[Scaled]) -> list[str]:
    """A sentence on the salt of several coats that go on the same meat; none where fewer than two hold any."""
    shares = [one.salt.percent_of_meat for one in coats if one.salt is not None and one.coat is not None]
    if len(shares) < 2:
        return []
    said = f"salt of all coats together is {sum(shares):.2f} % of the meat"
    much = f": it will taste salty (common practice is {LEAST_SALT:g} to {MOST_SALT:g} %)"
    return [said + much if sum(shares) > MOST_SALT else said]


def _coat_notes(scaled: Scaled, habits: Habits | None) -> list[str]:
    """How far a batch goes, what slumps off a steep face, what this cook's own hand puts on."""
    coat = scaled.coat
    if coat is None or coat.missing:
        return []
    notes = []
    own = own_hand(coat.g_per_cm2, habits.coverage) if habits else None
    if own is not None:
        notes.append(own)
    if habits is not None and habits.spare is not None and habits.spare.cooks > 1:
        extra = coat.grams / (1 - habits.spare.mean) - coat.grams
        notes.append(
            f"on average {habits.spare.mean:.0%} of your bowl stayed behind ({habits.spare.cooks} cooks): "
            f"make {extra:.0f} g more if it is to reach"
        )
    slump = slump_note(coat.thickness_mm) if scaled.recipe.kind == "paste" else None
    return [*notes, slump] if slump else notes


def _salt_notes(salt: Salt, before: Salt | None, habits: Habits | None, *, binder: bool) -> list[str]:
    """What to say of the salt; of a `binder`, a coat of one line under another, not that it tastes unsalted."""
    notes = []
    usual = f"(common practice is {LEAST_SALT:g} to {MOST_SALT:g} %)"
    if salt.percent_of_meat < LEAST_SALT and not binder:
        notes.append(f"salt is {salt.percent_of_meat:.2f} % of the meat: it will taste unsalted {usual}")
    if salt.percent_of_meat > MOST_SALT:
        notes.append(f"salt is {salt.percent_of_meat:.2f} % of the meat: it will taste salty {usual}")
    own = habits.salt_percent if habits else None
    if own is not None and not own[0] * 2 / 3 <= salt.percent_of_meat <= own[1] * 4 / 3:
        notes.append(
            f"salt is {salt.percent_of_meat:.2f} % of the meat; your own cooks had {own[0]:.2f} to {own[1]:.2f} %"
        )
    tasted = before is not None and max(before.percent_as_weighed, salt.percent_as_weighed) >= LEAST_SALT
    if before and tasted and salt.by_surface and abs(salt.percent_as_weighed / before.percent_as_weighed - 1) > 0.1:
        mend = (
            "write it as `% of meat` to keep its share"
            if is_salt(salt.by_surface)
            else f"most of that is in the {salt.by_surface}"
        )
        notes.append(
            f"following the surface takes salt from {before.percent_as_weighed:.2f} % to "
            f"{salt.percent_as_weighed:.2f} % of the piece; {mend}"
        )
    return notes
