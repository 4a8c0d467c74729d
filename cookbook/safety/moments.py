"""What the logged moments of an entry say: bought, thawed, taken out, put away, mixed, eaten. Words are the cook's.

A moment that nobody logged opens no stretch and closes none. Where the words leave open whether food lay in the
refrigerator the stretch is marked unsure.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from cookbook.safety.timeout import HOT_HOLD_C, Span

if TYPE_CHECKING:
    from cookbook.journal import Entry, EntryPiece
    from cookbook.journal.readings import Reading

CARVED = ("sliced", "served", "carved", "eaten")
"""What ends a rest."""
BOUGHT, THAWING, THAWED = "bought", "thawing", "thawed"
OUT, COATED, AWAY, FROZEN = "out", "coated", "away", "frozen"
MADE, PASTE_AWAY, PASTE_FROZEN, PASTE_SERVED, BOILED = (
    "paste made", "paste away", "paste frozen", "paste served", "paste boiled")
TOUCHED, EATEN, REHEATED = "touched", "leftovers eaten", "reheated"

_MIX = r"\b(?:\w+-)*(?:paste|rub|marinade|brine|pesto|batch|garlic oil|herb oil)\b"
_RAW_MIX = r"\b(?:marinade|brine|(?:left-?over|remaining|used|rest of the) (?:\w+ )?(?:paste|rub))\b"
_RAW_BOWL = r"\b(?:marinade|brine|paste|bowl)\b"
_COLD = r"\b(?:in|into|back in|back into) the (?:refrigerator|fridge)\b|\brefrigerated\b|\bchilled\b"
_ICE = r"\b(?:in|into|back in|back into) the freezer\b|\bfrozen\b"
_SERVED = r"\b(?:eaten|served|ate|on the table|over the (?:slices|meat|roast)|as an? (?:sauce|dip))\b"
_CLEAN = re.compile(r"\b(?:set aside|kept back|clean|fresh|second batch|never touched)\b")
_KINDS = tuple((kind, re.compile(pattern)) for kind, pattern in (
    (BOILED, rf"{_MIX}.*\bboil(?:ed|ing)?\b|\bboiled\b.*{_MIX}"),
    (PASTE_SERVED, rf"{_RAW_MIX}.*{_SERVED}|{_SERVED}.*{_RAW_MIX}"),
    (EATEN, rf"\bleft-?overs?\b.*{_SERVED}|\bate\b.*\bleft-?overs?\b"),
    (REHEATED, r"\breheat(?:ed|ing)?\b|\bwarmed (?:it |them )?(?:up|through)\b"),
    (BOUGHT, r"\bbought\b"),
    (THAWED, r"\bthawed\b"),
    (THAWING, r"\b(?:thawing|to thaw|out of the freezer)\b"),
    (MADE, rf"{_MIX}.*\b(?:made|mixed|pounded|blended)\b|\b(?:made|mixed|pounded|blended)\b.*{_MIX}"),
    (TOUCHED, rf"\b(?:brush|bast|mopp)(?:ed|ing)\b.*{_RAW_BOWL}|\b(?:raw|same) (?:plate|board|brush)\b"),
    (AWAY, rf"\b(?:coated|marinat(?:ed|ing)|rubbed)\b.*(?:{_COLD})"),
    (COATED, r"\b(?:paste|rub|marinade) on\b|\bcoated\b|\brubbed\b"),
    (PASTE_AWAY, rf"{_MIX}.*(?:{_COLD})"),
    (PASTE_FROZEN, rf"{_MIX}.*(?:{_ICE})"),
    (FROZEN, _ICE),
    (AWAY, rf"{_COLD}|\bleft-?overs? (?:put )?away\b"),
    (OUT, r"^out$|\b(?:taken out|out of the (?:refrigerator|fridge)|on the counter|temper(?:ing|ed))\b"),
))
_OVERNIGHT_MIN = 360.0
"""Longer than this a coated piece most likely lay in the refrigerator, and nobody wrote it down; an assumption."""
_WORTH_SAYING = 0.75
"""Share of the limit below which a rest that ended at the knife is not spoken of."""
_BARE_AIR = re.compile(r"(-?\d+(?:[.,]\d+)?)\s*(?:°|degrees|deg)?\s*([CcFf]\b)?")


class Moment(NamedTuple):
    """Something that happened to the meat, the paste or the leftovers; `words` and `note` are the cook's own."""

    at: datetime
    kind: str
    words: str
    note: str = ""


def kind_of(did: str) -> str | None:
    """What the words of an event mean here, None where nothing."""
    said = did.casefold()
    found = next((kind for kind, pattern in _KINDS if pattern.search(said)), None)
    return None if found in (TOUCHED, PASTE_SERVED) and _CLEAN.search(said) else found


def moments(entry: Entry, piece: EntryPiece) -> list[Moment]:
    """The moments of one piece (and of what names no piece), by time; `on` and `pulled` keep their own words."""
    found = [Moment(event.at, kind_of(event.did) or event.did, event.did, event.note or "") for event in entry.events
             if event.did is not None and event.piece in (None, piece.name)]
    return sorted(found, key=lambda moment: moment.at)


def first(told: Sequence[Moment], *kinds: str, after: datetime | None = None) -> datetime | None:
    """The first time that one of these happened, or the first after a moment."""
    return next((one.at for one in told if one.kind in kinds and (after is None or one.at > after)), None)


def raw_out(told: Sequence[Moment], air_c: float | None, now: datetime | None = None) -> tuple[Span, ...]:
    """The stretches out before the heat, each from being taken out or coated to going on or away, or to `now`.

    Where nobody logged that it went on, the pull ends the stretch, which is unsure.
    """
    heat = first(told, "on") or first(told, "pulled")
    spans: list[Span] = []
    out: Moment | None = None
    for moment in told:
        if out is not None and moment.kind in ("on", "pulled", AWAY, FROZEN):
            minutes = (moment.at - out.at).total_seconds() / 60
            overnight = out.kind == COATED and moment.kind == "on" and minutes > _OVERNIGHT_MIN
            spans.append(Span(out.words, minutes, air_c, not overnight and moment.kind != "pulled"))
            out = None
        elif out is None and (heat is None or moment.at < heat) and moment.kind in (OUT, COATED):
            out = moment
    if out is not None and now is not None and now > out.at:
        minutes = (now - out.at).total_seconds() / 60
        spans.append(Span(out.words, minutes, air_c, minutes <= _OVERNIGHT_MIN))
    return tuple(spans)


def cooked_out(told: Sequence[Moment], readings: Sequence[Reading], air_c: float | None) -> tuple[Span, ...]:
    """The stretches out after the heat, up to the refrigerator, else to the knife where that came late.

    They begin where the core fell below 60 °C; where nobody read that, at the last hot reading or the pull, and then
    the rest is unsure.
    """
    on, pulled = first(told, "on"), first(told, "pulled")
    if on is None or pulled is None:
        return ()
    away = first(told, AWAY, FROZEN, after=pulled)
    last = [one.at for one in told if one.kind in CARVED and one.at > pulled and (away is None or one.at <= away)]
    end = away or max(last, default=None)
    if end is None:
        return ()
    cores = [(one.at, one.core_c) for one in readings if one.core_c is not None and pulled <= one.at <= end]
    carved = min(last, default=end)
    begin = max([pulled, *(at for at, core in cores if core >= HOT_HOLD_C)])
    if any(at > begin for at, _ in cores):
        spans = [_span("after the heat", begin, end, air_c)]
    else:
        since = "its core unread" if begin == pulled else "its core not read again"
        spans = [_span(f"in the rest, {since}", begin, max(begin, carved), air_c)._replace(sure=False),
                 _span("from the knife on", max(begin, carved), end, air_c)]
    spans = [span for span in spans if span.minutes > 0]
    return tuple(spans) if away is not None or sum(span.used for span in spans) > _WORTH_SAYING else ()


def _span(what: str, begin: datetime, end: datetime, air_c: float | None) -> Span:
    return Span(what, max((end - begin).total_seconds() / 60, 0.0), air_c)


def air_c(weather: str | None, scale: str | None = None) -> float | None:
    """The air's temperature in the words on the weather, None where they hold none.

    A number with neither scale nor kitchen's word for one counts on the scale on which it would be hot, if on any.
    """
    found = [_air(number, letter or scale) for number, letter in _numbers(weather or "")]
    return max((value for value in found if value is not None), default=None)


def _numbers(words: str) -> Iterator[tuple[float, str | None]]:
    for match in _BARE_AIR.finditer(words):
        if match.group(2) or re.search(r"°|deg", match.group(0)):
            yield float(match.group(1).replace(",", ".")), match.group(2)


def _air(number: float, scale: str | None) -> float | None:
    """A number as the air's °C on the scale named, or on the one on which it can be air."""
    warm = {"C": number, "F": (number - 32) / 1.8}
    first = (scale or "C").upper()
    return next((value for name in (first, "F", "C") if -40 <= (value := warm[name]) <= 55), None)
