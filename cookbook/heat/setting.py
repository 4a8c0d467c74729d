"""What is done to the meat, as plain records: cooker, wrap, sear, rest, tempering, events at the fire.

Numbers of each kind come from the tables `heat_cookers` and `heat_covers`.
"""

from __future__ import annotations

from difflib import get_close_matches
from typing import NamedTuple

from cookbook.errors import RequestError, UnknownName
from cookbook.heat.phase import Phase
from cookbook.table import rows

ROOM_C = 22.0
ROOM_VAPOUR_PA = 1300.0
COOKER_EMISSIVITY = 0.9


class Cooker(NamedTuple):
    """A cooker: its kind, where its pit probe sits, and the probe's offset K (air at the meat less reading) if known.

    `hot_side` names the warmer side once it is known, `hotter_k` by how many K it runs above the other one (two
    probes on the grate tell). Zones are symmetrical until both are; then the meat's long side faces the hot one.
    """

    kind: str = "oven"
    place: str = "grate"
    offset_k: float = 0.0
    offset_sd_k: float | None = None
    hot_side: str | None = None
    hotter_k: float | None = None
    cooks: int = 0
    name: str | None = None

    @property
    def warmer(self) -> str:
        """The hot side as sentences name it."""
        return self.hot_side or "hot side"


class Wrap(NamedTuple):
    """Wrapped in `kind` ("foil" or "paper") from a core of `core_c` or from `minute` on."""

    kind: str = "foil"
    core_c: float | None = 70.0
    minute: float | None = None


class Sear(NamedTuple):
    """`minutes` in air of `pit_c`, before the cook if `first`, else after the pull and before the rest."""

    pit_c: float
    minutes: float
    first: bool = False


class Rest(NamedTuple):
    """`minutes` of rest in a `cover`: "bare", "tented", "foil" or "box"."""

    minutes: float = 20.0
    cover: str = "tented"
    room_c: float = ROOM_C


class Temper(NamedTuple):
    """`minutes` on the counter before the cook."""

    minutes: float
    room_c: float = ROOM_C


class Event(NamedTuple):
    """At `minute` of the cook: "lid" (open `value` minutes), "set" (pit to `value` °C), "out" (the fuel is out)."""

    minute: float
    did: str
    value: float = 0.0


def cooker_row(kind: str) -> dict[str, str]:
    """The table's row of a kind of cooker; UnknownName with the kinds there are."""
    for row in rows("heat_cookers"):
        if row["kind"] == kind:
            return row
    known = [row["kind"] for row in rows("heat_cookers")]
    near = get_close_matches(kind, known, 2, 0.5)
    raise UnknownName("cooker", kind, near or known, mend=None if near else f"known are {', '.join(known)}")


def cover_row(use: str, kind: str) -> dict[str, str]:
    """The table's row of a wrap or a rest."""
    for row in rows("heat_covers"):
        if row["use"] == use and row["kind"] == kind:
            return row
    raise UnknownName(use, kind, [row["kind"] for row in rows("heat_covers") if row["use"] == use])


def offset_spread_k(cooker: Cooker) -> float:
    """One sigma of the pit probe's offset: learned, or by where it sits."""
    if cooker.offset_sd_k is not None:
        return cooker.offset_sd_k
    if cooker.place not in ("grate", "lid", "door"):
        raise UnknownName("place of a pit probe", cooker.place, ["grate", "lid", "door"])
    row = cooker_row(cooker.kind)
    return float(row["grate_k"] if cooker.place == "grate" else row["lid_k"])


def _covered(name: str, use: str, kind: str, air_c: float | None, *, pit: bool, vapour: float,
             minutes: float | None = None) -> Phase:
    row = cover_row(use, kind)
    return Phase(name, air_c, float(row["h"]), float(row["emissivity"]), float(row["evaporation"]), vapour,
                 minutes=minutes, pit=pit, wrapped=use == "wrap")


def phases_of(cooker: Cooker, pull_c: float, *, temper: Temper | None = None, wrap: Wrap | None = None,
              sear: Sear | None = None, rest: Rest | None = None, pulled_min: float | None = None,
              standing_min: float = 0.0) -> tuple[tuple[Phase, ...], int, float]:
    """The list of phases, which of them ends with the pull, and the seconds before the fire that tempering takes."""
    row = cooker_row(cooker.kind)
    h, vapour = float(row["h"]), float(row["vapour_pa"])
    rest = rest or Rest()
    before_min = temper.minutes if temper is not None else 0.0
    phases: list[Phase] = []
    if temper is not None and temper.minutes > 0:
        phases.append(_covered("temper", "temper", "bare", temper.room_c, pit=False, vapour=ROOM_VAPOUR_PA,
                               minutes=temper.minutes))
    hot = None if sear is None else Phase("sear", sear.pit_c, h, COOKER_EMISSIVITY, 1.0, vapour, minutes=sear.minutes)
    if hot is not None and sear is not None and sear.first:
        phases.append(hot)
    cook = Phase("cook", None, h, COOKER_EMISSIVITY, 1.0, vapour)
    if wrap is not None and (wrap.minute is not None or (wrap.core_c is not None and wrap.core_c < pull_c)):
        begin = {"until_min": before_min + wrap.minute} if wrap.minute is not None else {"core_c": wrap.core_c}
        phases += [cook._replace(**begin), _covered("wrapped", "wrap", wrap.kind, None, pit=True, vapour=vapour)]
    else:
        phases.append(cook)
    pulled = len(phases) - 1
    if pulled_min is None:
        phases[pulled] = phases[pulled]._replace(core_c=pull_c)
    else:
        end_min = before_min + pulled_min
        phases = [one._replace(until_min=end_min if one.until_min is None else min(one.until_min, end_min))
                  for one in phases]
    if hot is not None and sear is not None and not sear.first:
        phases.append(hot)
    if rest.minutes < 0 or rest.minutes > 24 * 60:
        raise RequestError(f"a rest of {rest.minutes:g} minutes", mend="give between 0 and 1440 minutes")
    resting = _covered("rest", "rest", rest.cover, rest.room_c, pit=False, vapour=ROOM_VAPOUR_PA,
                       minutes=max(rest.minutes, 1.0))
    phases.append(resting)
    if standing_min > 1.0:
        phases.append(resting._replace(name="standing", minutes=standing_min, standing=True))
    return tuple(phases), pulled, 60.0 * before_min
