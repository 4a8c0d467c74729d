"""Whatever a cook does in any order: no acknowledged line is lost, everything reads, the index tells the truth."""

from __future__ import annotations

import os

import pytest
from hypothesis import HealthCheck, Phase, settings
from hypothesis.stateful import run_state_machine_as_test

from tests.kitchen.lives import Lives

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="this system has no fork to kill")
ANY = tuple(HealthCheck)


def test_a_few_short_lives() -> None:
    brief = settings(max_examples=4, stateful_step_count=12, deadline=None, derandomize=True, database=None,
                     suppress_health_check=ANY, phases=(Phase.generate,))
    run_state_machine_as_test(Lives, settings=brief)


@pytest.mark.long
@pytest.mark.parametrize("lives", [pytest.param(10, marks=pytest.mark.tenth), 150])
def test_long_lives(lives: int) -> None:
    """Of up to fifty steps each; the same ones where the tests are steady, others each time in the long run."""
    many = settings(max_examples=lives, stateful_step_count=50, deadline=None, derandomize=settings().derandomize,
                    database=None, suppress_health_check=ANY, phases=(Phase.generate,))
    run_state_machine_as_test(Lives, settings=many)
