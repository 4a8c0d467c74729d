"""A hard marker is not a worse cook: tasters' hands are taken off by least squares, as numpy solves it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from cookbook.compare.tasters import evened

TASTERS = ("Ada", "Ben", "Dov", "Eve")
SCORE = st.integers(0, 20).map(lambda halves: halves / 2)
COOKS = st.lists(st.dictionaries(st.sampled_from(TASTERS), SCORE, min_size=1), min_size=1, max_size=7)


def test_a_hard_marker_who_came_only_once_does_not_make_the_cook_worse() -> None:
    """Ben marks two lower than Ada; the second cook, tasted by Ben alone, is as good as the first."""
    found = evened([{"Ada": 8, "Ben": 6}, {"Ben": 6}, {"Ada": 8}])
    assert found.cooks == pytest.approx((7, 7, 7))
    assert found.hands == pytest.approx({"Ada": 1, "Ben": -1})


def test_cooks_without_a_common_taster_are_told_apart() -> None:
    assert evened([{"Ada": 8}, {"Ben": 6}, {"Ada": 7, "Dov": 5}]).parts == (0, 1, 0)


@given(st.lists(st.fixed_dictionaries(dict.fromkeys(TASTERS, SCORE)), min_size=1, max_size=6))
def test_where_everybody_tasted_everything_it_is_the_plain_mean(cooks: list[dict[str, float]]) -> None:
    assert evened(cooks).cooks == pytest.approx([sum(one.values()) / 4 for one in cooks])


@given(COOKS, st.sampled_from(TASTERS), st.floats(-3, 3))
def test_a_taster_who_marks_everything_harder_changes_no_difference_between_cooks(
    cooks: list[dict[str, float]], who: str, harder: float
) -> None:
    plain = evened(cooks)
    shifted = evened([{name: score + harder * (name == who) for name, score in one.items()} for one in cooks])
    for part in set(plain.parts):
        own = [place for place, found in enumerate(plain.parts) if found == part]
        before = [plain.cooks[place] - plain.cooks[own[0]] for place in own]
        after = [shifted.cooks[place] - shifted.cooks[own[0]] for place in own]
        assert after == pytest.approx(before, abs=1e-9)


@given(COOKS)
def test_differences_between_cooks_are_those_of_the_general_least_squares_solver(
    cooks: list[dict[str, float]],
) -> None:
    """numpy.linalg.lstsq on the full design of cooks and tasters (general-purpose reference library)."""
    rows, right = [], []
    for place, one in enumerate(cooks):
        for taster, score in one.items():
            row = np.zeros(len(cooks) + len(TASTERS))
            row[place] = row[len(cooks) + TASTERS.index(taster)] = 1
            rows.append(row)
            right.append(score)
    theirs = np.linalg.lstsq(np.array(rows), np.array(right), rcond=None)[0]
    ours = evened(cooks)
    for later, part in enumerate(ours.parts):
        for earlier in range(later):
            if ours.parts[earlier] == part:
                gap = float(theirs[later] - theirs[earlier])
                assert ours.cooks[later] - ours.cooks[earlier] == pytest.approx(gap, abs=1e-8)
