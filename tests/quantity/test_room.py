"""The room itself: its public names, what importing it loads, intervals."""

from __future__ import annotations

import subprocess
import sys
from fractions import Fraction

import pytest

import cookbook.quantity as room
from cookbook.errors import RequestError
from cookbook.quantity import Amount, Interval
from cookbook.quantity.unit import SYSTEMS, all_units, named, unit


def test_public_names_are_sorted_and_all_there() -> None:
    assert room.__all__ == sorted(room.__all__, key=lambda name: (not name.isupper(), name[0].islower(), name))
    for name in room.__all__:
        assert getattr(room, name) is not None
    with pytest.raises(AttributeError):
        _ = room.nothing


def test_importing_it_loads_nothing_heavy() -> None:
    heavy = {"pint", "numpy", "inspect", "dataclasses", "difflib", "csv", "cookbook.quantity.weight"}
    code = ("import sys; import cookbook.quantity as q; q.Amount.parse('1 1/2 cup').scaled(2).rounded().ascii(); "
            f"print(sorted({heavy!r} & set(sys.modules)))")
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


def test_every_unit_is_named_by_its_own_name_and_plural() -> None:
    for system in SYSTEMS:
        for name, found in all_units(system).items():
            assert named(name) == name or name == "fl oz"
            assert unit(name, system) == found
            assert Amount.parse(f"2 {found.plural}", system).unit == name


def test_intervals() -> None:
    assert Interval.exact(3.0) == (3.0, 3.0, 3.0)
    assert Interval(1.0, 2.0, 4.0).scaled(2) == (2.0, 4.0, 8.0)
    assert Interval(1.0, 2.0, 4.0).plus(Interval(1.0, 1.0, 1.0)) == (2.0, 3.0, 5.0)
    assert Interval(1.0, 2.0, 4.0).json() == {"low": 1.0, "mid": 2.0, "high": 4.0}


def test_pint_quantities_are_exact() -> None:
    assert Amount.parse("1 1/2 cup").to_pint().magnitude == Fraction(3, 2)
    assert Amount.parse("1 metric cup").to_pint().to("milliliter").magnitude == 250
    assert Amount.parse("1 tbsp", "au").to_pint().to("milliliter").magnitude == 20
    assert Amount.parse("1.1 % of meat").to_pint().magnitude == Fraction(11, 1000)
    with pytest.raises(RequestError, match="no number"):
        Amount.parse("to taste").to_pint()
