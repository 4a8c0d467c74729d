"""Times of one cut for every size, cooker and pull, from a few runs: what a card prints and its page reads again.

One run a length carries a member for each cooker and scale of the section, and every pull branches off it. Pieces
of the same proportions differ only by a scale, so that two coordinates tell a piece: how long it would be at the
cut's own section, and the scale of its section.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from math import exp, log, sqrt
from typing import TYPE_CHECKING, Any, NamedTuple

import numpy as np

from cookbook.heat import course as running
from cookbook.heat.doubt import (
    ENDLESS,
    FEW,
    Answers,
    Doubt,
    Known,
    Quantiles,
    alike,
    coarse,
    faster,
    minutes_of,
    on_cookers,
)
from cookbook.heat.outlook import Forecast, Range, setup
from cookbook.heat.prior import NAMES, members_of
from cookbook.heat.roast import size_spread
from cookbook.heat.setting import Cooker

if TYPE_CHECKING:
    from cookbook.meat import Piece

SCALES = (0.78, 1.0, 1.28)
"""Sections of a cut that grows longer or wider, against its own; what lies between is read off in logarithms."""

CARVE_MIN = 10.0
"""From the board to the table; an assumption."""

Grid = tuple[tuple[tuple[float | None, ...], ...], ...]
"""By length, by scale, by pull."""


class Timing(NamedTuple):
    """What the table says of one piece; minutes from the meat going on, of the peak from the pull. None: never."""

    pull_c: float
    minutes: Range
    board_c: Range
    peak_c: Range
    minutes_to_peak: float | None

    def before_eating(self, rest_min: float) -> float | None:
        """Minutes before the meal at which it goes on, so that nine of ten cooks are rested and carved in time."""
        middle, high = self.minutes.p50, self.minutes.p90
        if middle is None:
            return None
        return (high if high is not None else 2 * middle) + rest_min + CARVE_MIN

    @property
    def check_from(self) -> float | None:
        """From then on look at the thermometer."""
        return self.minutes.p10


class Timetable(NamedTuple):
    """`like` are the sizes in cm that the coordinates count from; `minutes`, `board_k`, `peak_k` and `later` are the
    time to each pull, the rise till slicing, the rise to the peak and the minutes to it, by cooker."""

    growth: str
    like: tuple[float, float, float]
    lengths: tuple[float, ...]
    scales: tuple[float, ...]
    pulls: tuple[float, ...]
    cookers: tuple[str, ...]
    minutes: Mapping[str, Grid]
    board_k: Mapping[str, Grid]
    peak_k: Mapping[str, Grid]
    later: Mapping[str, Grid]
    doubt: Doubt

    def json(self) -> dict[str, Any]:
        """As it is kept and as a page carries it."""
        return {**self._asdict(), "doubt": self.doubt._asdict()}

    @classmethod
    def read(cls, kept: Mapping[str, Any]) -> Timetable:
        """From what `json` gave. Raises KeyError, TypeError or ValueError for anything else."""
        deep = {name: {cooker: _grid(rows) for cooker, rows in kept[name].items()}
                for name in ("minutes", "board_k", "peak_k", "later")}
        length, width, height = kept["like"]
        low, middle, high = kept["doubt"]["rise_k"]
        early, at, late = kept["doubt"]["shift"]
        sure, sized = ({name: tuple(map(_grid, levels)) for name, levels in kept["doubt"][which].items()}
                       for which in ("sure", "sized"))
        doubt = Doubt(sure, sized, float(kept["doubt"]["size"]), (early, at, late), (low, middle, high))
        return cls(kept["growth"], (length, width, height), tuple(kept["lengths"]), tuple(kept["scales"]),
                   tuple(kept["pulls"]), tuple(kept["cookers"]), deep["minutes"], deep["board_k"], deep["peak_k"],
                   deep["later"], doubt)

    def place(self, sizes_cm: Sequence[float]) -> tuple[float, float]:
        """The two coordinates of a piece by its length, width and height: its length at this section, its scale."""
        long, wide, high = (size / like for size, like in zip(sizes_cm, self.like, strict=True))
        if self.growth == "wider":
            return (long * wide) ** 0.5 / high, high
        parts = (0, 1, 2) if self.growth == "bigger" else (1, 2)
        scale = (sum(self.like[k] ** -2 for k in parts) / sum(sizes_cm[k] ** -2 for k in parts)) ** 0.5
        return (1.0 if self.growth == "bigger" else long / scale), scale

    def timing(self, sizes_cm: Sequence[float], cooker: str, pull_c: float, size: float | None = None) -> Timing:
        """What a piece of these sizes (length, width, height in cm) does on a cooker, pulled at `pull_c`.

        `size` is one sigma of the logarithm of its size (`size_spread`), as of the table's least sure piece where
        none is given. Beyond the table's own pieces and pulls its nearest slope goes on, for lengths and for doubts
        the end.
        """
        where = self.place(sizes_cm)
        minutes = self._at(self.minutes[cooker], where, pull_c, rates=True)
        board, peak, later = (self._at(grid[cooker], where, pull_c)
                              for grid in (self.board_k, self.peak_k, self.later))
        if minutes is None or board is None or peak is None:
            none = Range(None, None, None)
            return Timing(pull_c, none, none, none, None)
        onto, highest = ([pull_c + rise + shift for shift in self.doubt.rise_k] for rise in (board, peak))
        spread = self._spread(where, cooker, pull_c, self.doubt.size if size is None else size)
        return Timing(pull_c, Range(*(minutes * exp(one) for one in spread)), Range(*onto),
                      Range(*(max(pull_c, one) for one in highest)), later)

    def _spread(self, where: tuple[float, float], cooker: str, pull_c: float, size: float) -> list[float]:
        """Logarithms of the quantiles over the middle's minutes: the median goes with the doubt of the size, what
        lies round it by the square of that."""
        sure, sized = ([self._at(grid, where, pull_c, held=True) or 0.0 for grid in grids[cooker]]
                       for grids in (self.doubt.sure, self.doubt.sized))
        more = size / self.doubt.size if self.doubt.size else 0.0
        middle = sure[1] + more * (sized[1] - sure[1])
        early, late = (sqrt(max(
            (1 - more ** 2) * (sure[k] - sure[1]) ** 2 + (more * (sized[k] - sized[1])) ** 2, 0.0)) for k in (0, 2))
        return [one + shift for one, shift in zip((middle - early, middle, middle + late), self.doubt.shift,
                                                  strict=True)]

    def pull_for(self, sizes_cm: Sequence[float], cooker: str, served_c: float) -> float:
        """The pull that brings `served_c` to the board after the rest, to half a kelvin; the ends where none does."""
        where = self.place(sizes_cm)
        shift = self.doubt.rise_k[1]
        known = [(pull, pull + rise + shift) for pull in self.pulls
                 if (rise := self._at(self.board_k[cooker], where, pull)) is not None]
        if not known:
            return self.pulls[-1]
        found = known[0][0] if served_c < known[0][1] else known[-1][0]
        for (low, low_c), (high, high_c) in pairwise(known):
            if low_c <= served_c <= high_c and high_c > low_c:
                found = low + (high - low) * (served_c - low_c) / (high_c - low_c)
                break
        return round(2 * found) / 2

    def _at(self, grid: Grid, where: tuple[float, float], pull_c: float, rates: bool = False,
            held: bool = False) -> float | None:
        """A grid's value between its knots: straight between pulls (in logarithms for `rates`, as the doubts are, so
        that a median goes smoothly past the pull where the middle one stalls) and logarithms of the scale, and over
        the length straight in its power -1.5, since short pieces hasten less than by its inverse square, by which
        ends add to the sides' rate; `held` goes nowhere beyond them."""
        at_length, along = _between([-(one ** -1.5) for one in self.lengths], -(where[0] ** -1.5), held=True)
        at_scale, across = _between([log(one) for one in self.scales], log(where[1]), held)
        at_pull, up = _between(self.pulls, pull_c, held)
        total = 0.0
        for step, share in ((0, 1 - along), (1, along)):
            if share == 0:
                continue
            part = 0.0
            for stride, weight in ((0, 1 - across), (1, across)):
                line = grid[at_length + step][at_scale + stride] if weight else ()
                if not line:
                    continue
                low, high = line[at_pull], line[at_pull + 1] if up else line[at_pull]
                if low is None or high is None:
                    return None
                part += weight * (log(low) + up * log(high / low) if rates else low + up * (high - low))
            total += share * (exp(-part) if rates else part)
        return 1 / total if rates else total


def _grid(rows: Any) -> Grid:
    return tuple(tuple(tuple(line) for line in plane) for plane in rows)


def _between(knots: Sequence[float], value: float, held: bool = False) -> tuple[int, float]:
    """The knot below a value and how far it is to the next one; `held` goes no further than the ends."""
    if len(knots) == 1:
        return 0, 0.0
    place = max(k for k in range(len(knots) - 1) if k == 0 or knots[k] <= value)
    share = (value - knots[place]) / (knots[place + 1] - knots[place])
    return place, min(max(share, 0.0), 1.0) if held else share


def with_doubt(table: Timetable, pieces: Sequence[Any], own: Forecast, piece: Piece, cookers: Mapping[str, Cooker],
               name: str, told: Callable[[int, int], None] = lambda _done, _all: None, **said: Any) -> Timetable:
    """The table of these `pieces` with the spread of an ensemble, moved so that of `piece` on the cooker `name` it
    says what the card's own forecast `own` says. `told` hears how many runs are done."""
    here = table.timing(sizes_of(piece), name, own.pull_c)
    board, rise, size = here.board_c.p50, own.core_at_slicing_c, size_spread(piece)
    least_sure = max(size, *map(size_spread, pieces))
    low, middle, high = own.minutes_to_pull
    if here.minutes.p50 is None or board is None or middle is None or rise.p50 is None:
        return table
    sure, sized = _quantiles(table, pieces, piece, cookers, name, least_sure, told, said)
    blank = Doubt(sure, sized, least_sure, (0.0,) * 3, (0.0,) * 3)
    known = table._replace(doubt=blank).timing(sizes_of(piece), name, own.pull_c, size).minutes
    wanted = (low or middle, middle, high or ENDLESS * middle)
    shift = [log(one / two) for one, two in zip(wanted, known, strict=True) if one and two]
    return table._replace(doubt=blank._replace(shift=(shift[0], shift[1], shift[2]), rise_k=(
        (rise.p10 or rise.p50) - board, rise.p50 - board, (rise.p90 or rise.p50) - board)))


def _quantiles(table: Timetable, pieces: Sequence[Any], piece: Piece, cookers: Mapping[str, Cooker], name: str,
               size: float, told: Callable[[int, int], None], said: Mapping[str, Any]) -> list[dict[str, Quantiles]]:
    """The quantiles of every cooker for a sure size and for one as unsure as `size`: along the lengths at the own
    section, and across the scales at one length; as the scale changes them there, it does at the others."""
    kinds = {alike(cooker): cooker for cooker in list(cookers.values())[::-1]}
    names = [next(one for one in cookers if alike(cookers[one]) == kind) for kind in kinds]
    known = Known(minutes_of(piece, 1.0, table.pulls, [cookers[name]], said)[:, 0])
    nodes = nodes_of(table.growth, len(pieces), table.scales)
    middle, plain = len(pieces) // 2, nodes[0][1]
    answers: dict[tuple[int, int], Answers] = {}
    for done, (along, across) in enumerate(nodes, 1):
        last = max((grid[along][across][-1] or 0.0 for grid in table.minutes.values()), default=0.0)
        answers[along, across] = known.answers(minutes_of(
            pieces[along], table.scales[across], table.pulls, list(kinds.values()), said, FEW,
            ENDLESS * last if last else None))
        told(done, len(nodes))
    sizes, row = size * known.size_z, [answers[middle, across] for across in range(len(table.scales))]
    found = {}
    for (along, across), one in answers.items():
        scale = table.scales[across]
        longer = _longer(table, (table.lengths[along], scale), names, sizes)
        found[along, across] = np.array(
            (one.quantiles(), one.quantiles(longer, faster(row, table.scales, scale, sizes))))
    every = np.array([[found.get((along, plain), found[middle, plain]) + found[middle, across] - found[middle, plain]
                       for across in range(len(table.scales))] for along in range(len(pieces))])
    every = np.sort(every, axis=-1).round(4)
    return [{kind: tuple(_grid(every[:, :, which, :, list(kinds).index(alike(cooker)), level].tolist())
                         for level in range(3)) for kind, cooker in cookers.items()} for which in range(2)]


def nodes_of(growth: str, lengths: int, scales: Sequence[float]) -> list[tuple[int, int]]:
    """Where the few members are run, as places of a length and a scale; the first ones at the own section."""
    middle = lengths // 2
    plain = min(range(len(scales)), key=lambda place: abs(log(scales[place])))
    # What grows wider is as thick at every length, and its thickness rules the time.
    along = [middle] if growth == "wider" else range(lengths)
    return [*((place, plain) for place in along),
            *((middle, place) for place in range(len(scales)) if place != plain)]


def _longer(table: Timetable, where: tuple[float, float], cookers: Sequence[str], sizes: Any) -> Any:
    """How much longer the members' own `sizes` (logarithms) make them, by pull, cooker and member: from the table's
    other scales."""
    steps = np.linspace(sizes.min(), sizes.max(), 13) if sizes.any() else np.zeros(1)
    found = []
    for pull in table.pulls:
        for cooker in cookers:
            times = [table._at(table.minutes[cooker], (where[0], where[1] * exp(step)), pull, rates=True)
                     for step in steps]
            own = table._at(table.minutes[cooker], where, pull, rates=True)
            ratios = [ENDLESS if one is None or own is None else one / own for one in times]
            found.append(np.interp(sizes, steps, ratios))
    return np.array(found).reshape(len(table.pulls), len(cookers), -1)


def sizes_of(piece: Piece) -> tuple[float, float, float]:
    """Length, width and height in cm."""
    length, width, height = (piece.dimensions_cm[name].mid for name in ("length", "width", "height"))
    return length, width, height


def timetable(pieces: Sequence[Any], pulls_c: Sequence[float], cookers: Mapping[str, Any], *, scales: Sequence[float],
              told: Callable[[int, int], None] = lambda _done, _all: None, **said: Any) -> Timetable:
    """The table of these pieces, one for each length, smallest first; `cookers` are `Cooker`s by their name.

    `said` is the rest of a forecast's settings (pit_c, start_c, rest, wrap). `told` hears how many runs are done.
    """
    like = sizes_of(pieces[len(pieces) // 2])
    flat: Grid = ((tuple(0.0 for _ in pulls_c),) * len(scales),) * len(pieces)
    none = dict.fromkeys(cookers, (flat,) * 3)
    plain = Doubt(none, none, 0.0, (0.0,) * 3, (0.0,) * 3)
    blank = Timetable(pieces[0].cut.growth, like, (1.0,), tuple(scales), tuple(pulls_c), tuple(cookers),
                      {}, {}, {}, {}, plain)
    lengths = tuple(blank.place(sizes_of(piece))[0] for piece in pieces)
    kinds = {alike(cooker): cooker for cooker in list(cookers.values())[::-1]}
    found = []
    for done, piece in enumerate(pieces, 1):
        found.append(_run(piece, np.array(scales), np.array(pulls_c), list(kinds.values()), said))
        told(done, len(pieces))
    grids = {name: [_grid([rows[kind][list(kinds).index(alike(cooker))] for rows in found]) for kind in range(4)]
             for name, cooker in cookers.items()}
    minutes, board, peak, later = ({name: grids[name][kind] for name in cookers} for kind in range(4))
    return blank._replace(lengths=lengths, minutes=minutes, board_k=board, peak_k=peak, later=later)


def _run(piece: Piece, scales: Any, pulls_c: Any, cookers: Sequence[Cooker], said: Mapping[str, Any]) -> list[Any]:
    """Minutes, rise till slicing, rise to the peak, minutes to it, each by cooker, scale and pull, in one run: a
    member for each cooker and scale, of which one branches off to rest at each pull."""
    plans = [setup(piece, pull_c=float(pulls_c.max()), cooker=cooker, **said) for cooker in cookers]
    z, plan, wanted = np.zeros((len(NAMES), scales.size)), plans[0], np.tile(pulls_c, scales.size * len(cookers))
    members = on_cookers([members_of(z, one.priors)._replace(size=scales) for one in plans], cookers)
    run = running.run(coarse(plan.roast), plan.roast, members, plan.course, step_s=running.step_for(plan.roast),
                      pulls_c=pulls_c)
    board = running.core_after(run, plan.course, plan.rest.minutes)
    values = (running.pull_minutes(run, plan.course), board - wanted, run.peak_c - wanted,
              (run.peak_s - run.ended_s[plan.course.pulled]) / 60.0)
    return [[[[round(float(one), 2) if np.isfinite(one) else None for one in line] for line in grid]
             for grid in value.reshape(len(cookers), scales.size, pulls_c.size)] for value in values]
