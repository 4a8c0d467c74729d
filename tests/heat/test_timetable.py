"""The table of times that a card prints and its page reads: it says what a forecast says."""

from __future__ import annotations

import json
import random
from typing import Any

import pytest

from cookbook.heat import Cooker, Rest, forecast
from cookbook.heat.timetable import SCALES, Timetable, sizes_of, timetable, with_doubt
from cookbook.meat import Cut

REST = Rest(25, "tented")
PULLS = (48.0, 56.0, 64.0, 72.0)


@pytest.fixture(scope="module")
def loin() -> Timetable:
    """Boneless pork loin at 130 °C: three lengths, two cookers."""
    cut = Cut.named("pork loin, boneless")
    pieces = [cut.piece(mass_g=mass) for mass in (900, 2200, 5000)]
    cookers = {"drum": Cooker("drum"), "pellet": Cooker("pellet")}
    table = timetable(pieces, PULLS, cookers, scales=SCALES, pit_c=130, rest=REST)
    own = forecast(pieces[1], pit_c=130, pull_c=60, rest=REST, cooker=Cooker("drum"), members=40)
    return with_doubt(table, own, pieces[1], Cooker("drum"), "drum", pit_c=130, rest=REST)


def sizes(mass_g: float) -> tuple[float, float, float]:
    return sizes_of(Cut.named("pork loin, boneless").piece(mass_g=mass_g))


def test_for_its_own_piece_it_says_what_the_forecast_says(loin: Timetable) -> None:
    own = forecast(Cut.named("pork loin, boneless").piece(mass_g=2200), pit_c=130, pull_c=60, rest=REST,
                   cooker=Cooker("drum"), members=40)
    read = loin.timing(sizes(2200), "drum", 60)
    assert list(read.minutes) == pytest.approx(list(own.minutes_to_pull))
    assert list(read.board_c) == pytest.approx(list(own.core_at_slicing_c))
    assert read.check_from == pytest.approx(own.check_from_minutes)


def test_a_thicker_a_longer_a_hotter_one_takes_longer(loin: Timetable) -> None:
    def middle(mass_g: float, pull: float, times: float = 1.0) -> float:
        length, width, height = sizes(mass_g)
        found = loin.timing((length, width * times, height * times), "drum", pull).minutes.p50
        assert found is not None
        return found

    assert middle(1000, 60) < middle(2000, 60) < middle(4000, 60)
    assert middle(2000, 52) < middle(2000, 60) < middle(2000, 68)
    assert middle(2000, 60, 0.85) < middle(2000, 60) < middle(2000, 60, 1.2)


def test_at_one_section_a_longer_loin_takes_hardly_longer(loin: Timetable) -> None:
    """Twice as long is not twice as thick: time never follows the weight."""
    one, two = (loin.timing(sizes(mass), "drum", 60).minutes.p50 for mass in (2200, 4400))
    assert one is not None
    assert two is not None
    assert 1.0 <= two / one < 1.15


def test_the_pull_for_what_is_wanted_on_the_board_brings_it_there(loin: Timetable) -> None:
    for served in (58.0, 62.5, 68.0):
        pull = loin.pull_for(sizes(2200), "drum", served)
        board = loin.timing(sizes(2200), "drum", pull).board_c.p50
        assert board == pytest.approx(served, abs=0.5)
    assert loin.pull_for(sizes(2200), "drum", 20.0) == PULLS[0]


def test_it_is_kept_and_read_back_as_it_is(loin: Timetable) -> None:
    kept = Timetable.read(json.loads(json.dumps(loin.json())))
    assert kept.timing(sizes(3000), "pellet", 61.3) == loin.timing(sizes(3000), "pellet", 61.3)
    with pytest.raises((KeyError, TypeError, ValueError)):
        Timetable.read({"growth": "longer"})


def test_a_pit_too_cool_gives_no_number() -> None:
    piece = Cut.named("pork loin, boneless").piece(mass_g=1000)
    table = timetable([piece], (50.0, 69.0), {"oven": Cooker("oven")}, scales=(1.0,), pit_c=64, rest=REST)
    assert table.timing(sizes_of(piece), "oven", 69).minutes.p50 is None
    assert table.timing(sizes_of(piece), "oven", 50).minutes.p50 is not None


def test_what_never_gets_there_leaves_no_number_that_is_none() -> None:
    import numpy as np

    from cookbook.heat.timetable import _factors

    never = np.inf
    minutes = np.array([[100.0, 80.0, 150.0, 120.0], [200.0, never, never, never], [never, 300.0, never, never]])
    found = _factors(minutes)
    assert found[0] == pytest.approx((0.86, 1.1, 1.41))
    assert found[1][0] == 1.0
    assert found[2] == found[1]
    json.loads(json.dumps(found, allow_nan=False))


def test_another_cooker_has_its_own_spread(loin: Timetable) -> None:
    """In drier, faster air the middle of all members is not as far from the middle member as on the card's own."""
    own, other = loin.doubt.minutes["drum"], loin.doubt.minutes["pellet"]
    assert len(own) == len(other) == len(PULLS)
    assert all(low < middle < high for low, middle, high in other)
    assert own != other


@pytest.mark.long
@pytest.mark.parametrize(("name", "bones", "pit_c", "rest", "pulls"), [
    ("rib roast, bone in", "on", 121, Rest(40, "tented"), (36, 50, 75)),
    ("pork loin, boneless", None, 130, REST, (48, 60, 72)),
    ("leg of lamb, bone in", None, 150, REST, (40, 58, 73)),
    ("beef tenderloin", None, 200, Rest(15, "tented"), (40, 56, 70)),
    ("turkey, whole", None, 165, Rest(30, "tented"), (60, 72, 78)),
    ("pork loin, bone in", "tied", 180, Rest(20, "tented"), (48, 60, 72))])
def test_it_is_within_a_twentieth_of_a_direct_forecast(name: str, bones: str | None, pit_c: float, rest: Rest,
                                                       pulls: tuple[int, int, int]) -> None:
    """Sizes by weight and by tape, other cookers, every pull: the middle time against a forecast of 200 members."""
    from cookbook.kitchen.forecasting.timetables import knots, pieces_of

    cut = Cut.named(name)
    low, high = cut.usual_kg
    own = cut.piece(mass_g=1000 * (low * high) ** 0.5, bones=bones)
    pieces, scales = pieces_of(own)
    cookers = {kind: Cooker(kind) for kind in ("drum", "oven", "kamado", "fan oven", "pellet")}
    said: dict[str, Any] = {"pit_c": pit_c, "rest": rest}
    table = timetable(pieces, sorted({*knots(pulls[0], pulls[-1], cut), pulls[1]}), cookers, scales=scales, **said)
    first = forecast(own, pull_c=pulls[1], cooker=Cooker("drum"), **said)
    table = with_doubt(table, first, own, Cooker("drum"), "drum", **said)
    chance = random.Random(name)
    for _ in range(14):
        piece = cut.piece(mass_g=1000 * low * (high / low) ** chance.random(), bones=bones)
        if chance.random() < 0.4:
            piece = cut.piece(length_cm=piece.dimensions_cm["length"].mid * chance.uniform(0.93, 1.07),
                              girth_cm=piece.shape.girth_cm * chance.uniform(0.93, 1.07), bones=bones)
        cooker, pull = chance.choice(list(cookers)), chance.uniform(pulls[0], pulls[-1])
        direct = forecast(piece, pull_c=pull, cooker=Cooker(cooker), **said)
        read = table.timing(sizes_of(piece), cooker, pull)
        assert direct.minutes_to_pull.p50 is not None
        assert read.minutes.p50 == pytest.approx(direct.minutes_to_pull.p50, rel=0.05), (piece.method, cooker, pull)
