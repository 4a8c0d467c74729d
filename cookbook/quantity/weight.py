"""What a cup, a spoon or one piece of an ingredient weighs, looked up by the words a recipe uses.

A kitchen's own weighings win over the table. What is not known is not guessed: a near miss asks.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache, lru_cache
from typing import TYPE_CHECKING, NamedTuple

from cookbook.errors import UnknownName
from cookbook.quantity.interval import Interval
from cookbook.quantity.naming import SAME_STATE, attempts, implied, key_of, singular, state_key, wording
from cookbook.quantity.own import OwnWeight, own_for
from cookbook.quantity.unit import FRUIT
from cookbook.quantity.words import PACKED, SIZES, STATES
from cookbook.table import rows, source

if TYPE_CHECKING:
    from cookbook.quantity.amount import Amount

SALT_PER_SODIUM = 58.443 / 22.990
"""Grams of salt in which there is a gram of sodium (atomic weights)."""
PIECE_DOUBT, STICK_DOUBT = 0.15, 0.02
"""How far one piece may differ from USDA's, as a share (judgement); a stick is moulded and sold by weight."""
SIFTED = 0.8
"""What a sifted cup of flour holds at least, as a share of an unsifted one: sifting makes it grow by a quarter
(Woman's Institute Library of Cookery)."""
_LOOSE = {"loosely packed": "unpacked", "lightly packed": "unpacked", "firmly packed": "packed"}
_LIKE = {"fresh": ("herb", "solid"), "dried": ("leaf", "ground", "granular"), "ground": ("ground",),
         "whole": ("granular",),
         "seed": ("granular",)}


class IngredientWeight(NamedTuple):
    """One row. `g_per_ml` with `low` and `high` is None where only pieces are known; `counts` is grams of one by
    word.

    `count_sources` are those of counts that the row's own `source` has not.
    `form` is liquid, paste, granular, ground, leaf, herb or solid; `salt` grams of salt in a gram and `sodium_mg` in
    100 g, None where the table has no sodium; `refuse` percent of what is bought; `own` how often the kitchen
    weighed it.
    """

    id: str
    name: str
    prep: str
    form: str
    g_per_ml: float | None
    low: float | None
    high: float | None
    counts: Mapping[str, Interval]
    count_sources: Mapping[str, str]
    sodium_mg: float | None
    refuse: float
    source: str
    measure: str
    note: str
    own: int = 0

    @property
    def doubt(self) -> float:
        """Half the interval of `g_per_ml` as a share, the larger half; 0 where there is none."""
        if not self.g_per_ml or self.low is None or self.high is None:
            return 0.0
        return max(self.high - self.g_per_ml, self.g_per_ml - self.low) / self.g_per_ml

    @property
    def salt(self) -> float | None:
        """Grams of salt in a gram, by its sodium."""
        return None if self.sodium_mg is None else self.sodium_mg / 1e5 * SALT_PER_SODIUM

    @property
    def memory(self) -> bool:
        """Whether it was written down from memory and not checked."""
        return not self.own and source(self.source).memory

    def said(self, word: str = "") -> str:
        """Where the figure comes from, in a line; that of one piece where `word` names it."""
        what = f"{self.name}, {self.prep}" if self.prep and not word else self.name
        if self.own:
            return f"{what}: own weighing" + (f", mean of {self.own}" if self.own > 1 else "")
        one = f"{'' if word == 'one' else '1 '}{word} = {self.counts[word].mid:g} g" if word else self.measure
        known = source(self.count_sources.get(word, self.source))
        doubt = ", unchecked" if known.memory else ""
        return f"{what} ({one}): {known.title}{doubt}" if one else f"{what}: {known.title}{doubt}"


@cache
def _rows() -> dict[str, dict[str, dict[str, str]]]:
    """The table's rows by food and preparation."""
    found: dict[str, dict[str, dict[str, str]]] = {}
    for row in (*rows("ingredients"), *rows("ingredients_memory")):
        found.setdefault(row["id"], {})[row["prep"]] = row
    return found


@cache
def _spellings() -> dict[str, tuple[str, str]]:
    """The wordings of recipes, letter by letter, to the row they mean."""
    return {
        name.casefold(): (row["id"], row["prep"])
        for row in rows("ingredient_names")
        for name in row["words"].split("; ")
    }


@cache
def _wordings() -> dict[frozenset[str], tuple[str, str]]:
    """Every known wording, as a set of words, to the row it means; what recipes say wins over the table."""
    words: dict[frozenset[str], tuple[str, str]] = {}
    for identity, preps in _rows().items():
        for prep, row in preps.items():
            for name in (row["name"], row.get("description")):
                if name:
                    words.setdefault(key_of(name), (identity, prep))
                    words.setdefault(key_of(name) - {"raw", "spice", "nut"}, (identity, prep))
    for name, meant in _spellings().items():
        words[key_of(name)] = meant
    return words


@cache
def _row(identity: str, prep: str) -> IngredientWeight:
    row = _rows()[identity][prep]
    counts = {}
    for part in row["counts"].split("; ") if row["counts"] else ():
        words = part.split(" ")
        grams = [float(word) for word in words if word[0].isdigit()]
        one, word = grams[0], " ".join(words[:-len(grams)])
        doubt = STICK_DOUBT if word == "stick" else PIECE_DOUBT
        span = grams[1:] or [one * (1 - doubt), one * (1 + doubt)]
        counts[word] = Interval(span[0], one, span[1])
    origins = {}
    for piece in rows("ingredient_pieces"):
        if piece["id"] == identity and piece["word"] not in counts:
            counts[piece["word"]] = Interval(float(piece["low"]), float(piece["mid"]), float(piece["high"]))
            origins[piece["word"]] = piece["source"]
    figures = ("g_per_ml", "low", "high", "sodium_mg")
    mid, low, high, sodium = (float(row[name]) if row[name] else None for name in figures)
    return IngredientWeight(identity, row["name"], prep, row["form"], mid, low, high, counts, origins, sodium,
                            float(row["refuse"] or 0), row["source"], row["measure"], row["note"])


def lookup(item: str, weights: Mapping[str, OwnWeight] | None = None, *, strict: bool = False, pack: str = "",
           count: str | None = None) -> IngredientWeight | None:
    """The row that `item` means, or None; with `strict` UnknownName with the nearest wordings instead of None.

    `weights` are the kitchen's own weighings, which win. `pack` is how a measure was filled (`packed`, `sifted`,
    `chopped`), `count` the word that pieces are counted by.
    """
    found = _lookup(item, pack, count)
    own = own_for(weights, item, pack=pack if pack in PACKED else "") if weights else None
    each = own_for(weights, item, word=count) if weights and count is not None else None
    if own is not None or each is not None:
        return _with_own(item, found, own, each)
    if found is None and strict:
        raise unknown(item)
    return found


def _with_own(item: str, row: IngredientWeight | None, own: OwnWeight | None,
              each: OwnWeight | None) -> IngredientWeight:
    """The kitchen's own figures in the table's row, or in one of their own where the table has none."""
    made = row or IngredientWeight("", " ".join(item.split()), "", "solid", None, None, None, {}, {}, None, 0.0,
                                   "own-weighing", "", "")
    if own is not None and own.g_per_ml is not None:
        mid = own.g_per_ml
        made = made._replace(g_per_ml=mid, low=mid * (1 - own.doubt), high=mid * (1 + own.doubt), own=own.weighings,
                             note="")
    if each is not None and each.g_each is not None:
        mid = each.g_each
        counts = {**made.counts, each.word or "one": Interval(mid * (1 - each.doubt), mid, mid * (1 + each.doubt))}
        made = made._replace(counts=counts, own=each.weighings)
    return made


@lru_cache(4096)
def _lookup(item: str, pack: str, count: str | None) -> IngredientWeight | None:
    said = wording(item)
    name, _, state = item.casefold().partition(", ")
    spelt = _spellings().get(item.casefold()) or _spellings().get(f"{state} {name}")
    if spelt is not None and spelt[0] != "?":
        return _in_state(spelt, said.states, said.prepared, pack)
    words = _wordings()
    for wanted in attempts(said):
        meant = words.get(wanted)
        if meant is not None and meant[0] == "?":
            return _by_count(meant[1], count)
        if meant is not None:
            return _in_state(meant, said.states, said.prepared, pack)
    for word, rest in implied(said.core):
        meant = words.get(rest)
        if meant is not None and meant[0] != "?" and _row(*meant).form in _LIKE[word]:
            return _in_state(meant, said.states, said.prepared, pack)
    return None


def _by_count(choices: str, count: str | None) -> IngredientWeight | None:
    """Of two things that one word may mean, the one that is counted so (sprigs are fresh); None where both may be."""
    found = [row for choice in choices.split(" | ") if (row := _lookup(choice, "", None)) is not None
             and count in row.counts]
    return found[0] if len(found) == 1 and count else None


def _in_state(meant: tuple[str, str], states: frozenset[str], prepared: frozenset[str],
              pack: str) -> IngredientWeight:
    """The row of that food in the state that was said, where the table has it; else the usual one, its interval
    widened to all cuts of the food where nobody said what fills the measure."""
    identity, prep = meant
    known = _rows()[identity]
    filled = _LOOSE.get(pack, pack)
    wanted = state_key(states | ({filled} if filled else set()))
    for state in known:
        if wanted and wanted <= {SAME_STATE.get(singular(word), word) for word in state.replace(",", "").split()}:
            return _row(identity, state)
    usual = _row(identity, prep)
    if "sifted" in wanted and usual.g_per_ml and usual.low:
        usual = usual._replace(low=SIFTED * usual.low, g_per_ml=(1 + SIFTED) / 2 * usual.g_per_ml)
    if (wanted & PACKED and not wanted & STATES) or prepared:
        return usual
    others = [_row(identity, state) for state in known if state in _CUTS and state != prep] if prep in _CUTS else []
    lows = [one.low for one in (usual, *others) if one.low is not None]
    highs = [one.high for one in (usual, *others) if one.high is not None]
    return usual._replace(low=min(lows), high=max(highs)) if others and lows else usual


_CUTS = frozenset(("chopped", "sliced", "shredded", "grated", "cubes", "pieces", "halves", "whole", "slivered",
                   "leaves", ""))


def unknown(item: str) -> UnknownName:
    """The error for an item whose weight is not known: the nearest wordings, and how to weigh a spoonful once."""
    from difflib import SequenceMatcher

    from cookbook.quantity.salt import is_cure

    if is_cure(item):
        mend = "a curing salt goes by weight alone: write it in grams"
        return UnknownName("ingredient weight for", item, [], mend=mend)
    said, words = wording(item), _wordings()
    ambiguous = next((words[one] for one in attempts(said) if one in words), None)
    if ambiguous is not None:
        choices = ambiguous[1].split(" | ")
        mend = f"say which: {' or '.join(repr(one) for one in choices)}"
        return UnknownName("one ingredient weight for", item, choices, mend=mend)
    names = [name for row in rows("ingredient_names") for name in row["words"].split("; ")]
    scored = []
    for name in names:
        key = key_of(name)
        share = len(key & said.core) / max(1, len(key | said.core))
        if share > 0 or name[0] == item[:1].casefold():
            close = SequenceMatcher(None, item.casefold(), name).quick_ratio()
            scored.append((share + close, name))
    near = [name for score, name in sorted(scored, reverse=True)[:3] if score > 0.8]
    weigh = f"weigh a level tablespoon of {item} once, or write it in grams"
    mend = f"did you mean {' or '.join(repr(one) for one in near)}? If not, {weigh}" if near else weigh
    return UnknownName("ingredient weight for", item, near, mend=mend)


def grams_of(amount: Amount, item: str, weights: Mapping[str, OwnWeight] | None = None) -> Interval | None:
    """The weight in g of a volume or count of `item`, with its doubt; None where it is not known."""
    volume = amount.ml()
    if volume is not None:
        row = lookup(item, weights, pack=_pack(amount))
        if row is not None and row.g_per_ml is not None and row.low is not None and row.high is not None:
            return Interval(volume.low * row.low, volume.mid * row.g_per_ml, volume.high * row.high)
    if amount.kind != "count" or amount.low is None or amount.high is None:
        return None
    part = next((word.removesuffix(" of") for word in amount.words if word.endswith(" of")), None)
    pressed = part in ("juice", "zest", "peel", "juice and zest")
    one = _of_fruit(amount.unit, part or "") if pressed else _each(amount, item, weights)
    if one is None:
        return None
    low, high = float(amount.low), float(amount.high)
    about = 0.1 if "about" in amount.words else 0.0
    return Interval(low * one.low * (1 - about), (low + high) / 2 * one.mid, high * one.high * (1 + about))


def _pack(amount: Amount) -> str:
    return next((word for word in amount.words if word in PACKED or word in STATES), "")


def _each(amount: Amount, item: str, weights: Mapping[str, OwnWeight] | None) -> Interval | None:
    """g of one of what is counted."""
    found = counted(amount, item, weights)
    if found is None:
        return None
    row, word = found
    length = amount.cut_length_cm()
    if length is None:
        return row.counts[word]
    many = float((amount.low or 1) + (amount.high or 1)) / 2
    return row.counts[word].scaled(length.mid / many / 2.54)


def counted(amount: Amount, item: str,
            weights: Mapping[str, OwnWeight] | None = None) -> tuple[IngredientWeight, str] | None:
    """The row that pieces of `item` are weighed by and its word for one; None where it knows none such."""
    length = amount.cut_length_cm()
    one = "inch" if length is not None else "one" if amount.unit in FRUIT or not amount.unit else amount.unit
    row = lookup(item, weights, count="" if one == "one" else one)
    if row is None:
        return None
    size = next((word for word in amount.words if word in SIZES), "")
    if one == "inch":
        words: tuple[str, ...] = ("inch",)
    elif one == "one":
        words = (size, one, row.prep, "medium", "large", "juice" if amount.unit in FRUIT else "")
    else:
        words = (f"{size} {one}", f"medium {one}" if size or one not in row.counts else "", one)
    word = next((word for word in words if word and word in row.counts), None)
    return None if word is None else (row, word)


@cache
def _of_fruit(fruit: str, part: str) -> Interval:
    """g of juice or zest of one fruit: USDA's yield give or take 30 %; zest 1 to 3 teaspoons of peel (kitchen
    charts)."""
    one = Interval(0.0, 0.0, 0.0)
    if "juice" in part:
        row = _lookup(f"{fruit} juice", "", None)
        assert row is not None, "every fruit of the reader has a row for its juice"
        juice = row.counts["juice"].mid
        one = Interval(0.7 * juice, juice, 1.3 * juice)
    if "zest" in part or "peel" in part:
        one = Interval(one.low + 2.0, one.mid + 4.0, one.high + 6.0)
    return one
