"""From one plain line to the lines that go into the entry: what was read in it, and its words as they are."""

from __future__ import annotations

import re
from collections.abc import Sequence
from datetime import datetime
from typing import Any

from cookbook.files import Edit
from cookbook.journal import Entry
from cookbook.journal.plainline import Clause, PlainLine, Use, read
from cookbook.journal.writing import append, stamp
from cookbook.kitchen.clock import jumped, moment, read_back
from cookbook.kitchen.log.line import LogLine
from cookbook.kitchen.log.loglines import known_piece, line_of, unread, within
from cookbook.kitchen.log.weighed_in import below_nothing
from cookbook.quantity import Amount

_LED = re.compile(r"(?P<verb>note|next time|next)\s*:\s*(?P<words>.+)", re.I | re.S)
_COUNTED = re.compile(r"\d|\b(?:more|less|extra|fewer)\b")

Change = tuple[list[str], dict[str, Any]]


def plain_line(
    entry: Entry, words: str, said_at: str | None, now: datetime, scale: str | None, weights: Any = None,
    piece: str | None = None,
) -> LogLine:  # fmt: skip
    """The line for what was typed. Nothing is refused: what can't be read is a note marked unread.

    `said_at` is the time said beside it, which wins over one that the words begin with; `piece` the piece said
    beside it, for all that names none itself; `weights` are the kitchen's own of its ingredients.
    Raises RequestError for a time that is none, and for a piece that the entry hasn't.
    """
    at = moment(said_at, now, entry.date)
    led = _LED.fullmatch(words.strip())
    if led is not None:
        verb = "note" if led.group("verb").casefold() == "note" else "next"
        return line_of(entry, verb, {"words": [led.group("words")], "piece": piece}, at)
    known_piece(entry, piece)
    sheet = {recipe: list(items) for recipe, items in entry.sheet.items()}
    line = read(words, scale, sheet, [piece.name for piece in entry.pieces], entry.fields.get("measures") or "us")
    line = line._replace(clauses=tuple(one._replace(piece=one.piece or piece) for one in line.clauses))
    if said_at is None:
        first = line.time or next((clause.time for clause in line.clauses if clause.time), None)
        at = moment(first, now, entry.date)
    if not line.read:
        note = unread(words, at)
        return note._replace(
            words=f"{_lead(at, now)}{note.words}",
            doubts=tuple(clause.doubt for clause in line.clauses if clause.doubt),
        )
    return _written(line, at, now, entry, weights)


def _lead(at: datetime, now: datetime) -> str:
    """`14:05, ` as a lead where that is not this very moment."""
    return "" if at == now else f"{read_back(at, now)}, "


def _written(line: PlainLine, at: datetime, now: datetime, entry: Entry, weights: Any) -> LogLine:
    changes: list[Change] = []
    shown: list[tuple[datetime, str]] = []
    doubts: list[str] = []
    for clause in line.clauses:
        when = moment(clause.time, now, entry.date) if clause.time else at
        low = _below_nothing(entry, clause.use, weights)
        if low is not None:
            changes.append((["notes"], {"at": stamp(when), "text": clause.words, "unread": "true"}))
            doubts.append(f"'{clause.words}' is kept as a note: {low}")
        elif clause.use is not None:
            changes.append((["as_made", clause.use.recipe], {**_used(clause.use, clause.piece), "at": stamp(when)}))
            shown.append((when, within(entry, clause.use.recipe, _said(clause.use))))
        elif clause.read:
            shown.append((when, _happened(changes, clause, when)))
        elif clause.doubt or _COUNTED.search(clause.words):
            changes.append((["notes"], {"at": stamp(when), "text": clause.words, "unread": "true"}))
            doubts.append(f"'{clause.words}' is kept as a note" + (f": {clause.doubt}" if clause.doubt else ""))
    if not shown:
        return unread(line.words, at)._replace(doubts=tuple(doubts))
    _keep_words(changes, line.words, at)
    doubts += filter(None, [jumped(line.time, at)])

    def change(edit: Edit) -> Edit:
        for path, item in changes:
            edit = append(edit, path, item)
        return edit

    return LogLine(change, _in_words(shown, now), tuple(doubts))


def _in_words(shown: Sequence[tuple[datetime, str]], now: datetime) -> str:
    """`14:05, wrapped, core 48 °C, 14:20, lid open`: each time once, before what happened then."""
    parts: list[str] = []
    last: datetime | None = None
    for when, words in shown:
        parts += [words] if when == last else [read_back(when, now), words]
        last = when
    return ", ".join(parts)


def _below_nothing(entry: Entry, use: Use | None, weights: Any) -> str | None:
    if use is None or not use.less or entry.memory:
        return None
    less = Amount.parse(use.less, entry.fields.get("measures") or "us")
    return below_nothing(entry, use.recipe, use.item, less, weights)


def _happened(changes: list[Change], clause: Clause, at: datetime) -> str:
    """Put an event or a reading to the line of the same moment and piece where it fits in, else on its own, as one
    at a depth always is."""
    new: dict[str, Any] = {"did": clause.did} if clause.did else {}
    new |= {probe: str(value) for probe, value in clause.temperatures.items()}
    if clause.depth is not None:
        new["depth"] = clause.depth.ascii()
    head = {"at": stamp(at), **({"piece": clause.piece} if clause.piece else {})}
    fitting = next(
        (
            item
            for path, item in changes
            if path == ["events"]
            and {**item, **head} == item
            and ("piece" in item) == ("piece" in head)
            and not new.keys() & item.keys()
            and "depth" not in {*new, *item}
        ),
        None,
    )
    if fitting is not None:
        fitting |= new
    else:
        changes.append((["events"], {**head, **new}))
    lead = f"{clause.piece}: " if clause.piece else ""
    read = ", ".join([*([clause.did] if clause.did else []), *map(_pair, clause.temperatures.items())])
    return lead + read + (f" at {clause.depth}" if clause.depth is not None else "")


def _pair(reading: tuple[str, object]) -> str:
    return f"{reading[0]} {reading[1]}"


def _keep_words(changes: list[Change], words: str, at: datetime) -> None:
    """The words as they were typed, with the first thing that happened, else as a note."""
    for path, item in changes:
        if path == ["events"]:
            item["note"] = words
            return
    changes.append((["notes"], {"at": stamp(at), "text": words}))


def _used(use: Use, piece: str | None) -> dict[str, Any]:
    line: dict[str, Any] = {"item": use.item}
    ways = (("amount", use.amount), ("more", use.more), ("less", use.less), ("instead", use.instead))
    line |= {key: value for key, value in ways if value}
    if use.left_out:
        line["left_out"] = "true"
    return {**line, **({"piece": piece} if piece else {})}


def _said(use: Use) -> str:
    if use.left_out:
        return f"{use.item} left out"
    if use.amount:
        return f"{use.item}, {use.amount} in all"
    if use.instead:
        return f"{use.instead} instead of {use.item}"
    return f"{use.item}, {use.more} more" if use.more else f"{use.item}, {use.less} less"
