"""The times of a card in words: of its own piece, of other sizes, of every doneness, on other cookers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from cookbook.publish import wording
from cookbook.publish.content import Fact, Grid, Timing
from cookbook.publish.content.sizes import size_heads

if TYPE_CHECKING:
    from cookbook.heat.timetable import Timing as Read
    from cookbook.kitchen.forecasting.timetables import Times
    from cookbook.meat import Piece

_RESTS_ON = (
    "By the forecast for meat from the refrigerator; eight of ten cooks should fall between the two times. From "
    "the earlier one on look at the thermometer: it decides."
)


def own(times: Times) -> Timing | None:
    """The card's own times; None where it never gets there."""
    read = times.own
    if read.minutes.p50 is None or read.check_from is None:
        return None
    return Timing(
        takes(read),
        wording.clock(read.check_from, -1),
        60 * read.minutes.p50,
        read.pull_c,
        wording.celsius(read.board_c.p50 or read.pull_c),
        times.rest_min,
    )


def facts(times: Times) -> Iterator[Fact]:
    """How long it takes, from when to look, and what the rest makes of it."""
    read = times.own
    if read.minutes.p50 is None or read.check_from is None:
        return
    yield Fact("time", takes(read), "", "h:min in the pit, from the refrigerator")
    yield Fact("check", wording.clock(read.check_from, -1), "", "h:min, then check the thermometer")
    if times.rest_min:
        yield Fact("rest", wording.span(round(times.rest_min)), "", "rest")
    if read.board_c.p50 is not None:
        value, other = wording.scales(read.board_c.p50)
        yield Fact("board", value, other, "to be expected after the rest")


def takes(read: Read) -> str:
    """`1:30–3:05`, hours and minutes; an open end where the slowest take twice the middle or more."""
    low, middle, high = read.minutes
    if low is None or middle is None:
        return "never"
    if high is None or high > 2 * middle:
        return f"{wording.clock(low, -1)}–{wording.clock(middle)} or longer"
    return f"{wording.clock(low, -1)}–{wording.clock(high, 1)}"


def grids(times: Times, pieces: Sequence[Piece], own_piece: Piece) -> tuple[Grid, ...]:
    """Times of these sizes (the own one among them), of every doneness, on every cooker."""
    return tuple(
        grid
        for grid in (_sizes(times, pieces, own_piece), _doneness(times, own_piece), _cookers(times, own_piece))
        if grid is not None
    )


def _sizes(times: Times, pieces: Sequence[Piece], own_piece: Piece) -> Grid | None:
    if len(pieces) < 2:
        return None
    read = [times.own if piece is own_piece else times.of(piece) for piece in pieces]
    heads = tuple(map(size_heads, pieces))
    rows = (
        ("in the pit, h:min", tuple(map(takes, read))),
        ("check from, h:min", tuple(_from(one) for one in read)),
        ("pull at", tuple(wording.celsius(one.pull_c) for one in read)),
        ("after the rest", tuple(_board(one) for one in read)),
    )
    return Grid("times", "Times for other sizes", heads, rows, list(pieces).index(own_piece), _RESTS_ON, True)


def _doneness(times: Times, piece: Piece) -> Grid | None:
    from cookbook.kitchen.forecasting.timetables import donenesses
    from cookbook.safety import household_minimum

    known = donenesses(times.wanted)
    if not known:
        return None
    line = household_minimum(piece.cut.species, piece.cut.name)
    rows = []
    for band in known:
        read = times.of(piece, pull_c=times.pull_for(band, piece))
        below = " *" if (read.board_c.p10 or 0.0) < line.core_c else ""
        rows.append((f"{band.name}{below}", (wording.celsius(read.pull_c), _from(read), takes(read), _board(read))))
    value, other = wording.scales(line.core_c, 1)
    note = (
        f"* Not surely past the household line for {piece.cut.species}, {value} ({other}): see the cautions."
        if any(name.endswith("*") for name, _ in rows)
        else ""
    )
    heads = (("pull at",), ("check from",), ("in the pit",), ("on the board",))
    return Grid("doneness", "Another doneness", heads, tuple(rows), None, note)


def _cookers(times: Times, piece: Piece) -> Grid | None:
    rows = []
    for name in times.table.cookers:
        read = times.own if name == times.cooker else times.of(piece, name)
        rows.append((name, (_from(read), takes(read), _board(read))))
    heads = (("check from",), ("in the pit",), ("after the rest",))
    pit, other = wording.scales(times.wanted.pit_c)
    note = f"All at {pit} ({other}) beside the meat, pulled at {wording.celsius(times.wanted.pull_c)}."
    return Grid("cookers", "On another cooker", heads, tuple(rows), 0, note)


def _from(read: Read) -> str:
    return wording.clock(read.check_from, -1) if read.check_from is not None else "–"


def _board(read: Read) -> str:
    return wording.celsius(read.board_c.p50) if read.board_c.p50 is not None else "–"
