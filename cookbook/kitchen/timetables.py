"""Times for a card: a recipe's own forecast, and a table of every size, cooker and doneness that a reader may have.

A card is read in other kitchens, so it rests on the shipped priors and on nothing that this kitchen's cooks taught.
What was worked out is kept in the cache by the digest of all that it rests on.
"""

from __future__ import annotations

import hashlib
import json
import os
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path
from typing import Any, NamedTuple

from cookbook.errors import CookbookError, PieceError, UnknownName
from cookbook.heat import Band, Cooker, bands, forecast
from cookbook.heat import timetable as spreading
from cookbook.heat.outlook import Range
from cookbook.heat.timetable import SCALES, Timetable, Timing, sizes_of, timetable, with_doubt
from cookbook.kitchen.cache import cache_base, rules
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.outlook import MODEL, Asked, Wanted, of_recipe
from cookbook.kitchen.sizing import Said
from cookbook.meat import Piece
from cookbook.recipe import Recipe

READERS = ("oven", "fan oven", "kettle", "pellet", "kamado")
"""Cookers that a reader may have instead."""
FALLS_APART_C = 85.0
"""A pull as high as this is for meat that is done when it is tender: doneness by degrees means nothing there."""
_UNNAMED = ("raw", "underdone", "not done")
MOST_KEPT = 2000
"""So many forecasts are kept."""
ALONG = (0.0, 0.25, 0.55, 1.0)
"""Where between its lightest and its heaviest (in logarithms) a cut that grows longer or wider is worked out."""

NOTHING = Asked()
"""Nothing asked beside what the recipe says."""

Told = Callable[[int, int], None]
"""Hears how many runs are done of how many."""


class Times(NamedTuple):
    """What a card says of time: its own piece's forecast, and the table for all others."""

    own: Timing
    table: Timetable
    cooker: str
    wanted: Wanted

    def of(self, piece: Piece, cooker: str | None = None, pull_c: float | None = None) -> Timing:
        """The times of another piece, cooker or pull."""
        return self.table.timing(sizes_of(piece), cooker or self.cooker, pull_c or self.wanted.pull_c)

    def pull_for(self, band: Band, piece: Piece, cooker: str | None = None) -> float:
        """The pull that brings a doneness to the board."""
        return self.table.pull_for(sizes_of(piece), cooker or self.cooker, band.served_c)

    @property
    def rest_min(self) -> float:
        """How long it rests."""
        return self.wanted.rest.minutes if self.wanted.rest else 0.0


def times(
    kitchen: Kitchen,
    recipe: Recipe,
    said: Said,
    asked: Asked = NOTHING,
    told: Told = lambda _done, _all: None,
    bones: str | None = None,
    piece: Piece | None = None,
) -> Times | None:
    """The times of a cook for `piece` or the piece said; None where the recipe names no fire, no pull or no piece.

    `bones` makes the table for the cut with its bones so (`off`, `on`) instead of as the piece is.
    """
    try:
        wanted = of_recipe(kitchen, recipe, said, asked, piece)
    except UnknownName:
        raise
    except CookbookError:
        return None
    if bones is not None:
        wanted = wanted._replace(piece=_boned(wanted.piece, bones))
    cooker = wanted.cooker or Cooker()
    kept = cache_base() / "forecasts" / f"{_digest(wanted)}.json"
    with suppress(OSError, ValueError, KeyError, TypeError):
        found = json.loads(kept.read_text(encoding="utf-8"))
        return Times(_timing(found["own"]), Timetable.read(found["table"]), cooker.kind, wanted)
    try:
        own, table = _worked_out(wanted, cooker, told)
    except CookbookError:
        return None
    _keep(kept, {"own": own._asdict(), "table": table.json()})
    return Times(own, table, cooker.kind, wanted)


def _keep(kept: Path, found: dict[str, Any]) -> None:
    """Into the cache, of which the oldest go when there are too many; where nothing can be written, nothing is."""
    with suppress(OSError):
        kept.parent.mkdir(parents=True, exist_ok=True)
        part = kept.with_suffix(f".{os.getpid()}")
        part.write_text(json.dumps(found), encoding="utf-8")
        part.replace(kept)
        for old in sorted(kept.parent.glob("*.json"), key=lambda one: one.stat().st_mtime)[:-MOST_KEPT]:
            old.unlink()


def donenesses(wanted: Wanted) -> list[Band]:
    """The donenesses that a reader may want of it, coldest first; none where it is cooked till it is tender."""
    if wanted.pull_c >= FALLS_APART_C:
        return []
    return [
        band
        for band in bands(wanted.piece.cut.species)
        if band.name not in _UNNAMED and (band.low_c or 0.0) < FALLS_APART_C
    ]


def _worked_out(wanted: Wanted, cooker: Cooker, told: Told) -> tuple[Timing, Timetable]:
    said = {"pit_c": wanted.pit_c, "start_c": wanted.start_c, "rest": wanted.rest, "wrap": wanted.wrap}
    others = {kind: Cooker(kind) for kind in READERS if kind != cooker.kind}
    cookers = {cooker.kind: cooker._replace(name=None), **others}
    pieces, scales = pieces_of(wanted.piece)
    steps = len(cookers) * len(pieces)
    told(0, steps + 1)
    found = forecast(wanted.piece, members=spreading.MEMBERS, **wanted.settings())
    if not found.reaches:
        raise PieceError("it never gets there", measurement="pull")
    table = timetable(
        pieces, _pulls(wanted), cookers, scales=scales, told=lambda done, all_: told(done, all_ + 1), **said
    )
    table = with_doubt(table, found, wanted.piece, cooker, cooker.kind, **said)
    told(steps + 1, steps + 1)
    own = Timing(
        found.pull_c, found.minutes_to_pull, found.core_at_slicing_c, found.peak_c, found.minutes_to_peak.p50
    )
    return own, table


def _pulls(wanted: Wanted) -> list[float]:
    """Pulls that the table is worked out for: round the cook's own, and for every doneness that may be wanted."""
    own = wanted.pull_c
    known = [band.served_c for band in donenesses(wanted)]
    if not known:
        spread = [own - 4.0, own, min(own + 3.0, 99.0)]
    else:
        low, high = max(min(own, *known) - 12.0, wanted.start_c + 8.0), max(own, *known) + 1.0
        spread = [low + (high - low) * step / 5 for step in range(6)]
    least = wanted.wrap.core_c + 1.0 if wanted.wrap is not None and wanted.wrap.core_c is not None else 0.0
    most = max(wanted.pit_c - 4.0, own)
    return sorted({round(min(max(one, min(least, own)), most), 1) for one in spread} | {own})


def pieces_of(own: Piece) -> tuple[list[Piece], tuple[float, ...]]:
    """Pieces of the cut from its lightest to its heaviest, and the scales at which each is run."""
    low, high = own.cut.usual_kg
    bones = own.known.bones
    if own.cut.growth == "bigger":
        middle = (low * high) ** 0.5
        first, last = (0.85 * low / middle) ** (1 / 3), (1.15 * high / middle) ** (1 / 3)
        return (
            [own.cut.piece(mass_g=1000 * middle, bones=bones)],
            tuple(round(first * (last / first) ** (step / 4), 4) for step in range(5)),
        )
    return [own.cut.piece(mass_g=1000 * low * (high / low) ** share, bones=bones) for share in ALONG], SCALES


def _boned(piece: Piece, bones: str) -> Piece:
    known = piece.known._replace(bones=bones, frenched_cm=None if bones == "off" else piece.known.frenched_cm)
    return piece.cut.piece(**known._asdict(), faces=None)


def _timing(kept: Any) -> Timing:
    minutes, board, peak = (Range(*kept[name]) for name in ("minutes", "board_c", "peak_c"))
    return Timing(kept["pull_c"], minutes, board, peak, kept["minutes_to_peak"])


def _digest(wanted: Wanted) -> str:
    """Over all that the times rest on: the piece and its cut, fire, pull, rest, and the rules of this program."""
    piece = wanted.piece
    parts = (
        MODEL,
        rules(("heat", "meat", "table")),
        sorted(wanted.settings().items(), key=str),
        piece.cut,
        sizes_of(piece),
        piece.dimensions_cm,
        piece.mass_g,
        piece.bones,
        READERS,
        ALONG,
        SCALES,
    )
    return hashlib.sha256(repr(parts).encode()).hexdigest()[:32]
