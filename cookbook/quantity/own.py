"""A kitchen's own weighings of its ingredients: averaged, with an interval that shrinks with each one.

One level spoon differs from the next by about 4 % (judgement); the balance adds half of its last digit. The interval
is an 80 % one of the mean by Student's t, with that 4 % counted like two earlier weighings.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import NamedTuple

from cookbook.errors import RequestError
from cookbook.quantity.amount import Amount
from cookbook.quantity.interval import NORMAL_80
from cookbook.quantity.naming import key_of
from cookbook.quantity.words import PACKED

USUAL_SPREAD = 0.04
_EARLIER = 2
_T90 = (3.078, 1.886, 1.638, 1.533, 1.476, 1.440, 1.415, 1.397, 1.383, 1.372, 1.363, 1.356, 1.350, 1.345, 1.341)
"""Student's t with 90 % below it, for 1 to 15 degrees of freedom; 1.2816 for many."""


class Weighing(NamedTuple):
    """One weighing: so much of `item` (`1 tbsp`, `10 cloves`) weighed `grams`; `resolution_g` is the balance's last
    digit."""

    item: str
    amount: Amount
    grams: float
    resolution_g: float = 0.0


class OwnWeight(NamedTuple):
    """What a kitchen's weighings say of an ingredient: g in a ml, or g of one.

    `doubt` is half the 80 % interval as a share and shrinks with each of the `weighings`. `word` is the count that
    `g_each` is of ('' for one piece), `pack` how the spoon was filled.
    """

    g_per_ml: float | None
    g_each: float | None
    weighings: int
    doubt: float
    word: str = ""
    pack: str = ""


def weighing(item: str, amount: str, mass: str, measures: str = "us") -> Weighing:
    """What `weigh ITEM AMOUNT MASS` says. Raises AmountError, or RequestError where it can't be a weighing."""
    found, weighed = Amount.parse(amount, measures), Amount.parse(mass)
    if weighed.base is None or weighed.base[2] != "g" or weighed.low != weighed.high or not weighed.low:
        raise RequestError(f"'{mass}' is no weight of it", mend="give what the balance says, for example `17.5 g`")
    measured = found.kind == "count" or (found.base is not None and found.base[2] == "ml")
    if not measured or not found.low or found.low != found.high:
        raise RequestError(f"'{amount}' can't be weighed",
                           mend="fill a level measure or count, for example `1 tbsp` or `10 cloves`")
    size = float(weighed.base[0] / weighed.low)
    digits = len(weighed.text.split(" ")[0].partition(".")[2].rstrip("abcdefghijklmnopqrstuvwxyz"))
    resolution = 0.0 if "/" in mass or not mass.isascii() else size * 10.0 ** -digits
    return Weighing(" ".join(item.split()), found, float(weighed.base[0]), resolution)


def own_weight(weighings: Iterable[Weighing]) -> OwnWeight:
    """The mean of weighings of one ingredient in one measure (all volumes, or all the same count) and its doubt."""
    found = list(weighings)
    shares, rounding = [], 0.0
    for one in found:
        volume = one.amount.ml()
        number = volume.mid if volume is not None else float(one.amount.low or 1)
        shares.append(one.grams / number)
        rounding += (one.resolution_g / 2 / one.grams) ** 2 / 3
    if len({(one.amount.ml() is None, "" if one.amount.ml() else one.amount.unit) for one in found}) != 1:
        raise RequestError("weighings of different measures can't be averaged",
                           mend="average volumes, or counts of one kind")
    many, mean = len(shares), sum(shares) / len(shares)
    squares = sum((share / mean - 1) ** 2 for share in shares)
    freedom = _EARLIER + many - 1
    spread = ((_EARLIER * USUAL_SPREAD ** 2 + squares) / freedom + rounding / many) ** 0.5
    doubt = (_T90[freedom - 1] if freedom <= len(_T90) else NORMAL_80) * spread / many ** 0.5
    first = found[0].amount
    pack = next((word for word in first.words if word in PACKED), "")
    if first.ml() is not None:
        return OwnWeight(mean, None, many, doubt, "", pack)
    return OwnWeight(None, mean, many, doubt, first.unit, pack)


def own_weights(weighings: Iterable[Weighing]) -> dict[str, OwnWeight]:
    """All weighings of a kitchen by ingredient. Where one has volumes and counts, or packed and loose, each has its
    own entry: the measure or word stands behind the item (`garlic, clove`)."""
    groups: dict[tuple[str, str], list[Weighing]] = {}
    for one in weighings:
        pack = next((word for word in one.amount.words if word in PACKED), "")
        measure = pack or ("" if one.amount.ml() is not None else one.amount.unit or "one")
        groups.setdefault((one.item.casefold(), measure), []).append(one)
    return {f"{item}, {measure}" if measure else item: own_weight(group) for (item, measure), group in groups.items()}


def own_for(weights: Mapping[str, OwnWeight] | None, item: str, *, word: str | None = None,
            pack: str = "") -> OwnWeight | None:
    """The kitchen's own weight of `item`: of a count where `word` names one, else of a volume filled as `pack`
    says."""
    if not weights:
        return None
    wanted = key_of(item)
    behind = pack if word is None else word or "one"
    for name, own in weights.items():
        stem, _, measure = name.rpartition(", ")
        named = stem if stem and measure == (own.pack or own.word or "one") else name
        if key_of(named) == wanted and (own.g_per_ml if word is None else own.g_each) is not None \
                and (own.pack == pack if word is None else (own.word or "one") == behind):
            return own
    return None
