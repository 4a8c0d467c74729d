"""What went onto the meat in one cook, on each square centimetre and each kilogram."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta, timezone

import pytest

from cookbook.kitchen import Kitchen
from cookbook.kitchen.learning.applied import Applied, applied
from cookbook.kitchen.log import logbook, loglines

AT = datetime(2026, 11, 21, 11, 5, tzinfo=timezone(timedelta(hours=1)))


def test_coat_and_salt_are_shared_by_surface_and_by_weight(make_kitchen: Callable[..., Kitchen]) -> None:
    kitchen = make_kitchen()
    entry = logbook.start(kitchen, "loin", {"": {"weight": "2 kg"}}, AT)
    for said in (
        {"item": "bowl", "before": "412 g", "after": "112 g"},
        {"item": "fine salt", "amount": "22 g"},
    ):
        line = loglines.line_of(entry, "used", {"piece": None, "into": None, **said}, AT)
        entry = logbook.add(kitchen, entry, line.change, line.words)
    found = applied(kitchen, entry, "walnut-paste")
    assert found.salt_g == pytest.approx(22.0, rel=0.02)
    assert (found.coat_g, found.meat_g) == (300.0, 2000.0)
    assert found.salt_g_per_kg == pytest.approx(11.0, rel=0.02)
    assert 500 < found.coated_cm2 < 2000
    assert found.coat_mg_per_cm2 == pytest.approx(300_000 / found.coated_cm2)


def test_nothing_is_shared_by_what_is_not_known() -> None:
    assert Applied("paste", 300.0, 0.0, 0.0, 0.0, ()).coat_mg_per_cm2 is None
    assert Applied("paste", None, 0.0, 900.0, 2000.0, ()).coat_mg_per_cm2 is None
    assert Applied("paste", None, 10.0, 900.0, 0.0, ()).salt_g_per_kg is None
    assert Applied("paste", None, 0.0, 900.0, 2000.0, ()).salt_g_per_kg is None
