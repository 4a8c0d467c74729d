"""Who gets which slice: the forecast's zones laid over the roast, against what the eaters wish.

A slice is called by its inner third, as people do who look at it (an assumption); which spot reached what is the heat
room's word, and whether meat is safe is read off a thermometer.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from cookbook.errors import RequestError, UnknownName
from cookbook.heat import Slice, Zone, band_of, bands
from cookbook.heat.doneness import NOT_SERVED, doneness, served
from cookbook.heat.zone import POULTRY
from cookbook.plan.dish import Dish
from cookbook.plan.eater import Eater
from cookbook.plan.portioning import portion
from cookbook.safety import household_minimum

INNER = 1 / 3


class Cut(NamedTuple):
    """One slice to be cut, `number` counted from an end of the roast; `twice` where the other end has its twin."""

    number: int
    from_end_cm: float
    thickness_cm: float
    end_cut: bool
    doneness: str
    zones: tuple[Zone, ...]
    grams: float
    twice: bool
    eaters: tuple[str, ...] = ()

    def words(self) -> str:
        """`slice 2 from either end`, `the end`."""
        where = "either end" if self.twice else "the first end"
        return f"slice {self.number} from {where}"

    def json(self) -> dict[str, object]:
        """As `plan --json` lists it."""
        return {**self._asdict(), "zones": [zone.json() for zone in self.zones], "for": list(self.eaters)}


class Serving(NamedTuple):
    """What one eater gets: the wish, the doneness as cut, which slices (by number), and what is to be done yet."""

    name: str
    likes: str | None
    gets: str
    slices: tuple[int, ...]
    fits: bool
    then: str = ""

    def json(self) -> dict[str, object]:
        """As `plan --json` lists it."""
        return {**self._asdict(), "slices": list(self.slices)}


class Served(NamedTuple):
    """The slices and the servings of one piece: wishes met as cut, to be met on the heat again, and missed."""

    cuts: tuple[Cut, ...]
    servings: tuple[Serving, ...]
    notes: tuple[str, ...] = ()

    @property
    def fit(self) -> int:
        """Wishes met as the slice is cut."""
        return sum(1 for one in self.servings if one.likes and one.fits)

    @property
    def back(self) -> int:
        """Wishes that take another minute on the heat."""
        return sum(1 for one in self.servings if one.likes and not one.fits and one.then.startswith("back"))

    @property
    def missed(self) -> tuple[Serving, ...]:
        """Those who get meat that is more done than they wish."""
        return tuple(one for one in self.servings if one.likes and not one.fits and not one.then.startswith("back"))


def wished(one: Eater, species: str) -> tuple[str | None, str]:
    """The band of this species' meat that an eater wishes, and a sentence where it is not what was said.

    Raises UnknownName for a doneness that no meat has.
    """
    said = one.wish(species)
    if said is None:
        return None, ""
    names = [band.name for band in bands(species)]
    try:
        plain = doneness(said)
    except RequestError as fault:
        raise UnknownName("doneness", said, served(), mend=f"{one.name}: one of {', '.join(served())}") from fault
    if species in POULTRY:
        return None, f"{one.name} likes {said}: {species} is served done, whatever the wish"
    if plain in names:
        return plain, ""
    beef = {band.name: band for band in bands("beef")}
    if plain not in beef:
        plain = {"pink": "medium rare", "done": "medium"}.get(plain, "well done")
        if plain in names:
            return plain, f"{one.name} likes {said}: of {species} that is served as {plain}"
    low, high = beef[plain].low_c or 46.0, beef[plain].high_c or 77.0
    found = band_of((low + high) / 2, species).name
    while found in NOT_SERVED:
        found = names[names.index(found) + 1]
    return found, f"{one.name} likes {said}: of {species} that is served as {found}"


def serve(dish: Dish, eaters: Sequence[Eater], edible_g: float, slices: Sequence[Slice] | None = None) -> Served:
    """The slices of a dish shared out: whoever wishes a doneness takes the slices that have it, the rest the rest."""
    species = dish.piece.cut.species
    notes = []
    wishes: dict[str, str | None] = {}
    for one in eaters:
        wishes[one.name], note = wished(one, species)
        notes += [note] if note else []
    cuts = _cuts(dish, edible_g, dish.found.slices if slices is None else slices)
    if not cuts:
        return Served((), (), tuple(notes))
    order = [band.name for band in bands(species)]
    if dish.falls_apart:
        wishes = dict.fromkeys(wishes)
        notes = ["it is cooked until it falls apart: all of it is done alike, and no slice is anybody's own"]
    left = [one.grams * (2 if one.twice else 1) for one in cuts]
    hungry = sum(portion(one.appetite).grams.mid for one in eaters)
    full = min(1.0, sum(left) / hungry) if hungry else 1.0
    taken: list[list[str]] = [[] for _ in cuts]
    servings = {}
    for one in _turns(eaters, wishes, order, {one.doneness for one in cuts}):
        wish = "well done" if one.fully_cooked and "well done" in order else wishes[one.name]
        chosen = _take(full * portion(one.appetite).grams.mid, wish, cuts, left, order)
        for place in chosen:
            taken[place].append(one.name)
        servings[one.name] = _serving(one, wishes[one.name], [cuts[place] for place in chosen], order, dish)
    shared = tuple(cut._replace(eaters=tuple(names)) for cut, names in zip(cuts, taken, strict=True))
    return Served(shared, tuple(servings[one.name] for one in eaters), tuple(notes))


def _cuts(dish: Dish, edible_g: float, slices: Sequence[Slice]) -> list[Cut]:
    if not slices:
        return []
    end = slices[-1].from_end_cm + slices[-1].thickness_cm
    twice = end < 0.75 * dish.piece.dimensions_cm["length"].mid
    whole = sum(one.thickness_cm for one in slices) * (2 if twice else 1)
    return [
        Cut(
            number, abs(one.from_end_cm), one.thickness_cm, one.end_cut, inner(one.zones), tuple(one.zones),
            edible_g * one.thickness_cm / whole, twice,
        )
        for number, one in enumerate(slices, 1)
    ]  # fmt: skip


def inner(zones: Sequence[Zone]) -> str:
    """The band within which the coldest third of a slice ends."""
    total = 0.0
    for zone in zones:
        total += zone.share
        if total >= INNER - 1e-9:
            return zone.name
    return zones[-1].name


def _turns(
    eaters: Sequence[Eater], wishes: dict[str, str | None], order: Sequence[str], there: set[str]
) -> list[Eater]:
    """Who chooses first: wishes that can be met, the least done of them; those without a wish last."""

    def key(one: Eater) -> tuple[int, int]:
        wish = wishes[one.name]
        if one.fully_cooked:
            return 1, -len(order)
        return (3, 0) if wish is None else (0 if wish in there else 2, order.index(wish))

    return sorted(eaters, key=key)


def _take(grams: float, wish: str | None, cuts: Sequence[Cut], left: list[float], order: Sequence[str]) -> list[int]:
    """Slices for a portion, the nearest to the wish first, its own doneness before others; taken off what is left."""

    def far(place: int) -> tuple[float, float]:
        if wish is None:
            return -left[place], 0.0
        away = order.index(cuts[place].doneness) - order.index(wish)
        return (abs(away) + (0.5 if away > 0 else 0.0), -left[place])

    chosen = []
    for place in sorted(range(len(cuts)), key=far):
        if grams <= 1e-6:
            break
        part = min(grams, left[place])
        if part > 1e-6:
            left[place] -= part
            grams -= part
            chosen.append(place)
    return sorted(chosen)


def _serving(one: Eater, wish: str | None, cuts: Sequence[Cut], order: Sequence[str], dish: Dish) -> Serving:
    got = list(dict.fromkeys(cut.doneness for cut in cuts))
    numbers = tuple(cut.number for cut in cuts)
    gets = " and ".join(got) or "nothing"
    then = ""
    places = [order.index(name) for name in got]
    fits = bool(got) and (wish is None or all(name == wish for name in got))
    if wish is not None and places and min(places) < order.index(wish):
        low_c = bands(dish.piece.cut.species)[order.index(wish)].low_c or 0.0
        then = f"back on the heat until it reads {low_c:g} °C"
    elif wish is not None and not fits:
        then = "the least done there is; less done takes a second piece, pulled earlier"
    if one.fully_cooked:
        line = household_minimum(dish.piece.cut.species, dish.piece.cut.name)
        rest = f" and {line.rest_min:g} min rest" if line.rest_min else ""
        then = f"back on the heat unless a thermometer reads {line.core_c:.1f} °C{rest} in this slice"
        fits = False if wish is None else fits
    return Serving(one.name, wish, gets, numbers, fits, then)
