"""What a recipe or an entry tells the checks: its words and moments turned into the plain records of `cook`.

Nothing is read into it: a moment that nobody logged opens no stretch, a probe that nobody read gives no curve.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from datetime import datetime
from statistics import median
from typing import TYPE_CHECKING, NamedTuple

from cookbook.errors import RequestError
from cookbook.journal.readings import of_one_core
from cookbook.safety.caution import Caution, cautions
from cookbook.safety.cook import Line, PieceCooked, piece_findings, recipe_findings
from cookbook.safety.curve import Curve
from cookbook.safety.finding import HOUSEHOLD, WARN, Finding, by_gravity
from cookbook.safety.keeping import raw_contact_finding
from cookbook.safety.timeout import HOT_HOLD_C, Span

if TYPE_CHECKING:
    from cookbook.journal import Entry, EntryPiece
    from cookbook.journal.readings import Reading
    from cookbook.recipe import Ingredient, Pit, Recipe

_ELECTRIC = ("oven", "fan oven", "electric box")
_OUT = re.compile(r"^out$|\b(taken out|out of the (refrigerator|fridge)|on the counter|temper(ing|ed)|(paste|rub) on"
                  r"|coated)\b")
_AWAY = re.compile(r"\b((in|into|back in|back into) the (refrigerator|fridge|freezer)|refrigerated|chilled|frozen)\b")
_CARVED = ("sliced", "served", "carved")
_OPENED = {
    "injected": re.compile(r"\binject\w*"),
    "stuffed": re.compile(r"\bstuff(ed|ing)?\b"),
    "bladed": re.compile(r"\b(tenderi[sz]e\w*|jaccard\w*|blade[d]?)\b"),
    "rolled": re.compile(r"\broll(ed)?( up)?( it)?,? (and|then) (tie|net)"),
}
_NOT = re.compile(r"\b(not|never|don't|no)\s+(\w+\s+)?$")


class _Stretches(NamedTuple):
    raw: tuple[Span, ...]
    cooked: tuple[Span, ...]


def recipe_safety(recipe: Recipe, inside: Sequence[Recipe] = (), species_of: Callable[[str], str] | None = None
                  ) -> list[Finding]:
    """What a recipe with those inside it runs into, gravest first. `species_of` names the species of a cut.

    Raises UnknownName for a cut or species that is not known.
    """
    cut = recipe.meat
    rest = recipe.rest.time if recipe.rest else None
    return recipe_findings(
        [line for one in (recipe, *inside) for line in _lines(one.ingredients)],
        _species(cut, species_of) if cut else None,
        cut or "",
        recipe.pull_at.c if recipe.pull_at else None,
        rest.seconds / 60 if rest else None,
        recipe.pit.temperature.c if recipe.pit and recipe.pit.temperature else None,
        treatments_in(recipe.steps),
    )


def recipe_cautions(recipe: Recipe, inside: Sequence[Recipe] = (), species_of: Callable[[str], str] | None = None
                    ) -> list[Caution]:
    """The cautions for a recipe's card, those of the recipes inside it with it."""
    items = [line.item for one in (recipe, *inside) for line in _lines(one.ingredients)]
    items += [coat.item for one in (recipe, *inside) for coat in one.coats if coat.item]
    cut = recipe.meat
    fire = recipe.kind == "cook" and live_fire(recipe.pit)
    return cautions(items, _species(cut, species_of) if cut else None, cut, fire, recipe.kind)


def entry_safety(entry: Entry, recipe: Recipe | None = None, inside: Sequence[Recipe] = (),
                 readings: Sequence[Reading] = (), guests: bool = False,
                 species_of: Callable[[str], str] | None = None) -> list[Finding]:
    """What a cook as logged runs into, gravest first; with several pieces each finding names its own.

    `readings` are all that the entry has, by time; `guests` says that someone who ate needs it fully cooked.
    """
    found: list[Finding] = []
    lines = [line for one in ((recipe,) if recipe else ()) + tuple(inside) for line in _lines(one.ingredients)]
    found += recipe_findings(lines)
    if entry.outcome is not None and entry.outcome.get("paste_left"):
        found.append(raw_contact_finding("what stayed in the bowl", served=False))
    for piece in entry.pieces:
        cut = piece.cut or (recipe.meat if recipe else None)
        told = _piece_findings(entry, piece, cut, recipe, readings, guests, species_of)
        found += [one._replace(message=f"{piece.name}: {one.message}") for one in told] if piece.name else told
    return by_gravity(found)


def treatments_in(texts: Iterable[str]) -> tuple[str, ...]:
    """What steps or notes say was done to open the meat; `do not inject` says nothing."""
    found: dict[str, None] = {}
    for text in texts:
        for name, sign in _OPENED.items():
            seen = sign.search(text.casefold())
            if seen and not _NOT.search(text.casefold()[: seen.start()]):
                found[name] = None
    return tuple(found)


def live_fire(pit: Pit | None) -> bool:
    """Whether a cook is over a fire: always, unless it names an electric device and burns nothing."""
    if pit is None or pit.cooker not in _ELECTRIC:
        return True
    return bool(pit.fuel or pit.wood)


def _lines(ingredients: Iterable[Ingredient]) -> list[Line]:
    """Each ingredient and what may stand in its place."""
    return [Line(item, one.follows, one.amount.kind == "volume")
            for one in ingredients for item in (one.words, *one.alternatives)]


def _species(cut: str, species_of: Callable[[str], str] | None) -> str:
    if species_of is not None:
        return species_of(cut)
    from cookbook.meat import Cut

    return Cut.named(cut).species


def _piece_findings(entry: Entry, piece: EntryPiece, cut: str | None, recipe: Recipe | None,
                    readings: Sequence[Reading], guests: bool, species_of: Callable[[str], str] | None
                    ) -> list[Finding]:
    if cut is None:
        return [_no_verdict("no cut is named, so there is no line to measure it by")]
    lone = len(entry.pieces) == 1
    mine = [one for one in readings if lone or one.piece in (None, piece.name)]
    read = [one for one in mine if lone or one.piece == piece.name]
    on, pulled = _moment(entry, piece, "on"), _moment(entry, piece, "pulled")
    told: list[Finding] = []
    core, surface = None, None
    try:
        core, surface = _curve(of_one_core(read), "core_c"), _curve(read, "surface_c")
    except RequestError as fault:
        told.append(_no_verdict(f"{fault.message}; {fault.mend}"))
    peak_c = _peak_c(entry)
    if core is None and peak_c is not None and not told:
        core = Curve.of([0], [peak_c])
    stretches = _stretches(entry, piece, on, pulled, read)
    mass_g, bones = piece.known.get("weight"), piece.known.get("bones")
    told += piece_findings(PieceCooked(
        _species(cut, species_of), cut, core, surface, treatments_in(_words(entry, piece)),
        bones if isinstance(bones, str) else None, mass_g if isinstance(mass_g, float) else None,
        _pit_c(mine, on, pulled, recipe), _how(recipe), peak_c, _rest_min(entry, piece, pulled),
        raw_out=stretches.raw, cooked_out=stretches.cooked, guests=guests))
    return told


def _no_verdict(why: str) -> Finding:
    return Finding("readings", WARN, None, None, HOUSEHOLD, "usda-probe", "", f"no verdict: {why}")


def _curve(readings: Sequence[Reading], probe: str) -> Curve | None:
    """The probe's curve in seconds from its first reading."""
    read = [(one.at, getattr(one, probe)) for one in readings if getattr(one, probe) is not None]
    if not read:
        return None
    return Curve.of([(at - read[0][0]).total_seconds() for at, _ in read], [value for _, value in read])


def _moment(entry: Entry, piece: EntryPiece, *did: str) -> datetime | None:
    return next((event.at for event in entry.events
                 if event.did in did and event.piece in (None, piece.name)), None)


def _rest_min(entry: Entry, piece: EntryPiece, pulled: datetime | None) -> float | None:
    carved = _moment(entry, piece, *_CARVED)
    if pulled is None or carved is None or carved < pulled:
        return None
    return (carved - pulled).total_seconds() / 60


def _peak_c(entry: Entry) -> float | None:
    """The hottest core in the outcome; not where several pieces share it."""
    said = entry.outcome
    if said is None or len(entry.pieces) > 1:
        return None
    read = [said[key].c for key in ("pulled", "peak", "served") if said.get(key) is not None]
    return max(read, default=None)


def _pit_c(readings: Sequence[Reading], on: datetime | None, pulled: datetime | None, recipe: Recipe | None
           ) -> float | None:
    """The middle of the pit readings over the cook, else what the recipe asks for."""
    read = [one.pit_c for one in readings if one.pit_c is not None and (on is None or one.at >= on)
            and (pulled is None or one.at <= pulled)]
    if read:
        return median(read)
    return recipe.pit.temperature.c if recipe and recipe.pit and recipe.pit.temperature else None


def _how(recipe: Recipe | None) -> str:
    wrap = recipe.pit.wrap if recipe and recipe.pit else None
    return "wrapped" if wrap and "foil" in wrap.casefold() else "dry"


def _words(entry: Entry, piece: EntryPiece) -> list[str]:
    said = [text for event in entry.events if event.piece in (None, piece.name)
            for text in (event.did, event.note) if text]
    return [*said, *entry.deviations]


def _stretches(entry: Entry, piece: EntryPiece, on: datetime | None, pulled: datetime | None,
               readings: Sequence[Reading]) -> _Stretches:
    """The stretches out before the heat and after it, each between two logged moments."""
    raw: list[Span] = []
    out: tuple[str, datetime] | None = None
    for event in sorted(entry.events, key=lambda event: event.at):
        if event.did is None or event.piece not in (None, piece.name):
            continue
        did = event.did.casefold()
        ends = event.did == "on" or bool(_AWAY.search(did))
        if out is not None and ends:
            raw.append(Span(out[0], (event.at - out[1]).total_seconds() / 60))
            out = None
        elif out is None and (pulled is None or event.at < pulled) and _OUT.search(did):
            out = (event.did, event.at)
    return _Stretches(tuple(raw), _cooked_out(entry, piece, on, pulled, readings))


def _cooked_out(entry: Entry, piece: EntryPiece, on: datetime | None, pulled: datetime | None,
                readings: Sequence[Reading]) -> tuple[Span, ...]:
    if pulled is None or on is None:
        return ()
    away = next((event.at for event in entry.events if event.did and event.at > pulled
                 and event.piece in (None, piece.name) and _AWAY.search(event.did.casefold())), None)
    if away is None:
        return ()
    hot = [one.at for one in readings if one.core_c is not None and one.core_c >= HOT_HOLD_C and one.at >= pulled]
    begin = max([pulled, *hot])
    return (Span("after the heat", max((away - begin).total_seconds() / 60, 0.0)),)
