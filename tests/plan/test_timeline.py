"""One dish backwards from serving: order, slack, the chosen chance, the cook's own words for the coats."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.errors import RequestError
from cookbook.heat import Range, Rest, Wrap, within
from cookbook.meat import Cut
from cookbook.plan.dish import Hold, hand_minutes
from cookbook.plan.film import extra_minutes, with_shots
from cookbook.plan.step import ORDER, Step, Wall
from cookbook.plan.timeline import Day, Wishes, day, in_order, on_at
from cookbook.safety import out_limit_min, thaw
from tests.plan.days import EAT, FIRE, curve, dish

WALL = Wall(EAT)
SPANS = st.tuples(st.floats(30, 600), st.floats(1.01, 2), st.floats(1.01, 2)).map(
    lambda three: (three[0] / three[1], three[0], three[0] * three[2])
)


def planned(*, wishes: Wishes | None = None, eat: datetime = EAT, **said: object) -> Day:
    return day(dish(**said), [], FIRE, eat, wishes or Wishes(), Wall(eat))  # type: ignore[arg-type]


def test_a_day_worked_by_hand() -> None:
    """180 min at 90 %, 25 of rest, 6 and 2 a kilogram to slice 3 kg: on at 14:20; lit 40 min before, at 13:40."""
    found = planned()
    assert hand_minutes("slice", 3.0).mid == 12
    assert found.on == datetime(2026, 12, 25, 14, 20, tzinfo=UTC)
    assert found.step("light").at == datetime(2026, 12, 25, 13, 40, tzinfo=UTC)
    assert found.step("pull").earliest == datetime(2026, 12, 25, 15, 50, tzinfo=UTC)
    assert found.step("pull").latest == datetime(2026, 12, 25, 17, 20, tzinfo=UTC)
    assert found.step("slice").at == datetime(2026, 12, 25, 17, 48, tzinfo=UTC)


def test_meat_that_is_on_too_late_is_not_sliced_before_it_has_rested() -> None:
    """On at 17:00, so it comes off at 18:30 at the earliest and rests to 18:55, whatever was meant."""
    on = datetime(2026, 12, 25, 17, 0, tzinfo=UTC)
    found = day(dish(), [], FIRE, EAT, Wishes(), Wall(EAT), on)
    assert found.step("slice").at == datetime(2026, 12, 25, 18, 55, tzinfo=UTC)


def test_steps_keep_their_order_and_their_ends() -> None:
    @given(SPANS, st.floats(0.55, 0.97))
    def holds(minutes: tuple[float, float, float], chance: float) -> None:
        found = planned(minutes=minutes, wishes=Wishes(chance))
        for step in found.steps:
            assert step.earliest <= step.latest
            assert step.key in ORDER
        keys = ("light", "steady", "on", "pull", "slice")
        moments = [found.step(key).at for key in keys]
        assert moments == sorted(moments)
        assert found.step("slice").at <= EAT
        assert [one.at for one in in_order([found], WALL)] == sorted(one.at for one in in_order([found], WALL))

    holds()


def test_a_later_meal_never_has_an_earlier_fire() -> None:
    @given(SPANS, st.integers(0, 60 * 24 * 40), st.integers(0, 60 * 24 * 3))
    def holds(minutes: tuple[float, float, float], first: int, more: int) -> None:
        one, two = (EAT + timedelta(minutes=late) for late in (first, first + more))
        early, late = planned(minutes=minutes, eat=one), planned(minutes=minutes, eat=two)
        assert early.on <= late.on
        assert early.step("light").at <= late.step("light").at

    holds()


def test_more_confidence_lights_the_fire_no_later_and_the_slack_goes_into_the_hold() -> None:
    plain, sure = planned(), planned(wishes=Wishes(0.97))
    assert sure.on < plain.on
    assert sure.slack_min > plain.slack_min
    assert sure.late_min < plain.late_min
    # Done at the early end, the meat waits from there to the first cut.
    waits = plain.step("slice").at - plain.step("pull").earliest
    assert plain.slack_min == pytest.approx(waits.total_seconds() / 60)


def test_the_forecasts_own_percentiles_and_a_steady_rise_between() -> None:
    spread = Range(90.0, 120.0, 180.0)
    assert [within(spread, chance) for chance in (0.1, 0.5, 0.9)] == pytest.approx([90, 120, 180])
    chances = [place / 100 for place in range(1, 100)]
    found = [within(spread, chance) or 0.0 for chance in chances]
    assert found == sorted(found)
    assert within(Range(90.0, 120.0, None), 0.9) is None
    assert within(Range(None, None, None), 0.5) is None
    with pytest.raises(RequestError):
        within(spread, 1.0)


def test_what_may_never_get_done_is_refused_with_the_ways_out() -> None:
    with pytest.raises(RequestError) as fault:
        on_at(dish(minutes_to_pull=Range(90.0, 120.0, None)), EAT, Wishes())
    assert fault.value.code == "never-done"
    assert "--pit" in (fault.value.mend or "")


def test_frozen_meat_goes_into_the_refrigerator_by_the_safety_rooms_hours() -> None:
    found = planned(wishes=Wishes(frozen=True))
    hours = thaw(3000.0)
    first = min(step.at for step in found.steps if step.key in ("season", "light"))
    assert found.step("thaw").at == first - timedelta(hours=hours.high_h)
    assert found.step("thaw").latest == first - timedelta(hours=hours.low_h)
    assert found.step("buy").latest < found.on
    assert "counter" in found.step("thaw").note


@pytest.mark.parametrize(
    ("steps", "low", "high"),
    [
        ('"Coat the evening before, then refrigerate."', (24, 17), (24, 22)),
        ('"Paste on in the morning."', (25, 7), (25, 11)),
        ('"Rub it two hours before the fire."', (25, 11), (25, 13)),
    ],
)
def test_a_coat_goes_on_when_the_recipes_own_words_say(
    steps: str, low: tuple[int, int], high: tuple[int, int]
) -> None:
    step = planned(steps=steps).step("season")
    assert datetime(2026, 12, *low, tzinfo=UTC) <= step.earliest
    assert step.latest <= datetime(2026, 12, *high, tzinfo=UTC)
    assert steps.strip('"') in step.note


def test_a_coat_of_which_nothing_is_said_goes_on_before_the_fire_and_never_after() -> None:
    found = planned()
    assert found.step("season").at == found.step("light").at - timedelta(hours=2)
    assert found.step("season").latest <= found.step("light").at


def test_time_out_is_the_safety_rooms() -> None:
    found = planned()
    out = found.step("out")
    assert f"{out_limit_min(None):.0f} min" in out.note
    assert (found.on - out.earliest).total_seconds() / 60 < out_limit_min(None)
    assert "refrigerator" in found.step("season").note


def test_tough_cuts_creep_are_wrapped_and_wait_hot() -> None:
    meat = Cut.named("brisket, whole").piece(mass_g=6000)
    found = planned(
        minutes=(400.0, 600.0, 900.0), piece=meat, pull_c=94.0, curve=curve(600, 94), wrap=Wrap("paper", 72.0),
        rest=Rest(120, "box"), hold=Hold("box", 240.0, 360.0, 60.0),
    )  # fmt: skip
    keys = [step.key for step in found.steps]
    assert "stall" in keys
    assert "wrap" in keys
    wrap = found.step("wrap")
    assert found.on < wrap.earliest < wrap.at < wrap.latest < found.step("pull").latest
    # A core that rises in a straight line to 94 °C in 600 minutes is at 72 °C after 453.
    assert (wrap.at - found.on).total_seconds() / 60 == pytest.approx(600 * (72 - 4) / 90, abs=1)
    assert "65 to 75 °C" in found.step("rest").note


def test_filming_moves_the_fire_forward_by_its_minutes() -> None:
    plain, filmed = planned(), planned(wishes=Wishes(film=extra_minutes()))
    more = sum(extra_minutes()[key] for key in ("check", "wrap", "pull", "rest", "slice"))
    assert more - 5 <= (plain.on - filmed.on).total_seconds() / 60 <= more + 5
    told = with_shots(list(filmed.steps))
    assert all(step.shot for step in told if step.key in extra_minutes())
    assert "min)" in next(step.shot for step in told if step.key == "pull")


def test_the_ends_of_a_step_name_the_days_that_are_not_its_own() -> None:
    step = Step("buy", "buy", EAT, EAT - timedelta(days=1, hours=9), EAT + timedelta(hours=1))
    assert step.within() == "Thu 09:00 to 19:00"
    assert step._replace(earliest=EAT, latest=EAT).within() == ""


def test_a_step_by_the_clock_on_the_wall_keeps_its_ends_about_it() -> None:
    step = Step("on", "on", EAT, EAT + timedelta(minutes=9, seconds=40), EAT - timedelta(minutes=5))
    found = WALL.step(step)
    assert found.earliest <= found.at <= found.latest
    assert found.latest.second == 0
    assert found.json()["at"] == found.at.isoformat(timespec="seconds")
