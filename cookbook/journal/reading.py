"""From a document to an entry, with every fault it holds."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from cookbook.errors import ERROR, NOTE, WARNING, PieceError, Problem, RequestError
from cookbook.files.record import Fields, fault_at, top
from cookbook.files.record import read as read_fields
from cookbook.journal.field import entry_record
from cookbook.journal.model import LONE, Entry, EntryPiece, Event, NextTime, Note
from cookbook.meat import Cut
from cookbook.quantity.unit import SYSTEMS

if TYPE_CHECKING:
    from cookbook.files import Document, Node
    from cookbook.quantity import Amount

OWN = "the cook"
"""The taster behind a score that is one plain number."""


def read(
    document: Document, name: str, measures: str = "us", cuts: Sequence[Cut] = ()
) -> tuple[Entry | None, list[Problem]]:
    """The entry in `document` and all its problems; no entry where one of them is an error."""
    problems = list(document.problems)
    root = top(document, "an entry is a list of `key: value` lines, with `date:` among them", problems)
    if root is None:
        return None, problems
    own = root.get("measures")
    system = own.text if own is not None and own.kind == "scalar" and own.text in SYSTEMS else measures
    fields = read_fields(document, root, entry_record(system, from_memory(root)), problems)
    if any(problem.severity == ERROR for problem in problems):
        return None, problems
    entry = _entry(document, name, fields, tuple(cuts))
    problems += _faults(entry)
    return (None if any(problem.severity == ERROR for problem in problems) else entry), problems


def from_memory(root: Node) -> bool:
    """Whether an entry says that it is remembered, or copied from an old notebook."""
    said = root.get("from")
    return said is not None and said.text.strip() == "memory"


def _entry(document: Document, name: str, fields: Fields, cuts: tuple[Cut, ...]) -> Entry:
    outcome = fields.get("outcome")
    return Entry(
        name=name,
        date=fields["date"],
        recipe=fields.get("recipe"),
        version=fields.get("version"),
        uses=fields.get("uses") or {},
        title=fields.get("title"),
        kind=fields.get("kind"),
        memory=fields.get("from") == "memory",
        pieces=_pieces(fields, cuts),
        sheet=_counted(fields.get("sheet") or {}),
        as_made={recipe: tuple(lines or ()) for recipe, lines in (fields.get("as_made") or {}).items()},
        events=tuple(_event(event) for event in fields.get("events") or ()),
        notes=tuple(_note(note) for note in fields.get("notes") or ()),
        next_time=tuple(_next(line) for line in fields.get("next_time") or ()),
        deviations=tuple(map(_deviation, fields.get("deviations") or ())),
        scores=_scores(outcome),
        outcome=outcome,
        readings=_names(fields.get("readings")),
        adopted=fields.get("adopted"),
        finished=fields.get("finished"),
        document=document,
        fields=fields,
    )


def _pieces(fields: Fields, cuts: tuple[Cut, ...]) -> tuple[EntryPiece, ...]:
    named = dict(fields.get("pieces") or {})
    if fields.get("piece"):
        named = {LONE: fields["piece"], **named}
    return tuple(EntryPiece(name, piece.get("cut"), dict(piece), piece, cuts) for name, piece in named.items())


def _names(said: str | list[str] | None) -> tuple[str, ...]:
    return (said,) if isinstance(said, str) else tuple(said or ())


def _event(event: Fields) -> Event:
    return Event._make(event.get(key) for key in Event._fields)


def _note(note: Any) -> Note:
    return Note(note) if isinstance(note, str) else Note(note["text"], note.get("at"), bool(note.get("unread")))


def _next(line: Any) -> NextTime:
    return NextTime(line) if isinstance(line, str) else NextTime(line["line"], line.get("done"))


def _counted(sheet: Mapping[str, Mapping[str, Amount | None]]) -> dict[str, dict[str, Amount]]:
    """The sheet without what is words alone."""
    return {
        recipe: {item: amount for item, amount in (items or {}).items() if amount is not None}
        for recipe, items in sheet.items()
    }


def _deviation(said: str | Fields) -> str:
    """What was done otherwise as words: `step 2: oil last`, `pit 140 °C`."""
    if isinstance(said, str):
        return said
    written = {key: node.text for key, node in said.nodes.items() if key not in ("step", "did", "at")}
    parts = [f"{key.replace('_', ' ')} {words}" for key, words in written.items()]
    if said.get("did"):
        parts.insert(0, (f"step {said['step']}: " if said.get("step") else "") + said["did"])
    return ", ".join(parts)


def _scores(outcome: Fields | None) -> dict[str, dict[str, float]]:
    """Scores by aspect and taster; those of one piece have its name behind the taster's."""
    found: dict[str, dict[str, float]] = {}
    pieces: Mapping[str, Fields | None] = outcome.get("pieces") or {} if outcome is not None else {}
    told_of: list[tuple[str | None, Fields | None]] = [(None, outcome), *pieces.items()]
    for piece, told in told_of:
        for aspect, value in (told.get("scores") or {} if told is not None else {}).items():
            tasters = value if isinstance(value, Mapping) else {OWN: value}
            for taster, score in tasters.items():
                if score is not None:
                    found.setdefault(aspect, {})[f"{taster}, {piece}" if piece else taster] = score
    return found


def _faults(entry: Entry) -> list[Problem]:
    """What is wrong though every value reads."""
    return [*_what_it_is(entry), *_piece_faults(entry), *_order(entry), *_named_pieces(entry)]


def _what_it_is(entry: Entry) -> list[Problem]:
    top = entry.document.place(entry.fields.node)._replace(width=1)
    if entry.recipe is None and entry.title is None:
        return [
            Problem(
                ERROR,
                "missing-field",
                "an entry needs `recipe:` with its `version:`, or a working `title:`",
                top,
                "add `title:` with what you call it",
            )
        ]
    if entry.recipe is not None and entry.version is None and not entry.memory:
        place = entry.document.place(entry.fields.nodes["recipe"])
        return [
            Problem(
                ERROR,
                "missing-field",
                f"the entry names the recipe {entry.recipe} without its version",
                place,
                "begin entries with `cookbook log start`, which keeps the version; "
                "for a cook copied from an old notebook write `from: memory`",
            )
        ]
    return []


def _piece_faults(entry: Entry) -> list[Problem]:
    problems = []
    for piece in entry.pieces:
        if not piece.sized:
            continue
        try:
            piece.piece(None)
        except PieceError as fault:
            node = piece.fields.nodes.get(fault.measurement) or piece.fields.node
            problems.append(fault_at(entry.document, node, fault))
        except RequestError as fault:
            if not entry.memory:
                problems.append(fault_at(entry.document, piece.fields.nodes.get("cut") or piece.fields.node, fault))
    return problems


def _order(entry: Entry) -> list[Problem]:
    problems: list[Problem] = []
    lines = entry.fields.get("events") or []
    for before, after in pairwise(lines):
        if after["at"] < before["at"]:
            place = entry.document.place(after.nodes["at"])
            problems.append(
                Problem(
                    NOTE,
                    "time-backwards",
                    "this line is earlier than the one above it",
                    place,
                    "all is well where it was logged afterwards; else mend the time",
                )
            )
    return problems


def _named_pieces(entry: Entry) -> list[Problem]:
    known = {piece.name for piece in entry.pieces if piece.name}
    problems = []
    for event in entry.fields.get("events") or ():
        said = event.get("piece")
        if said is not None and said not in known:
            named = ", ".join(sorted(known)) or "none is named"
            problems.append(
                Problem(
                    WARNING,
                    "unknown-piece",
                    f"no piece of this entry is called '{said}'",
                    entry.document.place(event.nodes["piece"]),
                    f"its pieces: {named}",
                )
            )
    return problems
