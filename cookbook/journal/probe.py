"""What a probe over a fire can show, and a number without a scale read as its temperature."""

from __future__ import annotations

from cookbook.errors import RequestError
from cookbook.quantity import Temperature

PROBES = ("core", "surface", "pit")

PLAUSIBLE_C = {"core": (-5.0, 105.0), "surface": (-5.0, 250.0), "pit": (15.0, 500.0)}
"""Lowest and highest, °C: meat is wet, so its core stays about or below boiling; common practice, no standard."""


def bare(number: str, probe: str, scale: str | None) -> Temperature:
    """A number without a scale as the temperature of a probe. Raises RequestError where it can't be one."""
    like = f"write {probe}={number}C or {probe}={number}F"
    if scale is None:
        raise RequestError(
            f"{number} has no scale", mend=f"{like}, or say `temperature: C` or `F` in shared/kitchen.yaml"
        )
    found = Temperature.parse(number.replace(",", "."), scale)
    low, high = PLAUSIBLE_C[probe]
    if not low <= found.c <= high:
        raise RequestError(f"{found} is no temperature that a {probe} has over a fire", mend=like)
    return found
