"""What the forecast says of cooks that are over: how long the piece should have taken, how far it should have risen,
and by the readings which part of it became what. Each answer is kept in the cache by all that it rests on.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING

from cookbook.compare.cook import Expectation, Expected
from cookbook.errors import CookbookError
from cookbook.journal import Entry
from cookbook.journal.outcome import moment_of, outcomes
from cookbook.kitchen import Kitchen
from cookbook.kitchen.cache import cache_folder, keep
from cookbook.kitchen.forecasting import expecting

if TYPE_CHECKING:
    from cookbook.heat import Forecast

_REST_MIN = 360.0
"""Minutes after the pull past which a reading tells of leftovers, not of the cook."""


MOST_AT_ONCE = 24
"""Cooks that a comparison works through without being asked; each takes seconds, once."""


def still_to_do(kitchen: Kitchen, entries: Sequence[Entry]) -> int:
    """How many of these cooks have no forecast in the cache."""
    folder, program = cache_folder(kitchen.root) / "compared", expecting.program()
    return sum(not (folder / f"{expecting.digest(kitchen, entry, program)}.json").is_file() for entry in entries)


def by_forecast(kitchen: Kitchen, told: Callable[[str], None] = lambda _: None) -> Expected:
    """What was to be expected of an entry of this kitchen, by the shipped priors, so that all are measured alike.

    `told` hears of each cook that has to be worked through once. None where an entry doesn't say enough.
    """
    folder, program = cache_folder(kitchen.root) / "compared", expecting.program()

    def expected(entry: Entry) -> Expectation | None:
        file = folder / f"{expecting.digest(kitchen, entry, program)}.json"
        try:
            kept = json.loads(file.read_text(encoding="utf-8"))
            return None if kept is None else Expectation(kept["minutes"], kept["rise_k"], dict(kept["zones"]))
        except (OSError, ValueError, KeyError, TypeError):
            pass
        told(entry.name)
        found = _worked_out(kitchen, entry)
        keep(file, json.dumps(None if found is None else found._asdict()))
        return found

    return expected


def _worked_out(kitchen: Kitchen, entry: Entry) -> Expectation | None:
    if moment_of(entry, "on") is None or moment_of(entry, "pulled") is None or not entry.pieces:
        return None
    found = expecting.expected(kitchen, entry)
    zones = _zones(_by_readings(kitchen, entry)) if len(entry.pieces) == 1 else {}
    if found is None:
        return Expectation(zones=zones) if zones else None
    return Expectation(found.p50, found.rise_k, zones)


def _by_readings(kitchen: Kitchen, entry: Entry) -> Forecast | None:
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from cookbook.kitchen.forecasting import outlook

    pulled = next((one.value for one in outcomes(entry, kitchen.readings(entry)) if one.name == "pulled at"), None)
    try:
        wanted = outlook.of_entry(kitchen, entry, outlook.Asked(pull_c=pulled))
        end = (wanted.pulled_min or 0.0) + _REST_MIN
        wanted = wanted._replace(readings=tuple(one for one in wanted.readings if one.minute <= end))
        return outlook.run(kitchen, wanted, learn=False) if wanted.readings else None
    except CookbookError:
        return None


def _zones(found: Forecast | None) -> dict[str, float]:
    """Percent of the meat in each doneness."""
    return {zone.name: round(100 * zone.share, 2) for zone in found.zones} if found is not None else {}
