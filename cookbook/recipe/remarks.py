"""What is worth saying of a scaled recipe: its lines in words, odd salt, a coat that slumps, this cook's own hand.

Screens and notebooks only arrange what stands here.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from cookbook.meat.coat import slump_note
from cookbook.meat.coverage import own_hand, with_spare
from cookbook.quantity.salt import is_salt

if TYPE_CHECKING:
    from cookbook.meat import Piece
    from cookbook.recipe.scaling import Habits, Line, Salt, Scaled

LEAST_SALT, MOST_SALT = 0.2, 1.5
"""Percent of the meat outside which salt is remarked on; common practice, no standard."""
COLUMNS = ("amount", "of", "which is", "follows", "times", "by weight")
"""The heads of `row`."""


def remarks(
    scaled: Scaled, salt_before: Salt | None, habits: Habits | None, unknown: Sequence[str] = ()
) -> list[str]:
    """Sentences on the pieces, the coat and its salt; `salt_before` is that of the batch as written, `unknown` are
    salts whose spoon can't be trusted."""
    notes = [f"{piece.name + ': ' if piece.name else ''}{note}" for piece in scaled.pieces for note in piece.notes]
    if scaled.coat and scaled.coat.missing:
        notes.append("not counted in the coat's weight: " + ", ".join(scaled.coat.missing))
        if any(map(is_salt, scaled.coat.missing)):
            notes.append("how much salt this is can't be said: weigh it, or write it as `% of meat`")
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
        extra = with_spare(coat.grams, habits.spare.mean) - coat.grams
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


def piece_words(pieces: Sequence[Piece]) -> str:
    """`pork loin, boneless, 4.4 kg`."""
    sizes = " and ".join(
        f"{piece.mass_g.mid / 1000:.3g} kg" + (f" ({piece.ribs} ribs)" if piece.ribs else "") for piece in pieces
    )
    return f"{pieces[0].cut.name}, {sizes}"


def for_which(scaled: Scaled) -> str:
    """`for pork loin, boneless, 4.4 kg, from pork loin, boneless, 2.2 kg`."""
    return f"for {piece_words(scaled.pieces)}, from {piece_words((scaled.made_for,))}"


def how_many_times(scaled: Scaled) -> str:
    """The coated surface before and now, and the factor with its interval; of what coats nothing, the meat's."""
    factor = scaled.factor
    if not any(line.follows == "surface" for line in scaled.lines):
        return f"{factor.weight:.2f} times the meat"
    return (
        f"coated surface {scaled.coated_to_cm2:.0f} cm², was {scaled.coated_from_cm2:.0f} cm²: "
        f"{factor.surface:.2f} times ({factor.surface_low:.2f} to {factor.surface_high:.2f})"
    )


def row(line: Line, units: str = "both") -> list[str]:
    """One line of a scaled recipe under `COLUMNS`."""
    measured = line.measured(units)
    grams = f"about {grams_text(line.grams.mid)} g" if line.grams else ""
    beside = measured.scoops
    if beside == measured.text or (not beside and not measured.text.endswith((" g", " kg", " oz", " lb"))):
        beside = grams
    naive = line.naive_text(units) if line.follows == "surface" else ""
    return [measured.text, line.ingredient.words, beside, line.follows, f"{line.factor:.2f}", naive]


def grams_text(grams: float) -> str:
    """Grams as a balance shows them."""
    return f"{grams:.0f}" if grams >= 10 else f"{grams:.2g}"


def asides(line: Line, units: str = "both") -> list[str]:
    """What stands beside a line: why a spoon is rounded, what does as well, until when, what is held back."""
    note = line.measured(units).note if line.amount.kind != "mass" else ""
    said = [note] if note else []
    said += [f"or {' or '.join(line.ingredient.alternatives)} instead"] if line.ingredient.alternatives else []
    said += [f"until {line.ingredient.until}"] if line.ingredient.until else []
    if line.hold_back is not None:
        said.append(f"hold back {line.back_text(units)} to add by taste")
    return said


def by_weight_too(scaled: Scaled) -> list[str]:
    """How far off the rule of weight would have been, where it would have been at all."""
    gap = scaled.factor.weight / scaled.factor.surface - 1
    if abs(gap) <= 0.005 or not any(line.follows == "surface" for line in scaled.lines):
        return []
    much = f"{abs(gap):.0%} too {'much' if gap > 0 else 'little'} {scaled.recipe.kind}"
    return [f"Scaling everything by weight would have said {scaled.factor.weight:.2f} times: {much}."]


def what_goes_on(scaled: Scaled) -> list[str]:
    """The coat, its salt, and what of it belongs on which piece."""
    lines = []
    coat, salt = scaled.coat, scaled.salt
    if coat is not None:
        lines.append(
            f"coat: {coat.grams:.0f} g, {1000 * coat.g_per_cm2:.0f} mg on each cm², "
            f"{coat.thickness_mm:.1f} mm thick on average"
        )
    if salt is not None:
        lines.append(
            f"salt: {salt.percent_as_weighed:.2f} % of the piece as weighed, "
            f"{salt.percent_of_meat:.2f} % of its meat without bone"
        )
    if len(scaled.pieces) > 1 and coat is not None:
        for piece, share in zip(scaled.pieces, scaled.shares(), strict=True):
            lines.append(f"  {piece.name or 'piece'}: {coat.grams * share:.0f} g of it, {share:.0%} of the batch")
    return lines


def reasons(scaled: Scaled) -> list[str]:
    """Where the numbers of a scaled recipe come from, in sentences."""
    from cookbook.quantity import grams_source

    made_for, factor = scaled.made_for, scaled.factor
    said = [f"made for: {made_for.cut.name}, {made_for.method}, coated {scaled.coated_from_cm2:.0f} cm²"]
    said += [
        f"now: {piece.cut.name}, {piece.method}, coated {piece.coated_cm2.mid:.0f} cm² "
        f"({piece.coated_cm2.low:.0f} to {piece.coated_cm2.high:.0f})"
        for piece in scaled.pieces
    ]
    said.append(f"surface: {scaled.coated_to_cm2:.0f} / {scaled.coated_from_cm2:.0f} = {factor.surface:.3f}")
    said.append(
        f"weight: {sum(piece.mass_g.mid for piece in scaled.pieces):.0f} / {made_for.mass_g.mid:.0f} g "
        f"= {factor.weight:.3f}"
    )
    for line in scaled.lines:
        known = line.grams and line.amount.kind != "mass"
        origin = grams_source(line.amount, line.item, line.weights) if known else ""
        said.append(
            f"{line.item}: {line.ingredient.amount} follows {line.follows}, times {line.factor:.3f}"
            + (f"; weight by {origin}" if origin else "")
        )
    return said
