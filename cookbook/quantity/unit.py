"""The closed list of kitchen units and what they are, exactly.

US volumes follow from the gallon of 231 cubic inches and the inch of 25.4 mm, avoirdupois weights from the pound of
453.59237 g (sources `ucum`, `nist-sp811`). Cups and spoons mean another volume in another measure system.
"""

from __future__ import annotations

from difflib import get_close_matches
from fractions import Fraction
from typing import NamedTuple

US_GALLON_ML = Fraction(231) * Fraction(254, 100) ** 3
IMPERIAL_GALLON_ML = Fraction("4546.09")
POUND_G = Fraction("453.59237")

MASS, VOLUME, COUNT, PERCENT, FREE = "mass", "volume", "count", "percent", "free"
SYSTEMS = ("us", "us-label", "metric", "au", "uk", "jp")


class Unit(NamedTuple):
    """One unit. `size` is ml or g of one, None for counts; `by_system` says that it depends on the measure system."""

    name: str
    kind: str
    size: Fraction | None
    plural: str
    by_system: bool = False


CUP_ML = US_GALLON_ML / 16
_BY_SYSTEM: dict[str, dict[str, Fraction]] = {
    "us": {"cup": CUP_ML, "tbsp": CUP_ML / 16, "tsp": CUP_ML / 48, "fl oz": CUP_ML / 8, "gill": CUP_ML / 2,
           "pint": CUP_ML * 2, "quart": CUP_ML * 4, "gallon": US_GALLON_ML},
    "us-label": {"cup": Fraction(240), "tbsp": Fraction(15), "tsp": Fraction(5), "fl oz": Fraction(30),
                 "pint": CUP_ML * 2, "quart": CUP_ML * 4, "gallon": US_GALLON_ML},
    "metric": {"cup": Fraction(250), "tbsp": Fraction(15), "tsp": Fraction(5), "dessertspoon": Fraction(10)},
    "au": {"cup": Fraction(250), "tbsp": Fraction(20), "tsp": Fraction(5), "dessertspoon": Fraction(10)},
    "uk": {"tbsp": Fraction(15), "tsp": Fraction(5), "dessertspoon": Fraction(10), "fl oz": IMPERIAL_GALLON_ML / 160,
           "gill": IMPERIAL_GALLON_ML / 32, "pint": IMPERIAL_GALLON_ML / 8, "quart": IMPERIAL_GALLON_ML / 4,
           "gallon": IMPERIAL_GALLON_ML},
    "jp": {"cup": Fraction(200), "tbsp": Fraction(15), "tsp": Fraction(5)},
}
_NAMED_SYSTEMS = {"US": "us", "US label": "us-label", "metric": "metric", "Australian": "au", "UK": "uk", "Japanese": "jp"}

_PLURALS = {"cup": "cups", "pint": "pints", "quart": "quarts", "gallon": "gallons", "gill": "gills",
            "dessertspoon": "dessertspoons"}

_FIXED = {
    "g": (MASS, Fraction(1)), "kg": (MASS, Fraction(1000)), "mg": (MASS, Fraction(1, 1000)),
    "lb": (MASS, POUND_G), "oz": (MASS, POUND_G / 16),
    "ml": (VOLUME, Fraction(1)), "cl": (VOLUME, Fraction(10)), "dl": (VOLUME, Fraction(100)), "l": (VOLUME, Fraction(1000)),
}

_COUNTS = {
    "clove": "cloves", "head": "heads", "sprig": "sprigs", "bunch": "bunches", "leaf": "leaves", "stalk": "stalks",
    "rib": "ribs", "stick": "sticks", "slice": "slices", "piece": "pieces", "knob": "knobs", "can": "cans", "tin": "tins",
    "jar": "jars", "bottle": "bottles", "packet": "packets", "handful": "handfuls", "wedge": "wedges", "ear": "ears",
    "cube": "cubes", "sheet": "sheets", "fillet": "fillets", "bulb": "bulbs", "pod": "pods", "dozen": "dozen",
    "pinch": "pinches", "dash": "dashes", "smidgen": "smidgens", "drop": "drops", "chunk": "chunks", "portion": "portions",
    "splash": "splashes", "drizzle": "drizzles", "lemon": "lemons", "lime": "limes", "orange": "oranges",
}
VAGUE_TSP = {
    "pinch": (Fraction(1, 24), Fraction(1, 16), Fraction(1, 8)), "dash": (Fraction(1, 23), Fraction(1, 15), Fraction(1, 8)),
    "smidgen": (Fraction(1, 48), Fraction(1, 32), Fraction(1, 24)), "drop": (Fraction(1, 120), Fraction(1, 60), Fraction(1, 60)),
}
"""Trade spoons as US teaspoons: low, usual, high. Common practice; no standard exists."""

PACKAGES = ("can", "tin", "jar", "bottle", "packet", "piece", "stick")

_ALIASES = {
    "gram": "g", "gramme": "g", "gm": "g", "kilogram": "kg", "kilo": "kg", "milligram": "mg", "pound": "lb", "#": "lb",
    "ounce": "oz", "millilitre": "ml", "milliliter": "ml", "centilitre": "cl", "centiliter": "cl", "decilitre": "dl",
    "deciliter": "dl", "litre": "l", "liter": "l", "tablespoon": "tbsp", "tbs": "tbsp", "tblsp": "tbsp", "teaspoon": "tsp",
    "c": "cup", "fluid ounce": "fl oz", "floz": "fl oz", "pt": "pint", "qt": "quart", "gal": "gallon", "lbs": "lb",
    "pkt": "packet", "package": "packet", "doz": "dozen", "dsp": "dessertspoon",
}
_CASED = {"T": "tbsp", "t": "tsp", "c": "cup", "C": "cup", "L": "l", "l": "l", "g": "g"}


def _all_words() -> dict[str, str]:
    words = {name: name for name in (*_FIXED, *_COUNTS)}
    for system in _BY_SYSTEM.values():
        words.update({name: name for name in system})
    words.update({plural: name for name, plural in _COUNTS.items()})
    words.update({alias + "s": name for alias, name in _ALIASES.items() if alias.isalpha() and len(alias) > 2})
    words.update({name + "s": name for name in _PLURALS})
    words.update({"tbsps": "tbsp", "tsps": "tsp", "fluid ounces": "fl oz", "fl ozs": "fl oz"})
    words.update(_ALIASES)
    return words


_WORDS = _all_words()


def named(word: str) -> str | None:
    """The unit that a word of a recipe means, or None; `T` and `t` are told apart, all else ignores case and dots."""
    if word in _CASED:
        return _CASED[word]
    return _WORDS.get(word.casefold().rstrip("."))


def unit(name: str, measures: str = "us") -> Unit | None:
    """The unit called `name` under a measure system; None where that system has no such measure."""
    for prefix, system in _NAMED_SYSTEMS.items():
        if name.casefold().startswith(prefix.casefold() + " "):
            plain = named(name[len(prefix) + 1:]) or ""
            size = _BY_SYSTEM[system].get(plain)
            return Unit(f"{prefix} {plain}", VOLUME, size, f"{prefix} {_PLURALS.get(plain, plain)}") if size else None
    if name in _FIXED:
        kind, size = _FIXED[name]
        return Unit(name, kind, size, name)
    if name in _COUNTS:
        return Unit(name, COUNT, None, _COUNTS[name])
    known = _BY_SYSTEM[measures].get(name)
    return Unit(name, VOLUME, known, _PLURALS.get(name, name), True) if known else None


def is_measure(name: str) -> bool:
    """Whether any system knows a cup or spoon of this name."""
    return any(name in system for system in _BY_SYSTEM.values())


def nearest(word: str) -> list[str]:
    """Known unit words like `word`, best first."""
    found = get_close_matches(word.casefold(), sorted(_WORDS), 3, 0.6)
    return list(dict.fromkeys(_WORDS[one] for one in found))


def all_units() -> dict[str, Unit]:
    """Every unit of fixed or US size, by name; for tests and the pint bridge."""
    names = [*_FIXED, *_BY_SYSTEM["us"]]
    found = {name: unit(name) for name in names}
    return {name: one for name, one in found.items() if one is not None}
