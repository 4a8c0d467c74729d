"""Dishes made by hand, so that a test of the day needs no heat room: a forecast of so many minutes."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import UTC, datetime
from typing import Any

import pytest

from cookbook.files import parse
from cookbook.heat import Cooker, Forecast, Point, Range, Rest, Slice, Wrap, Zone, bands
from cookbook.kitchen.forecasting.outlook import Taught, Wanted
from cookbook.meat import Cut, Piece
from cookbook.plan.dish import Dish, Hold
from cookbook.plan.fire import Fire
from cookbook.quantity import Interval
from cookbook.recipe import Recipe
from cookbook.recipe import read as read_recipe

EAT = datetime(2026, 12, 25, 18, 0, tzinfo=UTC)
FIRE = Fire(Interval(20, 30, 40), "charcoal", Interval(1, 2, 3), Interval(0.3, 0.5, 1.0), Interval(0.1, 0.2, 0.5),
            ("practice", "practice"))  # fmt: skip
COOK = """\
kind: cook
title: Loin over cherry
cut: pork loin, boneless
coats: [{recipe: paste}]
pit: {temperature: 130 °C, cooker: drum}
pull_at: 60 °C
steps: [%s]
"""


def quick(patch: pytest.MonkeyPatch, members: int = 24) -> None:
    """Let the heat room answer from a few members: rougher numbers, the same plan round them."""
    from cookbook.heat import forecast as whole
    from cookbook.kitchen.forecasting import outlook


    def few(*piece: Any, **said: Any) -> Forecast:
        return whole(*piece, **{**said, "members": min(said.get("members", members), members)})

    patch.setattr(outlook, "forecast", few)


def recipe(steps: str = "", text: str = COOK) -> Recipe:
    """A cook with these steps."""
    found, problems = read_recipe(parse((text % steps).encode(), "loin.yaml"), "loin")
    assert found is not None, problems
    return found


def zones(species: str, **shares: float) -> list[Zone]:
    """Zones by the band's name, blanks as underlines; what isn't named has nothing."""
    named = {name.replace("_", " "): share for name, share in shares.items()}
    assert set(named) <= {band.name for band in bands(species)}
    return [
        Zone(band.name, band.low_c, band.high_c, named.get(band.name, 0.0), 0.0, 1.0) for band in bands(species)
    ]


def sliced(species: str, names: Sequence[str], thickness_cm: float = 2.0) -> list[Slice]:
    """Slices from an end inwards, each all of one doneness."""
    return [
        Slice(thickness_cm * place, thickness_cm, place == 0, zones(species, **{name.replace(" ", "_"): 1.0}))
        for place, name in enumerate(names)
    ]


def curve(minutes: float, end_c: float) -> list[Point]:
    """A core that rises in a straight line, 5 K above and below it for the outer percentiles."""
    count = 30
    at = [(minutes * place / count, 4 + (end_c - 4) * place / count) for place in range(count + 1)]
    return [Point(minute, Range(core - 5, core, core + 5), core + 30, 130.0) for minute, core in at]


def forecast(minutes: tuple[float, float, float], **changes: Any) -> Forecast:
    """A forecast of these minutes to the pull."""
    said = Forecast(
        True, 60.0, Range(*minutes), minutes[0], Range(62, 64, 66), Range(63, 65, 67), Range(10, 20, 30),
        Range(8, 10, 14), zones("pork", medium=1.0), [], [], curve(minutes[1], 60), ["made by hand"], [], [],
    )  # fmt: skip
    return said._replace(**changes)


def dish(
    minutes: tuple[float, float, float] = (90.0, 120.0, 180.0),
    *,
    piece: Piece | None = None,
    cooker: str = "drum",
    steps: str = "",
    hold: Hold | None = None,
    rest: Rest | None = None,
    wrap: Wrap | None = None,
    pit_c: float = 130.0,
    **changes: Any,
) -> Dish:
    """A dish with such a forecast."""
    meat = piece or Cut.named("pork loin, boneless").piece(mass_g=3000)
    found = forecast(minutes, **changes)
    wanted = Wanted(meat, pit_c, found.pull_c, 4.0, Cooker(cooker, name=cooker), rest or Rest(25, "tented"), wrap)
    return Dish(recipe(steps), meat, wanted, found, hold or Hold("tented", 60.0, 120.0, 61.0), Taught())
