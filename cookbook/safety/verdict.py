"""What a measured core curve says: the household line first, then the plant's tables, each under its own name."""

from __future__ import annotations

from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.safety.curve import GAP, PROBE_OUT, Curve, Fault, faults, to_c, to_f
from cookbook.safety.dwell import BIRDS, OTHER_BIRDS, PRODUCTS, Dwell, dwell_table
from cookbook.safety.finding import HOUSEHOLD, NOTE, PLANT, STOP, WARN, Finding
from cookbook.safety.household import Minimum, elsewhere, household_row, species_named
from cookbook.safety.integrity import Intact
from cookbook.safety.reduction import LOW_HOLD_F, Conformance, conformance, table_log10

_REST_TOLERANCE = 1e-6
_LARGEST_SHOWN = 12.0
_RED_MEAT = ("beef", "veal", "lamb", "bison", "goat")


class Cooked(NamedTuple):
    """A measured curve against the household line and, where the product is in the tables, against its dwell."""

    line: Minimum
    limit_c: float
    peak_c: float
    held_s: float
    reached: bool
    rested: bool | None
    table: Dwell | None
    plant: Conformance | None
    log10: float
    flaws: tuple[Fault, ...]
    parts: tuple[Curve, ...]
    accuracy_c: float = 0.0

    @property
    def past_line(self) -> bool:
        """Reached and rested as the household line asks, by measurement."""
        return self.reached and self.rested is True


def set_limit_c(limit_c: float, accuracy_c: float) -> float:
    """The reading to wait for with a thermometer that may be `accuracy_c` off (FSIS-GD-2021-14 p. 20)."""
    if not 0 <= accuracy_c < 20:
        raise RequestError(f"{accuracy_c} °C is no accuracy of a thermometer", mend="give it as 0.5 or 1, in °C")
    return limit_c + accuracy_c


def cooked(curve: Curve, species: str, cut: str | None = None, *, accuracy_c: float = 0.0,
           rest_min: float | None = None, fat_percent: float | None = None, peak_c: float | None = None) -> Cooked:
    """Judge a measured curve. `rest_min` is the rest an entry records, in minutes, where the log ends before it;
    `peak_c` a hottest core that the cook read off and wrote down beside it.

    Stretches over a gap count for nothing, nor does what a probe that jumped read in the hotter place. The
    thermometer's error is taken off for the tables too.
    """
    row = household_row(species, cut)
    limit_c = set_limit_c(row.core_c, accuracy_c)
    flaws = tuple(faults(curve))
    parts = curve.without(flaws)
    hottest_c = max([to_c(max(part.core_f)) for part in parts] + ([] if peak_c is None else [peak_c]))
    reached = row.met_by(hottest_c - accuracy_c)
    line_f = to_f(limit_c)
    held_s = max(part.longest_above_s(line_f) for part in parts)
    rest = max(held_s / 60, rest_min or 0.0)
    rested = reached and rest >= row.rest_min - _REST_TOLERANCE
    seen = rested or rest_min is not None or parts[-1].core_f[-1] < line_f
    name = species_named(species)
    table = dwell_table(name, None, fat_percent) if name in PRODUCTS else None
    sure = tuple(part.colder_by(accuracy_c) for part in parts)
    plant = conformance(table, *sure) if table else None
    log10 = sum(table_log10(part, table) for part in sure) if table else 0.0
    return Cooked(row, limit_c, hottest_c, held_s, reached, rested if seen else None, table, plant, log10, flaws,
                  sure, accuracy_c)


def household_finding(seen: Cooked, species: str, state: Intact) -> Finding:
    """The household line against the measured peak: met, met but for the rest, or short of it by so much."""
    row, name = seen.line, species_named(species)
    line = f"{row.core_c:.1f} °C ({row.core_f:g} °F)" + (f" and {row.rest_min:g} min rest" if row.rest_min else "")
    if seen.reached:
        level = NOTE if seen.rested is not False else WARN
        tail = {True: "reached and rested", None: "reached; no rest in the log", False: "reached, rest too short"}
        said = f"the core came to {seen.peak_c:.1f} °C, the household line for {name} is {line}: {tail[seen.rested]}"
    else:
        level = _short(seen, name, state)
        lacks = seen.limit_c - seen.peak_c
        part = f"{seen.accuracy_c:g} of it" if seen.accuracy_c < lacks else "all of it"
        off = f", {part} for a thermometer that may be off" if seen.accuracy_c else ""
        said = (f"the core came to {seen.peak_c:.1f} °C; the household line for {name} is {line}, "
                f"{lacks:.1f} °C more{off}")
    stricter = max(elsewhere(name), key=lambda other: other.core_f, default=None)
    if stricter is not None and stricter.core_f > row.core_f:
        said += f"; stricter elsewhere: {stricter.regime.removeprefix(HOUSEHOLD + ', ')} {stricter.core_c:.0f} °C"
    if row.memory:
        said += " (this row is from memory, not re-read)"
    return Finding("household minimum", level, round(seen.peak_c, 1), round(seen.limit_c, 1), row.regime, row.source,
                   "°C", said)


def plant_findings(seen: Cooked) -> list[Finding]:
    """The dwell table's verdict, the forecast figure beside it, and the caution on long low holds."""
    if seen.plant is None or seen.table is None:
        return []
    table, plant = seen.table, seen.plant
    how = {
        "instant": f"{table.instant_f} °F was reached, which is enough at once",
        "one hold": f"one hold at {plant.row_f} °F or above was long enough",
        "parts": "holds at several temperatures add up to it, which counts only where the meat was moist",
        "none": f"the holds add up to {plant.fraction:.0%} of what the table asks",
    }[plant.how]
    said = f"the plant's {table.log10:g}-log table is {'met' if plant.conforms else 'not met'}: {how}"
    found = [
        Finding("dwell table", NOTE, round(plant.fraction, 4), 1.0, PLANT, table.source, "share of the dwell", said),
        Finding("lethality, forecast figure", NOTE, round(seen.log10, 2), table.log10, PLANT,
                "fsis-2021-14-integrated", "log10",
                f"integrated over the measured curve: {_shown(seen.log10)} log, a forecast figure and no verdict"),
    ]
    if plant.low:
        found.append(Finding(
            "long low hold", WARN, "below 135 °F", float(LOW_HOLD_F), PLANT, "mcminn-2018", "°F",
            "the table is met only with time below 135 °F (57.2 °C); in meat at 130 °F (54.4 °C) the same reduction "
            "was not seen, so a higher end temperature is the surer way"))
    return found


def _shown(log10: float) -> str:
    """A reduction as people see it: past a dozen the model says nothing more."""
    return f"{log10:.1f}" if log10 <= _LARGEST_SHOWN else f"more than {_LARGEST_SHOWN:g}"


def flaw_findings(seen: Cooked) -> list[Finding]:
    """What in the log could not be counted, by name; a gap is no warning where the line was passed without it."""
    said = {
        PROBE_OUT: "the core jumps faster than meat can from {0:.0f} to {1:.0f} min: the probe was moved or out of "
                   "the meat; what it read in the hotter place does not count",
        GAP: "no reading from {0:.0f} to {1:.0f} min: that stretch counts for nothing",
    }
    harmless = seen.past_line and all(flaw.kind == GAP for flaw in seen.flaws)
    return [Finding(f"readings, {flaw.kind}", NOTE if harmless else WARN, round((flaw.to_s - flaw.from_s) / 60, 1),
                    None, HOUSEHOLD, "usda-probe", "min", said[flaw.kind].format(flaw.from_s / 60, flaw.to_s / 60))
            for flaw in seen.flaws]


def guests_finding(seen: Cooked | None, species: str, cut: str | None = None) -> Finding:
    """For guests who need it fully cooked: only meat measured past the household line, never a forecast edge."""
    row = household_row(species, cut) if seen is None else seen.line
    limit_c = row.core_c if seen is None else seen.limit_c
    peak = None if seen is None else round(seen.peak_c, 1)
    good = seen is not None and seen.past_line
    said = ("measured past the household line: it may be served to guests who need it fully cooked" if good else
            "guests who are pregnant, very young, old or ill are served only from meat measured past "
            f"{limit_c:.1f} °C{_rested(row)}; "
            + ("nothing was measured here" if seen is None else "this was not"))
    return Finding("fully cooked guests", NOTE if good else STOP, peak, round(limit_c, 1), HOUSEHOLD, row.source,
                   "°C", said)


def forecast_findings(curve: Curve, peak_c: tuple[float, float], species: str, cut: str | None = None
                      ) -> list[Finding]:
    """What a forecast would come to: notes only, since nothing that is forecast was measured.

    `curve` is its middle, `peak_c` the edges of the peak in °C (80 %).
    """
    row, name, (low_c, high_c) = household_row(species, cut), species_named(species), peak_c
    way = "past" if row.met_by(low_c) else f"at its cold edge {row.core_c - low_c:.1f} °C short of"
    found = [Finding(
        "forecast peak", NOTE, round(low_c, 1), round(row.core_c, 1), row.regime, row.source, "°C",
        f"by the forecast the core comes to {low_c:.1f} to {high_c:.1f} °C, {way} the household line for {name}, "
        f"{row.core_c:.1f} °C ({row.core_f:g} °F); only a thermometer says that it was reached")]
    if name in PRODUCTS:
        table = dwell_table(name, None, None)
        log10 = table_log10(curve, table)
        found.append(Finding(
            "lethality, forecast figure", NOTE, round(log10, 2), table.log10, PLANT, "fsis-2021-14-integrated",
            "log10", f"integrated over the middle of the forecast: {_shown(log10)} log of the plant's "
            f"{table.log10:g}, a forecast figure and no verdict"))
    return found


def _rested(row: Minimum) -> str:
    return f", rested {row.rest_min:g} min" if row.rest_min else ""


def planned_guests_finding(species: str, cut: str, pull_c: float | None) -> Finding:
    """What a recipe must wait for where guests need it fully cooked: a thermometer past the line, never a plan."""
    row = household_row(species, cut)
    short = pull_c is not None and not row.met_by(pull_c)
    said = ("guests who are pregnant, very young, old or ill are served only once a thermometer showed "
            f"{row.core_c:.1f} °C{_rested(row)}")
    if short:
        said += f"; this recipe comes off at {pull_c:.1f} °C, so plan a piece of their own that is cooked further"
    return Finding("fully cooked guests", WARN if short else NOTE, None if pull_c is None else round(pull_c, 1),
                   round(row.core_c, 1), HOUSEHOLD, row.source, "°C", said)


def is_grave(name: str, row: Minimum, state: Intact) -> bool:
    """Whether falling short of the line is graver than for a roast: birds, ground and stuffed meat."""
    return name in (*BIRDS, *OTHER_BIRDS) or row.form == "ground" or "stuffed" in state.why


def _short(seen: Cooked, name: str, state: Intact) -> str:
    """How grave a core below the household line is: birds, ground and stuffed meat stop, an intact roast is told."""
    safe_by_table = seen.plant is not None and seen.plant.conforms
    if is_grave(name, seen.line, state):
        return WARN if safe_by_table else STOP
    return NOTE if name in _RED_MEAT and state.whole and safe_by_table else WARN
