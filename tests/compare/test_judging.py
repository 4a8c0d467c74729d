"""The plain verdict on hand-made gaps: what each of its conditions is there for."""

from __future__ import annotations

import pytest

from cookbook.compare.judging import BETTER, LESS, SAME, UNKNOWN, WORSE, Asked, Day, Gap, gap, verdicts
from cookbook.compare.student import quantile


def beyond(chance: float, estimate: float = 1.0, above: float | None = 0.01, below: float | None = 1.0,
           assumed: bool = False, cooks: tuple[int, int] = (4, 4)) -> Gap:
    """A gap that chance alone passes so often, of `estimate` points with 6 degrees of freedom."""
    error = abs(estimate) / quantile(1 - chance, 6)
    return Gap(estimate, error, 6, error * 2**0.5, assumed, cooks, above, below)


def words(*gaps: Gap, better: int = 1, matters: float = 0.5) -> list[str]:
    """The verdicts of gaps that are judged together."""
    return [one.word for one in verdicts([Asked(gap, better, matters) for gap in gaps], [1.0] * len(gaps))]


def test_one_outcome_is_judged_at_one_in_forty_on_its_side() -> None:
    assert words(beyond(0.024)) == [BETTER]
    assert words(beyond(0.026)) == [UNKNOWN]
    assert words(beyond(0.02, -1.0, 1.0, 0.01)) == [WORSE]
    assert words(beyond(0.02), better=-1) == [WORSE]
    assert words(beyond(0.02, -1.0, 1.0, 0.01), better=0) == [LESS]


def test_the_level_falls_with_the_outcomes_that_are_judged_at_once() -> None:
    """Holm: the first of three is judged at 0.05 / 3 = 0.0167, the second at 0.025, the third at 0.025."""
    assert words(*[beyond(0.02)] * 3) == [UNKNOWN] * 3
    assert words(beyond(0.016), beyond(0.024), beyond(0.024)) == [BETTER] * 3
    assert words(beyond(0.016), beyond(0.026), beyond(0.027)) == [BETTER, UNKNOWN, UNKNOWN]


def test_cooks_written_down_alike_scatter_as_much_as_the_writing_rounds() -> None:
    """Scores go by half points: six scores that agree to the half scatter by 0.5 / √12 at least."""
    days = [*[Day(7.0, 0)] * 3, *[Day(7.5, 1)] * 3]
    found = gap(days, 0, 1, "points")
    assert found is not None
    assert found.spread == pytest.approx(0.5 / 12**0.5)
    low, high = found.interval(0.8)
    assert low < 0.5 < high


def test_outcomes_without_a_better_side_cost_the_others_nothing() -> None:
    sided = [Asked(beyond(0.02), 1, 0.5), Asked(beyond(0.5), 0, 0.5), Asked(beyond(0.5), 0, 0.5)]
    assert verdicts(sided, [1.0] * 3)[0].word == BETTER


@pytest.mark.parametrize("real", [
    beyond(0.01, above=0.06), beyond(0.01, assumed=True), beyond(0.01, cooks=(2, 6)),
])
def test_the_orders_must_agree_the_scatter_be_seen_and_both_sides_have_cooks(real: Gap) -> None:
    assert words(real) == [UNKNOWN]
    assert words(real._replace(above=0.05, assumed=False, cooks=(3, 5))) == [BETTER]


def test_a_real_difference_that_is_too_small_to_matter_is_none() -> None:
    assert words(beyond(0.001, 0.2)) == [SAME]
    assert words(beyond(0.001, 0.2), matters=0.1) == [BETTER]
    assert words(beyond(0.001, 0.2, cooks=(2, 2))) == [UNKNOWN]
