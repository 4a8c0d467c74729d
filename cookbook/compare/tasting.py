"""Blind tastings of one change at a time: who is served what under which code, and what the answers say.

Triangle: two portions are the same and one is other; who tells? Preference: which of two is liked better?
Source: the tests that ISO 4120 and ISO 5495 describe; their numbers are worked out here from the exact binomial
distribution.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from random import Random
from typing import NamedTuple

from cookbook.compare.binomial import LEVEL, at_least, critical, limits, power
from cookbook.errors import RequestError, UnknownName

B = "B"
"""The sample that a preference is counted for; the other is A."""
HALF = 0.5
"""The share of tasters who notice (or the lead in liking) that power is told for."""
MOST_TASTERS = 150


class Kind(NamedTuple):
    """A kind of tasting: the orders that are dealt out evenly, the chance to hit by guessing, and its question."""

    name: str
    orders: tuple[str, ...]
    chance: Fraction
    sides: int
    question: str

    def true_chance(self, share: float) -> float:
        """The chance of a hit when `share` of the tasters really tell (or prefer), and the others guess."""
        return share + (1 - share) * float(self.chance)


KINDS: Mapping[str, Kind] = {
    "triangle": Kind(
        "triangle", ("AAB", "ABA", "BAA", "ABB", "BAB", "BBA"), Fraction(1, 3), 1, "Which of the three is other?"
    ),
    "preference": Kind("preference", ("AB", "BA"), Fraction(1, 2), 2, "Which of the two do you like better?"),
}


class Portion(NamedTuple):
    """One portion: its code, and which of the two it really is."""

    code: int
    sample: str


class Serving(NamedTuple):
    """What one taster gets, from left to right."""

    taster: str
    portions: tuple[Portion, ...]

    @property
    def odd(self) -> Portion | None:
        """The portion that stands alone, None where there is no such."""
        samples = [portion.sample for portion in self.portions]
        return next((one for one in self.portions if samples.count(one.sample) == 1 and len(samples) > 2), None)


class Plan(NamedTuple):
    """A tasting: the same seed and tasters give the same plan again."""

    kind: Kind
    seed: int
    servings: tuple[Serving, ...]


def kind_named(name: str) -> Kind:
    """A kind by its name. Raises UnknownName."""
    if name not in KINDS:
        raise UnknownName("kind of tasting", name, mend="it can be " + " or ".join(KINDS))
    return KINDS[name]


def plan(kind: str, tasters: Sequence[str], seed: int) -> Plan:
    """Deals the orders out evenly and at random, with a code of three digits for every portion, none twice.

    Raises RequestError for no tasters, two of one name, or more than there are codes for.
    """
    found = kind_named(kind)
    if not tasters or len(set(tasters)) != len(tasters):
        raise RequestError("a tasting needs tasters, each with a name of their own", mend="--tasters Ada,Ben,Dov")
    if len(tasters) > MOST_TASTERS:
        raise RequestError(
            f"{len(tasters)} tasters are more than a plan serves ({MOST_TASTERS})", mend="taste in two rounds"
        )
    chance = Random(seed)
    orders: list[str] = []
    while len(orders) < len(tasters):
        orders += chance.sample(found.orders, len(found.orders))
    codes = iter(chance.sample(range(100, 1000), len(tasters) * len(found.orders[0])))
    servings = tuple(
        Serving(taster, tuple(Portion(next(codes), sample) for sample in order))
        for taster, order in zip(tasters, orders, strict=False)
    )
    return Plan(found, seed, servings)


def hits(planned: Plan, answers: Mapping[str, int]) -> tuple[int, int]:
    """How many answers hit (the other one; in a preference, B), and how many there are. Raises RequestError."""
    served = {serving.taster: serving for serving in planned.servings}
    found = 0
    for taster, code in answers.items():
        if taster not in served:
            raise RequestError(f"{taster} was not in the plan", mend="name the same tasters, in the same order")
        portion = next((one for one in served[taster].portions if one.code == code), None)
        if portion is None:
            raise RequestError(f"{taster} was not served {code}", mend="say the same seed as the plan")
        odd = served[taster].odd
        found += portion == odd if odd is not None else portion.sample == B
    return found, len(answers)


class Result(NamedTuple):
    """What a tasting says. `chance` is how often guessing does as well; `needed` the hits that are beyond chance;
    `noticed` the interval for the share of tasters who really tell (90 %, so that its low end goes with the verdict;
    in a preference 95 %, the lead of B over A from -1 to 1); `power` the chance to have found it if half of them did;
    `tasters_needed` how many would find that four times in five.
    """

    kind: str
    hits: int
    of: int
    chance: float
    needed: int | None
    noticed: tuple[float, float]
    power: float
    tasters_needed: int
    verdict: str

    def json(self) -> dict[str, object]:
        """The result as `--json` gives it."""
        return {key: round(value, 6) if isinstance(value, float) else value for key, value in self._asdict().items()}


def result(kind: str, hit: int, of: int) -> Result:
    """The exact binomial verdict on so many hits. Raises UnknownName, RequestError."""
    found = kind_named(kind)
    if not 0 <= hit <= of or not 1 <= of <= 10 * MOST_TASTERS:
        raise RequestError(f"{hit} of {of} can't be", mend="say how many hit, and of how many answers: 9 of 15")
    chance = _chance(found, hit, of)
    low, high = limits(hit, of, LEVEL * 2 / found.sides)
    guess = float(found.chance)
    share = ((low - guess) / (1 - guess), (high - guess) / (1 - guess))
    noticed = share if found.sides == 2 else (max(0.0, share[0]), max(0.0, share[1]))
    return Result(
        kind,
        hit,
        of,
        chance,
        critical(of, found.chance, LEVEL, found.sides),
        noticed,
        power_of(kind, of),
        tasters_needed(kind),
        _verdict(found, chance, hit, of),
    )


def _chance(kind: Kind, hit: int, of: int) -> float:
    if kind.sides == 1:
        return at_least(hit, of, kind.chance)
    return min(1.0, 2 * at_least(max(hit, of - hit), of, kind.chance))


def _verdict(kind: Kind, chance: float, hit: int, of: int) -> str:
    if chance > LEVEL:
        return "can't tell yet"
    if kind.sides == 1:
        return "they taste different"
    return "B is liked better" if 2 * hit > of else "A is liked better"


def power_of(kind: str, tasters: int, share: float = HALF) -> float:
    """The chance that so many tasters find it when `share` of them really tell (or prefer). Raises UnknownName."""
    found = kind_named(kind)
    return power(tasters, found.chance, found.true_chance(share), LEVEL, found.sides)


def tasters_needed(kind: str, share: float = HALF, sure: float = 0.8) -> int:
    """The least number of tasters from which on the test finds it when `share` of them really tell.

    Because hits are whole numbers power falls a little now and then; from this number on it stays.
    """
    least = MOST_TASTERS
    while least > 1 and power_of(kind, least - 1, share) >= sure:
        least -= 1
    return least
