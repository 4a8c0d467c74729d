"""What was to be expected of a cook: the forecast for its very piece, in the pit as it ran, to the pull as it came.

It takes about a second and is kept in the cache by the digest of all that it rests on, so that it is made once. What
other cooks have taught stays out: every cook is held against the same model.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Callable, Sequence
from contextlib import suppress
from pathlib import Path
from statistics import fmean
from typing import NamedTuple

from cookbook.errors import CookbookError
from cookbook.journal import Entry
from cookbook.journal.outcome import outcomes
from cookbook.kitchen.cache import READERS, cache_folder, keep, rules
from cookbook.kitchen.care import cooked_recipe
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.probes import bytes_of


class Expected(NamedTuple):
    """Minutes to the pull (tenth, fiftieth and ninetieth percentile) and the rise after it in K."""

    p10: float
    p50: float
    p90: float
    rise_k: float | None

    def json(self) -> dict[str, object]:
        """As `last --json` gives it."""
        return {"minutes_to_pull": {"p10": self.p10, "p50": self.p50, "p90": self.p90}, "rise_k": self.rise_k}


def expected(kitchen: Kitchen, entry: Entry, told: Callable[[str], None] = lambda _: None) -> Expected | None:
    """What the forecast says of this cook, of several pieces their mean; None where it doesn't say enough.

    `told` hears the name of a cook whose forecast has to be made.
    """
    took = {one.name: one.value for one in outcomes(entry, kitchen.readings(entry))}
    if entry.memory or "time to pull" not in took or not entry.pieces:
        return None
    kept = cache_folder(kitchen.root) / "expected" / f"{digest(kitchen, entry, program())}.json"
    with suppress(OSError, ValueError, TypeError):
        said = json.loads(kept.read_text(encoding="utf-8"))
        return None if said is None else Expected(*said)
    told(entry.name)
    found = _forecast(kitchen, entry, took.get("pulled at"))
    keep(kept, json.dumps(found))
    return found


def _forecast(kitchen: Kitchen, entry: Entry, pull_c: float | None) -> Expected | None:
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from cookbook.kitchen.forecasting import outlook

    asked = outlook.Asked(pull_c=pull_c)
    try:
        each = [outlook.of_entry(kitchen, entry._replace(pieces=(piece,)), asked) for piece in entry.pieces]
        found = [outlook.run(kitchen, one._replace(readings=(), pulled_min=None), learn=False) for one in each]
    except CookbookError:
        return None
    minutes = [_mean([getattr(one.minutes_to_pull, name) for one in found]) for name in ("p10", "p50", "p90")]
    if minutes[0] is None or minutes[1] is None or minutes[2] is None:
        return None
    rise = _mean([None if one.peak_c.p50 is None else one.peak_c.p50 - one.pull_c for one in found])
    return Expected(minutes[0], minutes[1], minutes[2], rise)


def _mean(values: Sequence[float | None]) -> float | None:
    """The mean, to a hundredth; None where one is missing."""
    known = [value for value in values if value is not None]
    return round(fmean(known), 2) if len(known) == len(values) else None


def program() -> str:
    """Names the code and tables behind a forecast, so that a changed program makes every one anew."""
    return rules(*READERS, "heat", "kitchen/forecasting")


def digest(kitchen: Kitchen, entry: Entry, made_by: str) -> str:
    """Over the program, the entry, its readings, the recipe that was cooked, the kitchen's cookers and cuts."""
    recipe = cooked_recipe(kitchen, entry)
    beside = [kitchen.entry_path(entry).parent / name for name in entry.readings if Path(name).name == name]
    shared = [kitchen.root / "shared" / name for name in ("cookers.yaml", "cuts.yaml", "kitchen.yaml")]
    parts = [made_by.encode(), entry.document.data, recipe.document.data if recipe else b""]
    parts += [_bytes(path) for path in (*beside, *shared)]
    return hashlib.sha256(b"".join(b"%d " % len(part) + part for part in parts)).hexdigest()[:32]


def _bytes(path: Path) -> bytes:
    try:
        return bytes_of(path)
    except OSError:
        return b""
