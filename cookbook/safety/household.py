"""The household line: the consumer charts' minimum core temperature and rest for a species and a form of it."""

from __future__ import annotations

import re
from typing import NamedTuple

from cookbook.errors import RequestError, UnknownName
from cookbook.safety.curve import to_c
from cookbook.safety.finding import HOUSEHOLD
from cookbook.table import rows

WHOLE = "whole"
_FORMS = {
    "ground": re.compile(r"\b(?:ground|minced?|comminuted|forcemeat|sausages?|bratwursts?|chorizo|\w*burgers?"
                         r"|patt(?:y|ies)|meat ?balls?|meat ?loa(?:f|ves)|koftas?|kaftas?|kofte)\b"),
    "stuffing": re.compile(r"\b(?:stuffed|stuffing)\b"),
    "tenderized": re.compile(r"\b(?:tenderi[sz]ed|bladed|jaccarded|needled|pricked|inject(?:ed|ion)|pumped|tumbled)"
                             r"\b"),
    "casserole": re.compile(r"\bcasserole\b"),
    "leftovers": re.compile(r"\b(?:left ?overs?|re ?heated)\b"),
    "cooked": re.compile(r"\bcooked\b"),
}
_GROUND_TOO = ("bison", "goat", "ham", "rabbit", "venison")
"""Meats without a row of their own for ground: the chart's row for ground meat and meat mixtures holds for them."""
_ALIASES = {
    "mutton": "lamb", "hogget": "lamb", "sheep": "lamb", "deer": "venison", "buffalo": "bison", "cow": "beef",
    "pig": "pork", "poultry": "chicken", "wild boar": "game", "wild game": "game",
}


class HouseholdMinimum(NamedTuple):
    """Core temperature in °C (the chart's whole °F, converted exactly), rest in minutes, key of the source."""

    core_c: float
    rest_min: float
    source: str


class Minimum(NamedTuple):
    """A row of the charts: core in °F as printed and the same in °C as printed, rest or hold in minutes."""

    species: str
    form: str
    rule: str
    core_f: float
    printed_c: float
    rest_min: float
    regime: str
    source: str
    memory: bool

    @property
    def core_c(self) -> float:
        """The whole °F in °C, exactly."""
        return to_c(self.core_f)

    def met_by(self, core_c: float) -> bool:
        """Whether a core of `core_c` °C reaches the row in either scale as the chart prints it."""
        return core_c >= min(self.core_c, self.printed_c) - 1e-9


def forms_of(cut: str | None) -> tuple[str, ...]:
    """The chart's forms that a cut's words name: `ground`, `stuffing`, `tenderized` …; none for a whole piece."""
    said = " ".join(re.findall(r"\w+", (cut or "").casefold()))
    found = [form for form, sign in _FORMS.items() if sign.search(said)]
    packed = found == ["cooked"] and re.search(r"\bpacked\b", said)
    return ("cooked, packed",) if packed else tuple(found)


def is_ground(cut: str | None) -> bool:
    """Whether a cut's words say that it is ground."""
    return "ground" in forms_of(cut)


def minimums(regime: str | None = None) -> tuple[Minimum, ...]:
    """Every row with a temperature, of one regime or of all, in the charts' order."""
    return tuple(
        Minimum(row["species"], row["form"], row["rule"], float(row["min_temp_f"]),
                float(row["min_temp_c_as_printed"]), float(row["rest_or_hold_min"] or 0), row["regime"],
                row["source"], row["memory"] == "true")
        for row in rows("safety_min_temps")
        if row["min_temp_f"] and regime in (None, row["regime"])
    )


def species_named(species: str) -> str:
    """The charts' own word for a species. Raises UnknownName with the nearest words."""
    wanted = " ".join(species.casefold().split())
    wanted = _ALIASES.get(wanted, wanted)
    known = _known_species()
    if wanted in known:
        return wanted
    from difflib import get_close_matches

    raise UnknownName("species", species, get_close_matches(wanted, known, 3))


def household_row(species: str, cut: str | None = None) -> Minimum:
    """The strictest household row for a species and its cut's form. Raises UnknownName, RequestError.

    Wild game has no household figure of its own: the retail row stands in, and names its regime.
    """
    name = species_named(species)
    charts = minimums(HOUSEHOLD)
    mine = [row for row in charts if name in row.species.split(";")]
    forms = forms_of(cut)
    chosen = [row for row in mine if row.form in forms]
    if "ground" in forms and name in _GROUND_TOO:
        chosen += [row for row in charts if row.form == "ground" and "beef" in row.species.split(";")]
    chosen += [row for row in charts if row.species == "any" and row.form in forms]
    if any(form.startswith("cooked") for form in forms):
        if not any(row.form.startswith("cooked") for row in chosen):
            chosen += [row for row in charts if row.form == "leftovers"]
    else:
        chosen += [row for row in mine if row.form == WHOLE]
    chosen = chosen or [row for row in minimums() if name in row.species.split(";")]
    if not chosen:
        raise RequestError(f"the charts give no temperature for {name}: it is judged by eye",
                           mend="cook it until it is opaque, or until the shells open; no number is computed")
    return max(chosen, key=lambda row: (row.core_f, row.rest_min))


def household_minimum(species: str, cut: str | None = None) -> HouseholdMinimum:
    """Minimum core temperature [°C], rest [min] and source key for `species`, raised by words in `cut`.

    Source: the USDA safe minimum temperature chart; `cut` words such as `ground`, `stuffed` or `injected` choose
    the row. Raises UnknownName for a species that is in no chart.

    >>> household_minimum("turkey")
    HouseholdMinimum(core_c=73.88888888888889, rest_min=0.0, source='usda-safe-temperatures')
    """
    row = household_row(species, cut)
    return HouseholdMinimum(row.core_c, row.rest_min, row.source)


def elsewhere(species: str) -> tuple[Minimum, ...]:
    """What other countries' household charts say for whole pieces of the species."""
    name = species_named(species)
    return tuple(row for row in minimums() if row.regime.startswith(HOUSEHOLD + ",")
                 and {name, "any"}.intersection(row.species.split(";")))


def _known_species() -> list[str]:
    named = {name for row in rows("safety_min_temps") for name in row["species"].split(";")}
    return sorted(named - {"any"})
