"""What the forecast says of cooks that are over: how long the piece should have taken, how far it should have risen,
and by the readings which part of it became what. Each answer is kept in the cache by all that it rests on.
"""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Sequence
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from statistics import fmean
from typing import TYPE_CHECKING

from cookbook.compare.cook import Expectation, Expected
from cookbook.errors import CookbookError
from cookbook.journal import Entry
from cookbook.journal.outcome import moment_of, outcomes
from cookbook.kitchen import Kitchen
from cookbook.kitchen.cache import cache_folder, checksum, rules
from cookbook.kitchen.care import cooked_recipe

if TYPE_CHECKING:
    from cookbook.heat import Forecast
    from cookbook.kitchen.outlook import Wanted

_SHARED = ("cookers.yaml", "cuts.yaml")
_REST_MIN = 360.0
"""Minutes after the pull past which a reading tells of leftovers, not of the cook."""


MOST_AT_ONCE = 24
"""Cooks that a comparison works through without being asked; each takes seconds, once."""


def still_to_do(kitchen: Kitchen, entries: Sequence[Entry]) -> int:
    """How many of these cooks have no forecast in the cache."""
    folder, program = cache_folder(kitchen.root) / "expected", _program()
    return sum(not (folder / f"{_key(kitchen, entry, program)}.json").is_file() for entry in entries)


def by_forecast(kitchen: Kitchen, told: Callable[[str], None] = lambda _: None) -> Expected:
    """What was to be expected of an entry of this kitchen, by the shipped priors, so that all are measured alike.

    `told` hears of each cook that has to be worked through once. None where an entry doesn't say enough.
    """
    folder, program = cache_folder(kitchen.root) / "expected", _program()

    def expected(entry: Entry) -> Expectation | None:
        file = folder / f"{_key(kitchen, entry, program)}.json"
        try:
            kept = json.loads(file.read_text(encoding="utf-8"))
            return None if kept is None else Expectation(kept["minutes"], kept["rise_k"], dict(kept["zones"]))
        except (OSError, ValueError, KeyError, TypeError):
            pass
        told(entry.name)
        found = _worked_out(kitchen, entry)
        with suppress(OSError):
            folder.mkdir(parents=True, exist_ok=True)
            part = file.with_suffix(f".{os.getpid()}.part")
            part.write_text(json.dumps(None if found is None else found._asdict()), encoding="utf-8")
            part.replace(file)
        return found

    return expected


def _worked_out(kitchen: Kitchen, entry: Entry) -> Expectation | None:
    if moment_of(entry, "on") is None or moment_of(entry, "pulled") is None or not entry.pieces:
        return None
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from cookbook.kitchen import outlook

    pulled = next((one.value for one in outcomes(entry, kitchen.readings(entry)) if one.name == "pulled at"), None)
    asked = outlook.Asked(pull_c=pulled)
    try:
        each = [outlook.of_entry(kitchen, entry._replace(pieces=(piece,)), asked) for piece in entry.pieces]
        bare = [outlook.run(kitchen, one._replace(readings=(), pulled_min=None), learn=False) for one in each]
    except CookbookError:
        return None
    minutes = [one.minutes_to_pull.p50 for one in bare]
    rises = [one.peak_c.p50 - one.pull_c if one.peak_c.p50 is not None else None for one in bare]
    known = [one for one in minutes if one is not None], [one for one in rises if one is not None]
    return Expectation(
        fmean(known[0]) if len(known[0]) == len(bare) else None,
        fmean(known[1]) if len(known[1]) == len(bare) else None,
        _zones(_by_readings(kitchen, each[0])) if len(each) == 1 else {},
    )


def _by_readings(kitchen: Kitchen, wanted: Wanted) -> Forecast | None:
    from cookbook.kitchen import outlook

    end = (wanted.pulled_min or 0.0) + _REST_MIN
    wanted = wanted._replace(readings=tuple(one for one in wanted.readings if one.minute <= end))
    if not wanted.readings:
        return None
    try:
        return outlook.run(kitchen, wanted, learn=False)
    except CookbookError:
        return None


def _zones(found: Forecast | None) -> dict[str, float]:
    """Percent of the meat in each doneness."""
    return {zone.name: round(100 * zone.share, 2) for zone in found.zones} if found is not None else {}


def _program() -> str:
    """Names the code and tables behind an answer, so that a changed program works everything out again."""
    home = Path(__file__).resolve().parent.parent
    with os.scandir(home / "heat") as found:
        told = sorted(f"{one.name} {one.stat().st_size} {one.stat().st_mtime_ns}" for one in found)
    return rules() + checksum("\n".join(told))


def _key(kitchen: Kitchen, entry: Entry, program: str) -> str:
    recipe = cooked_recipe(kitchen, entry)
    files = [kitchen.entry_path(entry).parent / name for name in entry.readings if Path(name).name == name]
    files += [kitchen.root / "shared" / name for name in _SHARED]
    parts = [program.encode(), entry.document.data, recipe.document.data if recipe is not None else b""]
    for file in files:
        try:
            parts.append(file.read_bytes())
        except OSError:
            parts.append(b"")
    return sha256(b"\0".join(sha256(part).digest() for part in parts)).hexdigest()[:32]
