"""The figures and first sentences of a card: what it makes, for what piece, what fire and thermometer must show."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from cookbook.publish import wording
from cookbook.publish.content import Fact

if TYPE_CHECKING:
    from cookbook.meat import Piece
    from cookbook.recipe import Recipe
    from cookbook.recipe.scaling import CoatWeight, Scaled


def makes(scaled: Scaled) -> tuple[str, str] | None:
    """The weight of the batch in both systems; None where the weight of an ingredient is not known."""
    if scaled.coat is None or scaled.coat.missing:
        return None
    return wording.made(scaled.coat.grams)


def weight(scaled: Scaled) -> float | None:
    """Grams of all that goes in; None where the weight of an ingredient is not known."""
    known = [line.grams.mid for line in scaled.lines if line.grams is not None]
    return sum(known) or None if len(known) == len(scaled.lines) else None


def lead(scaled: Scaled) -> str:
    """What a batch makes and for what."""
    made = makes(scaled)
    head = f"Makes about {made[0]} ({made[1]}): enough" if made else "Enough"
    coats = scaled.recipe.kind in ("paste", "rub")
    faces = f", {wording.faces_words(scaled.pieces[0])}" if coats else ""
    return f"{head} {'to coat' if coats else 'for'} {_on(scaled.pieces)}{faces}."


def coat_words(scaled: Scaled) -> str:
    """Thickness and salt of a coat in a sentence."""
    said = []
    if scaled.coat is not None:
        said.append(f"the coat is {_thickness(scaled.coat)} thick on average")
    if scaled.salt is not None and _on_the_meat(scaled):
        said.append(f"salt is {scaled.salt.percent_as_weighed:.1f}\u00a0% of the piece as weighed")
    return wording.sentence("; ".join(said))


def salt_words(coats: Sequence[Scaled]) -> str:
    """The salt of all coats of one piece together; '' where one of them brings as good as all of it."""
    shares = [one.salt.percent_as_weighed for one in coats if one.salt is not None and _on_the_meat(one)]
    total = f"{sum(shares):.1f}"
    if not shares or total == f"{max(shares):.1f}":
        return ""
    return f"Salt of all coats together is {total}\u00a0% of the piece as weighed."


def rule(scaled: Scaled) -> str:
    """What the amounts of other sizes follow."""
    weighed = [wording.spoken(line.item) for line in scaled.lines if line.follows == "weight"]
    others = f"; {wording.listed(weighed)} follow{'s' if len(weighed) == 1 else ''} the weight" if weighed else ""
    return f"Amounts follow the surface of the meat, not its weight{others}."


def shares(scaled: Scaled) -> tuple[str, ...]:
    """How much of a batch belongs on each of several pieces."""
    if len(scaled.pieces) < 2:
        return ()
    grams = scaled.coat.grams if scaled.coat is not None and not scaled.coat.missing else None
    said = []
    for piece, share in zip(scaled.pieces, scaled.shares(), strict=True):
        weighed = f"{wording.made(grams * share)[0]}, " if grams is not None else ""
        said.append(f"{wording.name_words(piece)}: {weighed}{100 * share:.0f}\u00a0% of it")
    return tuple(said)


def facts(scaled: Scaled) -> Iterator[Fact]:
    """The figures of a batch."""
    made = makes(scaled)
    if made:
        yield Fact("makes", *made, f"of {scaled.recipe.kind}")
    yield from _piece(scaled)
    if scaled.coat is not None:
        yield Fact("coat", _thickness(scaled.coat), "",
                   f"thick, {wording.faces_words(scaled.pieces[0])}")
    yield from salt(scaled)


def salt(scaled: Scaled) -> Iterator[Fact]:
    """The salt as a share of the piece; of a brine and a sauce nobody knows how much of theirs ends up in it."""
    if scaled.salt is not None and _on_the_meat(scaled):
        yield Fact("salt", f"{scaled.salt.percent_as_weighed:.1f}\u00a0%", "", "salt, of the piece as weighed")


def _on_the_meat(scaled: Scaled) -> bool:
    return scaled.recipe.kind in ("paste", "rub", "cook")


def cook_lead(recipe: Recipe, scaled: Scaled | None) -> str:
    """What is cooked, for how many, on what."""
    on = _on(scaled.pieces) if scaled else wording.spoken(recipe.cut or "")
    serves = f", for {recipe.serves}" if recipe.serves else ""
    cooker = f", on the {wording.spoken(recipe.pit.cooker)}" if recipe.pit and recipe.pit.cooker else ""
    return wording.sentence(f"{on}{serves}{cooker}")


def cook_facts(recipe: Recipe, scaled: Scaled | None) -> Iterator[Fact]:
    """The figures of a cook, in the order in which they are needed."""
    if scaled is not None:
        yield from _piece(scaled)
    yield from _pit(recipe)
    if recipe.pull_at is not None:
        yield Fact("pull", *wording.degrees(recipe.pull_at), "pull, in the thickest part")
    if recipe.rest is not None and recipe.rest.time is not None:
        cover = f", {recipe.rest.cover}" if recipe.rest.cover else ""
        yield Fact("rest", str(recipe.rest.time).replace(" ", "\u00a0"), "", f"rest{cover}")


def _pit(recipe: Recipe) -> Iterator[Fact]:
    pit = recipe.pit
    if pit is None:
        return
    words = ", ".join(["pit", *(wording.spoken(one) for one in (pit.cooker, pit.fuel, pit.wood, pit.water) if one)])
    if pit.temperature is not None:
        yield Fact("pit", *wording.degrees(pit.temperature), words)
    elif words != "pit":
        yield Fact("pit", "", "", words)
    if pit.wrap_at is not None:
        yield Fact("wrap", *wording.degrees(pit.wrap_at), f"wrap in {wording.spoken(pit.wrap or 'paper or foil')}")
    elif pit.wrap:
        yield Fact("wrap", "", "", f"wrapped in {wording.spoken(pit.wrap)}")


def _piece(scaled: Scaled) -> Iterator[Fact]:
    if len(scaled.pieces) == 1:
        piece = scaled.pieces[0]
        ribs = f", {wording.ribs(piece.ribs)}" if piece.ribs else ""
        yield Fact("piece", *wording.piece_mass(piece), f"{piece.cut.name}{ribs}")


def _thickness(coat: CoatWeight) -> str:
    """Mean thickness; where the weight of an ingredient is not known there is more of it."""
    return f"{'at least ' if coat.missing else ''}{coat.thickness_mm:.1f}\u00a0mm"


def _on(pieces: Sequence[Piece]) -> str:
    if len(pieces) == 1:
        return wording.piece_words(pieces[0])
    cuts = dict.fromkeys(piece.cut.name for piece in pieces)
    return f"{len(pieces)} pieces of {wording.listed(list(cuts))} ({'; '.join(map(wording.name_words, pieces))})"
