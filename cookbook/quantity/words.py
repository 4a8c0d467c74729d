"""The closed lists of words in an amount that are neither number nor unit."""

from __future__ import annotations

from fractions import Fraction

FREE_WORDS: dict[tuple[str, ...], str] = {
    ("to", "taste"): "to taste", ("as", "needed"): "as needed", ("as", "required"): "as needed",
    ("to", "cover"): "to cover",
    ("enough", "to", "cover"): "to cover", ("for", "serving"): "for serving", ("to", "serve"): "for serving",
    ("for", "garnish"): "for garnish", ("to", "garnish"): "for garnish",
    ("enough", "to", "coat"): "as needed", ("for", "the", "pan"): "as needed",
    **{("for", doing): "as needed" for doing in ("basting", "brushing", "drizzling", "dusting", "frying", "greasing",
                                                 "rolling", "sprinkling")},
}
"""Instead of an amount, or behind one."""
ABOUT = frozenset(("~", "about", "approx", "approximately", "around", "roughly", "ca"))
DEGREES = {"level": "", "full": "", "scant": "scant", "bare": "scant", "barely": "scant", "nearly": "scant",
           "almost": "scant", "heaping": "heaping", "heaped": "heaping", "rounded": "rounded",
           "generous": "generous", "good": "generous"}
"""How full a measure is; level is what is meant without a word (measures.md's consulted cookery texts)."""
ROUNDABOUT = {("not", "quite"): "scant", ("just", "under"): "scant", ("a", "little", "under"): "scant",
              ("a", "little", "less", "than"): "scant", ("just", "over"): "generous",
              ("a", "little", "over"): "generous", ("a", "little", "more", "than"): "generous"}
"""The same said before a number in several words."""
SIZE_WORDS = {"small": "small", "sm": "small", "medium": "medium", "med": "medium", "large": "large", "lg": "large",
              "lge": "large", "big": "large", "fat": "large", "plump": "large", "thick": "thick", "thin": "thin"}
SIZES = frozenset((*SIZE_WORDS.values(), "extra-large"))
PACKED = frozenset(("packed", "firmly packed", "lightly packed", "loosely packed", "unpacked", "sifted", "unsifted"))
STATES = frozenset((
    "chopped", "diced", "minced", "sliced", "shredded", "grated", "ground", "crumbled", "crushed", "slivered",
    "cubed", "whole",
    "halved", "mashed", "melted", "drained", "pitted", "shelled", "leaves"))
"""What fills the measure, said behind it: `1 cup chopped`."""
PARTS = {("juice", "and", "zest"): "juice and zest", ("zest", "and", "juice"): "juice and zest", ("juice",): "juice",
         ("zest",): "zest", ("rind",): "zest", ("peel",): "peel"}
VAGUE = {("few",): ("a few", 2, 4), ("couple", "of"): ("a couple of", 2, 2), ("couple",): ("a couple of", 2, 2),
         ("several",): ("several", 3, 5)}
"""Numbers that nobody counted: the word, and what it may mean at least and at most (common practice)."""
UNCOUNTED = {word: (Fraction(least), Fraction(most)) for word, least, most in VAGUE.values()}
MEAT = {("boneless", "meat"): "percent of boneless meat",
        ("meat", "without", "the", "bone"): "percent of boneless meat",
        ("meat", "without", "bone"): "percent of boneless meat", ("meat",): "percent of meat"}
FOLLOW_ONS = {"lb": ("oz",), "kg": ("g",), "cup": ("tbsp", "tsp"), "tbsp": ("tsp",), "l": ("ml",), "pint": ("fl oz",),
              "quart": ("pint", "cup")}
"""What may stand behind a term without a sign, as in `1 lb 4 oz`."""
