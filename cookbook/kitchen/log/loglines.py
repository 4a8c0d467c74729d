"""From the words of a log verb to the line that goes into the entry. Raises RequestError where they can't be read."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import datetime
from typing import TYPE_CHECKING, Any

from cookbook.errors import AmountError, RequestError
from cookbook.journal import Entry
from cookbook.journal.field import DEVIATION
from cookbook.journal.probe import PLAUSIBLE_C, PROBES, bare
from cookbook.journal.writing import append, put, stamp
from cookbook.kitchen.clock import other_day, read_back
from cookbook.kitchen.log.line import LogLine, mass_written
from cookbook.kitchen.log.weighed_in import below_nothing, meant
from cookbook.meat.field import TEMPERATURE
from cookbook.quantity import Amount, Length, Temperature

if TYPE_CHECKING:
    from cookbook.quantity import OwnWeight


def line_of(
    entry: Entry,
    what: str,
    said: Mapping[str, Any],
    at: datetime,
    scale: str | None = None,
    weights: Mapping[str, OwnWeight] | None = None,
) -> LogLine:
    """The line for one log verb; `scale` (C or F) is that of a number without one, as the kitchen says it, `weights`
    are its own ingredient weights."""
    piece = said.get("piece")
    known_piece(entry, piece)
    from cookbook.kitchen.log import finishing

    makers: dict[str, Callable[[], LogLine]] = {
        "reading": lambda: _reading(said["values"], at, piece, said.get("probe"), scale, said.get("depth")),
        "take": lambda: _take(" ".join(said["words"]), at),
        "event": lambda: _event(" ".join(said["did"]), at, piece),
        "used": lambda: _used(entry, said, at, piece, weights),
        "taste": lambda: _event("tasted", at, piece, " ".join(said["words"])),
        "note": lambda: _note(" ".join(said["words"]), at, piece),
        "next": lambda: _next(" ".join(said["words"]), said, at),
        "finish": lambda: finishing.finish(entry, said, at, piece),
        "score": lambda: finishing.scored(said, at, piece),
        "otherwise": lambda: _otherwise(said, at, piece),
        "about": lambda: _about(said["field"], " ".join(said["words"]), said),
    }
    return makers[what]()


def known_piece(entry: Entry, piece: str | None) -> None:
    """Raises RequestError where the entry has no piece of that name."""
    if piece is not None and piece not in {one.name for one in entry.pieces}:
        named = ", ".join(one.name for one in entry.pieces if one.name) or "none is named"
        raise RequestError(f"no piece of this entry is called '{piece}'", mend=f"its pieces: {named}")


def out_of_turn(before: Entry, after: Entry) -> str | None:
    """What to say where the reading that was added is older than one already there."""
    read = [one for one in after.events if any(getattr(one, probe) is not None for probe in PROBES)]
    if not read or read[-1] is not after.events[-1] or read[-1] in before.events:
        return None
    last = max(one.at for one in read)
    if last == read[-1].at:
        return None
    return f"a reading of {read_back(last)} is there already: readings count in the order of their times"


def unread(words: str, at: datetime) -> LogLine:
    """The words kept as a note that `check` lists."""
    item = {"at": stamp(at), "text": words, "unread": "true"}
    return LogLine(lambda edit: append(edit, ["notes"], item), f"note, unread: {words}", unread=True)


def _take(words: str, at: datetime) -> LogLine:
    item = {"at": stamp(at), "what": words}
    return LogLine(lambda edit: append(edit, ["takes"], item), f"{read_back(at)}, take: {words}")


def photo(path: str, digest: str, caption: str | None) -> LogLine:
    """A picture beside the entry, with the digest of its bytes."""
    item = {"path": path, **({"caption": caption} if caption else {}), "digest": digest}
    return LogLine(lambda edit: append(edit, ["photos"], item), f"photo {path}" + (f": {caption}" if caption else ""))


def _item(at: datetime, piece: str | None, more: Mapping[str, str]) -> dict[str, str]:
    return {"at": stamp(at), **({"piece": piece} if piece else {}), **more}


def _reading(
    values: list[str], at: datetime, piece: str | None, name: str | None, scale: str | None, depth: str | None = None
) -> LogLine:
    found: dict[str, str] = {}
    for value in values:
        probe, equals, number = value.partition("=")
        if not equals:
            probe, number = "core", value
        if probe not in PROBES:
            raise RequestError(f"'{probe}' is no probe", mend="say core=48C, surface=71C or pit=121C")
        if probe in found:
            raise RequestError(f"{probe} is said twice", mend="log one reading at a time")
        plain = scale is not None and number.strip().lstrip("-").replace(".", "", 1).isdigit()
        found[probe] = str(bare(number.strip(), probe, scale) if plain else Temperature.parse(number))
    more = {"probe": name, **found} if name else found
    if depth is not None:
        more = {**more, "depth": str(Length.parse(depth))}
    return LogLine(
        lambda edit: append(edit, ["events"], _item(at, piece, more)),
        f"{read_back(at)}, "
        + (f"{name}: " if name else "")
        + ", ".join(f"{probe} {value}" for probe, value in found.items())
        + (f" at {more['depth']}" if depth is not None else ""),
        tuple(doubt for probe, value in found.items() if (doubt := _unlikely(probe, Temperature.parse(value)))),
    )


def _unlikely(probe: str, value: Temperature) -> str | None:
    low, high = PLAUSIBLE_C[probe]
    if low <= value.c <= high:
        return None
    return f"it is kept, but no {probe} over a fire is at {value}: was it another probe, or the other scale?"


def _event(did: str, at: datetime, piece: str | None, note: str | None = None) -> LogLine:
    more = {"did": did, **({"note": note} if note else {})}
    return LogLine(
        lambda edit: append(edit, ["events"], _item(at, piece, more)),
        f"{read_back(at)}, {did}" + (f": {note}" if note else ""),
    )


def _note(words: str, at: datetime, piece: str | None) -> LogLine:
    item = {"at": stamp(at), "text": words, **({"piece": piece} if piece else {})}
    return LogLine(lambda edit: append(edit, ["notes"], item), f"{other_day(at)}note: {words}")


_AFTER = {"amount": "in all", "more": "more", "less": "less"}


def _used(entry: Entry, said: Mapping[str, Any], at: datetime, piece: str | None, weights: Any) -> LogLine:
    recipe = _into(entry, said["item"], said.get("into"))
    line = _bowl(said) if said["item"].strip().casefold() == "bowl" else _item_line(entry, recipe, said, weights)
    if piece:
        line["piece"] = piece
    words = ", ".join(
        f"{value} {_AFTER[key]}" if key in _AFTER else "left out" if key == "left_out" else f"{key} {value}"
        for key, value in line.items()
        if key not in ("item", "bowl")
    )
    name = line.get("item", "bowl")
    if "bowl" in line:
        words = ", ".join(f"{key} {value}" for key, value in line["bowl"].items())
    difference, doubts = meant(entry, recipe, line, weights)
    if set(line) == {"item"}:
        words = "went in, nobody weighed it"
    lead = ""
    if said.get("at"):
        line["at"], lead = stamp(at), other_day(at)
    return LogLine(
        lambda edit: append(edit, ["as_made", recipe], line),
        lead + ", ".join(filter(None, [within(entry, recipe, name), words, difference])),
        doubts,
    )


def within(entry: Entry, recipe: str, name: str) -> str:
    """What went in, led by its recipe where the entry has several."""
    return f"{recipe}: {name}" if len({recipe, *entry.sheet, *entry.as_made}) > 1 else name


def _into(entry: Entry, item: str, into: str | None) -> str:
    """The recipe that an item went into: as said, the only one there is, or the only one that has the item."""
    known = list(dict.fromkeys([*entry.sheet, *entry.as_made])) or [entry.working_name()]
    if into is not None:
        if into not in known and into not in entry.versions and not entry.memory:
            raise RequestError(f"'{into}' is no recipe of this entry", mend=f"it has {', '.join(known)}")
        return into
    key = " ".join(item.split()).casefold()
    having = [
        recipe for recipe in known if key in {" ".join(one.split()).casefold() for one in entry.sheet.get(recipe, {})}
    ]
    found = having if len(having) == 1 else known
    if len(found) != 1:
        raise RequestError(f"which recipe did '{item}' go into?", mend=f"say it with --in: {', '.join(known)}")
    return found[0]


def _bowl(said: Mapping[str, Any]) -> dict[str, Any]:
    full, after = said.get("before") or said.get("reads") or said.get("amount"), said.get("after")
    if full is None and after is None:
        raise RequestError(
            "what did the balance read?", mend="log used bowl --reads 412g, or --before 412g --after 96g"
        )
    found = {key: mass_written(value) for key, value in (("full", full), ("after", after)) if value is not None}
    return {"bowl": found}


def _measured(words: str, measures: str | None, remembered: bool) -> str:
    """An amount, or without `measures` a weight, as the files hold it; of a remembered cook in words too."""
    try:
        return mass_written(words) if measures is None else str(Amount.parse(words, measures))
    except AmountError:
        if remembered:
            return words
        raise


def _item_line(entry: Entry, recipe: str, said: Mapping[str, Any], weights: Any) -> dict[str, Any]:
    line: dict[str, Any] = {"item": " ".join(said["item"].split())}
    measures = entry.fields.get("measures") or "us"
    for key in ("amount", "more", "less", "reads", "before", "after", "had", "left"):
        if said.get(key) is not None:
            line[key] = _measured(
                said[key], None if key not in ("amount", "more", "less") else measures, entry.memory
            )
    if said.get("left_out"):
        line["left_out"] = "true"
    if said.get("instead"):
        line["instead"] = said["instead"]
    against = [key for key in ("more", "less", "left_out", "instead") if key in line]
    if against and not entry.memory:
        line["item"] = _on_sheet(entry, recipe, line["item"])
    less = Amount.parse(line["less"], measures) if "less" in line and not entry.memory else None
    low = below_nothing(entry, recipe, line["item"], less, weights) if less is not None else None
    if low is not None:
        raise RequestError(low, mend="log what went in as an amount, or --left-out")
    for one, two in (("before", "after"), ("had", "left")):
        if (one in line) != (two in line):
            raise RequestError(f"--{one} needs --{two}", mend="log both, or what went in as an amount")
    return line


def _next(words: str, said: Mapping[str, Any], at: datetime) -> LogLine:
    """A line for next time; plain words, with the time only where that was said."""
    timed = bool(said.get("at"))
    item: str | dict[str, Any] = {"line": words, "at": stamp(at)} if timed else words
    lead = f"{read_back(at)}, " if timed else ""
    return LogLine(lambda edit: append(edit, ["next_time"], item), f"{lead}next time: {words}")


def _on_sheet(entry: Entry, recipe: str, item: str) -> str:
    """The item of the day's sheet that is meant: `salt` is the fine salt where there is no other; RequestError."""
    sheet = entry.sheet.get(recipe, {})
    if item.casefold() in {" ".join(one.split()).casefold() for one in sheet}:
        return item
    from cookbook.journal.plainline import items_meant

    meant_ = [one for _, one in items_meant(item.casefold(), {recipe: sheet})]
    if len(meant_) == 1:
        return meant_[0]
    raise RequestError(
        f"'{item}' is not on the day's sheet of {recipe}, so nothing is more or less than it"
        if not meant_
        else f"'{item}' may be {' or '.join(meant_)}",
        mend="on the sheet are: " + ", ".join(sheet) if sheet else "say how much of it went in",
    )


def _otherwise(said: Mapping[str, Any], at: datetime, piece: str | None) -> LogLine:
    """What was done otherwise than the recipe says; plain words alone stay plain words."""
    line = {key: said[key] for key in DEVIATION.fields if key != "at" and said.get(key) not in (None, [])}
    if "did" in line:
        line["did"] = " ".join(line["did"])
    for key, value in line.items():
        kind = DEVIATION.fields[key].kind
        kind.read(value)
        line[key] = str(Temperature.parse(value)) if kind is TEMPERATURE else value
    if piece:
        line["piece"] = piece
    if not line:
        raise RequestError("what was done otherwise?", mend='say it, such as log otherwise "oil last" --step 2')
    if "step" in line and "did" not in line:
        raise RequestError("what was done in that step?", mend='say it, such as log otherwise "oil last" --step 2')
    words = ", ".join(value if key == "did" else f"{key.replace('_', ' ')} {value}" for key, value in line.items())
    lead = ""
    if said.get("at"):
        line["at"], lead = stamp(at), f"{read_back(at)}, "
    item: str | dict[str, Any] = line["did"] if set(line) == {"did"} else line
    return LogLine(lambda edit: append(edit, ["deviations"], item), f"{lead}otherwise: {words}")


ABOUT = ("cooker", "fuel", "wood", "gauge", "place", "to_fire", "weather", "helpers", "price")
"""What can be said of a cook as a whole, each in words."""


def _about(field: str, words: str, said: Mapping[str, Any]) -> LogLine:
    if field not in ABOUT:
        from difflib import get_close_matches

        near = get_close_matches(field, ABOUT, 1, 0.5)
        raise RequestError(
            f"'{field}' is nothing that is said of a whole cook",
            mend=f"did you mean {near[0]}?" if near else f"it can be {', '.join(ABOUT)}",
        )
    name = field.replace("_", " ")
    doubt = f"what is said about the {name} holds for the whole cook, so its time is not kept; `log note` keeps both"
    return LogLine(lambda edit: put(edit, [field], words), f"{name}: {words}", (doubt,) if said.get("at") else ())
