"""What a forecast says of roasts in a fire, and what it refuses."""

from __future__ import annotations

import json
from functools import cache

import pytest

from cookbook.errors import PieceError, RequestError, UnknownName
from cookbook.heat import Cooker, Event, Forecast, Range, Rest, Sear, Temper, Wrap, forecast
from cookbook.heat.outlook import SAFETY
from cookbook.heat.setting import phases_of
from cookbook.meat import Cut


@cache
def rib(**said: object) -> Forecast:
    whole = {"pit_c": 121.0, "pull_c": 49.0, "members": 60, **said}
    return forecast(Cut.named("rib roast, bone in").piece(ribs=3), **whole)  # type: ignore[arg-type]


def middle(told: Forecast) -> float:
    assert told.minutes_to_pull.p50 is not None
    return told.minutes_to_pull.p50


def ordered(span: Range) -> bool:
    assert span.p10 is not None
    assert span.p50 is not None
    assert span.p90 is not None
    return span.p10 <= span.p50 <= span.p90


def test_every_number_comes_with_its_interval() -> None:
    told = rib()
    assert told.reaches
    for span in (told.minutes_to_pull, told.peak_c, told.minutes_to_peak, told.cook_loss_percent,
                 told.core_at_slicing_c):
        assert ordered(span)
    assert told.check_from_minutes == told.minutes_to_pull.p10


def test_the_same_seed_says_the_same() -> None:
    again = forecast(Cut.named("rib roast, bone in").piece(ribs=3), pit_c=121, pull_c=49, members=60)
    assert again.json() == rib().json()


def test_the_answer_is_plain_json() -> None:
    plain = json.loads(json.dumps(rib().json()))
    assert set(plain["minutes_to_pull"]) == {"p10", "p50", "p90"}
    assert plain["curve"][0].keys() == {"minute", "core_c", "surface_c", "pit_c"}


def test_a_thermometer_is_never_replaced_and_the_grounds_are_named() -> None:
    told = rib()
    assert SAFETY in told.notes
    assert any("hot side" in note for note in told.notes)
    assert any("rib roast, bone in" in ground for ground in told.rests_on)
    assert any("no earlier cook" in ground for ground in told.rests_on)


@pytest.mark.parametrize(("hotter", "cooler"), [
    ({"pit_c": 150.0}, {}), ({"start_c": 15.0}, {}), ({}, {"pull_c": 54.0})])
def test_more_fire_a_warmer_start_or_a_lower_pull_take_less_time(
        hotter: dict[str, float], cooler: dict[str, float]) -> None:
    assert middle(rib(**hotter)) < middle(rib(**cooler))


def test_a_thicker_roast_takes_longer() -> None:
    cut = Cut.named("pork loin, boneless")
    thin, thick = (forecast(cut.piece(length_cm=30, width_cm=12, thickness_cm=height), pit_c=130, pull_c=60,
                            members=40) for height in (6.0, 9.0))
    assert middle(thick) > 1.3 * middle(thin)


def test_the_core_rises_more_after_a_hotter_fire() -> None:
    assert (rib(pit_c=180.0).peak_c.p50 or 0) > (rib().peak_c.p50 or 0) + 3


@pytest.mark.long
def test_a_bare_rest_falls_sooner_than_a_box() -> None:
    bare, box = rib(rest=Rest(90, "bare")), rib(rest=Rest(90, "box"))
    assert (bare.core_at_slicing_c.p50 or 0) < (box.core_at_slicing_c.p50 or 0)


def test_zones_add_up_to_one_in_every_slice_and_overall() -> None:
    told = rib()
    for zones in (told.zones, told.household, *(one.zones for one in told.slices)):
        assert sum(zone.share for zone in zones) == pytest.approx(1.0, abs=1e-6)


def test_end_cuts_are_listed_apart_and_are_done_further() -> None:
    told = rib()
    ends = [one for one in told.slices if one.end_cut]
    middles = [one for one in told.slices if not one.end_cut]
    assert ends[0].zones[-1].share > middles[-1].zones[-1].share


def test_a_pit_no_hotter_than_the_target_never_gets_there() -> None:
    told = forecast(Cut.named("brisket, whole").piece(mass_g=5000), pit_c=90, pull_c=93)
    assert not told.reaches
    assert told.minutes_to_pull == Range(None, None, None)
    assert "never reaches" in told.warnings[0]


@pytest.mark.long
@pytest.mark.tenth
def test_foil_shortens_a_brisket_and_paper_less_so() -> None:
    piece = Cut.named("brisket, whole").piece(mass_g=5500)
    said = {"pit_c": 121, "pull_c": 93, "cooker": Cooker("offset"), "members": 100}
    bare, paper, foil = (middle(forecast(piece, wrap=wrap, **said))  # type: ignore[arg-type]
                         for wrap in (None, Wrap("paper"), Wrap("foil")))
    assert foil < paper < bare
    assert foil < 0.85 * bare


def test_an_hour_on_the_counter_saves_some_minutes_of_fire() -> None:
    saved = middle(rib()) - middle(rib(temper=Temper(60)))
    assert 2 < saved < 25


def test_a_sear_after_the_pull_browns_the_outside_and_adds_to_the_rise() -> None:
    seared = rib(sear=Sear(260, 8))
    assert seared.zones[-1].share > rib().zones[-1].share


@pytest.mark.long
def test_an_open_lid_costs_time_and_a_hotter_fire_gains_it() -> None:
    assert middle(rib(events=(Event(40, "lid", 6), Event(90, "lid", 6)))) > middle(rib())
    assert middle(rib(events=(Event(30, "set", 150),))) < middle(rib())


@pytest.mark.long
@pytest.mark.tenth
def test_a_dead_fire_never_gets_there() -> None:
    told = rib(events=(Event(20, "out"),))
    assert not told.reaches


def test_the_fire_of_the_last_hour_goes_on_and_not_the_set_point() -> None:
    log = tuple((float(minute), 105.0) for minute in range(0, 65, 5))
    colder = rib(pit_log=log, readings=((60.0, 9.0),))
    hotter = rib(pit_log=log, readings=((60.0, 9.0),), from_now_c=150.0)
    assert middle(hotter) < middle(colder) - 10


@pytest.mark.long
def test_a_probe_in_the_lid_makes_the_range_wider() -> None:
    lid, grate = (rib(cooker=Cooker("kettle", place)).minutes_to_pull for place in ("lid", "grate"))
    assert (lid.p90 or 0) - (lid.p10 or 0) > (grate.p90 or 0) - (grate.p10 or 0)


@pytest.mark.parametrize(("said", "word"), [
    ({"pit_c": 50.0}, "a pit of 50"), ({"start_c": 60.0}, "no warmer"), ({"start_c": -10.0}, "frozen"),
    ({"pull_c": 11.1}, "no meat is done"),
    ({"pull_c": 105.0}, "boiling"), ({"readings": ((30.0, 9.0), (10.0, 8.0))}, "go back"),
    ({"readings": ((5.0, 39.0),)}, "°F"), ({"readings": ((200.0, 125.0),)}, "°F"),
    ({"events": (Event(5, "dance"),)}, "dance"), ({"pit_log": ((30.0, 120.0), (10.0, 120.0))}, "goes back")])
def test_what_cannot_be_is_refused_with_the_reason(said: dict[str, float], word: str) -> None:
    with pytest.raises(RequestError, match=word) as caught:
        rib(**said)
    assert caught.value.mend


def test_unknown_cookers_and_covers_name_the_known_ones() -> None:
    with pytest.raises(UnknownName, match="volcano"):
        rib(cooker=Cooker("volcano"))
    with pytest.raises(UnknownName, match="blanket"):
        rib(rest=Rest(20, "blanket"))


def test_a_piece_of_sixty_kilos_or_twenty_grams_is_refused() -> None:
    with pytest.raises(PieceError):
        forecast(Cut.named("pork shoulder").piece(mass_g=20), pit_c=120, pull_c=60)
    with pytest.raises(PieceError):
        forecast(Cut.named("pork shoulder").piece(mass_g=60_000), pit_c=120, pull_c=60)


def test_a_bird_cooks_as_the_ellipsoid_of_its_flesh_and_bone() -> None:
    told = forecast(Cut.named("turkey, whole").piece(mass_g=5500), pit_c=163, pull_c=74, members=24)
    assert "ellipsoid" in told.rests_on[0]
    assert 150 < middle(told) < 300


@pytest.mark.long
def test_a_wrapped_roast_that_was_pulled_rests_from_then_on() -> None:
    piece = Cut.named("brisket, flat").piece(mass_g=2500)
    said = {"pit_c": 121.0, "pull_c": 90.0, "pulled_min": 400.0, "rest": Rest(60), "members": 12}
    for wrap in (Wrap("foil", None, 200.0), Wrap("foil", 70.0), Wrap("foil", 89.9)):
        told = forecast(piece, wrap=wrap, **said)  # type: ignore[arg-type]
        assert told.minutes_to_pull == Range(400.0, 400.0, 400.0)
        assert told.minutes_to_peak.p50 is not None
        assert told.minutes_to_peak.p50 < 60
        assert told.curve[-1].minute == pytest.approx(460, abs=3)


def test_the_pull_is_timed_from_the_fire_with_tempering_and_sear_before_it() -> None:
    told = rib(temper=Temper(60), sear=Sear(230, 10, first=True), pulled_min=150.0, members=8)
    assert told.minutes_to_pull.p50 == pytest.approx(150.0)


def test_a_misspelt_cooker_is_told_its_likely_name_and_a_strange_one_all_there_are() -> None:
    with pytest.raises(UnknownName) as near:
        rib(cooker=Cooker("drumm"))
    assert near.value.nearest[0] == "drum"
    with pytest.raises(UnknownName) as far:
        rib(cooker=Cooker("xyzzy"))
    assert "kamado" in str(far.value.mend)


def test_one_cook_learned_from_is_one() -> None:
    assert "learned from 1 earlier cook" in rib(learned_from=1, members=8).rests_on
    assert "learned from 2 earlier cooks" in rib(learned_from=2, members=8).rests_on


def test_what_was_learned_of_the_probe_is_what_it_rests_on() -> None:
    told = forecast(Cut.named("rib roast, bone in").piece(ribs=3), pit_c=121, pull_c=49, members=8,
                    cooker=Cooker("drum", "lid"), priors={"pit_k": (5.4, 7.7)})
    assert "pit probe at the lid: offset 5 ± 8 K" in told.rests_on


def test_phases_end_by_the_clock_of_the_whole_day() -> None:
    phases, pulled, before_s = phases_of(Cooker("offset"), 93.0, temper=Temper(60), wrap=Wrap("foil", None, 200.0),
                                         pulled_min=400.0)
    assert before_s == 3600.0
    assert [(one.name, one.until_min, one.core_c) for one in phases[1:pulled + 1]] == [
        ("cook", 260.0, None), ("wrapped", 460.0, None)]
    late, pulled, _ = phases_of(Cooker("offset"), 93.0, wrap=Wrap("foil", None, 500.0), pulled_min=400.0)
    assert [one.until_min for one in late[:pulled + 1]] == [400.0, 400.0]
    before, pulled, _ = phases_of(Cooker("offset"), 93.0, wrap=Wrap("foil", 70.0))
    assert [(one.core_c, one.until_min) for one in before[:pulled + 1]] == [(70.0, None), (93.0, None)]
