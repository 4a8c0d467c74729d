"""Times of one cut for every size, cooker and pull, from a few runs: what a card prints and its page reads again.

One run a length and cooker carries a member for each scale of the section and each pull. Pieces of the same
proportions differ only by a scale, so that two coordinates tell a piece: how long it would be at the cut's own
section, and the scale of its section. The doubt is that of the card's own ensemble.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from itertools import pairwise
from math import exp, log
from typing import TYPE_CHECKING, Any, NamedTuple

from cookbook.heat.outlook import Forecast, Range

if TYPE_CHECKING:
    from cookbook.meat import Piece

SCALES = (0.78, 1.0, 1.28)
"""Sections of a cut that grows longer or wider, against its own; what lies between is read off in logarithms."""

GRID_M = 0.02
"""Cells of these runs: coarse, since the card's own forecast on finer ones moves the table to what it says."""

MEMBERS = 200
"""Members of the ensembles."""

FEW = 60
"""Members by which another cooker's spread is told from the own one's, the same in both."""

CARVE_MIN = 10.0
"""From the board to the table; an assumption."""

Grid = tuple[tuple[tuple[float | None, ...], ...], ...]
"""By length, by scale, by pull."""

Factors = tuple[tuple[float, float, float], ...]
"""By pull: below, at and above the middle."""


class Doubt(NamedTuple):
    """The card's own ensemble against the table: factors of the minutes by cooker and pull, shifts of the rise in K,
    each below, at and above."""

    minutes: Mapping[str, Factors]
    rise_k: tuple[float, float, float]


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
        doubt = Doubt({name: tuple((one, two, three) for one, two, three in rows)
                       for name, rows in kept["doubt"]["minutes"].items()}, (low, middle, high))
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

    def timing(self, sizes_cm: Sequence[float], cooker: str, pull_c: float) -> Timing:
        """What a piece of these sizes (length, width, height in cm) does on a cooker, pulled at `pull_c`.

        Beyond the table's own pieces and pulls its nearest slope goes on, for lengths its end.
        """
        where = self.place(sizes_cm)
        minutes = self._at(self.minutes[cooker], where, pull_c, rates=True)
        board, peak, later = (self._at(grid[cooker], where, pull_c)
                              for grid in (self.board_k, self.peak_k, self.later))
        if minutes is None or board is None or peak is None:
            none = Range(None, None, None)
            return Timing(pull_c, none, none, none, None)
        place, up = _between(self.pulls, pull_c)
        spread = self.doubt.minutes[cooker]
        below, above = spread[place], spread[min(place + 1, len(self.pulls) - 1)]
        factors = [low + min(max(up, 0.0), 1.0) * (high - low) for low, high in zip(below, above, strict=True)]
        onto, highest = ([pull_c + rise + shift for shift in self.doubt.rise_k] for rise in (board, peak))
        return Timing(pull_c, Range(*(minutes * factor for factor in factors)), Range(*onto),
                      Range(*(max(pull_c, one) for one in highest)), later)

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

    def _at(self, grid: Grid, where: tuple[float, float], pull_c: float, rates: bool = False) -> float | None:
        """A grid's value between its knots: straight between pulls, logarithms of the scale, and over the length
        straight in its inverse square, by which the ends add to the sides' rate."""
        at_length, along = _between([-(one ** -2) for one in self.lengths], -(where[0] ** -2), held=True)
        at_scale, across = _between([log(one) for one in self.scales], log(where[1]))
        at_pull, up = _between(self.pulls, pull_c)
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
                part += weight * (log(low + up * (high - low)) if rates else low + up * (high - low))
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


def with_doubt(table: Timetable, own: Forecast, piece: Piece, cooker: Any, name: str, **said: Any) -> Timetable:
    """The table with the spread of the card's own forecast `own`, and moved so that it says what that one says.

    How the spread changes with the pull comes from one more ensemble, on coarse cells, to the highest pull; how it is
    on another cooker from a part of its members.
    """
    sizes_cm = sizes_of(piece)
    here = table.timing(sizes_cm, name, own.pull_c)
    middle, board = here.minutes.p50, here.board_c.p50
    told, rise = own.minutes_to_pull, own.core_at_slicing_c
    if middle is None or board is None or told.p50 is None or rise.p50 is None:
        return table
    spread = _spreads(piece, table, cooker, name, said)
    known = table._replace(doubt=Doubt(spread, (0.0, 0.0, 0.0))).timing(sizes_cm, name, own.pull_c).minutes
    wanted = (told.p10 or told.p50, told.p50, told.p90 or 2 * told.p50)
    shift = [one / two for one, two in zip(wanted, (known.p10 or middle, known.p50 or middle, known.p90 or middle),
                                           strict=True)]
    moved = {each: tuple((low * shift[0], at * shift[1], high * shift[2]) for low, at, high in rows)
             for each, rows in spread.items()}
    return table._replace(doubt=Doubt(moved, (
        (rise.p10 or rise.p50) - board, rise.p50 - board, (rise.p90 or rise.p50) - board)))


def _spreads(piece: Piece, table: Timetable, cooker: Any, name: str, said: Mapping[str, Any]) -> dict[str, Factors]:
    """The spread of the minutes to each pull on every cooker of the table."""
    from cookbook.heat.prior import draw
    from cookbook.heat.setting import Cooker

    z = draw(MEMBERS, 0)
    whole = _minutes(piece, table.pulls, cooker, said, z)
    own, few = _factors(whole), _factors(whole[:, :FEW])
    known, found = {_alike(cooker): own}, {name: own}
    for kind in table.cookers:
        other = cooker if kind == name else Cooker(kind)
        if _alike(other) not in known:
            there = _factors(_minutes(piece, table.pulls, other, said, z[:, :FEW]))
            known[_alike(other)] = tuple(
                (low * one[0] / two[0], at * one[1] / two[1], high * one[2] / two[2])
                for (low, at, high), one, two in zip(own, there, few, strict=True))
        found[kind] = known[_alike(other)]
    return found


def _alike(cooker: Any) -> tuple[Any, ...]:
    """What two cookers have in common that cook alike."""
    from cookbook.heat.setting import cooker_row

    row = cooker_row(cooker.kind)
    return row["h"], row["vapour_pa"], cooker.offset_k


def _minutes(piece: Piece, pulls_c: Sequence[float], cooker: Any, said: Mapping[str, Any], z: Any) -> Any:
    """Minutes to each pull (rows) of the members at deviates `z` (columns), on coarse cells; infinite for never."""
    import numpy as np

    from cookbook.heat import course
    from cookbook.heat.outlook import setup
    from cookbook.heat.prior import members_of
    from cookbook.heat.roast import cells_of

    plan = setup(piece, pull_c=max(pulls_c), cooker=cooker, **said)
    run = course.run(cells_of(plan.roast, GRID_M), plan.roast, members_of(z, plan.priors), plan.course,
                     step_s=course.step_for(plan.roast), enough=0.92)
    found = []
    for pull in pulls_c:
        there = run.core_c >= pull
        place = np.argmax(there, axis=0)
        column = np.arange(place.size)
        before = run.core_c[np.maximum(place - 1, 0), column]
        share = (pull - before) / np.maximum(run.core_c[place, column] - before, 1e-9)
        early, late = run.time_s[np.maximum(place - 1, 0)], run.time_s[place]
        found.append(np.where(there.any(axis=0), early + share * (late - early), np.inf))
    return np.array(found)


def _factors(minutes: Any) -> Factors:
    """Tenth, fiftieth and ninetieth percentile of the members to each pull, as factors of the middle member's."""
    import numpy as np

    from cookbook.heat.outlook import spread_of

    found: list[tuple[float, float, float]] = []
    for row in minutes:
        if not np.isfinite(row[0]):
            found.append(found[-1] if found else (1.0, 1.0, 1.0))
            continue
        low, middle, high = (row[0] if one is None else one for one in spread_of(row))
        found.append((float(low / row[0]), float(middle / row[0]), float(high / row[0])))
    return tuple(found)


def sizes_of(piece: Piece) -> tuple[float, float, float]:
    """Length, width and height in cm."""
    length, width, height = (piece.dimensions_cm[name].mid for name in ("length", "width", "height"))
    return length, width, height


def timetable(pieces: Sequence[Any], pulls_c: Sequence[float], cookers: Mapping[str, Any], *, scales: Sequence[float],
              told: Callable[[int, int], None] = lambda _done, _all: None, **said: Any) -> Timetable:
    """The table of these pieces, one for each length, smallest first; `cookers` are `Cooker`s by their name.

    `said` is the rest of a forecast's settings (pit_c, start_c, rest, wrap). `told` hears how many runs are done.
    """
    import numpy as np

    like = sizes_of(pieces[len(pieces) // 2])
    plain = Doubt(dict.fromkeys(cookers, ((1.0, 1.0, 1.0),) * len(pulls_c)), (0.0, 0.0, 0.0))
    blank = Timetable(pieces[0].cut.growth, like, (1.0,), tuple(scales), tuple(pulls_c), tuple(cookers),
                      {}, {}, {}, {}, plain)
    lengths = tuple(blank.place(sizes_of(piece))[0] for piece in pieces)
    found: dict[str, list[Any]] = {}
    done = 0
    known: dict[Any, list[Any]] = {}
    for name, cooker in cookers.items():
        for place, piece in enumerate(pieces):
            alike = (*_alike(cooker), place)
            if alike not in known:
                known[alike] = _run(piece, np.array(scales), np.array(pulls_c), cooker, said)
            rows = known[alike]
            for kind, values in zip(("minutes", "board_k", "peak_k", "later"), rows, strict=True):
                found.setdefault(f"{kind} {name}", []).append(values)
            done += 1
            told(done, len(cookers) * len(pieces))
    grids = {kind: {name: _grid(found[f"{kind} {name}"]) for name in cookers}
             for kind in ("minutes", "board_k", "peak_k", "later")}
    return blank._replace(lengths=lengths, minutes=grids["minutes"], board_k=grids["board_k"], peak_k=grids["peak_k"],
                          later=grids["later"])


def _run(piece: Piece, scales: Any, pulls_c: Any, cooker: Any, said: Mapping[str, Any]) -> list[Any]:
    """One run with a member for each scale and pull: minutes, rise till slicing, rise to the peak, minutes to it."""
    import numpy as np

    from cookbook.heat import course
    from cookbook.heat.outlook import setup
    from cookbook.heat.prior import NAMES, members_of
    from cookbook.heat.roast import cells_of

    plan = setup(piece, pull_c=float(pulls_c.max()), cooker=cooker, **said)
    sizes, pulls = np.repeat(scales, pulls_c.size), np.tile(pulls_c, scales.size)
    members = members_of(np.zeros((len(NAMES), sizes.size)), plan.priors)._replace(size=sizes)
    run = course.run(cells_of(plan.roast, GRID_M), plan.roast, members, plan.course,
                     step_s=course.step_for(plan.roast), pulls_c=pulls)
    board = course.core_after(run, plan.course, plan.rest.minutes)
    values = (course.pull_minutes(run, plan.course), board - pulls, run.peak_c - pulls,
              (run.peak_s - run.ended_s[plan.course.pulled]) / 60.0)
    shape = (scales.size, pulls_c.size)
    return [[[round(float(one), 2) if np.isfinite(one) else None for one in line] for line in value.reshape(shape)]
            for value in values]
