"""Short cautions for a card or a plan: said where the work can hurt someone, and no more than that."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.quantity import is_cure
from cookbook.recipe.field import KINDS
from cookbook.safety.household import household_row, species_named
from cookbook.safety.produce import UnderFat, fats, under_fat
from cookbook.table import source


class Caution(NamedTuple):
    """One or two calm sentences; `key` is stable, `source` a key of the bibliography."""

    key: str
    text: str
    source: str

    @property
    def memory(self) -> bool:
        """Whether the source was written down from memory and never re-read."""
        return source(self.source).memory


def cautions(items: Sequence[str], species: str | None = None, cut: str | None = None, live_fire: bool = False,
             kind: str = "cook") -> list[Caution]:
    """The cautions that apply to a recipe, the gravest first.

    `items` are the ingredients' words (of the recipes inside it too), `species` and `cut` the meat's, where there is
    any; `kind` is the recipe's. Raises UnknownName for a species that is in no chart, RequestError for a kind.
    """
    if kind not in KINDS:
        raise RequestError(f"'{kind}' is no kind of recipe", mend="a kind is one of " + ", ".join(KINDS))
    said: list[Caution] = []
    mixed = under_fat(items)
    if mixed:
        said.append(_oil(mixed))
    if any(is_cure(item) for item in items):
        said.append(_CURE)
    if species is not None:
        said.append(_temperature(species, cut))
    if kind == "cook" and species is not None:
        said.append(_GUESTS)
    if kind != "sauce":
        said.append(_RAW)
    if kind != "cook" or items:
        said.append(_TASTE)
    if live_fire:
        said += fire_cautions()
    elif kind == "cook" and any(fats(item) for item in items):
        said.append(_HOT_FAT)
    said.append(_AUTHORITY)
    return said


def fire_cautions() -> list[Caution]:
    """What holds wherever there is a live fire, on plans as on cards."""
    return [_MONOXIDE, _ASH, _HOT_FAT, _CODE]


_RAW = Caution(
    "raw-meat", "Keep raw meat and whatever touched it away from other food; wash hands, boards, knives and brushes "
    "after it. No cooked meat back on the raw plate.", "usda-raw-meat")
_TASTE = Caution(
    "taste-first", "Taste before the bowl meets the meat, and set aside in a clean bowl what is served with it. "
    "What touched raw meat is cooked on it, boiled, or thrown away.", "usda-raw-meat")
_GUESTS = Caution(
    "guests", "For guests who are pregnant, very young, old or ill, serve only meat that a thermometer showed past "
    "this line.", "food-code-3-401-11")
_CURE = Caution(
    "cure", "Curing salt is poisonous in excess: weigh it on a fine scale, check the sum twice, never go by the "
    "spoon, and keep it marked and apart from table salt.", "fsis-7620-3")
_MONOXIDE = Caution(
    "carbon-monoxide", "Burning charcoal and wood give off carbon monoxide until they are fully out: outdoors only, "
    "never in a house, garage, tent or vehicle, not even to cool down.", "cpsc-99-051")
_ASH = Caution(
    "ash", "Stay by the fire, keep children and pets well back, and let coals go cold or soak them in a metal "
    "container before they are thrown out.", "cooking-fire-fuel")
_HOT_FAT = Caution(
    "hot-fat", "Hot fat flares and burns: no water on it; close the lid and the vents.", "fire-practice")
_CODE = Caution(
    "fire-code", "Keep the fire 3 m (10 ft) or more from walls, railings, roofs and whatever else can burn, never on "
    "a balcony; follow your local fire code and any burn ban, which may ask for more.", "ifc-308-1-4")
_AUTHORITY = Caution("authority", "Follow your local food-safety authority.", "safety-deferral")


def _oil(mixed: UnderFat) -> Caution:
    *more, last = mixed.produce[:3]
    named = f"{', '.join(more)} and {last}" if more else last
    if len(mixed.produce) > 3:
        named = ", ".join(mixed.produce[:3]) + " and the like"
    return Caution(
        "garlic-in-oil", f"Fresh {named} in oil or fat: use within 2 days and keep it in the refrigerator till then, "
        "or freeze it at once. Never keep it at room temperature; spoilage of this kind can't be smelt or tasted.",
        "pnw-664")


def _temperature(species: str, cut: str | None) -> Caution:
    row = household_row(species, cut)
    name = species_named(species)
    what = {"whole": name, "stuffing": f"stuffed {name}"}.get(row.form, f"{row.form} {name}")
    rest = f", then {row.rest_min:g} minutes' rest" if row.rest_min >= 1 else ""
    where = source(row.source).title + ("; from memory" if row.memory else "")
    return Caution(
        "safe-temperature", f"Safe for {what}: {row.core_c:.1f} °C ({row.core_f:g} °F) in the thickest part, away "
        f"from bone and fat{rest} ({where}).", row.source)
