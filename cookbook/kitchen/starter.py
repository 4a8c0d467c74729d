"""The starter kitchen that comes with the package, and new kitchens made from it."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from pathlib import Path

from cookbook.errors import RequestError, StorageError
from cookbook.kitchen.listing import PARTS

EXAMPLE_ONLY = ("eaters.yaml", "prices.yaml", "at_home.yaml", "releases.yaml", "questions.yaml")
"""Tables of `shared/` that tell of one cook's own life: a new kitchen begins without them."""

OWN_WORDS = ("name", "author", "licence", "address")
"""What `shared/kitchen.yaml` says of one cook."""

LEFT_OVER = ".cookbook-new"
"""Where a kitchen is built before it is moved to its place; what was cut off there is built anew."""


def starter() -> Path:
    """The folder of the starter kitchen: beside the package where it was installed, else the checkout above it."""
    package = Path(__file__).resolve().parent.parent
    beside = package / "starter"
    return beside if beside.is_dir() else package.parent


def new(target: Path, example: bool = False) -> Path:
    """Make a kitchen in `target`, an empty or new folder: recipes and general tables with an empty journal.

    With `example` all of the demonstration kitchen comes along: its versions, journal, eaters and prices. It is built
    aside and moved there when it is whole: cut off at any moment, there is no kitchen or all of it.
    """
    target = target.resolve()
    if target.exists() and (not target.is_dir() or any(one.name != LEFT_OVER for one in target.iterdir())):
        raise RequestError(f"{target} is there already and not empty", mend="name a new folder")
    there = target.exists()
    building = target / LEFT_OVER if there else target.with_name(f".{target.name}{LEFT_OVER}-{os.getpid()}")
    try:
        shutil.rmtree(building, ignore_errors=True)
        try:
            _build(building, example)
            if there:
                for part in reversed(PARTS):
                    (building / part).rename(target / part)
                building.rmdir()
            else:
                building.rename(target)
        except BaseException:
            shutil.rmtree(building, ignore_errors=True)
            raise
    except OSError as fault:
        raise StorageError(str(target), fault.strerror or str(fault)) from None
    return target


def _build(target: Path, example: bool) -> None:
    source = starter()
    for part in PARTS:
        (target / part).mkdir(parents=True, exist_ok=True)
    for path in _files(source, example):
        copy = target / path
        copy.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(source / path, copy)
    if not example:
        _unsigned(target / "shared" / "kitchen.yaml")


def _unsigned(path: Path) -> None:
    """Take away who signs the example's cards: a new kitchen has its own cook."""
    from cookbook.files import Edit, read

    document = read(path)
    edit = Edit(document)
    for key in OWN_WORDS:
        root = edit.document.root
        if root is not None and root.get(key) is not None:
            edit = edit.remove(root, key)
    edit.save()


def _files(source: Path, example: bool) -> Iterator[Path]:
    for part in PARTS:
        for path in sorted((source / part).rglob("*")):
            inside = path.relative_to(source)
            if path.is_file() and not path.name.startswith(".") and (example or _general(inside)):
                yield inside


def _general(inside: Path) -> bool:
    if inside.parts[0] == "journal" or inside.parts[:2] == ("recipes", "versions"):
        return False
    return inside.name not in EXAMPLE_ONLY
