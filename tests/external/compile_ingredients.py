"""Makes `cookbook/table/ingredients.csv` of USDA's household portions, by the rules that stand here and in its head.

Run as `python tests/external/compile_ingredients.py` to write the table; a test demands that the committed table is
what these rules give. The rules: yields are no densities; the largest measure of a preparation is taken, its
rounding is the smallest; in liquids and pastes a measure further than 4 % above or 7 % below the density of the
food's parts is left out where another is not, and the reason recorded; what USDA's own measures differ by is the
least of the interval.
"""

from __future__ import annotations

import csv
import io
import re
import sys
from collections import defaultdict
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]
DATA = ROOT / "tests" / "external" / "data"
TABLE = ROOT / "cookbook" / "table" / "ingredients.csv"
COLUMNS = ("id", "name", "prep", "form", "g_per_ml", "low", "high", "measure", "counts", "sodium_mg", "refuse",
           "source", "note", "description")
HEAD = """\
# Ingredient weights: one row for each food and preparation. Written by tests/external/compile_ingredients.py.
# original source: USDA National Nutrient Database for Standard Reference, Release 28 (September 2015), portions
# (WEIGHT) and proximates (ABBREV). US Department of Agriculture, Agricultural Research Service, Nutrient Data
# Laboratory. Public domain. FOOD_DES sha256 bb2047218cda, WEIGHT sha256 98484d7e26b3.
# g_per_ml: of the largest household measure, `measure` (US cups and spoons). low, high: the interval, at least 3 %
# either way for liquids, 5 % for pastes and grains, 10 % for ground spice and cut produce, 20 % for dried leaves,
# 40 % for fresh herbs (judgement), wider where USDA's own measures of one food differ by more, or a liquid's parts
# come to another density (soy sauce). note: measures left out and why; `suspect` where even the best one disagrees
# with the density of the food's parts. counts: g of the edible part of one. sodium_mg: in 100 g edible, empty where
# USDA has none. refuse: percent of what is bought.
# description: USDA's own, in a food's first row.
"""

DOUBT = {"liquid": 0.03, "paste": 0.05, "granular": 0.05, "ground": 0.10, "solid": 0.10, "leaf": 0.20, "herb": 0.40}
ABOVE, BELOW = 1.04, 0.93
"""How far a liquid's measure may lie from the density of its parts."""
WRONG = {("01091", "5 tbsp"): "the powder for a cup of milk, not a level measure"}
"""Measures left out by hand, with the reason."""

_GRANULAR = ("salt", "sugar_syrup", "leavening_thickener", "flour_grain", "bean_side")
_LIQUID = ("extract", "oil_fat", "stock", "drink_liquid", "soy_fish_sauce")
PREPS = {
    "(4.86 large eggs)": "", "fluid (yields 2 cups whipped)": "", "kernels": "", "(not packed)": "unpacked",
    '1" pieces, loosely packed': "unpacked", "crumbled, not packed": "crumbled", "(about 23 slices)": "sliced",
    'slices (1" dia)': "sliced", "slices": "sliced", "strips or slices": "sliced", "pieces or slices": "sliced",
    "sliced or chips": "sliced", "chopped or diced": "chopped", "chopped or sliced": "chopped",
    "pared, chopped": "chopped",
    "quartered or chopped": "chopped", "pieces": "pieces", "pieces or chips": "pieces", "whole kernels": "whole",
    "halves and whole": "whole", "shelled (50 halves)": "halves", "leaves, whole": "leaves",
    "unsifted, dipped": "unsifted",
    "without pits": "pitted", "cherry tomatoes": "cherry",
}
_COUNTED = ("clove", "head", "sprig", "leaf", "stalk", "slice", "wedge", "ear", "cube", "packet", "can", "stick",
            "pat",
            "strip", "ring", "spear", "bulb", "piece", "plum", "cherry")
_SKIPPED = re.compile("|".join((
    "serving", "container", "package", "box", "cubic", "jigger", "glass", "thin", "thick", "midget", "extra small",
    "half", "miniature", "crust", "chip", "wedge yields", "or slice", "italian", r"oz \(", "^oz", r"\bcrumb",
    "crackers",
    "regular size")))
_WHOLE = re.compile("|".join((
    "fruit", "pepper", "onion", "leek", "root", "sprout", "cucumber", "date", "prune", "olive", "almond", "nut",
    "kernel", "raisin", "anchov", "avocado", "egg", "bulb", "potato", "pimiento", "gherkin", "pea")))


class Food(NamedTuple):
    """One food's rows of both files."""

    number: str
    category: str
    description: str
    portions: list[dict[str, str]]
    nutrients: dict[str, str]


class Density(NamedTuple):
    """What the rules take for one preparation."""

    mid: float
    low: float
    high: float
    measure: str
    note: str


def read(name: str) -> list[dict[str, str]]:
    """A data file's rows, without its head."""
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def foods() -> list[Food]:
    """All foods, by number."""
    nutrients = {row["ndb_no"]: row for row in read("usda_nutrients")}
    portions: dict[str, list[dict[str, str]]] = defaultdict(list)
    for row in read("usda_portions"):
        portions[row["ndb_no"]].append(row)
    return [Food(number, rows[0]["category"], rows[0]["description"], rows, nutrients[number])
            for number, rows in sorted(portions.items())]


def form(category: str, description: str, prep: str) -> str:
    """liquid, paste, granular, ground, leaf, herb or solid: what decides how far a level measure may differ."""
    words = f"{description} {prep}".lower()
    if category == "spice_herb_dried":
        return _spice(words, prep)
    if category in ("herb_fresh", "herb_freeze_dried"):
        return "herb"
    if category in _GRANULAR:
        return _sweet_or_grain(words)
    powders = ("bouillon, powder", "broth or bouillon, dry", "milk, dry", "buttermilk, dried", "instant")
    if any(word in words for word in powders):
        return "granular"
    if "anchovy" in words or "sun-dried" in words or ("peppers, hot, chili" in words and "sauce" not in words):
        return "solid"
    smooth = ("salsa", "peanut butter", "sauce, peanut")
    if any(word in words for word in smooth) or (category == "tomato_product" and "juice, canned" not in words):
        return "paste"
    if category in _LIQUID or "juice" in words or "vinegar" in words or "coconut milk" in words:
        stiff = ("miso", "shortening", "tallow", "lard", "fat,", "grease", "drip")
        return "paste" if any(word in words for word in stiff) else "liquid"
    return _kitchen(category, words)


def _spice(words: str, prep: str) -> str:
    if prep == "ground" or (", ground" in words and prep != "whole"):
        return "ground"
    if "seed" in words or prep == "whole":
        return "granular"
    leaf = ("bay leaf", "chervil", "coriander leaf", "dill weed", "marjoram", "parsley", "rosemary", "saffron",
            "spearmint")
    return "leaf" if prep == "leaves" or any(word in words for word in leaf) else "ground"


def _sweet_or_grain(words: str) -> str:
    if any(word in words for word in ("honey", "syrup", "molasses")):
        return "liquid"
    pasty = ("jam", "marmalade", "butters", "hummus", "canned")
    return "paste" if any(word in words for word in pasty) else "granular"


def _kitchen(category: str, words: str) -> str:
    if category == "dairy_egg":
        if any(word in words for word in ("milk", "cream, fluid", "yogurt", "egg")):
            return "liquid"
        return "paste" if "butter" in words or "cream" in words else "solid"
    if category == "mustard_vinegar_condiment":
        return "solid" if any(word in words for word in ("caper", "pickles", "sauerkraut")) else "paste"
    smooth = ("butter", "tahini", "paste", "applesauce", "puree", "coconut cream")
    return "paste" if any(word in words for word in smooth) and category in ("nut_seed", "fruit_juice") else "solid"


def airfree(nutrients: dict[str, str]) -> float | None:
    """g/ml of the food's parts at 20 °C, volumes added up (component densities of Choi and Okos 1986, from memory).

    None where the proximates sum to under 97 g: alcohol and acetic acid are not among them.
    """
    water, protein, fat, carbohydrate, ash = (float(nutrients[f"{name}_g"] or 0) for name in (
        "water", "protein", "fat", "carbohydrate_by_diff", "ash"))
    fibre = min(float(nutrients["fibre_g"] or 0), carbohydrate)
    total = water + protein + fat + carbohydrate + ash
    if total < 97:
        return None
    t = 20.0
    parts = ((water, 997.18 + 0.0031439 * t - 0.0037574 * t * t), (protein, 1329.9 - 0.5184 * t),
             (fat, 925.59 - 0.41757 * t),
             (carbohydrate - fibre, 1599.1 - 0.31046 * t), (fibre, 1311.5 - 0.36589 * t), (ash, 2423.8 - 0.28063 * t))
    return total / sum(share * 1000 / density for share, density in parts)


def rounding(grams: str) -> float:
    """Half of the last printed digit, as a share."""
    digits = len(grams.partition(".")[2])
    return 0.5 * 10.0 ** -digits / float(grams)


def measure(row: dict[str, str]) -> str:
    return f"{float(row['measure_count']):g} {row['measure'].replace('_', ' ')}"


def density(food: Food, kind: str, prep: str, rows: list[dict[str, str]]) -> Density:
    """The largest sound measure, and the interval."""
    notes = [f"{measure(row)} = {row['grams']} g left out: {WRONG[food.number, measure(row)]}"
             for row in rows if (food.number, measure(row)) in WRONG]
    rows = [row for row in rows if (food.number, measure(row)) not in WRONG]
    rows = sorted(rows, key=lambda row: (-float(row["volume_ml_us"]), int(row["seq"])))
    parts = airfree(food.nutrients) if kind in ("liquid", "paste") and prep != "whipped" else None
    extremes: list[float] = []
    if parts is not None:
        sound = [row for row in rows if BELOW <= _share(row) / parts <= ABOVE]
        if sound:
            notes += [f"{measure(row)} = {row['grams']} g left out: its parts come to {parts:.3f} g/ml"
                      for row in rows if row not in sound]
            rows = sound
            extremes += [parts] if kind == "liquid" else []
        else:
            nearest = min(rows, key=lambda row: abs(_share(row) - parts))
            notes.append(f"suspect: its parts come to {parts:.3f} g/ml")
            far = [row for row in rows if abs(_share(row) / _share(nearest) - 1) > DOUBT[kind]]
            notes += [f"{measure(row)} = {row['grams']} g left out: further from them" for row in far]
            rows = [nearest, *(row for row in rows if row is not nearest and row not in far)]
            extremes.append(parts)
    values = [_share(row) for row in rows] + extremes
    mid = values[0]
    doubt = max(DOUBT[kind], rounding(rows[0]["grams"]))
    return Density(mid, min(mid * (1 - doubt), *values), max(mid * (1 + doubt), *values),
                   f"{measure(rows[0])} = {rows[0]['grams']} g", "; ".join(notes))


ML = {"cup": 236.5882365, "tbsp": 14.78676478125, "tsp": 4.92892159375, "fl_oz": 29.5735295625, "quart": 946.352946,
      "litre": 1000.0, "ml": 1.0}


def _share(row: dict[str, str]) -> float:
    """g/ml of one measure, from USDA's grams and the exact US measure."""
    return float(row["grams"]) / (float(row["measure_count"]) * ML[row["measure"]])


def counts(food: Food) -> dict[str, float]:
    """g of one, by size and word; `juice` is what one fruit yields, `one` a whole piece of no stated size."""
    found: dict[str, float] = {}
    for row in food.portions:
        words = re.sub(r"\([^)]*\)", "", row["unit_words"].lower()).replace("leaves", "leaf")
        words = words.replace("envelope", "packet").strip()
        filled = row["volume_ml_us"] and not words.startswith("packet")
        if filled or row["is_bulk"] == "0" or row["measure"] == "oz_wt":
            continue
        key = "juice" if re.fullmatch(r"(fruit|lemon|lime) yields", words) else _count_key(words)
        if key and key not in found:
            found[key] = float(row["grams"]) / float(row["amount"])
    if food.number == "09150":  # two sizes by diameter, none of them named
        found = {"small": 58.0, "large": 84.0}
    return found


def _count_key(words: str) -> str:
    if _SKIPPED.search(words):
        return ""
    size = next((size for size in ("extra large", "large", "medium", "small", "jumbo") if size in words), "")
    word = next((word for word in _COUNTED if re.search(rf"\b{word}", words)), "")
    if not size and not word:
        return "one" if _WHOLE.search(words) else ""
    return " ".join(part for part in (size.replace(" ", "-"), word) if part)


_PREFIXES = ("spices", "nuts", "seeds", "leavening agents", "alcoholic beverage", "beverages", "soup")
_LAST = {"oil": "oil", "fat": "fat", "sauce": "sauce", "vinegar": "vinegar", "sugars": "sugar", "syrups": "syrup"}
_NOISE = re.compile(", (" + "|".join((
    "ready-to-serve", "salad or cooking", "unsweetened", "without added.*", "with added.*", "regular", "household",
    "composite", "year round average", "all commercial varieties", "all varieties", "mature seeds",
    "industrial and retail", "all purpose.*", "enriched", "bleached", "unenriched", "without salt.*",
    "with salt.*", "sulfured", "uncooked",
    "unprepared", "all types", "all(?!-)", "sriracha", "cultured")) + r")\b")


def name(description: str) -> str:
    """USDA's description in a cook's order."""
    words = _NOISE.sub("", re.sub(r"\s*\([^)]*\)", "", description.lower()))
    first, *rest = [part.strip() for part in words.split(",") if part.strip()]
    if first in _PREFIXES and rest:
        return ", ".join(rest)
    if first in _LAST and rest:
        return ", ".join([f"{rest[0]} {_LAST[first]}", *rest[1:]])
    return ", ".join([first, *rest])


def compiled() -> str:
    """The whole table as text."""
    text = io.StringIO()
    text.write(HEAD)
    out = csv.writer(text, lineterminator="\n")
    out.writerow(COLUMNS)
    for food in foods():
        groups: dict[str, list[dict[str, str]]] = {}
        for row in food.portions:
            if row["volume_ml_us"] and row["is_bulk"] == "1":
                groups.setdefault(PREPS.get(row["prep"], row["prep"]), []).append(row)
        described = food.description
        pieces = "; ".join(f"{word} {grams:g}" for word, grams in counts(food).items())
        for prep, rows in groups.items() or [("", [])]:
            kind = form(food.category, food.description, prep)
            found = density(food, kind, prep, rows) if rows else None
            if found is None and not pieces:
                continue
            figures: tuple[str, ...] = ("",) * 4
            if found is not None:
                figures = (f"{found.mid:.4f}", f"{found.low:.4f}", f"{found.high:.4f}", found.measure)
            out.writerow([food.number, name(food.description), prep, kind, *figures, pieces,
                          food.nutrients["sodium_mg"],
                          food.portions[0]["refuse_pct"], "usda-sr28", found.note if found else "", described])
            described = ""
    return text.getvalue()


if __name__ == "__main__":
    sys.exit(0 if TABLE.write_text(compiled(), encoding="utf-8") else 1)
