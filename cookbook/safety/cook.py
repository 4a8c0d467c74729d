"""Everything a cook or a recipe runs into, over plain records: which checks apply, and their findings by gravity."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from cookbook.quantity import is_cure, refuse_cure_by
from cookbook.safety.comeup import come_up_finding
from cookbook.safety.curve import Curve, joined
from cookbook.safety.finding import HOUSEHOLD, NOTE, STOP, WARN, Finding, by_gravity
from cookbook.safety.household import Minimum, household_row, species_named
from cookbook.safety.integrity import Intact, intact, non_intact_finding
from cookbook.safety.keeping import oil_days, oil_keeping_finding
from cookbook.safety.oven import humidity_finding, oven_finding, pit_finding
from cookbook.safety.produce import under_fat
from cookbook.safety.timeout import Span, time_out_finding
from cookbook.safety.trichinella import SPECIES, trichinella_finding
from cookbook.safety.verdict import (
    Cooked,
    cooked,
    flaw_findings,
    guests_finding,
    household_finding,
    is_grave,
    planned_guests_finding,
    plant_findings,
)


class PieceCooked(NamedTuple):
    """One piece as it was really cooked. `core` is measured; without it nothing is said to be cooked.

    `peak_c` is the hottest core that the cook wrote down beside it, `rest_min` the rest that an entry records, `how`
    the way of heating as in `humidity_needed`; `raw_out` and `cooked_out` are the stretches out of the refrigerator
    before the heat and after it; `guests` says that someone needs it fully cooked.
    """

    species: str
    cut: str
    core: Curve | None = None
    surface: Curve | None = None
    treatments: tuple[str, ...] = ()
    bones: str | None = None
    mass_g: float | None = None
    pit_c: float | None = None
    how: str = "dry"
    peak_c: float | None = None
    rest_min: float | None = None
    accuracy_c: float = 0.0
    fat_percent: float | None = None
    raw_out: tuple[Span, ...] = ()
    cooked_out: tuple[Span, ...] = ()
    guests: bool = False


class Line(NamedTuple):
    """An ingredient of a recipe: its words, the rule it follows, whether it goes by the spoon, by count or by eye."""

    item: str
    follows: str = "surface"
    spooned: bool = False


def piece_findings(piece: PieceCooked) -> list[Finding]:
    """What a cooked piece runs into, gravest first. Raises UnknownName for a species that is in no chart."""
    state = intact(piece.cut, piece.treatments, piece.bones)
    words = " ".join((piece.cut, *piece.treatments))
    found: list[Finding] = []
    seen = None
    if piece.core is None:
        found.append(_unmeasured(piece.species, household_row(piece.species, words)))
    else:
        seen = cooked(piece.core, piece.species, words, accuracy_c=piece.accuracy_c, rest_min=piece.rest_min,
                      fat_percent=piece.fat_percent, peak_c=piece.peak_c)
        found += _cooked_findings(piece, piece.core, seen, state)
    if piece.pit_c is not None:
        found += [told for told in (pit_finding(piece.pit_c),) if told]
    for spans, stage in ((piece.raw_out, "raw"), (piece.cooked_out, "cooked")):
        if spans:
            found.append(time_out_finding(spans, stage))
    if piece.guests:
        found.append(guests_finding(seen, piece.species, words))
    return by_gravity(found)


def recipe_findings(lines: Sequence[Line], species: str | None = None, cut: str = "", pull_c: float | None = None,
                    rest_min: float | None = None, pit_c: float | None = None,
                    treatments: Sequence[str] = (), guests: bool = False) -> list[Finding]:
    """What a recipe as written runs into: a plan is told for a plan, never judged as a measurement."""
    found: list[Finding] = []
    mixed = under_fat(line.item for line in lines)
    if mixed:
        found.append(oil_keeping_finding(0)._replace(value=", ".join(mixed.produce), limit=oil_days()[0]))
    found += [_cure(line) for line in lines if is_cure(line.item)]
    if species is not None and pull_c is not None:
        words = " ".join((cut, *treatments))
        found.append(_planned(species, household_row(species, words), pull_c, rest_min, intact(cut, treatments)))
    if species is not None and guests:
        found.append(planned_guests_finding(species, " ".join((cut, *treatments)), pull_c))
    if pit_c is not None:
        found += [told for told in (pit_finding(pit_c),) if told]
    return by_gravity(found)


def _cooked_findings(piece: PieceCooked, core: Curve, seen: Cooked, state: Intact) -> list[Finding]:
    found = [*flaw_findings(seen), household_finding(seen, piece.species, state)]
    opened = non_intact_finding(state, seen.peak_c, seen.held_s, seen.accuracy_c)
    found += [opened] if opened else []
    if len(core.times_s) > 1:
        found += plant_findings(seen)
        found.append(come_up_finding(joined(seen.parts), state.whole, piece.surface))
    if species_named(piece.species) in SPECIES and not seen.past_line:
        found.append(trichinella_finding(*seen.parts))
    by_table = seen.plant is not None and seen.plant.conforms and not seen.past_line
    if by_table and piece.mass_g is not None and piece.pit_c is not None:
        moist = humidity_finding(piece.mass_g, piece.pit_c, seen.peak_c, piece.how)
        found += [moist] if moist else []
        found.append(oven_finding(piece.mass_g, piece.pit_c))
    return found


def _unmeasured(species: str, row: Minimum) -> Finding:
    return Finding("household minimum", WARN, None, round(row.core_c, 1), row.regime, row.source, "°C",
                   f"no core temperature was measured, so nothing can be said; for {species_named(species)} the "
                   f"household line is {row.core_c:.1f} °C ({row.core_f:g} °F)")


def _planned(species: str, row: Minimum, pull_c: float, rest_min: float | None, state: Intact) -> Finding:
    name = species_named(species)
    line = f"the household line for {name} is {row.core_c:.1f} °C ({row.core_f:g} °F)"
    line += f" and {row.rest_min:g} min rest" if row.rest_min else ""
    if row.met_by(pull_c):
        short = rest_min is not None and rest_min < row.rest_min
        return Finding("planned pull", WARN if short else NOTE, round(pull_c, 1), round(row.core_c, 1), row.regime,
                       row.source, "°C", f"pulled at {round(pull_c, 1):g} °C; {line}"
                       + (f"; the recipe rests it {rest_min:g} min" if short else ""))
    level = WARN if is_grave(name, row, state) or not state.whole else NOTE
    short_c = f"{round(row.core_c - pull_c, 1):g} °C more"
    return Finding("planned pull", level, round(pull_c, 1), round(row.core_c, 1), row.regime, row.source, "°C",
                   f"pulled at {round(pull_c, 1):g} °C; {line}, {short_c}: a rise in the rest counts only when a "
                   "thermometer shows it")


def _cure(line: Line) -> Finding:
    if not line.spooned and line.follows == "weight":
        return Finding("curing salt", NOTE, line.item, "by weight", HOUSEHOLD, "fsis-7620-3", "",
                       f"{line.item}: check twice against the limit of its class with `cookbook safety cure`, weigh "
                       "on a fine scale, follow your local rules; a recipe names neither class nor strength, so no "
                       "ppm is said here")
    refusal = refuse_cure_by("spoon" if line.spooned else
                             "surface" if line.follows == "surface" else f"scaled by {line.follows}")
    return Finding("curing salt", STOP, line.item, "by weight", HOUSEHOLD, "fsis-7620-3", "",
                   f"{refusal.message}; {refusal.mend}")
