"""How a cook came out, in numbers: what the entry and its readings say, nothing estimated.

Pieces of one cook share its day: where there are several, a measure is the mean of theirs.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import datetime
from statistics import fmean
from typing import Any, NamedTuple

from cookbook.journal.made import bowl
from cookbook.journal.model import Entry
from cookbook.journal.readings import Reading, of_one_core

_MONEY = re.compile(r"(?P<before>\D*?)\s*(?P<number>\d+(?:[.,]\d{1,2})?)\s*(?P<after>.*)")


class Outcome(NamedTuple):
    """One measure of one cook; `better` is 1 where more is better, -1 where less is, else 0."""

    name: str
    value: float
    unit: str
    better: int = 0


def moment_of(entry: Entry, did: str, piece: str | None = None) -> datetime | None:
    """The first time that something was done; with `piece`, to that piece or to no piece by name."""
    return next(
        (event.at for event in entry.events if event.did == did and (piece is None or event.piece in (None, piece))),
        None,
    )


def overall(entry: Entry) -> float | None:
    """One score for a cook: the mean of its aspects, each the mean of its tasters; None without scores."""
    aspects = [fmean(scores.values()) for scores in entry.scores.values() if scores]
    return fmean(aspects) if aspects else None


def outcomes(entry: Entry, readings: Sequence[Reading] = ()) -> list[Outcome]:
    """Every measure that this entry holds: scores, time to the pull, temperatures, cook loss, paste left, cost."""
    found = [
        Outcome(aspect, fmean(scores.values()), "points", 1) for aspect, scores in entry.scores.items() if scores
    ]
    found += _means([_piece(entry, readings, name) for name in [piece.name for piece in entry.pieces] or [""]])
    found += _weights(entry)
    found += _cost(entry)
    return found


def pit_c(entry: Entry, readings: Sequence[Reading]) -> float | None:
    """The mean pit temperature in °C while the meat was on; None where nobody read it."""
    on, pulled = moment_of(entry, "on"), moment_of(entry, "pulled")
    pits = [
        reading.pit_c
        for reading in readings
        if reading.pit_c is not None and (on is None or reading.at >= on) and (pulled is None or reading.at <= pulled)
    ]
    return fmean(pits) if pits else None


def _means(pieces: Sequence[Sequence[Outcome]]) -> list[Outcome]:
    together: dict[str, list[Outcome]] = {}
    for one in pieces:
        for outcome in one:
            together.setdefault(outcome.name, []).append(outcome)
    return [same[0]._replace(value=fmean(one.value for one in same)) for same in together.values()]


def _piece(entry: Entry, readings: Sequence[Reading], name: str) -> list[Outcome]:
    on, pulled = moment_of(entry, "on", name), moment_of(entry, "pulled", name)
    found = []
    if on is not None and pulled is not None and pulled > on:
        found.append(Outcome("time to pull", (pulled - on).total_seconds() / 60, "min"))
    again = moment_of(entry, "reheated", name)
    own = [one for one in readings if one.piece in (None, name) and (again is None or one.at < again)]
    return found + _temperatures(said_of(entry, name), own, pulled)


def said_of(entry: Entry, piece: str) -> Mapping[str, Any]:
    """What the outcome says of one piece: its own words, and for the rest those on the whole cook."""
    whole: Mapping[str, Any] = entry.outcome or {}
    own = (whole.get("pieces") or {}).get(piece) or {}
    return {**whole, **{key: value for key, value in own.items() if value is not None}}


def _temperatures(
    said: Mapping[str, Any], readings: Sequence[Reading], pulled: datetime | None
) -> list[Outcome]:
    cores = of_one_core(readings)
    before = [
        reading.core_c
        for reading in cores
        if pulled is not None and reading.at <= pulled and reading.core_c is not None
    ]
    after = [
        reading.core_c
        for reading in cores
        if pulled is not None and reading.at > pulled and reading.core_c is not None
    ]
    at_pull = said["pulled"].c if said.get("pulled") else before[-1] if before else None
    hottest = max(after, default=None)
    seen = hottest is not None and (at_pull is None or hottest >= at_pull)
    peak = said["peak"].c if said.get("peak") else hottest if seen else None
    found = []
    if at_pull is not None:
        found.append(Outcome("pulled at", at_pull, "°C"))
    if peak is not None:
        found.append(Outcome("peak", peak, "°C"))
    if at_pull is not None and peak is not None:
        found.append(Outcome("rise", peak - at_pull, "K"))
    return found


def _weights(entry: Entry) -> list[Outcome]:
    found = []
    before = [piece.known.get("weight") for piece in entry.pieces]
    after = [piece.known.get("weight_after") for piece in entry.pieces]
    whole = [one for one in before if isinstance(one, float)]
    rest = [one for one in after if isinstance(one, float)]
    if whole and len(whole) == len(rest) == len(entry.pieces):
        found.append(Outcome("cook loss", 100 * (1 - sum(rest) / sum(whole)), "%", -1))
    left = entry.outcome.get("paste_left") if entry.outcome else None
    if left is None:
        lefts = [bowl(lines).left_g for lines in entry.as_made.values()]
        known = [one for one in lefts if one is not None]
        left = sum(known) if known else None
    if left is not None:
        found.append(Outcome("paste left", left, "g"))
    return found


def _cost(entry: Entry) -> list[Outcome]:
    words = entry.outcome.get("cost") if entry.outcome else None
    paid = money(words) if words else None
    return [Outcome("cost", *paid, -1)] if paid is not None else []


def money(words: str) -> tuple[float, str] | None:
    """A sum of money and its currency as the cook writes it, `21.80 EUR` or `$12`; None without a number."""
    read = _MONEY.fullmatch(words.strip())
    if read is None:
        return None
    return float(read["number"].replace(",", ".")), read["before"].strip() or read["after"].strip()
