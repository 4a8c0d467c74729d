"""Times for a card: a recipe's own forecast, and a table of every size, cooker and doneness that a reader may have.

A card is read in other kitchens, so it rests on the shipped priors and on nothing that this kitchen's cooks taught.
What was worked out is kept in the cache by the digest of all that it rests on.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable
from contextlib import suppress
from math import log
from pathlib import Path
from typing import Any, NamedTuple

from cookbook.errors import CookbookError, PieceError, UnknownName
from cookbook.heat import Band, Cooker, bands, forecast
from cookbook.heat import doubt as spreading
from cookbook.heat.doneness import NOT_SERVED
from cookbook.heat.outlook import Range
from cookbook.heat.roast import size_spread
from cookbook.heat.timetable import SCALES, Timetable, Timing, nodes_of, sizes_of, timetable, with_doubt
from cookbook.kitchen.cache import cache_base, keep, rules
from cookbook.kitchen.forecasting.outlook import MODEL, Asked, Wanted, of_recipe
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.sizing import Said
from cookbook.meat import Piece
from cookbook.recipe import Recipe

READERS = ("oven", "fan oven", "kettle", "pellet", "kamado")
"""Cookers that a reader may have instead."""
FALLS_APART_C = 85.0
"""A pull as high as this is for meat that is done when it is tender: doneness by degrees means nothing there."""
MOST_KEPT = 2000
"""So many forecasts are kept."""
ALONG = (0.0, 0.35, 0.65, 1.0)
"""Where between its lightest and its heaviest (in logarithms) a cut that grows longer or wider is worked out."""
KNOTS = 12
"""So many steps lie between the lowest pull and the highest."""
LIGHTER, HEAVIER = 0.85, 1.15
"""So much lighter and heavier than usual a piece may be before it lies beyond the table."""

NEVER = {"never": True}
"""What is kept of a piece that its fire never brings to the pull."""

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
        return self.table.timing(
            sizes_of(piece), cooker or self.cooker, pull_c or self.wanted.pull_c, size_spread(piece)
        )

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
    piece: Piece | None = None,
) -> Times | None:
    """The times of a cook for `piece` or the piece said; None where the recipe names no fire, no pull or no piece.

    Raises UnknownName for a cooker or doneness that is asked for and not known.
    """
    try:
        wanted = of_recipe(kitchen, recipe, said, asked, piece)
        cooker = (wanted.cooker or Cooker())._replace(hot_side=None, hotter_k=None)  # a reader's fire has its own
        wanted = wanted._replace(cooker=cooker)
        kept = _place(wanted)
        found = _kept(kept)
        if found == NEVER:
            return None
        if found is None:
            try:
                own, table = _worked_out(wanted, cooker, told)
            except PieceError:
                _keep(kept, NEVER)
                return None
            _keep(kept, {"own": own._asdict(), "table": table.json()})
            return Times(own, table, cooker.kind, wanted)
    except UnknownName:
        if asked == NOTHING:
            return None
        raise
    except CookbookError:
        return None
    return Times(_timing(found["own"]), Timetable.read(found["table"]), cooker.kind, wanted)


def other_bones(known: Times, bones: str, told: Told = lambda _done, _all: None) -> Timetable | None:
    """The table for the cut with its bones `on` or `off` instead of as the piece is; its doubt is the card's."""
    try:
        wanted = known.wanted._replace(piece=_boned(known.wanted.piece, bones))
        kept = _place(wanted).with_suffix(".bones.json")
        found = _kept(kept)
        if found is None:
            table = _table(wanted, told)
            _keep(kept, {"table": table.json()})
        else:
            table = Timetable.read(found["table"])
    except CookbookError:
        return None
    return table._replace(doubt=known.table.doubt)


def _place(wanted: Wanted) -> Path:
    return cache_base() / "forecasts" / f"{_digest(wanted)}.json"


def _kept(path: Path) -> Any:
    """What is kept there; None where there is nothing that can be read."""
    with suppress(OSError, ValueError, KeyError, TypeError):
        found = json.loads(path.read_text(encoding="utf-8"))
        if found == NEVER:
            return found
        Timetable.read(found["table"])
        if not path.name.endswith(".bones.json"):
            _timing(found["own"])
        return found
    return None


def _keep(kept: Path, found: dict[str, Any]) -> None:
    """Into the cache, of which the oldest go when there are too many; where nothing can be written, nothing is."""
    keep(kept, json.dumps(found))
    with suppress(OSError):
        for old in sorted(kept.parent.glob("*.json"), key=lambda one: one.stat().st_mtime)[:-MOST_KEPT]:
            old.unlink()


def donenesses(wanted: Wanted) -> list[Band]:
    """The donenesses that a reader may want of it, coldest first; none where it is cooked till it is tender."""
    if wanted.pull_c >= FALLS_APART_C:
        return []
    return [
        band
        for band in bands(wanted.piece.cut.species)
        if band.name not in NOT_SERVED and (band.low_c or 0.0) < FALLS_APART_C
    ]


def _worked_out(wanted: Wanted, cooker: Cooker, told: Told) -> tuple[Timing, Timetable]:
    pieces, scales = pieces_of(wanted.piece)
    runs = 1 + len(pieces) + len(nodes_of(wanted.piece.cut.growth, len(pieces), scales))
    told(0, runs)
    found = forecast(wanted.piece, members=spreading.MEMBERS, **wanted.settings())
    if not found.reaches:
        raise PieceError("it never gets there", measurement="pull")
    table = _table(wanted, lambda done, _all: told(1 + done, runs))
    table = with_doubt(
        table,
        pieces,
        found,
        wanted.piece,
        _cookers(wanted),
        cooker.kind,
        lambda done, _all: told(1 + len(pieces) + done, runs),
        **_said(wanted),
    )
    own = Timing(
        found.pull_c, found.minutes_to_pull, found.core_at_slicing_c, found.peak_c, found.minutes_to_peak.p50
    )
    return own, table


def _said(wanted: Wanted) -> dict[str, Any]:
    return {"pit_c": wanted.pit_c, "start_c": wanted.start_c, "rest": wanted.rest, "wrap": wanted.wrap}


def _cookers(wanted: Wanted) -> dict[str, Cooker]:
    """The card's own cooker first, then those that a reader may have."""
    own = wanted.cooker or Cooker()
    return {own.kind: own._replace(name=None), **{kind: Cooker(kind) for kind in READERS if kind != own.kind}}


def _table(wanted: Wanted, told: Told) -> Timetable:
    pieces, scales = pieces_of(wanted.piece)
    return timetable(pieces, _pulls(wanted), _cookers(wanted), scales=scales, told=told, **_said(wanted))


def _pulls(wanted: Wanted) -> list[float]:
    """Pulls that the table is worked out for: round the cook's own, and for every doneness that may be wanted."""
    own = wanted.pull_c
    known = [band.served_c for band in donenesses(wanted)]
    if not known:
        spread = [own - 4.0, own, min(own + 3.0, 99.0)]
    else:
        low, high = max(min(own, *known) - 12.0, wanted.start_c + 8.0), max(own, *known) + 1.0
        spread = knots(low, high)
    least = wanted.wrap.core_c + 1.0 if wanted.wrap is not None and wanted.wrap.core_c is not None else 0.0
    most = max(wanted.pit_c - 4.0, own)
    return sorted({round(min(max(one, min(least, own)), most), 1) for one in spread} | {own})


def knots(low_c: float, high_c: float) -> list[float]:
    """Pulls from the lowest to the highest, closer to each other towards the end, where a core slows down."""
    return [high_c - (high_c - low_c) * (1.0 - step / KNOTS) ** 1.5 for step in range(KNOTS + 1)]


def pieces_of(own: Piece) -> tuple[list[Piece], tuple[float, ...]]:
    """Pieces of the cut from its lightest to its heaviest, one of them as heavy as the card's own, and the scales at
    which each is run."""
    cut, bones = own.scanned_cut or own.cut, own.known.bones
    low, high = cut.usual_kg
    if cut.growth == "bigger":
        middle = (low * high) ** 0.5
        first, last = (LIGHTER * low / middle) ** (1 / 3), (HEAVIER * high / middle) ** (1 / 3)
        return (
            [cut.piece(mass_g=1000 * middle, bones=bones)],
            tuple(round(first * (last / first) ** (step / 4), 4) for step in range(5)),
        )
    low *= LIGHTER
    here = log(own.mass_g.mid / (1000 * low)) / log(high / low)
    along = sorted(ALONG, key=lambda share: abs(share - here))
    if along[0] not in (0.0, 1.0):
        along[0] = here
    return [cut.piece(mass_g=1000 * low * (high / low) ** share, bones=bones) for share in sorted(along)], SCALES


def _boned(piece: Piece, bones: str) -> Piece:
    known = piece.known._replace(bones=bones, frenched_cm=None if bones == "off" else piece.known.frenched_cm)
    return (piece.scanned_cut or piece.cut).piece(**known._asdict(), faces=None)


def _timing(kept: Any) -> Timing:
    minutes, board, peak = (Range(*kept[name]) for name in ("minutes", "board_c", "peak_c"))
    return Timing(kept["pull_c"], minutes, board, peak, kept["minutes_to_peak"])


def _digest(wanted: Wanted) -> str:
    """Over all that the times rest on: the piece and its cut, fire, pull, rest, and the rules of this program."""
    piece = wanted.piece
    parts = (
        MODEL,
        rules("heat", "meat", "table"),
        sorted(wanted.settings().items(), key=str),
        piece.cut,
        sizes_of(piece),
        piece.dimensions_cm,
        piece.mass_g,
        piece.bones,
        READERS,
        ALONG,
        KNOTS,
        LIGHTER,
        HEAVIER,
        SCALES,
    )
    return hashlib.sha256(repr(parts).encode()).hexdigest()[:32]
