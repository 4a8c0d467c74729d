"""The room itself: its public names, and how little it loads."""

from __future__ import annotations

import subprocess
import sys

import pytest

import cookbook.files
from cookbook.files import saving

HEAVY = ("asyncio", "dataclasses", "hashlib", "inspect", "jinja2", "json", "jsonschema", "numpy", "pathlib", "pint",
         "ruamel.yaml", "sqlite3", "subprocess", "tempfile", "threading")


def test_public_names_stand_in_order_and_are_there() -> None:
    names = list(cookbook.files.__all__)
    assert names == sorted(names, key=lambda name: (name != name.upper(), name.lower() == name, name))
    assert all(hasattr(cookbook.files, name) for name in names)


def test_what_only_writers_need_comes_when_it_is_asked_for() -> None:
    assert cookbook.files.__getattr__("hand_out") is saving.hand_out
    with pytest.raises(AttributeError, match="no 'hand_in'"):
        cookbook.files.__getattr__("hand_in")


def test_loading_the_room_loads_nothing_heavy() -> None:
    code = f"import sys, cookbook.files\nprint(*[name for name in {HEAVY!r} if name in sys.modules])"
    answer = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert answer.stdout.strip() == ""


def test_reading_uses_the_c_parser() -> None:
    code = ("import sys\nfrom cookbook.files import parse\nparse(b'kind: paste', 'x')\n"
            "print('_ruamel_yaml' in sys.modules)")
    answer = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert answer.stdout.strip() == "True"
