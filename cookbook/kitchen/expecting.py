"""What was to be expected of a cook: the forecast for its very piece, in the pit as it ran, to the pull as it came.

It takes about a second and is kept in the cache by the digest of all that it rests on, so that it is made once. What
other cooks have taught stays out: every cook is held against the same model.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from cookbook.errors import CookbookError
from cookbook.journal import Entry
from cookbook.journal.outcome import outcomes, pit_c
from cookbook.kitchen.cache import READERS, cache_folder, rules
from cookbook.kitchen.care import cooked_recipe
from cookbook.kitchen.kitchen import Kitchen


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
    """What the forecast says of this cook; None where it has several pieces or doesn't say enough.

    `told` hears the name of a cook whose forecast has to be made.
    """
    took = {one.name: one.value for one in outcomes(entry, kitchen.readings(entry))}
    if entry.memory or "time to pull" not in took or len(entry.pieces) != 1:
        return None
    kept = cache_folder(kitchen.root) / "expected" / f"{_digest(kitchen, entry)}.json"
    with suppress(OSError, ValueError, TypeError):
        said = json.loads(kept.read_text(encoding="utf-8"))
        return None if said is None else Expected(*said)
    told(entry.name)
    found = _forecast(kitchen, entry, took.get("pulled at"))
    with suppress(OSError):
        kept.parent.mkdir(parents=True, exist_ok=True)
        kept.write_text(json.dumps(found), encoding="utf-8")
    return found


def _forecast(kitchen: Kitchen, entry: Entry, pull_c: float | None) -> Expected | None:
    from cookbook.kitchen import outlook

    try:
        asked = outlook.Asked(pull_c=pull_c)
        pit = pit_c(entry, kitchen.readings(entry))
        wanted = outlook.of_entry(kitchen, entry, asked)._replace(readings=(), pulled_min=None)
        found = outlook.run(kitchen, wanted if pit is None else wanted._replace(pit_c=pit), learn=False)
    except CookbookError:
        return None
    minutes, peak = found.minutes_to_pull, found.peak_c.p50
    if minutes.p10 is None or minutes.p50 is None or minutes.p90 is None:
        return None
    rise = None if peak is None else round(peak - found.pull_c, 2)
    return Expected(round(minutes.p10, 1), round(minutes.p50, 1), round(minutes.p90, 1), rise)


def _digest(kitchen: Kitchen, entry: Entry) -> str:
    """Over the entry, its readings, the recipe that was cooked, the kitchen's cookers and cuts, and this program."""
    recipe = cooked_recipe(kitchen, entry)
    beside = [kitchen.entry_path(entry).parent / name for name in entry.readings]
    shared = [kitchen.root / "shared" / name for name in ("cookers.yaml", "cuts.yaml", "kitchen.yaml")]
    parts = [rules(*READERS, "heat").encode(), entry.document.data, recipe.document.data if recipe else b""]
    parts += [_bytes(path) for path in (*beside, *shared)]
    return hashlib.sha256(b"".join(b"%d " % len(part) + part for part in parts)).hexdigest()[:32]


def _bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError:
        return b""
