"""What the room offers, and that nobody pays for numpy who only names it."""

from __future__ import annotations

import subprocess
import sys
from typing import Any

import pytest

import cookbook.heat as heat
from cookbook.errors import UnknownName
from cookbook.meat import Cut


def test_public_names_are_sorted_and_all_there() -> None:
    assert sorted(heat.__all__) == heat.__all__ == dir(heat)
    assert all(getattr(heat, name) is not None for name in heat.__all__)


def test_an_unknown_name_is_an_attribute_error() -> None:
    with pytest.raises(AttributeError, match="oracle"):
        heat.oracle  # noqa: B018


def test_naming_the_room_or_a_cooker_loads_no_numpy() -> None:
    code = "import sys, cookbook.heat; sys.exit('numpy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0


def test_a_cooker_may_be_named_by_its_kind() -> None:
    piece = Cut.named("pork loin, boneless").piece(mass_g=1500)
    few: dict[str, Any] = {"pit_c": 130.0, "pull_c": 60.0, "members": 4}
    assert heat.forecast(piece, cooker="kettle", **few) == heat.forecast(piece, cooker=heat.Cooker("kettle"), **few)
    with pytest.raises(UnknownName, match="kettel"):
        heat.forecast(piece, cooker="kettel", **few)
