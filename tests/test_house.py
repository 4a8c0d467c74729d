"""The floors of the house: imports point down only, and the check that says so really looks."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


def lint(folder: Path) -> subprocess.CompletedProcess[str]:
    """Run the layer check on the package in `folder`."""
    code = "from importlinter.cli import lint_imports_command as lint; lint(['--no-cache'])"
    return subprocess.run(
        [sys.executable, "-c", code],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(folder)},
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    shutil.copytree(ROOT / "cookbook", tmp_path / "cookbook", ignore=shutil.ignore_patterns("__pycache__", "starter"))
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    return tmp_path


def test_imports_point_down_and_the_checker_saw_them(copy: Path) -> None:
    done = lint(copy)
    assert done.returncode == 0, done.stdout + done.stderr
    seen = next(line for line in done.stdout.splitlines() if line.startswith("Analyzed"))
    files, dependencies = (int(word) for word in seen.split() if word.isdigit())
    assert files > 40
    assert dependencies > 100


def test_an_import_that_points_up_is_caught(copy: Path) -> None:
    with (copy / "cookbook" / "quantity" / "__init__.py").open("a") as lines:
        lines.write("\n\ndef up() -> object:\n    from cookbook.kitchen import Kitchen\n\n    return Kitchen\n")
    with (copy / "cookbook" / "kitchen" / "store.py").open("a") as lines:
        lines.write("\n\ndef up() -> object:\n    from cookbook.kitchen.log import logbook\n\n    return logbook\n")
    done = lint(copy)
    assert done.returncode != 0
    assert "cookbook.kitchen.store is not allowed to import cookbook.kitchen.log" in done.stdout
    assert "cookbook.quantity is not allowed to import cookbook.kitchen" in done.stdout


def test_a_folder_that_stands_on_no_floor_is_caught(copy: Path) -> None:
    (copy / "cookbook" / "attic").mkdir()
    (copy / "cookbook" / "attic" / "__init__.py").write_text('"""An unlisted room."""\n')
    assert lint(copy).returncode != 0


def test_every_room_says_what_it_is_for() -> None:
    rooms = [path.parent for path in (ROOT / "cookbook").glob("*/**/__init__.py")]
    assert len(rooms) > 20
    for room in rooms:
        first = (room / "__init__.py").read_text(encoding="utf-8").split('"""')[1]
        assert len([line for line in first.splitlines() if line.strip()]) >= 3, room.name


def test_no_drawer_for_everything() -> None:
    names = {path.stem for path in (ROOT / "cookbook").rglob("*")} | {
        path.stem for path in (ROOT / "tests").rglob("*")
    }
    assert not names & {"utils", "helpers", "common", "misc", "manager", "util", "helper"}


def test_extras_say_what_a_newcomer_installs() -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert {"test", "dev"} <= set(project["optional-dependencies"])
    assert project["scripts"] == {"cookbook": "cookbook.cli:main"}
