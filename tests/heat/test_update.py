"""Readings sharpen the forecast; bad readings are sorted out; finished cooks teach; advice follows."""

from __future__ import annotations

import json
from functools import cache
from types import SimpleNamespace

import numpy as np
import pytest

from cookbook.errors import RequestError
from cookbook.heat import Cooker, Forecast, Lesson, Rest, forecast, learned_priors, lesson
from cookbook.heat.advice import most_useful, pull_advice, sensitivity, slicing
from cookbook.heat.fire import program
from cookbook.heat.learn import OF_COOKER, OF_CUT, lesson_of
from cookbook.heat.outlook import setup
from cookbook.heat.prior import NAMES, Learned, Priors, draw, members_of, priors
from cookbook.heat.reading import Reading, sorted_out, thinned
from cookbook.heat.update import _LastPass, conditioned, evidence_of, usual_residual_k
from tests.bench.heat_twins import ROASTS, Twin, nominal, twin

KIND = ROASTS[0]


@cache
def cook(number: int = 3) -> Twin:
    return twin(KIND, number)


def told(share: float, cook_number: int = 3, **said: object) -> Forecast:
    one = cook(cook_number)
    now = share * one.true_min
    whole = {"readings": [p for p in one.core_log if p[0] <= now], "pit_log": [p for p in one.pit_log if p[0] <= now],
             "pit_c": KIND.pit_c, "pull_c": KIND.pull_c, "start_c": 4.4, "cooker": Cooker("offset"), **said}
    return forecast(one.roast, **whole)  # type: ignore[arg-type]


def width(one: Forecast) -> float:
    span = one.minutes_to_pull
    assert span.p10 is not None
    assert span.p90 is not None
    return span.p90 - span.p10


def test_the_longer_the_log_the_narrower_the_range() -> None:
    before, half, late = told(0.0, readings=None, pit_log=()), told(0.5), told(0.8)
    assert width(late) < width(half) < width(before)


@pytest.mark.long
def test_three_quarters_through_the_pull_is_known_within_ten_minutes_on_the_mean() -> None:
    off = []
    for number in range(1, 5):
        one = cook(number)
        late = told(0.75, cook_number=number).minutes_to_pull.p50
        assert late is not None
        off.append(abs(late - one.true_min))
    assert np.mean(off) < 10
    assert max(off) < 20


def test_the_answer_says_how_the_estimate_moved() -> None:
    assert any("the readings move the pull by" in note for note in told(0.5).notes)


def test_one_reading_is_enough_and_a_gap_does_no_harm() -> None:
    assert width(told(0.5, readings=[(60.0, 12.0)])) > width(told(0.5))
    assert told(0.5, readings=[(20.0, 5.0), (80.0, 18.0)]).reaches


def test_a_spike_is_left_out_and_a_moved_probe_begins_anew() -> None:
    readings = [Reading(float(5 * k), 10.0 + k) for k in range(8)]
    expected = np.array([one.temp_c for one in readings])
    spiked = [*readings[:4], readings[4]._replace(temp_c=30.0), *readings[5:]]
    keep, sitting, notes = sorted_out(spiked, expected)
    assert keep == [0, 1, 2, 3, 5, 6, 7]
    assert set(sitting) == {0}
    assert "left out" in notes[0]
    moved = [*readings[:4], *(one._replace(temp_c=one.temp_c + 9) for one in readings[4:])]
    keep, sitting, notes = sorted_out(moved, expected)
    assert keep == list(range(8))
    assert sitting == [0, 0, 0, 0, 1, 1, 1, 1]
    assert "moved" in notes[0]


def test_falling_readings_are_survived() -> None:
    one = told(0.5, readings=[(30.0, 9.0), (40.0, 8.0), (50.0, 11.0), (60.0, 10.5)])
    assert one.reaches


def test_a_long_log_is_averaged_and_keeps_its_depths() -> None:
    log = [Reading(float(k), 5.0 + k / 10) for k in range(200)] + [Reading(199.5, 50.0, 3.0)]
    short = thinned(log)
    assert len(short) <= 40
    assert sum(one.depth_cm == 3.0 for one in short) == 1


def test_a_second_probe_nearer_the_surface_is_taken_with_its_depth() -> None:
    log = [p for p in cook().core_log if p[0] <= 100]
    with_depth = [*((a, b, None) for a, b in log), (101.0, log[-1][1] + 12.0, 3.0)]
    assert told(0.5, readings=with_depth).minutes_to_pull != told(0.5, readings=log).minutes_to_pull


def test_readings_after_the_pull_sharpen_the_peak() -> None:
    resting = [(200.0, 49.0), (206.0, 50.4), (212.0, 51.6), (218.0, 52.6)]
    rising = told(0.0, readings=[*[p for p in cook().core_log if p[0] < 200], *resting], pit_log=(), pulled_min=200.0,
                  rest=Rest(40))
    before = told(0.0, readings=None, pit_log=(), rest=Rest(40))
    after_width = (rising.peak_c.p90 or 0) - (rising.peak_c.p10 or 0)
    assert after_width < (before.peak_c.p90 or 0) - (before.peak_c.p10 or 0)
    assert rising.minutes_to_pull.p50 == pytest.approx(200.0, abs=2)
    assert any("the readings move the peak by" in note for note in rising.notes)
    assert after_width < 0.6 * ((before.peak_c.p90 or 0) - (before.peak_c.p10 or 0))
    sliced = [(one.core_at_slicing_c.p90 or 0) - (one.core_at_slicing_c.p10 or 0) for one in (rising, before)]
    assert sliced[0] < 0.65 * sliced[1]


def test_before_now_the_planned_fire_held_and_after_now_it_is_the_one_asked_for() -> None:
    at_s, air_c = program(121.0, now_min=60.0, from_now_c=150.0)
    assert np.interp([0.0, 1800.0, 3590.0, 3700.0, 20000.0], at_s, air_c).tolist() == [121, 121, 121, 150, 150]


@pytest.mark.long
def test_readings_of_the_rest_sharpen_what_slicing_now_means() -> None:
    said = {"serve_c": 50.0, "pit_c": 121.0, "pull_c": 47.2, "pulled_min": 205.0, "start_c": 4.4, "now_min": 12.0}
    log = [*[p for p in cook().core_log if p[0] < 205.0], (205.0, 47.2), (211.0, 48.4), (217.0, 49.5)]
    blind = slicing(nominal(KIND), **said)  # type: ignore[arg-type]
    seen = slicing(nominal(KIND), readings=log, **said)  # type: ignore[arg-type]
    spreads = [(one.now_c.p90 or 0.0) - (one.now_c.p10 or 0.0) for one in (seen, blind)]
    assert spreads[0] < 0.6 * spreads[1]
    assert seen.now_c.p50 == pytest.approx(49.5, abs=1.5)
    assert seen.slice_between_min.p10 is not None
    assert "after the pull for 50 °C" in seen.sentence
    assert seen.waits_min["box"] > seen.waits_min["bare"]


def test_a_hot_side_is_said_once_it_is_known() -> None:
    known = forecast(nominal(KIND), pit_c=121, pull_c=49, cooker=Cooker("drum", hot_side="back"), members=8).notes
    unknown = forecast(nominal(KIND), pit_c=121, pull_c=49, cooker=Cooker("drum"), members=8).notes
    assert any("hot side is the back" in note and "stay symmetrical" in note for note in known)
    assert any("zones are symmetrical: this cooker's hot side is not known" in note for note in unknown)


def test_a_hot_side_that_was_measured_splits_the_zones() -> None:
    drum = Cooker("drum", hot_side="back", hotter_k=20.0)
    told = forecast(nominal(KIND), pit_c=121, pull_c=49, cooker=drum, members=8)
    assert not any("symmetrical" in note for note in told.notes)
    warmest = {side: zones[-1].share for side, zones in told.sides.items()}
    assert list(warmest) == ["towards the back", "away from it"]
    assert warmest["towards the back"] > told.zones[-1].share > warmest["away from it"]
    assert all(sum(zone.share for zone in zones) == pytest.approx(1.0) for zones in told.sides.values())
    even = forecast(nominal(KIND), pit_c=121, pull_c=49, cooker=Cooker("drum"), members=8)
    assert even.sides == {}
    assert told.minutes_to_pull == pytest.approx(even.minutes_to_pull, rel=0.01)
    back, away = ([zone.share for zone in zones] for zones in told.sides.values())
    assert [zone.share for zone in told.zones] == pytest.approx((np.array(back) + away) / 2, abs=1e-3)


def test_a_new_kitchen_works_from_the_shipped_priors() -> None:
    assert learned_priors([], cooker=Cooker("drum", name="my drum"), cut="rib") == ({}, 0)


def says(value: float, sigma: float, cooker: str = "my drum", cut: str = "rib", **parts: float) -> Lesson:
    """A cook that says of a sum of deviates, each with its part, that it is `value` give or take `sigma`."""
    along = np.array([parts.get(name, 0.0) for name in NAMES])
    rows = tuple(tuple(row) for row in (np.outer(along, along) / sigma ** 2).tolist())
    return Lesson(cooker, "grate", cut, "bare", rows, tuple((along * value / sigma ** 2).tolist()))


def shift(changes: Learned, name: str) -> float:
    """By how many of its own sigmas learning moved a parameter of a drum with its probe at the grate."""
    shipped, moved = priors()[name], changes[name][0]
    step = np.log(moved / shipped.middle) if shipped.scale == "log" else moved - shipped.middle
    return float(step / shipped.spread)


OURS = Cooker("drum", name="my drum", offset_sd_k=4.0)


def test_ten_cooks_pull_further_from_the_prior_and_are_surer_than_one() -> None:
    one, _ = learned_priors([says(1.5, 0.5, pit_k=1.0)], cooker=OURS, cut="rib")
    ten, count = learned_priors([says(1.5, 0.5, pit_k=1.0)] * 10, cooker=OURS, cut="rib")
    assert count == 10
    assert 0 < one["pit_k"][0] < ten["pit_k"][0] < 6.0
    assert ten["pit_k"][1] < one["pit_k"][1] < 4.0
    # by hand: own variance 0.7; a cook's own, 0.3, and its error, 0.25, over ten; pull 1.5
    assert shift(ten, "pit_k") == pytest.approx(1.5 * 0.7 / (0.7 + 0.55 / 10))
    assert ten["pit_k"][1] / 4.0 == pytest.approx(np.sqrt(1 / (1 / 0.7 + 10 / 0.55) + 0.3))


def test_what_cooks_say_of_a_sum_is_not_learned_twice_over() -> None:
    many = [says(1.0, 0.3, pit_k=1.0, wet=-1.0)] * 30
    changes, _ = learned_priors(many, cooker=OURS, cut="rib")
    assert shift(changes, "pit_k") - shift(changes, "wet") == pytest.approx(1.0, abs=0.05)
    assert shift(changes, "pit_k") == pytest.approx(-shift(changes, "wet"))
    known = priors(changes)
    z = np.random.default_rng(0).standard_normal((len(NAMES), 4000))
    own = known.deviates(z)
    sigma = np.array([changes[name][1] / priors()[name].spread for name in ("pit_k", "wet")])
    together = own[NAMES.index("pit_k")] * sigma[0] - own[NAMES.index("wet")] * sigma[1]
    # what is left of the sum is what differs from cook to cook, 0.3 twice; apart each is open still
    assert together.var() == pytest.approx(0.6, rel=0.1)
    assert sigma ** 2 == pytest.approx([0.65, 0.65], rel=0.05)
    assert Priors(known).root is None


def test_another_cut_on_the_same_fire_tells_the_fire_from_the_meat() -> None:
    ribs = [says(1.0, 0.3, pit_k=1.0, wet=-1.0)] * 10
    loins = [says(0.0, 0.3, cut="loin", pit_k=1.0)] * 10
    changes, count = learned_priors([*ribs, *loins], cooker=OURS, cut="rib")
    assert count == 20
    assert abs(shift(changes, "pit_k")) < 0.1
    assert shift(changes, "wet") < -0.75


def test_lessons_stay_with_their_cooker_and_their_cut() -> None:
    taught = [says(1.0, 0.3, pit_k=1.0), says(1.0, 0.3, wet=1.0)]
    changes, _ = learned_priors(taught, cooker=OURS._replace(name="another"), cut="rib")
    assert shift(changes, "pit_k") == pytest.approx(0.0, abs=1e-9)
    assert shift(changes, "wet") > 0.5
    changes, _ = learned_priors(taught, cooker=OURS, cut="loin")
    assert shift(changes, "pit_k") > 0.5
    assert shift(changes, "wet") == pytest.approx(0.0, abs=1e-9)
    assert learned_priors(taught, cooker=OURS._replace(name="another"), cut="loin") == ({}, 0)
    assert set(changes) == {*OF_COOKER, *OF_CUT}


def test_a_lesson_is_kept_and_read_again_and_one_on_other_parameters_is_refused() -> None:
    one = says(1.0, 0.5, wet=1.0)
    assert Lesson.read(json.loads(json.dumps(one.json()))) == one
    with pytest.raises(ValueError, match="other parameters"):
        Lesson.read({**one.json(), "weighed": [0.0]})


def test_evidence_of_a_linear_world_is_that_of_least_squares() -> None:
    generator = np.random.default_rng(2)
    slope, z = generator.standard_normal((9, len(NAMES))), generator.standard_normal((len(NAMES), 60))
    covariance = np.diag(generator.uniform(0.2, 2.0, 9))
    truth = generator.standard_normal(len(NAMES))
    found = evidence_of(z + 0.7, slope @ (z + 0.7) + 40.0, slope @ truth + 40.0, covariance)
    assert found.information == pytest.approx(slope.T @ np.linalg.inv(covariance) @ slope)
    assert found.weighed == pytest.approx(found.information @ truth)


def test_a_log_that_the_model_follows_badly_is_believed_less() -> None:
    plan = setup(cook().roast, pit_c=KIND.pit_c, pull_c=KIND.pull_c, start_c=4.4, now_min=90.0)
    done = conditioned(plan, [(30.0, 6.0), (90.0, 15.0)], members=24)
    well, badly = (lesson_of(plan, done._replace(residual_k=times * usual_residual_k(plan)), "bare")
                   for times in (0.9, 3.0))
    assert np.array(badly.weighed) * 9 == pytest.approx(np.array(well.weighed))
    assert np.array(badly.information) * 9 == pytest.approx(np.array(well.information))
    assert well.weighed == pytest.approx(done.evidence.weighed)


@pytest.mark.long
def test_after_nine_cooks_on_a_gauge_that_lies_the_next_are_sharper_than_from_the_shipped_priors() -> None:
    # A generated journal: a gauge in the lid that reads 14 K too low, cooks that else differ as twins do.
    cooker, roast, lie = Cooker("offset", "lid", name="ours"), nominal(KIND), 14.0
    hot = KIND._replace(pit_c=KIND.pit_c + lie)
    lessons = []
    for number in range(9):
        one = twin(hot, 300 + number)
        shown = [(minute, pit - lie) for minute, pit in one.pit_log]
        lessons.append(lesson(roast, one.core_log, pit_c=KIND.pit_c, pull_c=KIND.pull_c, start_c=4.4, cooker=cooker,
                              pit_log=shown))
    changes, count = learned_priors(lessons, cooker=cooker, cut=roast.name)
    assert count == 9
    before, after = (forecast(roast, pit_c=KIND.pit_c, pull_c=KIND.pull_c, start_c=4.4, cooker=cooker, priors=known)
                     for known in (None, changes))
    assert width(after) < 0.85 * width(before)
    fresh = [twin(hot, 400 + number).true_min for number in range(8)]
    errors = [np.mean([abs((known.minutes_to_pull.p50 or 0) - true) for true in fresh]) for known in (before, after)]
    assert errors[1] < 0.8 * errors[0]


def test_a_cook_without_readings_teaches_nothing() -> None:
    with pytest.raises(RequestError, match="teaches nothing"):
        lesson(nominal(KIND), [], pit_c=121, pull_c=49)


def test_pulling_earlier_asks_for_a_longer_rest() -> None:
    pairs = pull_advice(nominal(KIND), serve_c=54, pit_c=121)
    assert len(pairs) >= 3
    assert [pair.rest_min for pair in pairs] == sorted(pair.rest_min for pair in pairs)
    assert [pair.pull_c for pair in pairs] == sorted((pair.pull_c for pair in pairs), reverse=True)
    assert pairs[0].served_c.p50 == pytest.approx(54.0, abs=0.5)
    assert pairs[0].sentence().startswith("pull at ")


def test_size_is_the_widest_bar_for_a_piece_known_by_weight_and_measuring_it_helps_most() -> None:
    rough = nominal(KIND)._replace(size_spread=0.1)
    bars = sensitivity(rough, pit_c=121, pull_c=49)
    assert bars[0].name == "size"
    assert [bar.width_min for bar in bars] == sorted((bar.width_min for bar in bars), reverse=True)
    best = most_useful(rough, pit_c=121, pull_c=49)[0]
    assert "thickness" in best.what
    assert best.to_min < 0.8 * best.from_min


def test_slicing_waits_longer_in_a_box_than_bare() -> None:
    when = slicing(nominal(KIND), serve_c=53, pit_c=121, pull_c=49, now_min=5)
    assert when.slice_after_min is not None
    assert 10 < when.slice_after_min < 40
    assert when.waits_min["box"] > when.waits_min["bare"]
    assert "slice" in when.sentence


def test_deviates_fill_every_margin_and_the_first_is_the_middle() -> None:
    z = draw(201, 0)
    assert not z[:, 0].any()
    assert z[:, 1:].mean(axis=1) == pytest.approx(np.zeros(len(z)), abs=1e-9)
    assert z[:, 1:].std(axis=1) == pytest.approx(np.ones(len(z)), abs=0.03)
    assert float(members_of(z, priors()).depth.min()) >= 0


def test_each_bar_moves_its_own_thing_alone_even_where_cooks_tied_two_together() -> None:
    changes, _ = learned_priors([says(1.0, 0.3, pit_k=1.0, wet=-1.0)] * 9, cooker=OURS, cut="rib")
    tied, apart = (sensitivity(nominal(KIND), pit_c=121, pull_c=49, cooker=OURS, priors=known)
                   for known in (changes, dict(changes)))
    assert tied == apart


def test_the_last_pass_is_the_half_that_the_first_left() -> None:
    """One reading of the one deviate, error variance a half, widened twice: by hand the mean moves half the way."""
    z = np.random.default_rng(3).standard_normal((1, 4000))
    z = (z - z.mean()) / z.std()
    plan = setup(cook().roast, pit_c=KIND.pit_c, pull_c=KIND.pull_c, start_c=4.4)
    noise = np.sqrt(2 * 0.5) * np.random.default_rng(4).standard_normal(z.shape)
    smoother = SimpleNamespace(plan=plan, readings=[Reading(60.0, 2.0)], covariance=np.array([[0.5]]), z=z,
                               innovation=lambda expected, _: 2.0 + noise - expected)
    last = _LastPass(smoother, z)  # type: ignore[arg-type]  # all of a smoother that it looks at
    assert last.z.mean() == pytest.approx(1.0, abs=0.05)
    assert last.z.var() == pytest.approx(0.5, abs=0.05)
    moved = last.moved(10.0 + 0.3 * z[0])
    assert moved.mean() == pytest.approx(10.3, abs=0.02)
    never = np.where(np.arange(z.size) < 30, np.inf, z[0])
    assert np.isinf(last.moved(never)).sum() == 30
    far = last.moved(np.where(z[0] < 0.0, -0.1, 0.1), beyond=0.0)
    assert (far.min(), far.max()) == (-0.1, 0.1)
