"""Names of cuts as a butcher says them: word order, `bone-in` and `bone in`, US, UK and Australian synonyms.

A name that means two cuts is asked back; so is one that no cut bears, with the nearest names.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

from cookbook.errors import RequestError, UnknownName
from cookbook.meat.cut import Cut, from_table
from cookbook.table import rows

_FILLER = frozenset({"of", "the", "a", "an", "on"})


def key(name: str) -> str:
    """What two handwritings of one name share: small letters, no hyphens or commas, words in no order."""
    plain = name.casefold().replace("bone-in", "bonein").replace("bone in", "bonein").replace("on the bone", "bonein")
    words = "".join(letter if letter.isalnum() or letter == "/" else " " for letter in plain).split()
    return " ".join(sorted(word for word in words if word not in _FILLER))


def find(name: str, extra: Sequence[Cut] = ()) -> Cut:
    """The cut called `name`, kept as `said_as`.

    Raises UnknownName, or RequestError with the code `two-meanings` that names both.
    """
    wanted = key(name)
    for cut in extra:
        if wanted in {key(one) for one in (cut.name, *cut.synonyms)}:
            return cut._replace(said_as=name)
    if any(row["name"] == name for row in rows("cuts")):
        return from_table(name)._replace(said_as=name)
    found = _index().get(wanted, ())
    if len(found) > 1:
        both = " or ".join(f"'{one}'" for one, _ in found)
        raise RequestError(f"'{name}' means {len(found)} cuts in the trade: {both}", mend="say which",
                           code="two-meanings")
    if not found:
        near = nearest(name, extra)
        raise UnknownName("cut", name, near, mend=None if near else "'pork shoulder' is one, 'brisket, flat' another")
    row, asks = found[0]
    return from_table(row)._replace(said_as=name, asks=asks)


@cache
def _index() -> dict[str, tuple[tuple[str, str], ...]]:
    """By key: the cuts that bear a name, each with what must be asked back. A cut's own name is never in doubt."""
    own: dict[str, tuple[tuple[str, str], ...]] = {key(row["name"]): ((row["name"], ""),) for row in rows("cuts")}
    others: dict[str, tuple[tuple[str, str], ...]] = {}
    for row in rows("cut_names"):
        place = key(row["name"])
        known = others.get(place, ())
        if row["cut"] not in {cut for cut, _ in known}:
            others[place] = (*known, (row["cut"], row["asks"]))
    return others | own


def synonyms(cut: str) -> tuple[str, ...]:
    """Other names of a cut in the reference table, those that it shares with another cut too."""
    return tuple(row["name"] for row in rows("cut_names") if row["cut"] == cut)


def nearest(name: str, extra: Sequence[Cut] = ()) -> list[str]:
    """Up to three cuts that sound most like `name`, best first."""
    from difflib import SequenceMatcher

    said = {key(row["name"]): row["name"] for row in rows("cuts")}
    said |= {key(row["name"]): row["cut"] for row in rows("cut_names")} | said
    said |= {key(one): cut.name for cut in extra for one in (cut.name, *cut.synonyms)}
    wanted = key(name)
    words = set(wanted.split())

    def likeness(known: str) -> float:
        common = len(words & set(known.split())) / max(len(words | set(known.split())), 1)
        return SequenceMatcher(None, wanted, known).ratio() + common

    scored = sorted(said, key=lambda known: (-likeness(known), known))
    best = [said[known] for known in scored if likeness(known) > 0.6]
    return list(dict.fromkeys(best))[:3]
