"""The household line: the consumer charts' minimum core temperature and rest for a species and a form of it."""

from __future__ import annotations

from typing import NamedTuple

from cookbook.errors import RequestError, UnknownName
from cookbook.safety.curve import to_c
from cookbook.safety.finding import HOUSEHOLD
from cookbook.table import rows

WHOLE = "whole"
_FORMS = {
    "ground": ("ground", "minced", "mince", "sausage", "sausages", "burger", "burgers", "patty", "patties",
               "meatball", "meatballs", "meatloaf"),
    "stuffing": ("stuffed", "stuffing"),
    "tenderized": ("tenderized", "tenderised", "bladed", "needled", "injected", "pumped", "tumbled"),
    "casserole": ("casserole",),
    "leftovers": ("leftover", "leftovers", "reheated"),
    "cooked": ("cooked",),
}
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


def form_of(cut: str | None) -> str:
    """The chart's form for a cut's name: `ground`, `stuffing`, `tenderized` …; `whole` where no word says other."""
    words = set((cut or "").casefold().replace(",", " ").replace("-", " ").split())
    form = next((form for form, signs in _FORMS.items() if words.intersection(signs)), WHOLE)
    return "cooked, packed" if form == "cooked" and "packed" in words else form


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
    form = form_of(cut)
    mine = [row for row in minimums(HOUSEHOLD) if name in row.species.split(";")]
    chosen = [row for row in mine if row.form == form]
    if form != WHOLE and not form.startswith("cooked"):
        chosen += [row for row in minimums(HOUSEHOLD) if row.species == "any" and row.form == form]
        chosen += [row for row in mine if row.form == WHOLE]
    if form.startswith("cooked") and not chosen:
        chosen = [row for row in minimums(HOUSEHOLD) if row.form == "leftovers"]
    chosen = chosen or [row for row in minimums() if name in row.species.split(";")]
    if not chosen:
        raise RequestError(f"the charts give no temperature for {name}: it is judged by eye",
                           mend="cook it until it is opaque, or until the shells open; no number is computed")
    return max(chosen, key=lambda row: (row.core_f, row.rest_min))


def household_minimum(species: str, cut: str | None = None) -> HouseholdMinimum:
    """Minimum core temperature [°C], rest [min] and source key for `species`, raised by words in `cut`.

    Source: the USDA safe minimum temperature chart; `cut` words such as `ground`, `stuffed` or `injected` choose
    the row. Raises UnknownName for a species that is in no chart.
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
