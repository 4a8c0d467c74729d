"""What adopting would change, as plain records: one line of a recipe each, and the recipe they make."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from cookbook.kitchen.adopting.method import Method
from cookbook.meat import Piece
from cookbook.quantity import Amount
from cookbook.recipe import Ingredient, Recipe

MEASURED = ("weight", "ribs", "length", "girth", "girth_ends", "width", "thickness", "scan", "bones", "frenched")
"""What is measured on a piece, in the order of the files."""


class Varied(NamedTuple):
    """How several cooks differed in one ingredient: the least and the most of it, the standard deviation in percent
    of their average (None for one), and how many besides left it out or took something else. Of what comes out of the
    recipe only the numbers of cooks."""

    cooks: int
    low: str
    high: str
    spread_percent: float | None
    others: int


class Adopted(NamedTuple):
    """One line that changes: what went in today, what the recipe will say, and the factor between the pieces.

    `written` is the recipe's line as it stands (None where it is new), `drop` says that it goes; `salt` that it
    changes the salt's share and is asked about by itself.
    """

    item: str
    today: Amount | None
    in_recipe: Amount | None
    factor: float
    written: Ingredient | None
    drop: bool = False
    salt: bool = False
    guess: bool = False
    exact: str = ""
    varied: Varied | None = None

    @property
    def tightened(self) -> bool:
        """Whether the recipe had a range and now has the amount in it that was used."""
        was, now = self.written.amount if self.written else None, self.in_recipe
        if was is None or now is None or was.unit != now.unit or None in (was.low, was.high, now.low, now.high):
            return False
        return bool(was.low < was.high and was.low <= now.low == now.high <= was.high)  # type: ignore[operator]

    def json(self) -> dict[str, object]:
        """The line as `adopt --json` lists it."""
        return {
            "item": self.item,
            "today": str(self.today) if self.today else None,
            "in_recipe": str(self.in_recipe) if self.in_recipe else None,
            "factor": round(self.factor, 4),
            "before": str(self.written.amount) if self.written else None,
            "unrounded": self.exact,
            "guess": self.guess,
            "left_out": self.drop,
            "varied": self.varied._asdict() if self.varied else None,
        }


class Adoption(NamedTuple):
    """What adopting would write: the recipe's name, its text before (None for a first revision) and after."""

    recipe: str
    before: Recipe | None
    revision: int
    changes: tuple[Adopted | Method, ...]
    today: str
    own: str
    data: bytes
    notes: tuple[str, ...]


Keep = Callable[[str, Adopted | Method], bool]
"""Chooses line by line: the recipe's name and the line."""


def sure(recipe: str, line: Adopted | Method) -> bool:
    """The choice of who isn't asked: all that went in, and of the method what the cook said."""
    del recipe
    return not isinstance(line, Method) or line.sure


def sizes(pieces: list[Piece]) -> str:
    """`3.1 kg`, or `2 kg and 1.5 kg` of several pieces."""
    return " and ".join(f"{piece.mass_g.mid / 1000:.3g} kg" for piece in pieces)


def line_words(line: Adopted | Method, adoption: Adoption) -> str:
    """`garlic: today 89 g on 3.1 kg, in the recipe 66 g for 2.2 kg`; `pull at: 58 °C (was 60 °C)`."""
    if isinstance(line, Method):
        was = f" (was {line.written})" if line.written else " (new)"
        if line.varied is None:
            return f"{line.item}: {line.today}{was}"
        many, low, high = line.varied
        span = low if low == high else f"{low} to {high}"
        return f"{line.item}: {line.today}, the average of {span} in {many} cook{'' if many == 1 else 's'}{was}"
    if line.drop and line.varied is not None:
        without, cooks = line.varied.others, line.varied.others + line.varied.cooks
        return f"{line.item}: left out in {without} of {cooks} cooks, comes out of the recipe"
    if line.drop:
        return f"{line.item}: left out today, comes out of the recipe"
    tight = ", tightened to what was used" if line.tightened else ""
    was = f" (was {line.written.amount}{tight})" if line.written is not None else " (new)" if adoption.before else ""
    guess = "; a guess, nobody weighed it" if line.guess else ""
    if line.varied is not None:
        return f"{line.item}: {_varied(line.varied)}; in the recipe {line.in_recipe} for {adoption.own}{was}{guess}"
    if not adoption.before and str(line.today) == str(line.in_recipe):
        return f"{line.item}: {line.today}{guess}"
    rounding = f", rounded from {line.exact}" if line.exact and line.exact != str(line.in_recipe) else ""
    return (
        f"{line.item}: today {line.today} on {adoption.today}, in the recipe {line.in_recipe} "
        f"for {adoption.own}{was}{rounding}{guess}"
    )


def _varied(varied: Varied) -> str:
    """`58 to 71 g in 3 cooks (± 9 %)`, as restated for the recipe's own piece."""
    spread = f" (± {varied.spread_percent:.0f} %)" if varied.spread_percent is not None else ""
    others = f", {varied.others} without it" if varied.others else ""
    span = varied.low if varied.low == varied.high else f"{varied.low} to {varied.high}"
    return f"{span} in {varied.cooks} cook{'' if varied.cooks == 1 else 's'}{spread}{others}"
