"""The end of a cook in the journal: its scores, and the last weights and temperatures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from cookbook.errors import RequestError
from cookbook.files import Edit
from cookbook.journal import Entry
from cookbook.journal.field import score
from cookbook.journal.reading import OWN
from cookbook.journal.writing import append, put, stamp
from cookbook.kitchen.clock import other_day
from cookbook.kitchen.loglines import LogLine, mass_written
from cookbook.quantity import Temperature

Scores = dict[str, dict[str, str]]
"""Values as written, by aspect and taster."""


def finish(entry: Entry, said: Mapping[str, Any], at: datetime, piece: str | None) -> LogLine:
    """Scores and the last weights and temperatures; of a named piece alone, the entry stays open.

    A score that can't be read goes in as a note beside the others; alone it raises RequestError.
    """
    named = [one.name for one in entry.pieces if one.name]
    if piece is None and named and said.get("weight_after"):
        raise RequestError("which piece weighs that?", mend=f"name it with --piece: {', '.join(named)}")
    outcome = ["outcome", "pieces", piece] if piece else ["outcome"]
    weighed = ["pieces", piece, "weight_after"] if piece else ["piece", "weight_after"]
    scores, unread, doubts = _scores(said.get("scores") or [])
    served = str(Temperature.parse(said["served"])) if said.get("served") else None
    after = mass_written(said["weight_after"]) if said.get("weight_after") else None

    def change(edit: Edit) -> Edit:
        for aspect, given in scores.items():
            edit = _put_scores(edit, [*outcome, "scores", aspect], given)
        if served is not None:
            edit = put(edit, [*outcome, "served"], served)
        if after is not None:
            edit = put(edit, weighed, after)
        for words in unread:
            edit = append(edit, ["notes"], {"at": stamp(at), "text": words, "unread": "true"})
        return edit if piece else put(edit, ["finished"], stamp(at))

    words = ", ".join(
        f"{aspect} " + ", ".join(value if set(given) == {OWN} else f"{who} {value}" for who, value in given.items())
        for aspect, given in scores.items()
    )
    lead = other_day(at) + (f"{piece} came out" if piece else "finished")
    return LogLine(change, lead + (f": {words}" if words else ""), tuple(doubts))


def _scores(said: Sequence[Sequence[str | None]]) -> tuple[Scores, list[str], list[str]]:
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
    return scores, unread, doubts


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
