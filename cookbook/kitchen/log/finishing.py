"""The end of a cook in the journal: its scores, and the last weights and temperatures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any, NamedTuple

from cookbook.errors import RequestError
from cookbook.files import Edit
from cookbook.journal import Entry
from cookbook.journal.field import score
from cookbook.journal.reading import OWN
from cookbook.journal.writing import append, put, stamp
from cookbook.kitchen.clock import other_day
from cookbook.kitchen.log.line import LogLine, mass_written
from cookbook.quantity import Temperature

Scores = dict[str, dict[str, str]]
"""Values as written, by aspect and taster."""


class _Given(NamedTuple):
    """The scores that can be read, the words of the others, and what is to be said of both."""

    scores: Scores
    unread: tuple[str, ...]
    doubts: tuple[str, ...]


def finish(entry: Entry, said: Mapping[str, Any], at: datetime, piece: str | None) -> LogLine:
    """Scores and the last weights and temperatures; of a named piece alone, the entry stays open.

    A score that can't be read goes in as a note beside the others; alone it raises RequestError.
    """
    named = [one.name for one in entry.pieces if one.name]
    if piece is None and named and said.get("weight_after"):
        raise RequestError("which piece weighs that?", mend=f"name it with --piece: {', '.join(named)}")
    outcome = _outcome(piece)
    weighed = ["pieces", piece, "weight_after"] if piece else ["piece", "weight_after"]
    given = _scores(said.get("scores") or [])
    served = str(Temperature.parse(said["served"])) if said.get("served") else None
    after = mass_written(said["weight_after"]) if said.get("weight_after") else None

    def change(edit: Edit) -> Edit:
        edit = _with_scores(edit, given, outcome, at)
        if served is not None:
            edit = put(edit, [*outcome, "served"], served)
        if after is not None:
            edit = put(edit, weighed, after)
        return edit if piece else put(edit, ["finished"], stamp(at))

    words = _words(given.scores)
    lead = other_day(at) + (f"{piece} came out" if piece else "finished")
    return LogLine(change, lead + (f": {words}" if words else ""), given.doubts)


def scored(said: Mapping[str, Any], at: datetime, piece: str | None) -> LogLine:
    """Scores alone, before or after the end of the cook, which stays as it is. Raises RequestError without any."""
    if not said.get("scores"):
        raise RequestError("what was the score?", mend="say it like --score crust=8")
    given = _scores(said["scores"])

    def change(edit: Edit) -> Edit:
        return _with_scores(edit, given, _outcome(piece), at)

    return LogLine(change, f"{piece + ': ' if piece else ''}scored {_words(given.scores)}", given.doubts)


def _outcome(piece: str | None) -> list[str]:
    return ["outcome", "pieces", piece] if piece else ["outcome"]


def _with_scores(edit: Edit, given: _Given, outcome: Sequence[str], at: datetime) -> Edit:
    for aspect, scores in given.scores.items():
        edit = _put_scores(edit, [*outcome, "scores", aspect], scores)
    for words in given.unread:
        edit = append(edit, ["notes"], {"at": stamp(at), "text": words, "unread": "true"})
    return edit


def _words(scores: Scores) -> str:
    return ", ".join(
        f"{aspect} " + ", ".join(value if set(given) == {OWN} else f"{who} {value}" for who, value in given.items())
        for aspect, given in scores.items()
    )


def _scores(said: Sequence[Sequence[str | None]]) -> _Given:
    """The scores that can be read, the words of the others, and what is to be said of both."""
    scores: Scores = {}
    unread: list[str] = []
    doubts: list[str] = []
    for words, taster in said:
        aspect, value = [part.strip() for part in (words or "").partition("=")[::2]]
        try:
            if not aspect or not value:
                raise RequestError(f"'{words}' is no score", mend="write it like --score crust=8")
            score(value)
        except RequestError as fault:
            if len(said) == 1:
                raise
            unread.append(f"score {words}" + (f" by {taster}" if taster else ""))
            doubts.append(f"kept as a note: {fault.message}; {fault.mend}")
            continue
        given = scores.setdefault(aspect, {})
        who = taster or OWN
        if who in given:
            doubts.append(f"{aspect} has two scores by {who}, {given[who]} and {value}; the second one counts")
        given[who] = value
    return _Given(scores, tuple(unread), tuple(doubts))


def _put_scores(edit: Edit, path: list[str], given: Mapping[str, str]) -> Edit:
    """Scores of one aspect beside those that are there: a plain number is the cook's own."""
    node = edit.document.root
    above = node
    for key in path:
        above, node = node, node.get(key) if node is not None else None
    if node is not None and node.kind == "map":
        return put(edit, path, dict(given))
    if set(given) == {OWN}:
        return put(edit, path, given[OWN])
    if node is None or above is None or node.empty:
        return put(edit, path, dict(given))
    edit = edit.remove(above, path[-1])
    return put(edit, path, {OWN: node.text, **given})
