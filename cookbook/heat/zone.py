"""Doneness zones: which share of the meat reached which band, for the whole roast, middle slices and end cuts.

A spot's band is ruled by the highest temperature it reached, rest included; bands touch, shares add up to one.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np

from cookbook.errors import UnknownName
from cookbook.heat.body import Array
from cookbook.heat.grid import Graph
from cookbook.table import rows

POULTRY = ("chicken", "turkey", "duck", "goose")
_END_CM = 2.0


class Band(NamedTuple):
    """A named stretch of temperature, from `low_c` (none: anything colder) up to `high_c` (none: anything hotter)."""

    name: str
    low_c: float | None
    high_c: float | None
    source: str
    memory: bool

    @property
    def served_c(self) -> float:
        """What to aim for on the board: the middle of the band, of a wide one three kelvin above its low end,
        half of a usual band's width (judgement)."""
        low = self.low_c if self.low_c is not None else (self.high_c or 0.0) - 4.0
        high = self.high_c if self.high_c is not None else low + 4.0
        return (low + min(high, low + 6.0)) / 2


class Zone(NamedTuple):
    """A band's share of some meat, the ensemble's mean, with its tenth and ninetieth percentile."""

    name: str
    low_c: float | None
    high_c: float | None
    share: float
    share_p10: float
    share_p90: float

    def json(self) -> dict[str, object]:
        """As `forecast --json` lists it."""
        return {"name": self.name, "low_c": self.low_c, "high_c": self.high_c, "share": self.share,
                "share_p10": self.share_p10, "share_p90": self.share_p90}

    def words(self) -> str:
        """The name with its numbers beside it."""
        if self.low_c is None:
            span = f"below {self.high_c:g} °C"
        elif self.high_c is None:
            span = f"{self.low_c:g} °C and above"
        else:
            span = f"{self.low_c:g} to {self.high_c:g} °C"
        return f"{self.name} ({span})"


class Slice(NamedTuple):
    """Zones of one slice, counted from an end."""

    from_end_cm: float
    thickness_cm: float
    end_cut: bool
    zones: list[Zone]

    def json(self) -> dict[str, object]:
        """As `forecast --json` lists it."""
        return {"from_end_cm": self.from_end_cm, "thickness_cm": self.thickness_cm, "end_cut": self.end_cut,
                "zones": [zone.json() for zone in self.zones]}


def bands(species: str, scale: str = "trade") -> list[Band]:
    """The bands of a species on the `trade` or `household` scale, coldest first; another species takes beef's."""
    name = "poultry" if species in (*POULTRY, "poultry") else species
    if scale not in ("trade", "household"):
        raise UnknownName("doneness scale", scale, ["trade", "household"])
    chosen = [row for row in rows("heat_bands") if row["species"] == name and row["scale"] == scale]
    if not chosen:
        chosen = [row for row in rows("heat_bands") if row["species"] == "beef" and row["scale"] == scale]
    lows = [float(row["low_c"]) if row["low_c"] else None for row in chosen]
    return [Band(row["name"], low, high, row["source"], row["memory"] == "true")
            for row, low, high in zip(chosen, lows, [*lows[1:], None], strict=True)]


def band_of(temp_c: float, species: str, scale: str = "trade") -> Band:
    """The band a temperature falls into."""
    found = bands(species, scale)[0]
    for band in bands(species, scale):
        if band.low_c is not None and temp_c >= band.low_c:
            found = band
    return found


def shares(highest_c: Array, weight: Array, between: Sequence[Band]) -> list[Zone]:
    """Zones of cells (rows) for every member (columns), each cell counted by `weight`."""
    limits = [band.low_c for band in between if band.low_c is not None]
    place = np.searchsorted(limits, highest_c, side="right")
    total = float(weight.sum())
    zones = []
    for number, band in enumerate(between):
        part = weight @ (place == number) / total
        low, high = np.percentile(part, (10, 90))
        zones.append(Zone(band.name, band.low_c, band.high_c, float(part.mean()), float(low), float(high)))
    return zones


def slices(graph: Graph, highest_c: Array, between: Sequence[Band], *, thickness_cm: float = 2.0,
           one_ended: bool = False) -> list[Slice]:
    """Zones of each slice from an end to the middle (or to the other end of a body that is not symmetrical)."""
    length = graph.length_m * 100
    count = max(1, round(length / thickness_cm))
    thick = length / count
    half = graph.pitch_m * 50
    along = graph.centre_m[:, 1] * 100
    found = []
    for number in range(count):
        low = number * thick
        high = low + thick
        covered = np.clip(np.minimum(along + half, high) - np.maximum(along - half, low), 0.0, None) / (2 * half)
        weight = graph.volume_m3 * covered
        if weight.sum() <= 0:
            continue
        from_end = low if one_ended else max(length - high, 0.0)
        near_end = from_end < _END_CM or (one_ended and length - high < _END_CM)
        found.append(Slice(round(from_end, 2), round(thick, 2), near_end, shares(highest_c, weight, between)))
    return sorted(found, key=lambda one: one.from_end_cm)
