"""One piece on one cooker with its forecast: minutes to the pull at a chance, how long it can wait and at what."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.heat import Forecast, slicing, within
from cookbook.kitchen import Kitchen
from cookbook.kitchen.forecasting.outlook import Taught, Wanted, aimed, taught, told_by
from cookbook.meat import Piece
from cookbook.plan.portioning import TENDER_TO_SHRED_C
from cookbook.quantity import Interval
from cookbook.quantity.number import tenth
from cookbook.recipe import Recipe
from cookbook.safety import out_limit_min
from cookbook.safety.timeout import HOT_HOLD_C
from cookbook.table import rows

WITHIN_K = 3.0
"""So far may the core fall below what it was to be sliced at before the wait has cost something (judgement)."""
HOLD_AT = "65 to 75 °C"
"""Where cuts that are to fall apart are held, in an oven or a box: common practice, above hot holding's 60 °C."""


class Hold(NamedTuple):
    """How long it can wait after the pull, minutes: as good (`good_min`, its core above `floor_c`) and safe."""

    cover: str
    good_min: float
    safe_min: float
    floor_c: float

    @property
    def limit_min(self) -> float:
        """The shorter of the two."""
        return min(self.good_min, self.safe_min)

    def json(self) -> dict[str, object]:
        """As `plan --json` gives it."""
        return {**self._asdict(), "limit_min": self.limit_min}


class Dish(NamedTuple):
    """A piece of one recipe on its cooker: what was asked of the heat room, and what it said."""

    recipe: Recipe
    piece: Piece
    wanted: Wanted
    found: Forecast
    hold: Hold
    known: Taught

    @property
    def name(self) -> str:
        """What the day calls it: the recipe's title, and the piece's name where it has one."""
        return f"{self.recipe.title} ({self.piece.name})" if self.piece.name else self.recipe.title

    @property
    def cooker(self) -> str:
        """The cooker by its name, else by its kind."""
        cooker = self.wanted.cooker
        return "oven" if cooker is None else cooker.name or cooker.kind

    @property
    def falls_apart(self) -> bool:
        """Whether it is cooked until it falls apart."""
        return self.found.pull_c >= TENDER_TO_SHRED_C

    @property
    def carving(self) -> str:
        """What is done on the board: `slice`, or `pull apart` for a shoulder that falls apart."""
        return "pull apart" if self.falls_apart and self.piece.cut.part == "shoulder" else "slice"

    def minutes(self, chance: float) -> float:
        """Minutes on the heat that suffice with this chance. Raises RequestError where none do."""
        minutes = within(self.found.minutes_to_pull, chance)
        if minutes is None:
            raise RequestError(
                f"{self.name}: more than {1 - chance:.0%} of what may be true never reaches "
                f"{tenth(self.found.pull_c)} °C in a pit of {tenth(self.wanted.pit_c)} °C",
                mend="a hotter pit (--pit), an earlier pull (--pull), a wrap in the recipe, or a lower --confidence",
                code="never-done",
            )
        return minutes

    def carve(self) -> Interval:
        """Minutes from the first cut to the plates."""
        return hand_minutes(self.carving, self.piece.mass_g.mid / 1000)


def dish(
    kitchen: Kitchen, recipe: Recipe, wanted: Wanted, learn: bool = True, told: Callable[[str], None] = lambda _: None
) -> Dish:
    """The dish with its forecast. Raises RequestError where it never gets done."""
    known = taught(kitchen, wanted, told) if learn else Taught()
    wanted = aimed(wanted, known)
    found = told_by(wanted, known)
    if not found.reaches:
        mend = "a hotter pit (--pit) or an earlier pull (--pull)"
        raise RequestError(found.warnings[0], mend=mend, code="never-done")
    return Dish(recipe, wanted.piece, wanted, found, hold_of(wanted, found, known), known)


def hold_of(wanted: Wanted, found: Forecast, known: Taught) -> Hold:
    """How long the meat can wait in its cover.

    What is to fall apart waits as long as it stays hot, any other roast until its core has fallen by `WITHIN_K`.
    Below hot holding the two hours of the safety room run.
    """
    rest = wanted.rest
    cover = rest.cover if rest is not None else "tented"
    served = found.core_at_slicing_c.p50 or found.pull_c
    shreds = found.pull_c >= TENDER_TO_SHRED_C
    serve_c = HOT_HOLD_C + WITHIN_K if shreds else served
    settings = {**wanted.settings(), "priors": known.priors}
    waits = slicing(wanted.piece, serve_c=serve_c, within_k=WITHIN_K, **settings).waits_min
    floor_c = serve_c - WITHIN_K
    hot = waits[cover] if floor_c >= HOT_HOLD_C else 0.0
    return Hold(cover, waits[cover], hot + out_limit_min(None), floor_c)


def hand_minutes(what: str, kilograms: float = 0.0) -> Interval:
    """Minutes of hand work from the table, with what each kilogram adds."""
    row = next(row for row in rows("plan_minutes") if row["what"] == what)
    more = float(row["per_kg"]) * kilograms
    return Interval(*(float(row[end]) + more for end in ("low", "mid", "high")))
