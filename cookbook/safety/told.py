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
from cookbook.safety.allergy import allergen_findings
from cookbook.safety.caution import Caution, cautions
from cookbook.safety.cook import Line, PieceCooked, piece_findings, recipe_findings
from cookbook.safety.curve import Curve
from cookbook.safety.finding import HOUSEHOLD, WARN, Finding, by_gravity
from cookbook.safety.household import Minimum, household_row
from cookbook.safety.keeping import raw_contact_finding
from cookbook.safety.kept import Kept, contact_findings, kept_findings, paste_findings
from cookbook.safety.moments import (
    AWAY,
    CARVED,
    EATEN,
    FROZEN,
    REHEATED,
    Moment,
    air_c,
    cooked_out,
    first,
    moments,
    raw_out,
)
from cookbook.safety.produce import fats, fresh_produce, under_fat

if TYPE_CHECKING:
    from cookbook.journal import Entry, EntryPiece
    from cookbook.journal.readings import Reading
    from cookbook.recipe import Ingredient, Pit, Recipe

ELECTRIC = ("oven", "fan oven", "electric box")
"""Cookers without a fire."""
_OPENED = {
    "injected": re.compile(r"\binject\w*|\bpump(?:ed)?\b[^.;]*\b(?:brine|pickle)\b"),
    "stuffed": re.compile(r"(?<!the )\bstuff\b|\bstuff(?:ed|ing)\b|\bpocket\b[^.;]*\bfill"
                          r"|\bfill(?:ed)? the (?:cavity|pocket)\b"),
    "bladed": re.compile(r"\b(?:tenderi[sz]e\w*|jaccard\w*|bladed|needled|needle (?:it|the))\b"
                         r"|\bprick(?:ed)?\b(?![^.;]*\bskin\b)"),
    "studded": re.compile(r"\bstud(?:ded)? (?:it|the \w+|with)\b|\blarded with\b"
                          r"|\bslits?\b[^.;]*\b(?:push|insert|tuck|poke)"),
    "rolled": re.compile(r"\bboned and rolled\b|\broll(?:ed)?\b[^.;]{0,40}\b(?:ti(?:e|ed)|net(?:ted)?)\b"),
}
_HEATED_C = 40.0
_NOT = re.compile(r"\b(not|never|don't|no)\s+(\w+\s+)?$")


class Around(NamedTuple):
    """What is known beside a recipe or an entry: whether someone who eats needs it fully cooked, how far the
    thermometer may be off in °C, the scale of a bare number, this moment, for what is not done yet, and why readings
    could not be read."""

    guests: bool = False
    accuracy_c: float = 0.0
    scale: str | None = None
    now: datetime | None = None
    faults: tuple[str, ...] = ()


ALONE = Around()


def recipe_safety(recipe: Recipe, inside: Sequence[Recipe] = (), species_of: Callable[[str], str] | None = None,
                  guests: bool = False) -> list[Finding]:
    """What a recipe with those inside it runs into, gravest first. `species_of` names the species of a cut.

    Raises UnknownName for a cut or species that is not known.
    """
    cut = recipe.meat
    rest = recipe.rest.time if recipe.rest else None
    found = recipe_findings(
        [line for one in (recipe, *inside) for line in _lines(one.ingredients)],
        _species(cut, species_of, (recipe, *inside)) if cut else None,
        cut or "",
        recipe.pull_at.c if recipe.pull_at else None,
        rest.seconds / 60 if rest else None,
        recipe.pit.temperature.c if recipe.pit and recipe.pit.temperature else None,
        treatments_in(recipe.steps),
        guests,
    )
    return by_gravity([*found, *allergen_findings((recipe, *inside))])


def recipe_cautions(recipe: Recipe, inside: Sequence[Recipe] = (), species_of: Callable[[str], str] | None = None
                    ) -> list[Caution]:
    """The cautions for a recipe's card, those of the recipes inside it with it."""
    items = [line.item for one in (recipe, *inside) for line in _lines(one.ingredients)]
    items += [coat.item for one in (recipe, *inside) for coat in one.coats if coat.item]
    cut = recipe.meat
    fire = recipe.kind == "cook" and live_fire(recipe.pit)
    species = _species(cut, species_of, (recipe, *inside)) if cut else None
    return cautions(items, species, cut, fire, recipe.kind)


def entry_safety(entry: Entry, recipe: Recipe | None = None, inside: Sequence[Recipe] = (),
                 readings: Sequence[Reading] = (), around: Around = ALONE,
                 species_of: Callable[[str], str] | None = None) -> list[Finding]:
    """What a cook as logged runs into, gravest first; with several pieces each finding names its own.

    `readings` are all that the entry has, by time.
    """
    found = [_no_verdict(fault) for fault in around.faults]
    lines = [line for one in ((recipe,) if recipe else ()) + tuple(inside) for line in _lines(one.ingredients)]
    lines += _went_in(entry)
    aged = _paste(entry, [line.item for line in lines], around.now)
    found += [one for one in recipe_findings(lines) if not (aged and one.rule == "garlic in oil")] + aged
    if entry.outcome is not None and entry.outcome.get("paste_left"):
        found.append(raw_contact_finding("what stayed in the bowl", served=False))
    for piece in entry.pieces:
        told = _piece_findings(entry, piece, recipe, readings, around, species_of)
        found += [one._replace(message=f"{piece.name}: {one.message}") for one in told] if piece.name else told
    found += allergen_findings(((recipe,) if recipe else ()) + tuple(inside), [line.item for line in _went_in(entry)])
    return by_gravity(dict.fromkeys(found))


def _went_in(entry: Entry) -> list[Line]:
    """What the entry says went in, each as it was measured."""
    return [Line(item, "weight", any(line[way].kind not in ("mass", "percent") for way in ("amount", "more", "less")
                                     if line.get(way) is not None))
            for lines in entry.as_made.values() for line in lines
            for item in (line.get("item"), line.get("instead")) if item]


def _paste(entry: Entry, items: Sequence[str], now: datetime | None) -> list[Finding]:
    """The age of a paste of garlic or fresh herbs in oil, of the items that were planned or went in."""
    if under_fat(items) is None:
        return []
    logged = [line for lines in entry.as_made.values() for line in lines]
    mixed = [line["at"] for line in logged if line.get("at") and line.get("item")
             and (fresh_produce(line["item"]) or fats(line["item"]))]
    words = [*(text for event in entry.events for text in (event.did, event.note) if text),
             *(note.text for note in entry.notes)]
    told = [one for piece in entry.pieces[:1] for one in moments(entry, piece)]
    try:
        return paste_findings(told, min(mixed, default=None), words, now if entry.finished is None else None)
    except RequestError as fault:
        return [_no_verdict(f"{fault.message}; {fault.mend}")]


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
    if pit is None or pit.cooker not in ELECTRIC:
        return True
    return bool(pit.fuel or pit.wood)


def _lines(ingredients: Iterable[Ingredient]) -> list[Line]:
    """Each ingredient and what may stand in its place."""
    return [Line(item, one.follows, one.amount.kind not in ("mass", "percent"))
            for one in ingredients for item in (one.words, *one.alternatives)]


def _species(cut: str, species_of: Callable[[str], str] | None, recipes: Sequence[Recipe] = ()) -> str:
    """A cut's species, the kitchen's own cuts among them where a recipe knows them."""
    if species_of is not None:
        return species_of(cut)
    from cookbook.meat import Cut

    own = next((one.made_for.cuts for one in recipes if one.made_for is not None), ())
    return Cut.named(cut, own).species


def _piece_findings(entry: Entry, piece: EntryPiece, recipe: Recipe | None, readings: Sequence[Reading],
                    around: Around, species_of: Callable[[str], str] | None) -> list[Finding]:
    cut = piece.cut or (recipe.meat if recipe else None)
    if cut is None:
        return [_no_verdict("no cut is named, so there is no line to measure it by")]
    lone = len(entry.pieces) == 1
    mine = [one for one in readings if lone or one.piece in (None, piece.name)]
    read = [one for one in mine if lone or one.piece == piece.name]
    story = moments(entry, piece)
    on, pulled = first(story, "on"), first(story, "pulled")
    away = first(story, AWAY, FROZEN, EATEN, REHEATED, after=pulled) if pulled is not None else None
    told: list[Finding] = []
    core, surface = None, None
    try:
        hot = [one for one in read if away is None or one.at < away]
        core, surface = _curve(of_one_core(hot), "core_c"), _curve(hot, "surface_c")
    except RequestError as fault:
        told.append(_no_verdict(f"{fault.message}; {fault.mend}"))
    peak_c = _peak_c(entry, piece)
    if core is None and peak_c is not None and not told:
        core = Curve.of([0], [peak_c])
    air, now = air_c(entry.fields.get("weather"), around.scale), around.now if entry.finished is None else None
    weight, bones, species = piece.known.get("weight"), piece.known.get("bones"), _species(cut, species_of)
    mass_g = weight if isinstance(weight, float) else None
    past = _past(household_row(species, cut), read, around.accuracy_c)
    told += piece_findings(PieceCooked(
        species, cut, core, surface, treatments_in(_words(entry, piece, recipe)),
        bones if isinstance(bones, str) else None, mass_g,
        _pit_c(mine, on, pulled, recipe), _how(recipe), peak_c,
        _rest_min(story, pulled, past), around.accuracy_c,
        raw_out=raw_out(story, air, None if _heated(read) else now),
        cooked_out=cooked_out(story, of_one_core(read), air), guests=around.guests))
    return told + _kept(piece, Kept(story, species, cut, mass_g, now=now), read)


def _heated(read: Sequence[Reading]) -> bool:
    """Whether a core was read that only the heat makes, though nobody wrote down that the piece went on."""
    return any(one.core_c is not None and one.core_c >= _HEATED_C for one in read)


def _kept(piece: EntryPiece, kept: Kept, read: Sequence[Reading]) -> list[Finding]:
    thawed, aged = piece.known.get("thawed"), piece.known.get("aged")
    kept = kept._replace(thawed=str(thawed) if thawed else None, aged=bool(aged))
    try:
        return [*kept_findings(kept, of_one_core(read)), *contact_findings(kept.told)]
    except RequestError as fault:
        return [_no_verdict(f"{fault.message}; {fault.mend}")]


def _no_verdict(why: str) -> Finding:
    return Finding("readings", WARN, None, None, HOUSEHOLD, "usda-probe", "", f"no verdict: {why}")


def _curve(readings: Sequence[Reading], probe: str) -> Curve | None:
    """The probe's curve in seconds from its first reading."""
    read = [(one.at, getattr(one, probe)) for one in readings if getattr(one, probe) is not None]
    if not read:
        return None
    return Curve.of([(at - read[0][0]).total_seconds() for at, _ in read], [value for _, value in read])


def _rest_min(story: Sequence[Moment], pulled: datetime | None, past: datetime | None) -> float | None:
    """From the pull to the knife; where the core was read `past` the line only after the pull, from then on."""
    carved = first(story, *CARVED)
    if pulled is None or carved is None or carved < pulled:
        return None
    return max((carved - max(past or pulled, pulled)).total_seconds() / 60, 0.0)


def _past(line: Minimum, read: Sequence[Reading], accuracy_c: float) -> datetime | None:
    """When a core was first read at the line, by a thermometer that may be `accuracy_c` off."""
    return next((one.at for one in of_one_core(read)
                 if one.core_c is not None and line.met_by(one.core_c - accuracy_c)), None)


def _peak_c(entry: Entry, piece: EntryPiece) -> float | None:
    """The hottest core that the outcome says of this piece; nothing that several pieces share."""
    said = entry.outcome
    if said is not None and len(entry.pieces) > 1:
        said = (said.get("pieces") or {}).get(piece.name)
    read = [said[key].c for key in ("pulled", "peak", "served") if said.get(key) is not None] if said else []
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


def _words(entry: Entry, piece: EntryPiece, recipe: Recipe | None) -> list[str]:
    """What was done to a piece, in the entry's words and in the recipe's steps that it was cooked by."""
    said = [text for event in entry.events if event.piece in (None, piece.name)
            for text in (event.did, event.note) if text]
    return [*said, *entry.deviations, *(recipe.steps if recipe is not None else ())]
