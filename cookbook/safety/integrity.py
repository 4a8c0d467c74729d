"""Whether the inside of a piece was ever outside: bladed, injected, boned and rolled, netted, stuffed."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from cookbook.safety.finding import NOTE, RETAIL, WARN, Finding
from cookbook.safety.household import minimums

_SIGNS = {
    "bladed": ("bladed", "jaccarded", "needled", "pricked", "tenderized", "tenderised", "cubed"),
    "studded": ("studded", "larded"),
    "injected": ("injected", "pumped", "tumbled"),
    "boned and rolled": ("rolled", "folded"),
    "netted": ("netted", "net", "netting"),
    "stuffed": ("stuffed", "stuffing", "filled"),
}
_HOLD_S = 180.0
_JOINTS = ("leg", "shoulder", "ham", "haunch")
"""Their bone lies in the middle: taken out, it leaves a pocket that is folded shut."""


class Intact(NamedTuple):
    """`why` names what opened the piece, nothing where it is whole; `seam` that bones were cut off and tied back."""

    why: tuple[str, ...]
    seam: bool

    @property
    def whole(self) -> bool:
        """Whether the inside never was outside."""
        return not self.why


def intact(cut: str, treatments: Iterable[str] = (), bones: str | None = None) -> Intact:
    """How a piece stands, by its cut's name, words for what was done to it, and its bones (`on`, `tied`, `off`).

    Bones tied back are not rolled: the seam is outer surface that lies under them. A joint boned out from the middle
    counts as rolled unless it is said to lie open.
    """
    said = [cut.casefold(), *(treatment.casefold() for treatment in treatments)]
    words = {word for text in said for word in re.findall(r"[a-z]+", text)}
    why = [name for name, signs in _SIGNS.items() if words.intersection(signs)]
    boned_out = "boneless" in words and words.intersection(_JOINTS)
    if boned_out and not why and not words.intersection(("butterflied", "open", "flat")):
        why.append("boned and rolled")
    return Intact(tuple(why), bones == "tied" or "tied back" in " ".join(said))


def non_intact_finding(state: Intact, peak_c: float, held_s: float, accuracy_c: float = 0.0) -> Finding | None:
    """The raised requirement of a piece that is not whole; for a seam, where to measure; None for a whole one.

    `peak_c` is the hottest core measured, by a thermometer that may be `accuracy_c` off, `held_s` the time it stayed
    at or above the household line, in s.
    Retail asks 155 °F for 17 s, or 145 °F for 3 min, in the centre; stuffed meat 165 °F.
    """
    if state.whole:
        return _seam() if state.seam else None
    form = "stuffing" if "stuffed" in state.why else "tenderized"
    row = max((row for row in minimums() if row.form == form and row.species == "any"), key=lambda row: row.core_f)
    met = row.met_by(peak_c - accuracy_c) or (form == "tenderized" and held_s >= _HOLD_S)
    hold = " or 145 °F (62.8 °C) for 3 min" if form == "tenderized" else ""
    said = (f"not an intact piece ({', '.join(state.why)}): what was outside is inside now, so the centre must come "
            f"to {row.core_f:g} °F ({row.core_c:.1f} °C){hold}; it came to {peak_c:.1f} °C")
    return Finding("non-intact", NOTE if met else WARN, round(peak_c, 1), round(row.core_c, 1), row.regime,
                   row.source, "°C", said)


def _seam() -> Finding:
    return Finding("seam under the bones", NOTE, "tied back", "measure at the seam too", RETAIL, "food-code-3-401-11",
                   "", "bones tied back are not a rolled roast: the seam is outer surface lying under the bones; "
                   "measure there too")
