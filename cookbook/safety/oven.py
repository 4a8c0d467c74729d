"""The moisture and the oven that the dwell tables lean on: a plant's and a shop's rules, said for what they are."""

from __future__ import annotations

from cookbook.errors import RequestError
from cookbook.quantity import unit
from cookbook.safety.curve import to_c, to_f
from cookbook.safety.finding import HOUSEHOLD, NOTE, PLANT, RETAIL, WARN, Finding
from cookbook.table import rows

POUND_G = float(unit.POUND_G)
HEAVY_LB = 10.0
WAIVED_PIT_F = 250.0
_SMOKER_F = (225.0, 300.0)
_DRY_ENDPOINT_F = 158.0
_OVENS = ("still_dry", "convection", "high_humidity")
_MOIST = ("sealed bag", "sealed oven", "steam", "immersed", "direct heat", "wrapped")


def humidity_needed(mass_g: float, pit_c: float, how: str = "dry") -> bool:
    """Whether the dwell tables ask for moist air: not from 10 lb in a pit from 250 °F on, nor where `how` is moist.

    `how` is `dry`, `sealed bag`, `sealed oven`, `steam`, `immersed`, `direct heat` or `wrapped`.
    Source: FSIS-GD-2021-14 p. 26, 31-32.
    """
    _positive(mass_g, "weight of the piece in g")
    if how not in ("dry", *_MOIST):
        raise RequestError(f"'{how}' is no way of heating known here", mend="one of dry, " + ", ".join(_MOIST))
    if how != "dry":
        return False
    return not (_pounds(mass_g) >= HEAVY_LB and to_f(pit_c) >= WAIVED_PIT_F)


def humidity_finding(mass_g: float, pit_c: float, peak_c: float, how: str = "dry") -> Finding | None:
    """A caution where a verdict rests on the tables and the air was dry; none where they ask for no moisture."""
    if not humidity_needed(mass_g, pit_c, how):
        return None
    level = NOTE if to_f(peak_c) >= _DRY_ENDPOINT_F else WARN
    return Finding(
        "humidity", level, round(pit_c, 1), round(to_c(WAIVED_PIT_F), 1), PLANT, "fsis-2021-14-humidity", "°C",
        "the dwell tables count on moist air for a piece under 10 lb or a pit below 250 °F; in dry heat a pan of "
        "water, wrapping or a higher end temperature makes up for it",
    )


def oven_least_f(mass_g: float, oven: str) -> tuple[float, bool]:
    """The Food Code's oven temperature [°F] for a roast on its table, and whether it is a least (else a most)."""
    _positive(mass_g, "weight of the piece in g")
    if oven not in _OVENS:
        raise RequestError(f"'{oven}' is no oven of the Food Code's table", mend="one of " + ", ".join(_OVENS))
    size = "<10 lb" if _pounds(mass_g) < HEAVY_LB else ">=10 lb"
    row = next(row for row in rows("safety_foodcode_roasts")
               if row["oven_type"].startswith(oven) and size in row["condition"])
    return float(row["temp_F"]), row["condition"].startswith(">=")


def oven_finding(mass_g: float, pit_c: float, oven: str = "still_dry") -> Finding:
    """How the pit stands to the Food Code's roast table: a shop's rule, so a note for a cook at home."""
    limit_f, least = oven_least_f(mass_g, oven)
    pit_f, meets = to_f(pit_c), oven_conforms(mass_g, pit_c, oven)
    said = (f"a {oven.replace('_', ' ')} oven at {pit_f:.0f} °F {'meets' if meets else 'does not meet'} the Food "
            f"Code for a roast of {_pounds(mass_g):.1f} lb: at {'least' if least else 'most'} {limit_f:.0f} °F")
    if not meets and least:
        said += "; it would with the air above 90 % humid for 1 h, at 250 °F or below"
    return Finding("oven", NOTE, round(pit_f, 1), limit_f, RETAIL, "food-code-3-401-11", "°F", said)


def oven_conforms(mass_g: float, pit_c: float, oven: str = "still_dry") -> bool:
    """Whether an oven held at `pit_c` [°C] is one that the Food Code's roast table allows."""
    limit_f, least = oven_least_f(mass_g, oven)
    return to_f(pit_c) >= limit_f if least else to_f(pit_c) <= limit_f


def pit_finding(pit_c: float) -> Finding | None:
    """A note where the pit is colder than the smoker's air that consumer advice names; none where it is not."""
    pit_f = to_f(pit_c)
    low, high = _SMOKER_F
    if pit_f >= low:
        return None
    return Finding("smoker air", NOTE, round(pit_f, 1), f"{low:g}-{high:g}", HOUSEHOLD, "usda-smoker-air", "°F",
                   f"consumer advice for smoking names {low:g} to {high:g} °F; the pit was at {pit_f:.0f} °F")


def _pounds(mass_g: float) -> float:
    return round(mass_g / POUND_G, 6)


def _positive(value: float, what: str) -> None:
    if not value > 0:
        raise RequestError(f"{value} is no {what}", mend="give a number above 0")
