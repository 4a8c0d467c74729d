"""The fields of a journal entry, listed once: the typed readers and the JSON Schema both come from here."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, datetime, timedelta
from functools import cache
from typing import Any

from cookbook.errors import RequestError
from cookbook.files.record import WORDS, Choice, Either, Field, ListOf, MapOf, Record, Scalar
from cookbook.meat.field import COUNT, LENGTH, MASS, PIECE_FIELDS, TEMPERATURE, TIME
from cookbook.quantity import Amount
from cookbook.quantity.unit import SYSTEMS

_VERSION = re.compile(r"[0-9]+-[0-9a-f]{12}\.[0-9a-f]{8}")


def day(words: str) -> date:
    """A calendar day, `2026-11-21`."""
    try:
        return date.fromisoformat(words.strip())
    except ValueError:
        raise RequestError(f"'{words}' is no day", mend='write it like "2026-11-21"') from None


_LEAP = re.compile(r"(?<=[T ]\d\d:\d\d:)60(?=\D|$)")


def moment(words: str) -> datetime:
    """A moment with its zone, as RFC 3339 writes it; a leap second is the first one of the next minute."""
    said = words.strip().upper()
    leap = _LEAP.search(said)
    try:
        found = datetime.fromisoformat(_LEAP.sub("59", said))
    except ValueError:
        raise RequestError(f"'{words}' is no time", mend='write it like "2026-11-21T11:05:00+01:00"') from None
    if leap is not None:
        found += timedelta(seconds=1)
    if found.tzinfo is None:
        raise RequestError(f"'{words}' has no time zone", mend='end it like "+01:00", or "Z" for UTC')
    return found


def version_name(words: str) -> str:
    """The name of a stored version."""
    if not _VERSION.fullmatch(words.strip()):
        raise RequestError(f"'{words}' is no version", mend="versions are written by `cookbook log start`")
    return words.strip()


def score(words: str) -> float:
    """0 to 10, halves allowed, ten is best."""
    try:
        value = float(words.strip().replace(",", "."))
    except ValueError:
        value = -1.0
    if not (0 <= value <= 10 and (value * 2).is_integer()):
        raise RequestError(f"'{words}' is no score", mend="scores go from 0 to 10, halves allowed, ten is best")
    return value


def yes(words: str) -> bool:
    """`true` or `yes`; anything else is no."""
    word = words.strip().casefold()
    if word not in ("true", "yes", "false", "no"):
        raise RequestError(f"'{words}' is neither yes nor no", mend="write yes or no")
    return word in ("true", "yes")


DAY = Scalar("date", day, '"2026-11-21"')
MOMENT = Scalar("moment", moment, '"2026-11-21T11:05:00+01:00"')
VERSION = Scalar("version", version_name, "1-5f0c1e9a77b2.3c9a51d0")
SCORE = Scalar("score", score, "7.5", number=True)
YES = Scalar("yes", yes, "true")
NAMES = Either(WORDS, ListOf(WORDS))

PIECE = Record(
    "piece",
    {
        "cut": Field(WORDS, "the cut, where no recipe says it"),
        **PIECE_FIELDS,
        "start": Field(TEMPERATURE, "core temperature when it went on"),
        "weight_after": Field(MASS, "after the cook"),
        "weight_trimmed": Field(MASS, "after trimming"),
        "grade": Field(WORDS, "as the butcher said it"),
        "supplier": Field(WORDS, "where it came from, in your own words"),
        "aged": Field(WORDS, "how long, how"),
        "thawed": Field(WORDS, "how long, how"),
    },
)

BOWL = Record(
    "bowl",
    {
        "empty": Field(MASS, "the empty bowl on the balance"),
        "full": Field(MASS, "the bowl with everything in it"),
        "after": Field(MASS, "the bowl when the meat was coated"),
    },
)

READING_FIELDS = {
    "core": Field(TEMPERATURE, "in the thickest part, off the bone"),
    "surface": Field(TEMPERATURE, "just under the crust"),
    "pit": Field(TEMPERATURE, "the air around the meat"),
    "probe": Field(WORDS, "which probe, by name"),
    "depth": Field(LENGTH, "how deep the probe sits"),
}

EVENT = Record(
    "event",
    {
        "at": Field(MOMENT, "when", required=True),
        "did": Field(
            WORDS,
            "what was done: lit, on, turned, sprayed, wrapped, lid open, wood added, pulled, rested, sliced; bought, "
            "thawing, thawed, paste made, coated, in or out of the refrigerator, leftovers eaten, reheated",
        ),
        "piece": Field(WORDS, "which piece"),
        "note": Field(WORDS, "anything else"),
        **READING_FIELDS,
    },
)


def _made(amount_kind: Scalar) -> Record:
    return Record(
        "as-made item",
        {
            "item": Field(WORDS, "what went in"),
            "amount": Field(amount_kind, "all of it that went in"),
            "more": Field(amount_kind, "more than the day's sheet"),
            "less": Field(amount_kind, "less than the day's sheet"),
            "left_out": Field(YES, "none of it went in"),
            "instead": Field(WORDS, "what went in in its place"),
            "reads": Field(MASS, "what the balance reads with the bowl on it"),
            "before": Field(MASS, "the jar before"),
            "after": Field(MASS, "the jar after"),
            "had": Field(MASS, "what was prepared"),
            "left": Field(MASS, "what was left of it"),
            "bowl": Field(BOWL, "the bowl on the balance"),
            "piece": Field(WORDS, "which piece it went on"),
            "at": Field(MOMENT, "when"),
        },
    )


NOTE = Record(
    "note",
    {
        "at": Field(MOMENT, "when"),
        "text": Field(WORDS, "the words", required=True),
        "unread": Field(YES, "the program could not read it"),
        "piece": Field(WORDS, "which piece"),
    },
)

PHOTO = Record(
    "photo",
    {
        "path": Field(WORDS, "the file, beside the entry", required=True),
        "caption": Field(WORDS, "what it shows"),
        "digest": Field(WORDS, "SHA-256 of the file"),
    },
)

TAKE = Record(
    "take",
    {
        "at": Field(MOMENT, "when", required=True),
        "what": Field(WORDS, "what was filmed", required=True),
    },
)

NEXT = Record(
    "next_time line",
    {
        "line": Field(WORDS, "what to do", required=True),
        "done": Field(DAY, "the day it was ticked"),
        "at": Field(MOMENT, "when it was thought of"),
    },
)

DEVIATION = Record(
    "deviation",
    {
        "did": Field(WORDS, "what was done instead, in your own words"),
        "step": Field(COUNT, "which step of the recipe it took the place of"),
        "pit": Field(TEMPERATURE, "the air around the meat"),
        "pull_at": Field(TEMPERATURE, "core temperature at which it came off"),
        "rest": Field(TIME, "the wait before slicing"),
        "cooker": Field(WORDS, "the device"),
        "fuel": Field(WORDS, "what burned"),
        "wood": Field(WORDS, "what smoked"),
        "wrap": Field(WORDS, "what it was wrapped in"),
        "wrap_at": Field(TEMPERATURE, "core temperature at which it was wrapped"),
        "piece": Field(WORDS, "which piece"),
        "because": Field(WORDS, "the reason"),
        "at": Field(MOMENT, "when"),
    },
)

_CAME_OUT = {
    "scores": Field(MapOf(Either(SCORE, MapOf(SCORE, "tasters")), "aspects"), "per taster, or one number"),
    "peak": Field(TEMPERATURE, "the highest core temperature in the rest"),
    "pulled": Field(TEMPERATURE, "core temperature at the pull"),
    "served": Field(TEMPERATURE, "core temperature when sliced"),
    "notes": Field(Either(WORDS, ListOf(WORDS)), "in your own words"),
}

PIECE_OUTCOME = Record("outcome of a piece", _CAME_OUT)

OUTCOME = Record(
    "outcome",
    {
        **_CAME_OUT,
        "paste_left": Field(MASS, "what nobody used"),
        "cost": Field(WORDS, "what it cost"),
        "pieces": Field(MapOf(PIECE_OUTCOME, "pieces"), "piece by piece, where they came out differently"),
    },
)


@cache
def entry_record(measures: str = "us", remembered: bool = False) -> Record:
    """The fields of an entry; as-made amounts are read under `measures`.

    In a `remembered` one words may stand for an amount, a size, a temperature, and a year or a month for the day.
    """
    return _loosely(_entry_record(measures)) if remembered else _entry_record(measures)


def _loosely(kind: Any) -> Any:
    """A kind in which words that can't be counted are kept as words: their value is None, their node has them."""
    if isinstance(kind, Scalar) and kind.name in _COUNTABLE:
        return kind._replace(read=_about_day if kind is DAY else _or_words(kind.read))
    if isinstance(kind, Record):
        fields = {name: field._replace(kind=_loosely(field.kind)) for name, field in kind.fields.items()}
        return kind._replace(fields=fields)
    if isinstance(kind, Either):
        return Either(_loosely(kind.scalar), _loosely(kind.nested))
    if isinstance(kind, ListOf):
        return kind._replace(item=_loosely(kind.item))
    return kind._replace(value=_loosely(kind.value)) if isinstance(kind, MapOf) else kind


_COUNTABLE = ("amount", "mass", "length", "two-lengths", "temperature", "count", "time", "date")


def _or_words(read: Callable[[str], Any]) -> Callable[[str], Any]:
    def kept(words: str) -> Any:
        try:
            return read(words)
        except RequestError:
            return None

    return kept


def _about_day(words: str) -> date:
    """A day, or the first one of a month or a year."""
    said = words.strip()
    return day(said + "-01" * (2 - said.count("-")) if re.fullmatch(r"\d{4}(-\d{2})?", said) else said)


@cache
def _entry_record(measures: str) -> Record:
    def read(words: str) -> Amount:
        return Amount.parse(words, measures)

    amounts = Scalar("amount", read, "8 g", number=True)
    return Record(
        "entry",
        {
            "recipe": Field(WORDS, "the recipe that was cooked"),
            "version": Field(VERSION, "its exact text"),
            "uses": Field(MapOf(VERSION, "recipes"), "the version of every recipe inside"),
            "title": Field(WORDS, "a working title, until a recipe is made of it"),
            "kind": Field(Choice(("paste", "rub", "brine", "sauce", "cook")), "what is being made"),
            "measures": Field(Choice(SYSTEMS), "which cups and spoons are meant"),
            "date": Field(DAY, "the day", required=True),
            "from": Field(Choice(("memory",)), "remembered or copied from an old notebook: never counted"),
            "piece": Field(PIECE, "the piece"),
            "pieces": Field(MapOf(PIECE, "pieces"), "several, each named"),
            "cooker": Field(WORDS, "the device"),
            "fuel": Field(WORDS, "what burned"),
            "wood": Field(WORDS, "what smoked"),
            "gauge": Field(WORDS, "where the pit gauge sits: grate, lid, door"),
            "place": Field(WORDS, "where in the pit"),
            "to_fire": Field(WORDS, "which face looked to the fire"),
            "weather": Field(WORDS, "wind, rain, air"),
            "helpers": Field(NAMES, "who helped"),
            "price": Field(WORDS, "what the meat cost, with its currency"),
            "prices": Field(MapOf(WORDS, "items"), "what the other things cost"),
            "sheet": Field(MapOf(MapOf(amounts, "items"), "recipes"), "the day's sheet"),
            "as_made": Field(MapOf(ListOf(_made(amounts)), "recipes"), "what really went in"),
            "deviations": Field(ListOf(Either(WORDS, DEVIATION), lone=True), "what was done otherwise"),
            "events": Field(ListOf(EVENT), "what happened when"),
            "readings": Field(NAMES, "CSV files of readings beside the entry"),
            "outcome": Field(OUTCOME, "how it came out"),
            "next_time": Field(ListOf(Either(WORDS, NEXT), lone=True), "what to do next time"),
            "notes": Field(ListOf(Either(WORDS, NOTE), lone=True), "anything worth keeping"),
            "photos": Field(ListOf(Either(WORDS, PHOTO)), "pictures"),
            "takes": Field(ListOf(TAKE), "film take marks"),
            "public": Field(YES, "published on the site; without it nobody sees it there"),
            "adopted": Field(WORDS, "the revision it led to"),
            "finished": Field(MOMENT, "when the entry was closed"),
        },
    )
