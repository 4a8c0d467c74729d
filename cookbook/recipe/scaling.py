"""A recipe for another piece: what coats follows its surface, salt as a share follows its weight.

Each ingredient has a rule (`follows`), the rule a factor from the piece the batch was made for to the piece at hand.
Time never scales by a rule.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from fractions import Fraction
from math import hypot
from typing import TYPE_CHECKING, Any, NamedTuple

from cookbook.errors import RequestError
from cookbook.meat import Piece, thickness_mm
from cookbook.meat.coverage import Learned
from cookbook.quantity import Amount, Interval
from cookbook.quantity.measuring import Measured
from cookbook.quantity.salt import is_cure, is_salt, refuse_cure_by, trusted
from cookbook.recipe.model import Ingredient, Recipe

if TYPE_CHECKING:
    from cookbook.quantity import Scoop, Totals

SHARED_ASSUMPTIONS = 0.95
"""How much of the doubt about two pieces of one cut is common to both, when the same things were measured on both.

Section and rib pitch of a rib roast may move its area by 20 %, the ratio of two sizes only by 1.3 % either way; the
rest of the doubt cancels.
"""
OTHER_ASSUMPTIONS = 0.5


class Habits(NamedTuple):
    """What this cook's own entries have taught about a recipe: the lowest and highest salt share in percent, the own
    coverage in g on each cm², the share of a bowl that stays behind; None where nothing was learned."""

    salt_percent: tuple[float, float] | None = None
    coverage: Learned | None = None
    spare: Learned | None = None


class Factor(NamedTuple):
    """From the piece made for to the piece at hand, by each rule; plain ratios of the middle values."""

    surface: float
    weight: float
    volume: float
    counted: float
    surface_low: float
    surface_high: float

    def by(self, follows: str) -> float:
        """The factor of one rule."""
        return {"surface": self.surface, "weight": self.weight, "volume": self.volume, "count": self.counted}.get(
            follows, 1.0
        )


class Line(NamedTuple):
    """One ingredient for the piece at hand. `naive` is what scaling everything by weight would have said."""

    ingredient: Ingredient
    amount: Amount
    grams: Interval | None
    factor: float
    naive: Amount
    hold_back: Amount | None = None
    weights: Any = None
    drawer: Sequence[Scoop] | None = None

    @property
    def item(self) -> str:
        """What it is."""
        return self.ingredient.item

    @property
    def follows(self) -> str:
        """The rule it follows."""
        return self.ingredient.follows

    def measured(self, units: str = "both") -> Measured:
        """As a cook would measure it: `text` on the balance or in spoons, `scoops` the spoons beside."""
        return self.amount.measured(units, self.item, self.weights, self.drawer)

    def back_text(self, units: str = "both") -> str:
        """The part held back, measured alike; '' where nothing is."""
        if self.hold_back is None:
            return ""
        return self.hold_back.measured(units, self.item, self.weights, self.drawer).text

    def __repr__(self) -> str:
        return f"<Line {self.measured('metric').text} {self.item}: follows {self.follows}, {self.factor:.2f} times>"

    def naive_text(self, units: str = "both") -> str:
        """What scaling by weight would have said, measured alike."""
        if self.naive.kind in ("mass", "count") or self.naive.unit in ("ml", "l"):
            return str(self.naive.rounded())
        return self.naive.measured(units, self.item, self.weights, self.drawer).text


class CoatWeight(NamedTuple):
    """All that goes on: grams, grams per cm² of coated surface, mean thickness; `missing` are lines not counted."""

    grams: float
    g_per_cm2: float
    thickness_mm: float
    missing: tuple[str, ...]


class Salt(NamedTuple):
    """Salt in the coat, as percent of the piece as weighed and of its meat without bone.

    `by_surface` is the item that brings most of what follows the surface, '' where none does.
    """

    grams: float
    percent_as_weighed: float
    percent_of_meat: float
    by_surface: str = ""


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

    def why(self) -> list[str]:
        """Where the numbers come from, in sentences."""
        from cookbook.recipe.remarks import reasons

        return reasons(self)

    def __repr__(self) -> str:
        from cookbook.recipe.remarks import for_which

        return f"<Scaled {self.recipe.name} {for_which(self)}: {self.factor.surface:.2f} times by surface>"

    def _repr_html_(self) -> str:
        from cookbook.recipe.shown import scaled_shown

        return scaled_shown(self)

    def totals(self) -> Totals:
        """What the batch comes to: mass, volume, salt and sodium, and the lines that are in none of them."""
        from cookbook.quantity import totals

        weights = self.lines[0].weights if self.lines else None
        return totals(((line.amount, line.item) for line in self.lines), weights)

    def shares(self) -> tuple[float, ...]:
        """The share of the batch that belongs on each piece, by coated area."""
        return tuple(piece.coated_cm2.mid / self.coated_to_cm2 for piece in self.pieces)


def scaled_to(
    recipe: Recipe,
    pieces: Piece | Sequence[Piece] | None = None,
    *,
    batch: float | None = None,
    layer_mm: float | None = None,
    weights: Any = None,
    used: Callable[[str], Recipe] | None = None,
    habits: Habits | None = None,
    drawer: Sequence[Scoop] | None = None,
) -> Scaled:
    """`recipe` for one or several pieces; without any, for the piece it was made for.

    `batch` makes so many batches as written instead, `layer_mm` as much as gives that mean thickness. `weights` are
    the kitchen's own ingredient weights, `used` finds recipes that go in, `habits` are what this
    cook's own entries have taught, `drawer` its own spoons and cups.

    Raises RequestError where the recipe doesn't say what it was made for, or has curing salt go by other than weight.
    """
    if recipe.made_for is None:
        raise RequestError(
            f"{recipe.name} doesn't say what it was made for", mend="give it `made_for:` with a cut and a weight"
        )
    for line in recipe.ingredients:
        if (fault := cure_fault(line)) is not None:
            raise fault
    made_for = recipe.made_for.piece()
    wanted = (made_for,) if pieces is None else (pieces,) if isinstance(pieces, Piece) else tuple(pieces)
    factor = _factor(made_for, wanted)
    if factor.surface <= 0:
        raise RequestError("no face of this piece is coated", mend="say which with --faces")
    if batch is not None:
        factor = factor._replace(surface=batch, volume=batch, counted=batch, surface_low=batch, surface_high=batch)
    scaled = _with(recipe, made_for, wanted, factor, batch, weights, used, habits)
    if batch is not None and abs(scaled.coated_to_cm2 / scaled.coated_from_cm2 - 1) > 0.02:
        from cookbook.recipe.reaching import reaching

        scaled = reaching(scaled, batch, scaled_to(recipe, weights=weights, used=used).coat)
    if layer_mm is not None:
        stretch = _stretch(scaled, layer_mm)
        factor = factor._replace(
            surface=factor.surface * stretch,
            surface_low=factor.surface_low * stretch,
            surface_high=factor.surface_high * stretch,
        )
        scaled = _with(recipe, made_for, wanted, factor, batch, weights, used, habits)
    return scaled._replace(lines=tuple(line._replace(drawer=drawer) for line in scaled.lines))


def cure_fault(line: Ingredient) -> RequestError | None:
    """Why an ingredient that is curing salt, or may be, can't be scaled; None where it goes by weight, or is none."""
    if line.recipe is not None or not any(is_cure(words) for words in (line.item, *line.alternatives)):
        return None
    if line.amount.kind not in ("mass", "percent"):
        return refuse_cure_by("spoon" if line.amount.kind == "volume" else "measured by count or by eye")
    if line.follows != "weight":
        return refuse_cure_by("surface" if line.follows == "surface" else f"scaled by {line.follows}")
    return None


def _stretch(scaled: Scaled, layer_mm: float) -> float:
    """How many times as much of what follows the surface gives this mean thickness, the rest staying as it is."""
    if scaled.coat is None or scaled.coat.missing:
        raise RequestError(
            "the coat's thickness can't be told: not everything in it has a known weight",
            mend="weigh " + ", ".join(scaled.coat.missing) if scaled.coat else None,
        )
    wanted = scaled.coat.grams * layer_mm / scaled.coat.thickness_mm
    follows = sum(line.grams.mid for line in scaled.lines if line.grams and line.follows == "surface")
    rest = scaled.coat.grams - follows
    if follows <= 0 or wanted <= rest:
        raise RequestError(
            f"{scaled.recipe.title}: a coat of {layer_mm:g} mm is less than its salt alone",
            mend="ask for a thicker one",
        )
    return (wanted - rest) / follows


def _with(
    recipe: Recipe,
    made_for: Piece,
    pieces: tuple[Piece, ...],
    factor: Factor,
    batch: float | None,
    weights: Any,
    used: Callable[[str], Recipe] | None,
    habits: Habits | None,
) -> Scaled:
    lines = tuple(_line(line, made_for, pieces, factor, batch, weights) for line in recipe.ingredients)
    coated = sum(piece.coated_cm2.mid for piece in pieces)
    coat = _coat(recipe, lines, coated)
    salt = _salt(recipe, lines, pieces, weights, used)
    scaled = Scaled(recipe, made_for, pieces, factor, lines, made_for.coated_cm2.mid, coated, coat, salt, ())
    from cookbook.recipe.remarks import remarks

    own = _factor(made_for, (made_for,))
    as_written = tuple(_line(line, made_for, (made_for,), own, None, weights) for line in recipe.ingredients)
    salt_before = _salt(recipe, as_written, (made_for,), weights, used) if batch is None else None
    learned = habits if batch is None or habits is None else Habits(habits.salt_percent)
    unknown = unknown_salts(recipe, weights, used)
    return scaled._replace(notes=tuple(remarks(scaled, salt_before, learned, unknown)))


def _factor(made_for: Piece, pieces: tuple[Piece, ...]) -> Factor:
    coated = sum(piece.coated_cm2.mid for piece in pieces)
    start = made_for.coated_cm2
    if start.mid <= 0:
        raise RequestError(
            "the recipe says that no face of its own piece is coated", mend="mend `faces:` in `made_for:`"
        )
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


def _line(
    line: Ingredient, made_for: Piece, pieces: tuple[Piece, ...], factor: Factor, batch: float | None, weights: Any
) -> Line:
    if line.amount.kind == "percent":
        low, high = line.amount.low, line.amount.high
        assert low is not None
        assert high is not None
        meat = (
            batch * salted_g(made_for, line.amount)
            if batch is not None
            else sum(salted_g(piece, line.amount) for piece in pieces)
        )
        grams = Interval(*(float(share) / 100 * meat for share in (low, (low + high) / 2, high)))
        amount = Amount.parse(f"{f'{max(grams.mid, 0.001):.3f}'.rstrip('0').rstrip('.')} g")
        return Line(line, amount, grams, batch or factor.weight, amount, weights=weights)
    by = factor.by(line.follows)
    exact = Fraction(by).limit_denominator(10**6)
    amount = line.amount.scaled(exact)
    hold_back = line.hold_back.scaled(exact) if line.hold_back else None
    naive = (
        line.amount
        if line.follows == "fixed"
        else line.amount.scaled(Fraction(factor.weight).limit_denominator(10**6))
    )
    return Line(line, amount, _grams(line.item, amount, hold_back, weights), by, naive, hold_back, weights)


def salted_g(piece: Piece, share: Amount) -> float:
    """The weight in g that a percentage is of: the piece as weighed less bare shafts, or its meat without bone."""
    return piece.boneless_mass_g.mid if "boneless" in share.unit else piece.salted_mass_g.mid


def factor_between(made_for: Piece, pieces: Sequence[Piece], follows: str) -> float:
    """The factor of one rule from the piece made for to the pieces at hand."""
    return _factor(made_for, tuple(pieces)).by(follows)


def _grams(item: str, amount: Amount, hold_back: Amount | None, weights: Any) -> Interval | None:
    """What goes in; what is held back may stay out, so the low end counts none of it."""
    grams = amount.grams(item, weights)
    part = hold_back.grams(item, weights) if hold_back is not None else None
    if grams is None or part is None:
        return grams
    return Interval(max(0.0, grams.low - part.mid), grams.mid, grams.high)


def _coat(recipe: Recipe, lines: tuple[Line, ...], coated_cm2: float) -> CoatWeight | None:
    if recipe.kind not in ("paste", "rub") or not coated_cm2:
        return None
    counted = [line for line in lines if line.grams is not None]
    missing = tuple(line.item for line in lines if line.grams is None)
    total = sum(line.grams.mid for line in counted if line.grams)
    if not total:
        return None
    return CoatWeight(total, total / coated_cm2, thickness_mm(total, coated_cm2, recipe.kind), missing)


def _salt(
    recipe: Recipe,
    lines: tuple[Line, ...],
    pieces: tuple[Piece, ...],
    weights: Any,
    used: Callable[[str], Recipe] | None,
) -> Salt | None:
    """The salt of these lines; None where there is none, or where nobody can tell how much salt went in."""
    if unknown_salts(recipe, weights, used) or any(line.grams is None and is_salt(line.item) for line in lines):
        return None
    shares = [(line, salt_share(line.ingredient, weights, used)) for line in lines if line.grams]
    total = sum(share * line.grams.mid for line, share in shares if line.grams)
    if not total:
        return None
    weighed = sum(piece.mass_g.mid for piece in pieces)
    meat = sum(piece.boneless_mass_g.mid for piece in pieces)
    by_surface = [(share * line.grams.mid, line.item) for line, share in shares
                  if line.grams and share and line.follows == "surface"]
    return Salt(total, 100 * total / weighed, 100 * total / meat, max(by_surface, default=(0.0, ""))[1])


def unknown_salts(
    recipe: Recipe, weights: Any = None, used: Callable[[str], Recipe] | None = None
) -> tuple[str, ...]:
    """The salts written by a spoon that nobody can know the weight of, here and in recipes that go in."""
    found: list[str] = []
    for line in recipe.ingredients:
        if line.recipe is None:
            found += [] if trusted(line.amount, line.item, weights) else [line.item]
        elif used is not None:
            found += unknown_salts(used(line.recipe), weights, used)
    return tuple(dict.fromkeys(found))


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
