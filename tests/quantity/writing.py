"""Hypothesis strategies that write amounts the way the grammar allows, for the laws of reading and writing."""

from __future__ import annotations

from hypothesis import strategies as st

VULGAR = st.sampled_from(["½", "⅓", "⅔", "¼", "¾", "⅕", "⅖", "⅗", "⅘", "⅙", "⅚", "⅛", "⅜", "⅝", "⅞"])
FRACTION = st.tuples(st.integers(1, 7), st.integers(8, 16)).map(lambda pair: f"{pair[0]}/{pair[1]}")
DECIMAL = st.decimals("0.001", "999", allow_nan=False, places=3).map(lambda value: f"{value:f}")
NUMBER = st.one_of(
    st.integers(1, 999).map(str), VULGAR, FRACTION, DECIMAL,
    st.tuples(st.integers(1, 99), FRACTION).map(lambda pair: f"{pair[0]} {pair[1]}"),
    st.tuples(st.integers(1, 99), VULGAR).map(lambda pair: f"{pair[0]}{pair[1]}"),
    st.sampled_from(["a", "one", "half a", "a dozen", "two thirds", "three and a half", "1-1/2", "2,5", "1,000",
                     "twenty"]),
)
MEASURE = st.sampled_from(["cup", "cups", "tbsp", "T", "tsp.", "t", "c", "ml", "l", "fl oz", "pint", "quarts", "gal",
                           "g", "kg",
                           "lb", "oz.", "mg", "tablespoonfuls", "dl", "metric cup", "Australian tbsp",
                           "US label tsp"])
COUNTED = st.sampled_from(["clove", "cloves", "sprigs", "bunch", "leaves", "stalks", "heads", "pinches", "dash",
                           "knob", "sticks",
                           "slices", "packets", "lemons", "handful", "drops", "few grains", ""])
PACKAGE = st.sampled_from(["can", "tins", "jar", "bottles", "packet", "piece", "stick"])
DEGREE = st.sampled_from(["", "heaping", "scant", "rounded", "level", "generous", "good", "nearly", "full"])
PACK = st.sampled_from(["", "packed", "firmly packed", "sifted", "(packed)", ", packed", "chopped"])
SIZE = st.sampled_from(["", "small", "medium", "large", "extra-large", "big", "thin", "med."])
ABOUT = st.sampled_from(["", "about", "approx.", "~"])
ENDING = st.sampled_from(["", "to taste", "or to taste", ", plus more for serving", "or so",
                          ", plus extra for brushing", "plus more"])


def _joined(parts: tuple[str, ...]) -> str:
    return " ".join(part for part in parts if part)


MEASURED = st.tuples(ABOUT, NUMBER, DEGREE, MEASURE, PACK, ENDING).map(_joined)
COUNTS = st.tuples(ABOUT, NUMBER, SIZE, COUNTED, ENDING).map(_joined)
PACKAGES = st.tuples(st.integers(1, 9).map(str), st.integers(1, 900), st.sampled_from(["g", "oz", "ml", "in", "cm"]),
                     PACKAGE).map(
    lambda parts: f"{parts[0]} ({parts[1]} {parts[2]}) {parts[3]}")
AGAIN = st.tuples(st.integers(1, 99).map(str), st.sampled_from(["cups", "tbsp", "oz", "cloves"]), st.integers(1, 900),
                  st.sampled_from(["g", "ml",
                                   "oz"])).map(lambda parts: f"{parts[0]} {parts[1]} ({parts[2]} {parts[3]})")
PERCENT = st.tuples(st.decimals("0.01", "9", allow_nan=False, places=2).map(lambda value: f"{value:f}"),
                    st.sampled_from(["% of meat", "% of boneless meat", "% of the meat without bone"])).map(" ".join)
FRUIT = st.tuples(st.sampled_from(["juice of", "zest of", "the grated rind of", "juice and zest of"]), NUMBER,
                  st.sampled_from(["lemons", "lime", "large oranges"])).map(" ".join)
FREE = st.sampled_from(["to taste", "as needed", "to cover", "for serving", "for garnish"])
AMOUNT = st.one_of(MEASURED, COUNTS, PACKAGES, AGAIN, PERCENT, FRUIT, FREE)
