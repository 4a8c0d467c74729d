"""How long an entry's paste, raw meat and leftovers were kept, how meat was thawed and cooled, what touched what.

Each is told only from moments that the entry logs.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from cookbook.safety.cooldown import cooling_of, stage_finding
from cookbook.safety.curve import PROBE_OUT, Curve, faults
from cookbook.safety.finding import NOTE, WARN, Finding
from cookbook.safety.household import household_row, is_ground
from cookbook.safety.keeping import keeping_finding, oil_days, oil_keeping_finding, raw_contact_finding, raw_for
from cookbook.safety.moments import (
    AWAY,
    BOILED,
    BOUGHT,
    CARVED,
    COATED,
    EATEN,
    FROZEN,
    MADE,
    OUT,
    PASTE_AWAY,
    PASTE_FROZEN,
    PASTE_SERVED,
    REHEATED,
    THAWED,
    THAWING,
    TOUCHED,
    Moment,
    first,
)
from cookbook.safety.thawing import thawing_finding
from cookbook.safety.timeout import out_limit_min

if TYPE_CHECKING:
    from cookbook.journal.readings import Reading

_PH = re.compile(r"\bph\b\s*(?:is|was|of|=|:)?\s*(\d+(?:[.,]\d+)?)", re.I)
_SPAN = re.compile(r"(\d+(?:[.,]\d+)?|an?|one|two|three|four|five|six)\s*(hours?|h|days?|d|nights?)\b", re.I)
_COUNT = {"a": 1.0, "an": 1.0, "one": 1.0, "two": 2.0, "three": 3.0, "four": 4.0, "five": 5.0, "six": 6.0}
_METHODS = (
    ("counter", re.compile(r"\b(?:counter|room|kitchen table|worktop)\b")),
    ("microwave", re.compile(r"\bmicrowave\b")),
    ("running water", re.compile(r"\brunning water\b")),
    ("cold water", re.compile(r"\b(?:water|sink)\b")),
    ("refrigerator", re.compile(r"\b(?:refrigerator|fridge)\b")),
)
_RAW_TOOL = re.compile(r"\b(?:raw|same) (?:plate|board|brush)\b")
"""What no boiling of the paste makes clean."""
_DAY_S = 86400.0
_WAYS_TO_COOL = ("food code", "option 1")


class Kept(NamedTuple):
    """One piece and what is known of its keeping: the moments by time, its species and cut, its weight in g, words
    on how it was thawed, whether it was hung or aged, and the moment at which it is asked (None: long done)."""

    told: Sequence[Moment]
    species: str
    cut: str
    mass_g: float | None = None
    thawed: str | None = None
    aged: bool = False
    now: datetime | None = None


def kept_findings(piece: Kept, readings: Sequence[Reading]) -> list[Finding]:
    """All of it for one piece; `readings` are its own, by time."""
    return [*_raw_days(piece), *_thawed(piece), *_cooled(piece, readings), *_leftovers(piece, readings)]


def paste_findings(told: Sequence[Moment], mixed_at: datetime | None, words: Sequence[str],
                   now: datetime | None) -> list[Finding]:
    """How old garlic or fresh herbs in oil were when they went on, or are `now`.

    `mixed_at` is when its first ingredient was logged, for a cook who logged no `paste made`; `words` all the notes,
    in which a measured pH may stand. Empty where nothing says when it was made.
    """
    used = first(told, COATED) or first(told, "on")
    made = first(told, MADE) or (mixed_at if mixed_at is not None and (used is None or mixed_at < used) else None)
    later = [one.at for one in told if one.kind == PASTE_SERVED]
    end = max([at for at in (used, *later) if at is not None], default=now)
    if made is None or end is None or end < made:
        return []
    days = round((end - made).total_seconds() / _DAY_S, 2)
    away = first(told, PASTE_AWAY, PASTE_FROZEN, after=made)
    stood_min = ((away or end) - made).total_seconds() / 60
    frozen_at = next((one.at for one in told if one.kind == PASTE_FROZEN and made < one.at < end), None)
    before = days if frozen_at is None else round((frozen_at - made).total_seconds() / _DAY_S, 2)
    late = before > oil_days()[0]
    ph = max((float(hit.group(1).replace(",", ".")) for one in words for hit in _PH.finditer(one)), default=None)
    warm = away is not None and away < end and stood_min > out_limit_min(None)
    found = oil_keeping_finding(before if late else days, refrigerated=not warm,
                                frozen=frozen_at is not None and not late, ph=ph)
    said = f"made {made:%d %b %H:%M}, {_days(days)} old" + (" when it went on" if used is not None else "") + "; "
    if warm:
        said += f"{stood_min / 60:.1f} h before it went into the refrigerator; "
    elif away is None and days * 24 > 2:
        said += "taken to have stood in the refrigerator, which nobody wrote down; "
    head, _, tail = found.message.partition(": ")
    return [found._replace(message=f"{head}: {said}{tail}")]


def contact_findings(told: Sequence[Moment]) -> Iterator[Finding]:
    """What touched raw meat and came back to it, or to the table."""
    pulled, coated = first(told, "pulled"), first(told, COATED)
    for one in told:
        boiled_at = first(told, BOILED, after=coated)
        boiled = boiled_at is not None and boiled_at <= one.at and not _RAW_TOOL.search(one.words.casefold())
        if one.kind == PASTE_SERVED:
            yield raw_contact_finding(f"'{one.words}': this", served=True, boiled=boiled)
        elif one.kind == TOUCHED:
            late = pulled is not None and one.at >= pulled
            yield raw_contact_finding(f"'{one.words}': this", served=late, boiled=boiled)


def _raw_days(piece: Kept) -> Iterator[Finding]:
    """Days that the raw piece lay in the refrigerator: from the shop or from being thawed, to the fire."""
    end = first(piece.told, "on") or piece.now
    if piece.aged or end is None:
        return
    since: datetime | None = None
    seconds = 0.0
    for one in piece.told:
        if one.at > end:
            break
        if one.kind in (BOUGHT, THAWED) and since is None and "frozen" not in one.words.casefold():
            since = one.at
        elif one.kind in (FROZEN, THAWING) and since is not None:
            seconds, since = seconds + (one.at - since).total_seconds(), None
    if since is not None:
        seconds += (end - since).total_seconds()
    if seconds > 0:
        yield keeping_finding(raw_for(piece.species, is_ground(piece.cut)), round(seconds / _DAY_S, 1))


def _thawed(piece: Kept) -> Iterator[Finding]:
    began = next((one for one in piece.told if one.kind == THAWING), None)
    done = next((one for one in piece.told if one.kind == THAWED), None)
    told = [f"{one.words} {one.note}" for one in (began, done) if one is not None]
    said = " ".join([*told, piece.thawed or ""]).casefold().strip()
    if not said:
        return
    method = next((name for name, sign in _METHODS if sign.search(said)), None)
    yield thawing_finding(piece.mass_g, method, _hours(piece, began, said), piece.species)


def _hours(piece: Kept, began: Moment | None, said: str) -> float | None:
    """How long it thawed: between its moments, else as the words say it."""
    end = first(piece.told, THAWED, OUT, COATED, "on", after=began.at) if began is not None else None
    if began is not None and end is not None:
        return (end - began.at).total_seconds() / 3600
    hit = _SPAN.search(said)
    if hit is None:
        return None
    count = _COUNT.get(hit.group(1)) or float(hit.group(1).replace(",", "."))
    return count if hit.group(2).startswith("h") else 24 * count


def _cooled(piece: Kept, readings: Sequence[Reading]) -> Iterator[Finding]:
    """The cooling steps of a cooked piece that was put away with a probe in it; only those that the log can tell."""
    pulled = first(piece.told, "pulled")
    if pulled is None or first(piece.told, AWAY, FROZEN, after=pulled) is None:
        return
    cores = [(one.at, one.core_c) for one in readings if one.core_c is not None and one.at >= pulled]
    again = first(piece.told, REHEATED, EATEN, after=pulled)
    cores = [(at, core) for at, core in cores if again is None or at < again]
    if len(cores) < 2:
        return
    curve = Curve.of([(at - cores[0][0]).total_seconds() for at, _ in cores], [core for _, core in cores])
    out = next((flaw.at for flaw in faults(curve) if flaw.kind == PROBE_OUT), len(cores))
    curve = Curve(curve.times_s[:out], curve.core_f[:out])
    for option in _WAYS_TO_COOL:
        yield from (stage_finding(one) for one in cooling_of(curve, option) if one.conforms is not None)


def _leftovers(piece: Kept, readings: Sequence[Reading]) -> Iterator[Finding]:
    pulled = first(piece.told, "pulled")
    if pulled is None:
        return
    away = first(piece.told, AWAY, after=pulled) or first(piece.told, *CARVED, after=pulled) or pulled
    if first(piece.told, FROZEN, after=pulled) is None:
        for one in piece.told:
            if one.kind == EATEN and one.at > away:
                yield keeping_finding("leftovers", round((one.at - away).total_seconds() / _DAY_S, 1))
    row = household_row(piece.species, "leftovers")
    for one in piece.told:
        core = next((read.core_c for read in readings if read.at == one.at and read.core_c is not None), None)
        if one.kind == REHEATED and core is not None:
            met = row.met_by(core)
            said = (f"reheated to {core:.1f} °C; the household line for leftovers is {row.core_c:.1f} °C "
                    f"({row.core_f:g} °F)" + ("" if met else f", {row.core_c - core:.1f} °C more"))
            yield Finding("leftovers reheated", NOTE if met else WARN, round(core, 1), round(row.core_c, 1),
                          row.regime, row.source, "°C", said)


def _days(days: float) -> str:
    return f"{days * 24:.0f} h" if days < 1 else f"{days:.1f} days"


