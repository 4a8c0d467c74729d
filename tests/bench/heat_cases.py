"""The calibration's and the checks' rows: dimensioned roasts, roasts by weight, rises and losses, as cases to run."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from cookbook.heat.body import ellipsoid, prism
from cookbook.heat.roast import Roast, roast_of_piece
from cookbook.meat import Cut

DATA = Path(__file__).parents[1] / "external" / "data"
LB = 0.45359237
FITTED_DIMENSIONS = ("D1", "D3", "D8", "D10")


class Case(NamedTuple):
    """One row: roast, fire, pull, band of minutes; bands of rise (K, after minutes) and loss (%) where known."""

    name: str
    roast: Roast
    cooker: str
    pit_c: float
    start_c: float
    pull_c: float
    low_min: float
    high_min: float
    rise: tuple[float, float, float] | None = None
    loss: tuple[float, float] | None = None
    fitted: bool = False

    @property
    def middle_min(self) -> float:
        """Middle of the band."""
        return (self.low_min + self.high_min) / 2


def table(name: str) -> list[dict[str, str]]:
    """A data file's rows without its head."""
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def dimensioned() -> list[Case]:
    """The rows D1 to D11 with the sizes they give."""
    cases = []
    for row in table("heat_shapes"):
        a, b, c = (float(row[name]) / 100 for name in ("a_cm", "b_cm", "c_cm"))
        body = prism(b / 2, a / 2, c) if row["shape"] == "cylinder" else ellipsoid(b / 2, c / 2, a / 2)
        meat = roast_of_piece(Cut.named(row["cut"]).piece(mass_g=1000 * float(row["mass_kg"])))
        roast = meat._replace(body=body, wet={"": meat.wet[""]}, size_spread=0.04)
        rise = (float(row["rise_at_min"]), float(row["rise_lo"]), float(row["rise_hi"])) if row["rise_lo"] else None
        loss = (float(row["loss_lo"]), float(row["loss_hi"])) if row["loss_lo"] else None
        cases.append(Case(row["id"], roast, "offset" if row["id"] in ("D10", "D11") else "oven", float(row["pit_c"]),
                          float(row["start_c"]), float(row["pull_c"]), float(row["min_lo"]), float(row["min_hi"]),
                          rise, loss, row["id"] in FITTED_DIMENSIONS))
    return cases


# Chart rows whose cut the forecast was built for, by (species, cut, bone). Left out: B5 (its source says braise), P5
# (no final temperature), N15 (a picnic is another cut than the butt), cured hams, lamb shoulders, crown
# roasts and the cuts outside that list.
CHART_CUTS = {
    ("beef", "rib roast", "in"): "rib roast, bone in",
    ("beef", "standing ribs", "in"): "rib roast, bone in",
    ("beef", "standing rib, single", "in"): "rib roast, bone in",
    ("beef", "rib roast", "out"): "rib roast, boneless",
    ("beef", "rolled rib", "out"): "rib roast, boneless",
    ("beef", "tenderloin, whole", "out"): "beef tenderloin",
    ("beef", "tenderloin, half", "out"): "beef tenderloin",
    ("lamb", "leg", "in"): "leg of lamb, bone in",
    ("pork", "loin roast", "out"): "pork loin, boneless",
    ("pork", "loin roast", "in or out"): "pork loin, boneless",
    ("pork", "loin, centre", "in"): "pork loin, bone in",
    ("pork", "Boston butt", "?"): "pork shoulder",
    ("pork", "Boston butt", "in"): "pork shoulder",
    ("pork", "fresh ham, whole leg", "out"): "fresh ham, bone in",
    ("pork", "fresh ham, half", "in"): "fresh ham, bone in",
    ("pork", "fresh ham, whole", "in"): "fresh ham, bone in",
    ("chicken", "whole", "in"): "chicken, whole",
    ("turkey", "whole, unstuffed", "in"): "turkey, whole",
    ("turkey", "whole, stuffed", "in"): "turkey, whole",
}


def _minutes(row: dict[str, str], pounds: float) -> tuple[float, float]:
    low, high = float(row["time_lo"]), float(row["time_hi"])
    factor = {"min/lb": pounds, "h": 60.0, "min total": 1.0}[row["unit"]]
    return low * factor, high * factor


def by_weight() -> Iterator[Case]:
    """Chart rows and home logs of which only the weight is known; every second one, in file order, is fitted."""
    number = 0
    for row in table("heat_roast_chart"):
        cut = CHART_CUTS.get((row["species"], row["cut"], row["bone"]))
        if cut is None or not row["final_F"]:
            continue
        pounds = (float(row["weight_lo_lb"]) + float(row["weight_hi_lb"])) / 2
        low, high = _minutes(row, pounds)
        roast = roast_of_piece(Cut.named(cut).piece(mass_g=1000 * LB * pounds))
        number += 1
        yield Case(row["id"] + " chart", roast, "oven", (float(row["oven_F"]) - 32) / 1.8, 4.4,
                   (float(row["final_F"]) - 32) / 1.8, low, high, fitted=number % 2 == 1)
    logs = {"C1": "turkey, whole", "C3": "turkey, whole", "H8": "leg of lamb, bone in", "H10": "brisket, whole",
            "H16": "pork shoulder"}
    for row in table("heat_rows"):
        if row["id"] not in logs:
            continue
        least, _, most = row["time_min"].partition("-")
        loss = (float(row["weight_loss_pct"]),) * 2 if row["weight_loss_pct"] else None
        roast = roast_of_piece(Cut.named(logs[row["id"]]).piece(mass_g=1000 * float(row["mass_kg"])))
        start = float(row["T0_C"]) if row["T0_C"].replace(".", "").isdigit() else 4.4
        cooker = "oven" if row["id"].startswith("C") else "electric box"
        yield Case(row["id"], roast, cooker, float(row["T_cooker_C"]), start,
                   float(row["core_C"]), float(least), float(most or least), loss=loss)
