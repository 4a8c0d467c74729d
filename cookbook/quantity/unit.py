"""The closed list of kitchen units and what they are, exactly.

US volumes follow from the gallon of 231 cubic inches and the inch of 25.4 mm, avoirdupois weights from the pound of
453.59237 g (sources `ucum`, `nist-sp811`). Cups and spoons mean another volume in another measure system.
"""

from __future__ import annotations

from fractions import Fraction
from functools import lru_cache
from typing import NamedTuple

INCH_CM = Fraction(254, 100)
US_GALLON_ML = 231 * INCH_CM ** 3
US_BUSHEL_ML = Fraction("2150.42") * INCH_CM ** 3
IMPERIAL_GALLON_ML = Fraction("4546.09")
POUND_G = Fraction("453.59237")
CUP_ML = US_GALLON_ML / 16

MASS, VOLUME, COUNT, PERCENT, FREE = "mass", "volume", "count", "percent", "free"
SYSTEMS = ("us", "us-label", "metric", "au", "uk", "jp")


class Unit(NamedTuple):
    """One unit. `size` is ml or g of one, None for counts; `by_system` says that it depends on the measure system."""

    name: str
    kind: str
    size: Fraction | None
    plural: str
    by_system: bool = False


_IMPERIAL = {"fl oz": IMPERIAL_GALLON_ML / 160, "gill": IMPERIAL_GALLON_ML / 32, "pint": IMPERIAL_GALLON_ML / 8,
             "quart": IMPERIAL_GALLON_ML / 4, "gallon": IMPERIAL_GALLON_ML}
_US_LARGE = {"gill": CUP_ML / 2, "pint": CUP_ML * 2, "quart": CUP_ML * 4, "gallon": US_GALLON_ML}
_SPOONS = {"tbsp": Fraction(15), "tsp": Fraction(5)}
_SIZES: dict[str, dict[str, Fraction]] = {
    "us": {"cup": CUP_ML, "tbsp": CUP_ML / 16, "tsp": CUP_ML / 48, "fl oz": CUP_ML / 8, "dessertspoon": CUP_ML / 24,
           **_US_LARGE},
    "us-label": {"cup": Fraction(240), **_SPOONS, "fl oz": Fraction(30), **_US_LARGE},
    "metric": {"cup": Fraction(250), **_SPOONS, "fl oz": Fraction(30), "dessertspoon": Fraction(10)},
    "au": {"cup": Fraction(250), "tbsp": Fraction(20), "tsp": Fraction(5), "fl oz": Fraction(30),
           "dessertspoon": Fraction(10)},
    "uk": {**_SPOONS, "dessertspoon": Fraction(10), **_IMPERIAL},
    "jp": {"cup": Fraction(200), **_SPOONS},
    "imperial": {"cup": IMPERIAL_GALLON_ML / 16, **_IMPERIAL},
}
"""ml of one, by measure system; sources `ucum`, `cfr-101-9`, `nsw-measures`, `kitchen-tables`. `imperial` can only be
named (`imperial cup`, half an imperial pint): no recipe means it by a bare word."""

PREFIXES = {"US label": "us-label", "US": "us", "metric": "metric", "Australian": "au", "UK": "uk", "Japanese": "jp",
            "imperial": "imperial"}
"""How an explicit unit is named, such as `Australian tbsp`, and its measure system."""
_SPOKEN = ("metric", "US", "Australian", "UK", "Japanese", "imperial", "US label")
"""The same, the likeliest first."""

_PLURALS = {"cup": "cups", "pint": "pints", "quart": "quarts", "gallon": "gallons", "gill": "gills",
            "dessertspoon": "dessertspoons"}

_FIXED = {name: Unit(name, kind, size, name) for name, kind, size in (
    ("g", MASS, Fraction(1)), ("kg", MASS, Fraction(1000)), ("mg", MASS, Fraction(1, 1000)),
    ("lb", MASS, POUND_G), ("oz", MASS, POUND_G / 16),
    ("ml", VOLUME, Fraction(1)), ("cl", VOLUME, Fraction(10)), ("dl", VOLUME, Fraction(100)),
    ("l", VOLUME, Fraction(1000)))}

VAGUE_TSP = {
    "pinch": (Fraction(1, 24), Fraction(1, 16), Fraction(1, 8)),
    "dash": (Fraction(1, 23), Fraction(1, 15), Fraction(1, 8)),
    "smidgen": (Fraction(1, 48), Fraction(1, 32), Fraction(1, 32)),
    "drop": (Fraction(1, 120), Fraction(1, 60), Fraction(1, 60)),
    "tad": (Fraction(1, 8), Fraction(1, 4), Fraction(1, 4)),
    "saltspoon": (Fraction(1, 8), Fraction(1, 4), Fraction(1, 4)),
    "few grains": (Fraction(0), Fraction(1, 16), Fraction(1, 8)),
}
"""Trade spoons as US teaspoons: low, usual, high. Common practice; no standard exists (source `trade-spoons`)."""

_IRREGULAR = {"bunch": "bunches", "leaf": "leaves", "pinch": "pinches", "dash": "dashes", "splash": "splashes",
              "few grains": "few grains", "box": "boxes", "grapefruit": "grapefruits", "loaf": "loaves",
              "branch": "branches", "wineglass": "wineglasses"}
PACKAGES = frozenset(("can", "tin", "jar", "bottle", "packet", "piece", "stick", "bag", "box", "carton", "tube",
                      "tub", "block"))
VESSELS = ("wineglass", "teacup", "tumbler", "ladle")
"""Glasses and cups of old books: counted, since nobody agrees how much they hold."""
FRUIT = ("lemon", "lime", "orange", "grapefruit")
_COUNT_WORDS = ("clove", "head", "sprig", "stem", "bunch", "leaf", "stalk", "rib", "slice", "rasher", "strip", "ring",
                "spear",
                "floret", "knob", "handful", "wedge", "ear", "cube", "sheet", "fillet", "bulb", "pod", "chunk",
                "portion", "pat",
                "loaf", "splash", "drizzle", "squeeze", "glug", "grind", "thumb", "branch", "twig",
                *VESSELS, *sorted(PACKAGES), *FRUIT, *VAGUE_TSP)
_COUNTS = {word: Unit(word, COUNT, None, _IRREGULAR.get(word, word + "s")) for word in _COUNT_WORDS}
WHOLE_COUNTS = frozenset(("sprig", "leaf", "drop", "pinch", "dash", "smidgen", "tad", "few grains", "pod", "portion",
                          "stem", "branch", "twig", "grind"))
"""Counts that nobody halves."""

_BY_SYSTEM = {system: {name: Unit(name, VOLUME, size, _PLURALS.get(name, name), True) for name, size in sizes.items()}
              for system, sizes in _SIZES.items()}

_ALIASES = {
    "gram": "g", "gramme": "g", "gm": "g", "gms": "g", "kilogram": "kg", "kilogramme": "kg", "kilo": "kg",
    "milligram": "mg",
    "pound": "lb", "#": "lb", "ounce": "oz", "cc": "ml", "millilitre": "ml", "milliliter": "ml", "centilitre": "cl",
    "centiliter": "cl", "decilitre": "dl", "deciliter": "dl", "litre": "l", "liter": "l", "ltr": "l",
    "tablespoon": "tbsp", "tablespoonful": "tbsp", "tbs": "tbsp", "tb": "tbsp", "tblsp": "tbsp", "tbl": "tbsp",
    "teaspoon": "tsp", "teaspoonful": "tsp", "cupful": "cup", "dessertspoonful": "dessertspoon",
    "dsp": "dessertspoon",
    "saltspoonful": "saltspoon", "floz": "fl oz", "pt": "pint", "qt": "quart", "gal": "gallon",
    "pkt": "packet", "pkg": "packet", "package": "packet", "sachet": "packet", "envelope": "packet", "pc": "piece",
    "pcs": "piece", "smidgeon": "smidgen", "env": "packet", "bch": "bunch", "wineglassful": "wineglass",
    "teacupful": "teacup", "tumblerful": "tumbler", "ladleful": "ladle",
}
_CASED = {"T": "tbsp", "t": "tsp", "c": "cup", "C": "cup", "L": "l", "l": "l", "g": "g", "G": "g"}


def _all_words() -> dict[str, str]:
    words = {name: name for name in (*_FIXED, *_COUNTS)}
    for sizes in _SIZES.values():
        words.update({name: name for name in sizes})
    words.update({unit.plural: unit.name for unit in _COUNTS.values()})
    words.update({alias + "s": name for alias, name in _ALIASES.items() if alias.isalpha()})
    words.update({plural: name for name, plural in _PLURALS.items()})
    words.update({"tbsps": "tbsp", "tsps": "tsp", "lbs": "lb", "ozs": "oz", "mls": "ml", "kgs": "kg",
                  "handsful": "handful",
                  "tablespoonsful": "tbsp", "teaspoonsful": "tsp", "cupsful": "cup"})
    words.update(_ALIASES)
    return words


_WORDS = _all_words()
_LENGTHS = {"inch": INCH_CM, "inches": INCH_CM, "in": INCH_CM, '"': INCH_CM, "cm": Fraction(1), "mm": Fraction(1, 10)}


def named(word: str) -> str | None:
    """The unit that a word of a recipe means, or None; `T` and `t` are told apart, all else ignores case and dots."""
    if word in _CASED:
        return _CASED[word]
    return _WORDS.get(word.casefold().rstrip("."))


def length_cm(word: str) -> Fraction | None:
    """Centimetres of one of a unit of length that a `1-inch piece` is cut by, or None."""
    return _LENGTHS.get(word)


def unit(name: str, measures: str = "us") -> Unit | None:
    """The unit called `name` under a measure system; None where that system has no such measure.

    `name` is a unit's own name (`cup`, `fl oz`), or one with its system before it (`metric cup`, `Australian tbsp`).
    """
    found = _FIXED.get(name) or _COUNTS.get(name) or _BY_SYSTEM[measures].get(name)
    if found is not None or " " not in name:
        return found
    if name.casefold() in ("us dry pint", "dry pint"):
        return Unit("US dry pint", VOLUME, US_BUSHEL_ML / 64, "US dry pints")
    for prefix, system in PREFIXES.items():
        if name.casefold().startswith(prefix.casefold() + " "):
            rest = name[len(prefix) + 1:]
            known = _BY_SYSTEM[system].get(named(rest) or rest)
            if known is not None:
                return Unit(f"{prefix} {known.name}", VOLUME, known.size, f"{prefix} {known.plural}")
    return None


@lru_cache(1024)
def ratio(name: str, other: str, measures: str = "us") -> Fraction:
    """How many of the unit `other` one `name` is; both of one kind and with a size."""
    one, two = unit(name, measures), unit(other, measures)
    assert one is not None
    assert two is not None
    assert one.size is not None
    assert two.size is not None
    return one.size / two.size


def is_count(name: str) -> bool:
    """Whether pieces are counted by this name."""
    return name in _COUNTS


def is_measure(name: str) -> bool:
    """Whether any system knows a cup or spoon of this name."""
    return any(name in sizes for sizes in _SIZES.values())


def systems_with(name: str) -> tuple[str, ...]:
    """How to name a cup or spoon explicitly: `US cup`, `metric cup` …"""
    return tuple(f"{prefix} {name}" for prefix in _SPOKEN if name in _SIZES[PREFIXES[prefix]])


def nearest(word: str) -> list[str]:
    """Known unit words like `word`, best first."""
    from difflib import get_close_matches

    alike = (known for known in sorted(_WORDS) if known[0] == word[:1].casefold())
    found = get_close_matches(word.casefold(), alike, 3, 0.7)
    return list(dict.fromkeys(_WORDS[one] for one in found))


def all_units(measures: str = "us") -> dict[str, Unit]:
    """Every unit with a size under a measure system, by name."""
    return {**_FIXED, **_BY_SYSTEM[measures]}


UNITS = all_units()
"""The exact table of weights and US measures: g or ml of one."""
