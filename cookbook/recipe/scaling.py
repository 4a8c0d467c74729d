"""A recipe for another piece: what coats follows its surface, salt as a share follows its weight.

Each ingredient has a rule (`follows`), the rule a factor from the piece the batch was made for to the piece at hand.
Time never scales by a rule.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from math import hypot
from typing import Any, NamedTuple

from cookbook.errors import RequestError
from cookbook.meat import Piece
from cookbook.quantity import Amount, Interval
from cookbook.recipe.model import Ingredient, Recipe

SHARED_ASSUMPTIONS = 0.95
"""How much of the doubt about two pieces of one cut is common to both, when the same things were measured on both.

Section and rib pitch of a rib roast may move its area by 20 %, the ratio of two sizes only by 1.3 % either way; the
rest of the doubt cancels.
"""
OTHER_ASSUMPTIONS = 0.5


class Factor(NamedTuple):
    """From the piece made for to the piece at hand, by each rule; plain ratios of the middle values."""

    surface: float
    weight: float
    volume: float
    count: float
    surface_low: float
    surface_high: float

    def by(self, follows: str) -> float:
        """The factor of one rule."""
        return {"surface": self.surface, "weight": self.weight, "volume": self.volume, "count": self.count}.get(
            follows, 1.0)


class Line(NamedTuple):
    """One ingredient for the piece at hand. `naive` is what scaling everything by weight would have said."""

    ingredient: Ingredient
    amount: Amount
    grams: Interval | None
    factor: float
    naive: Amount
    hold_back: Amount | None = None

    @property
    def item(self) -> str:
        """What it is."""
        return self.ingredient.item

    @property
    def follows(self) -> str:
        """The rule it follows."""
        return self.ingredient.follows


class CoatWeight(NamedTuple):
    """All that goes on: grams, grams per cm² of coated surface, mean thickness; `missing` are lines not counted."""

    grams: float
    g_per_cm2: float
    thickness_mm: float
    missing: tuple[str, ...]


class Salt(NamedTuple):
    """Salt in the coat, as percent of the piece as weighed and of its meat without bone."""

    grams: float
    percent_as_weighed: float
    percent_of_meat: float


class Scaled(NamedTuple):
    """A recipe for `pieces`, from `made_for`. Areas in cm²."""

    recipe: Recipe
    made_for: Piece
    pieces: tuple[Piece, ...]
    factor: Factor
    lines: tuple[Line, ...]
    coated_from_cm2: float
    coated_to_cm2: float
    coat: CoatWeight | None
    salt: Salt | None
    notes: tuple[str, ...]

    @property
    def ingredients(self) -> tuple[Line, ...]:
        """The lines, in the order of the recipe."""
        return self.lines

    def shares(self) -> tuple[float, ...]:
        """The share of the batch that belongs on each piece, by coated area."""
        return tuple(piece.coated_cm2.mid / self.coated_to_cm2 for piece in self.pieces)


def scaled_to(recipe: Recipe, pieces: Piece | Sequence[Piece] | None = None, *, batch: float | None = None,
              layer_mm: float | None = None, weights: Any = None,
              used: Callable[[str], Recipe] | None = None) -> Scaled:
    """`recipe` for one or several pieces; without any, for the piece it was made for.

    `batch` makes so many batches as written instead, `layer_mm` as much as gives that mean thickness. `weights` are
    the kitchen's own ingredient weights, `used` finds recipes that go in. Raises RequestError where the recipe
    doesn't say what it was made for.
    """
    if recipe.made_for is None:
        raise RequestError(f"{recipe.name} doesn't say what it was made for", mend="give it `made_for:` with a cut and a weight")
    made_for = recipe.made_for.piece()
    wanted = (made_for,) if pieces is None else (pieces,) if isinstance(pieces, Piece) else tuple(pieces)
    factor = _factor(made_for, wanted)
    if factor.surface <= 0:
        raise RequestError("no face of this piece is coated", mend="say which with --faces")
    if batch is not None:
        factor = factor._replace(surface=batch, volume=batch, count=batch, surface_low=batch, surface_high=batch)
    scaled = _with(recipe, made_for, wanted, factor, batch, weights, used)
    if layer_mm is not None:
        if scaled.coat is None:
            raise RequestError("the coat's thickness can't be told: the weight of an ingredient is not known")
        stretch = layer_mm / scaled.coat.thickness_mm
        factor = factor._replace(surface=factor.surface * stretch, surface_low=factor.surface_low * stretch,
                                 surface_high=factor.surface_high * stretch)
        scaled = _with(recipe, made_for, wanted, factor, batch, weights, used)
    return scaled


def _with(recipe: Recipe, made_for: Piece, pieces: tuple[Piece, ...], factor: Factor, batch: float | None,
          weights: Any, used: Callable[[str], Recipe] | None) -> Scaled:
    lines = tuple(_line(line, made_for, pieces, factor, batch, weights, used) for line in recipe.ingredients)
    coated = sum(piece.coated_cm2.mid for piece in pieces)
    coat = _coat(recipe, lines, coated, weights)
    salt = _salt(lines, pieces, weights, used)
    scaled = Scaled(recipe, made_for, pieces, factor, lines, made_for.coated_cm2.mid, coated, coat, salt, ())
    return scaled._replace(notes=tuple(_notes(scaled, weights, used)))


def _factor(made_for: Piece, pieces: tuple[Piece, ...]) -> Factor:
    coated = sum(piece.coated_cm2.mid for piece in pieces)
    start = made_for.coated_cm2
    if start.mid <= 0:
        raise RequestError("the recipe says that no face of its own piece is coated", mend="mend `faces:` in `made_for:`")
    surface = coated / start.mid
    same = all(piece.cut.name == made_for.cut.name for piece in pieces)
    share = SHARED_ASSUMPTIONS if same else OTHER_ASSUMPTIONS
    one = (start.high - start.low) / (2 * start.mid)
    two = sum(piece.coated_cm2.high - piece.coated_cm2.low for piece in pieces) / (2 * coated) if coated else 0.0
    spread = hypot(one, two) if not share else max(one * one + two * two - 2 * share * one * two, 0.0) ** 0.5
    mass = sum(piece.mass_g.mid for piece in pieces) / made_for.mass_g.mid
    volume = sum(piece.volume_cm3.mid for piece in pieces) / made_for.volume_cm3.mid
    ribs = [piece.ribs for piece in pieces]
    count = sum(rib for rib in ribs if rib) / made_for.ribs if made_for.ribs and all(ribs) else mass
    return Factor(surface, mass, volume, count, surface * max(0.0, 1 - spread), surface * (1 + spread))


def _line(line: Ingredient, made_for: Piece, pieces: tuple[Piece, ...], factor: Factor, batch: float | None,
          weights: Any, used: Callable[[str], Recipe] | None) -> Line:
    if line.amount.kind == "percent":
        basis = (made_for,) if batch is not None else pieces
        meat = sum(_salted_g(piece, line.amount) for piece in basis) * (batch or 1.0)
        grams = Interval(*(float(share) / 100 * meat for share in
                           (line.amount.low, (line.amount.low + line.amount.high) / 2, line.amount.high)))
        amount = Amount.parse(f"{grams.mid:.4f} g")
        return Line(line, amount, grams, batch or factor.weight, amount)
    by = factor.by(line.follows)
    exact = Fraction(by).limit_denominator(10**6)
    amount = line.amount.scaled(exact)
    grams_ = _grams(line, amount, weights, used)
    hold_back = line.hold_back.scaled(exact) if line.hold_back else None
    naive = line.amount if line.follows == "fixed" else line.amount.scaled(Fraction(factor.weight).limit_denominator(10**6))
    return Line(line, amount, grams_, by, naive, hold_back)


def _salted_g(piece: Piece, amount: Amount) -> float:
    """The weight that a percentage is of: the piece as weighed less bare shafts, or its meat without bone."""
    return float(piece.boneless_mass_g.mid if "boneless" in (amount.unit or "") else piece.salted_mass_g.mid)


def _grams(line: Ingredient, amount: Amount, weights: Any, used: Callable[[str], Recipe] | None) -> Interval | None:
    grams = amount.grams(line.item, weights)
    if grams is None or line.hold_back is None:
        return grams
    # What is held back may go in or not: the low end counts none of it.
    part = line.hold_back.scaled(Fraction(grams.mid / whole.mid) if (whole := line.amount.grams(line.item, weights))
                                 and whole.mid else 1).grams(line.item, weights)
    return grams if part is None else Interval(max(0.0, grams.low - part.mid), grams.mid, grams.high)


def _coat(recipe: Recipe, lines: tuple[Line, ...], coated_cm2: float, weights: Any) -> CoatWeight | None:
    if recipe.kind not in ("paste", "rub") or not coated_cm2:
        return None
    from cookbook.meat import coat_density

    counted = [line for line in lines if line.grams is not None]
    missing = tuple(line.item for line in lines if line.grams is None)
    total = sum(line.grams.mid for line in counted if line.grams)
    if not total:
        return None
    density = coat_density(recipe.kind)
    return CoatWeight(total, total / coated_cm2, 10 * total / (density * coated_cm2), missing)


def _salt(lines: tuple[Line, ...], pieces: tuple[Piece, ...], weights: Any,
          used: Callable[[str], Recipe] | None) -> Salt | None:
    total = sum(share * line.grams.mid for line in lines if line.grams
                for share in [salt_share(line.ingredient, weights, used)])
    weighed = sum(piece.mass_g.mid for piece in pieces)
    meat = sum(piece.boneless_mass_g.mid for piece in pieces)
    return Salt(total, 100 * total / weighed, 100 * total / meat) if total else None


def salt_share(line: Ingredient, weights: Any = None, used: Callable[[str], Recipe] | None = None) -> float:
    """Grams of salt in a gram of this ingredient; of a recipe that goes in, by its own lines."""
    from cookbook.quantity import salt_in

    if line.recipe is None:
        return salt_in(line.item, weights)
    if used is None:
        return 0.0
    inner = used(line.recipe)
    whole = scaled_to(inner, weights=weights, used=used) if inner.made_for else None
    total = sum(one.grams.mid for one in whole.lines if one.grams) if whole else 0.0
    return whole.salt.grams / total if whole and whole.salt and total else 0.0


def _notes(scaled: Scaled, weights: Any, used: Callable[[str], Recipe] | None) -> list[str]:
    notes = [f"{piece.name + ': ' if piece.name else ''}{note}" for piece in scaled.pieces for note in piece.notes]
    if scaled.coat and scaled.coat.missing:
        notes.append("not counted in the coat's weight: " + ", ".join(scaled.coat.missing))
    notes += _salt_notes(scaled, weights, used)
    return notes


def _salt_notes(scaled: Scaled, weights: Any, used: Callable[[str], Recipe] | None) -> list[str]:
    salt = scaled.salt
    if salt is None:
        return []
    notes = []
    if salt.percent_of_meat < 0.2:
        notes.append(f"salt is {salt.percent_of_meat:.2f} % of the meat, under 0.2 %: it will taste unsalted "
                     "(common practice is 0.5 to 1.5 %)")
    if salt.percent_of_meat > 1.5:
        notes.append(f"salt is {salt.percent_of_meat:.2f} % of the meat, over 1.5 %: it will taste salty "
                     "(common practice is 0.5 to 1.5 %)")
    before = _salt((*(_line(line, scaled.made_for, (scaled.made_for,), _factor(scaled.made_for, (scaled.made_for,)),
                            None, weights, used) for line in scaled.recipe.ingredients),),
                   (scaled.made_for,), weights, used)
    if before and abs(salt.percent_of_meat / before.percent_of_meat - 1) > 0.1:
        notes.append(f"following the surface takes salt from {before.percent_of_meat:.2f} % to "
                     f"{salt.percent_of_meat:.2f} % of the meat; write it as `% of meat` to keep its share")
    return notes
