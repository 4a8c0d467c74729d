"""Curing salt by weight: the class's limit, the cure and the table salt for it, and everything that is refused.

Nothing here goes by the spoon or by surface: nitrite is a poison in excess, so every amount is grams on a fine scale.
"""

from __future__ import annotations

from math import isfinite
from typing import NamedTuple

from cookbook.errors import RequestError, UnknownName
from cookbook.safety.caution import Caution
from cookbook.safety.finding import NOTE, PLANT, STOP, WARN, Finding, by_gravity
from cookbook.table import rows

NITRITE = "sodium nitrite"
METHODS = ("dry", "pumped", "immersion", "equilibrium")
CLASSES = ("sausage", "pumped", "dry cured", "bacon, pumped", "bacon, immersed", "bacon, dry")
_FITTING = {
    "dry": ("sausage", "dry cured", "bacon, dry"),
    "pumped": ("pumped", "bacon, pumped"),
    "immersion": ("pumped", "bacon, immersed"),
    "equilibrium": CLASSES,
}
_SATURATED_PERCENT = 26.0
_USUAL_STRENGTH = 0.0625
CAUTIONS = (
    Caution("check-twice", "Check twice, best by a second person: the sum, and the packet's strength.",
            "fsis-7620-3"),
    Caution("fine-scale", "Weigh on a fine scale, one that shows hundredths of a gram; never go by the spoon.",
            "fsis-7620-3"),
    Caution("local-rules", "Follow your local rules and your local food-safety authority.", "safety-deferral"),
)


class Limit(NamedTuple):
    """A class's limit in mg per kg of green meat: as stated, and the exact figure the stated one is rounded from."""

    stated_ppm: float
    exact_ppm: float
    basis: str
    source: str
    memory: bool


class Nitrite(NamedTuple):
    """What was asked for and what the class allows, ppm ingoing."""

    asked: float
    limit: float


class Cure(NamedTuple):
    """Grams to weigh: curing mix and table salt, both None above the limit; what was found; what always holds."""

    cure_g: float | None
    salt_g: float | None
    nitrite_ppm: Nitrite
    findings: tuple[Finding, ...]
    cautions: tuple[Caution, ...]

    def json(self) -> dict[str, object]:
        """The answer as `safety cure --json` gives it."""
        return {
            "cure_g": self.cure_g, "salt_g": self.salt_g, "nitrite_ppm": self.nitrite_ppm._asdict(),
            "findings": [found.json() for found in self.findings], "cautions": [said.text for said in self.cautions],
        }


def curing_limit(product: str, agent: str = NITRITE, rind: bool = False) -> Limit:
    """The limit of a class for `sodium nitrite`, `potassium nitrite` or `nitrate`; times 0.9 with the rind on.

    Raises UnknownName for a class, RequestError where the table has no row for the agent.
    """
    if product not in CLASSES:
        from difflib import get_close_matches

        raise UnknownName("curing class", product, get_close_matches(product, CLASSES, 3) or CLASSES[:3],
                          mend="a class is one of: " + "; ".join(CLASSES))
    table = rows("safety_curing_limits")
    belly = product.startswith("bacon")
    row = next((row for row in table if row["agent"].endswith(agent)
                and (row["product"] == product or (belly and row["product"] == "bacon"))), None)
    if row is None:
        raise RequestError(f"the table has no limit of {agent} for {product}", mend="no amount is given without one")
    share = next(float(row["limit_ppm"]) for row in table if row["product"] == "rind-on") if rind else 1.0
    return Limit(float(row["limit_ppm_stated"]) * share, float(row["limit_ppm"]) * share, row["basis"], row["source"],
                 row["memory"] == "true")


def ingoing_ppm(cure_g: float, strength_percent: float, meat_g: float, *, water_g: float = 0.0,
                pickle_g: float | None = None, pump_percent: float | None = None) -> float:
    """ppm of nitrite that so much curing mix brings in, by the handbook's formulas.

    Dry and comminuted: cure x strength / meat. With `pickle_g` and `pump_percent`: cure x strength x pump / pickle.
    With `water_g` (the pickle's weight, handbook's Method Two): cure x strength / (meat + pickle).
    """
    nitrite_g = cure_g * strength_percent / 100
    if pickle_g is not None and pump_percent is not None:
        return nitrite_g * pump_percent / 100 * 1e6 / pickle_g
    return nitrite_g * 1e6 / (meat_g + water_g)


def cure(method: str, product: str | None, meat_g: float, salt_percent: float, strength_percent: float | None, *,
         nitrite_ppm: float | None = None, rind: bool = False, water_g: float | None = None,
         pickle_g: float | None = None, pump_percent: float | None = None) -> Cure:
    """Grams of curing mix and of table salt for a piece. Raises RequestError, UnknownName; computes nothing by guess.

    `salt_percent` is all salt, the mix's own with it, as a share of the green meat (of meat and water in an
    equilibrium brine); `strength_percent` the nitrite in the mix; `nitrite_ppm` ingoing, the class's limit where left
    out. For `pumped` and `immersion` the amounts are for the whole pickle.
    """
    strength, base_g = _checked(method, product, meat_g, salt_percent, strength_percent, water_g, pickle_g,
                                pump_percent)
    limit = curing_limit(str(product), NITRITE, rind)
    asked = limit.stated_ppm if nitrite_ppm is None else _number(nitrite_ppm, "nitrite in ppm", 0, 1e6)
    findings = _ppm_findings(str(product), asked, limit, rind)
    if asked > limit.exact_ppm + 1e-9:
        return Cure(None, None, Nitrite(asked, limit.stated_ppm), tuple(findings), CAUTIONS)
    cure_g = asked * base_g / 1e6 / strength
    salt_g = salt_percent / 100 * base_g - cure_g * (1 - strength)
    if salt_g < 0:
        raise RequestError(
            f"the curing mix alone brings {cure_g * (1 - strength):.2f} g of salt, more than the "
            f"{salt_percent / 100 * base_g:.2f} g asked for",
            mend="ask for more salt, for less nitrite, or check the strength")
    findings += _strength_findings(strength)
    if pickle_g is not None and pump_percent is not None:
        findings += _pickle_findings(cure_g + salt_g, pickle_g, pump_percent / 100 * meat_g)
    return Cure(cure_g, salt_g, Nitrite(asked, limit.stated_ppm), tuple(by_gravity(findings)), CAUTIONS)


def _checked(method: str, product: str | None, meat_g: float, salt_percent: float, strength_percent: float | None,
             water_g: float | None, pickle_g: float | None, pump_percent: float | None) -> tuple[float, float]:
    """The strength as a fraction, and the grams that ppm and salt are shares of."""
    if method not in METHODS:
        raise UnknownName("curing method", method, (), mend="a method is one of " + ", ".join(METHODS))
    if product is None or not product.strip():
        raise RequestError("no curing class is given, so there is no limit",
                           mend="name the class, one of: " + "; ".join(CLASSES))
    if strength_percent is None:
        raise RequestError("the strength of the curing mix is not given",
                           mend="give the percent of nitrite that stands on its packet; there is no usual one")
    strength = _number(strength_percent, "strength in percent", 0, 100) / 100
    curing_limit(product)
    if product not in _FITTING[method]:
        raise RequestError(f"'{product}' is no class for the method {method}",
                           mend="for it there is: " + "; ".join(_FITTING[method]))
    meat = _number(meat_g, "weight of meat in g", 0, 1e6)
    _number(salt_percent, "salt in percent", 0, 40)
    if method == "equilibrium":
        base = meat + (_number(water_g, "water in g", 0, 1e7) if water_g else 0.0)
    elif water_g is not None:
        raise RequestError(f"water has no place in the method {method}", mend="leave it out, or take equilibrium")
    else:
        base = meat
    return strength, _pickle_base(method, base, pickle_g, pump_percent)


def _pickle_base(method: str, base: float, pickle_g: float | None, pump_percent: float | None) -> float:
    needs = method in ("pumped", "immersion")
    if not needs:
        if pickle_g is not None or pump_percent is not None:
            raise RequestError(f"a pickle and a pump have no place in the method {method}",
                               mend="leave them out, or take pumped or immersion")
        return base
    if pickle_g is None or pump_percent is None:
        raise RequestError(f"{method} needs the weight of the pickle and the gain over green weight",
                           mend="give both, by weight, never by volume")
    pickle = _number(pickle_g, "weight of pickle in g", 0, 1e7)
    return pickle / (_number(pump_percent, "pump in percent", 0, 100) / 100)


def _ppm_findings(product: str, asked: float, limit: Limit, rind: bool) -> list[Finding]:
    shown = f"{product}{', rind on' if rind else ''}"
    if asked > limit.exact_ppm + 1e-9:
        return [Finding("nitrite limit", STOP, asked, limit.stated_ppm, PLANT, limit.source, "ppm",
                        f"{asked:g} ppm is above the {limit.stated_ppm:g} ppm of {shown}: no amount is given")]
    found = [Finding("nitrite limit", NOTE, asked, limit.stated_ppm, PLANT, limit.source, "ppm",
                     f"{asked:g} ppm ingoing; {shown} may have {limit.stated_ppm:g} ppm{_unrounded(limit)} "
                     f"({limit.basis})")]
    if product == "bacon, pumped":
        found.append(Finding("ascorbate", WARN, None, 550.0, PLANT, limit.source, "ppm",
                             "pumped bacon has a fixed 120 ppm and needs 550 ppm of ascorbate or erythorbate"))
    table = rows("safety_curing_limits")
    floor = next(row for row in table if row["product"] == "policy minimum")
    if asked < float(floor["limit_ppm"]):
        found.append(Finding("nitrite floor", NOTE, asked, float(floor["limit_ppm"]), PLANT, floor["source"], "ppm",
                             "below what a refrigerated cured product is expected to have; treat it as fresh meat"))
    others = {
        "Canada, bacon" if "bacon" in product else "Canada": (
            NOTE, "Canada", "elsewhere: Canada allows {:g} ppm for this product"),
        "home-cure mix": (
            WARN, "home-cure mixes",
            "at home: a home-cure mix may leave no more than {:g} ppm in the finished meat; ask for less nitrite"),
    }
    for row in table:
        if row["product"] in others and row["agent"] == NITRITE and asked > float(row["limit_ppm"]):
            level, who, said = others[row["product"]]
            most = float(row["limit_ppm"])
            found.append(Finding(f"nitrite limit, {who}", level, asked, most, who, row["source"], "ppm",
                                 f"stricter {said.format(most)}"))
    return found


def _unrounded(limit: Limit) -> str:
    return "" if limit.exact_ppm == limit.stated_ppm else f", {limit.exact_ppm:g} unrounded"


def _strength_findings(strength: float) -> list[Finding]:
    if strength <= _USUAL_STRENGTH:
        return []
    return [Finding("mix strength", WARN, round(strength * 100, 2), _USUAL_STRENGTH * 100, "practice", "cure-mixes",
                    "%", "stronger than the mixes sold for curing, which hold about 0.5 to 6.25 % nitrite: read the "
                    "packet again; an error of a tenth of a gram matters here")]


def _pickle_findings(dissolved_g: float, pickle_g: float, taken_up_g: float) -> list[Finding]:
    found = []
    if taken_up_g > pickle_g:
        found.append(Finding(
            "pickle", WARN, round(pickle_g, 1), round(taken_up_g, 1), PLANT, "fsis-7620-3", "g",
            f"the meat is to take up {taken_up_g:.0f} g, more than the {pickle_g:.0f} g of pickle: make more of it "
            "with the same shares, or ask for less gain"))
    share = dissolved_g / pickle_g * 100
    if share >= 100:
        raise RequestError(f"{dissolved_g:.0f} g of salt and cure do not go into {pickle_g:.0f} g of pickle",
                           mend="a larger pickle, a larger gain, or less salt")
    if share <= _SATURATED_PERCENT:
        return found
    return [*found, Finding(
        "brine strength", WARN, round(share, 1), _SATURATED_PERCENT, "practice", "saturated-brine", "%",
        "more salt than water can hold: it will not all dissolve, so it will not all go in")]


def _number(value: float, what: str, low: float, high: float) -> float:
    if not (isfinite(value) and low < value <= high):
        raise RequestError(f"{value} is no {what}", mend=f"give a number above {low:g} and up to {high:.0f}")
    return float(value)
