"""What a cook's readings say of its pull, its peak and its rise."""

from __future__ import annotations

import pytest

from cookbook.files import parse
from cookbook.journal import read
from cookbook.journal.outcome import outcomes
from cookbook.journal.readings import logged

HEAD = 'title: Loin\ndate: "2026-11-21"\nevents:\n'


def measured(*lines: tuple[str, str]) -> dict[str, float]:
    text = HEAD + "".join(f'  - {{at: "2026-11-21T{at}:00+01:00", {told}}}\n' for at, told in lines)
    entry, problems = read(parse(text.encode(), "loin"), "2026-11-21-loin")
    assert entry is not None, problems
    return {one.name: one.value for one in outcomes(entry, logged(entry))}


def test_the_rise_is_from_the_pull_to_the_hottest_after_it() -> None:
    found = measured(("11:00", "did: on"), ("12:55", "core: 60 °C"), ("13:00", "did: pulled"),
                     ("13:10", "core: 64 °C"), ("13:30", "core: 62 °C"))
    assert found == {"time to pull": 120, "pulled at": 60, "peak": 64, "rise": pytest.approx(4)}


def test_a_probe_that_only_cools_after_the_pull_has_seen_no_peak() -> None:
    pulled = (("11:00", "did: on"), ("12:55", "core: 60 °C"), ("13:00", "did: pulled"))
    found = measured(*pulled, ("14:30", "core: 48 °C"))
    assert found == {"time to pull": 120, "pulled at": 60}
