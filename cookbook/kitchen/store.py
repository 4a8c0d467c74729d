"""The version store: the exact bytes of every text that an entry began with, under a name that checks them."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from cookbook.errors import ERROR, FileError, Place, Problem, StorageError
from cookbook.files import MAX_BYTES, plain_bytes

_NAME = re.compile(r"([0-9]+-[0-9a-f]{12})\.([0-9a-f]{8})\.yaml")


class Stored(NamedTuple):
    """One kept text: `version` with its bytes' digits, as an entry names it, and where it lies."""

    recipe: str
    version: str
    path: Path

    @property
    def meaning(self) -> str:
        """The part that names the meaning, without the bytes' digits."""
        return self.version.rpartition(".")[0]


def folder(root: Path, recipe: str) -> Path:
    """Where the versions of one recipe lie."""
    return root / "recipes" / "versions" / recipe


def kept(root: Path, recipe: str) -> list[Stored]:
    """Every kept text of `recipe`, by file name; what has another kind of name is left to `check`."""
    place = folder(root, recipe)
    if not place.is_dir():
        return []
    return [
        Stored(recipe, path.name.removesuffix(".yaml"), path)
        for path in sorted(place.iterdir())
        if _NAME.fullmatch(path.name)
    ]


def recipes(root: Path) -> list[str]:
    """The names under which texts are kept."""
    try:
        with os.scandir(root / "recipes" / "versions") as found:
            return sorted(place.name for place in found if place.is_dir())
    except (FileNotFoundError, NotADirectoryError):
        return []


def everything(root: Path) -> Iterator[Stored]:
    """Every kept text of every recipe."""
    for name in recipes(root):
        yield from kept(root, name)


def strangers(root: Path) -> list[Path]:
    """Files in the store whose name is none of a version."""
    top = root / "recipes" / "versions"
    return (
        [path for path in sorted(top.rglob("*")) if path.is_file() and not _NAME.fullmatch(path.name)]
        if top.is_dir()
        else []
    )


def read(stored: Stored, shown: str) -> bytes:
    """The kept bytes, verified. Raises FileError where they are missing or altered."""
    import hashlib

    try:
        data = plain_bytes(stored.path, MAX_BYTES)
    except OSError as fault:
        raise FileError([missing(shown, str(fault.strerror))]) from None
    if hashlib.sha256(data).hexdigest()[:8] != stored.version.rpartition(".")[2]:
        raise FileError(
            [
                Problem(
                    ERROR,
                    "version-altered",
                    f"{shown} is no longer the text that was cooked: its bytes have changed",
                    Place(shown, 1, 1),
                    "bring the file back from a backup; entries rest on it as it was",
                )
            ]
        )
    return data


def missing(shown: str, reason: str = "it is not there") -> Problem:
    """The problem of a version that can't be read."""
    return Problem(
        ERROR,
        "version-missing",
        f"{shown} could not be read: {reason}",
        Place(shown, 1, 1),
        "bring the file back from a backup",
    )


def put(root: Path, recipe: str, version: str, data: bytes) -> Path:
    """Keep `data` as `version`; nothing is written where it is kept already.

    Where other bytes lie under that name, they are moved aside for `check` to name: this cook rests on `data`.
    """
    from cookbook.files import create

    path = folder(root, recipe) / f"{version}.yaml"
    try:
        if plain_bytes(path, MAX_BYTES) == data:
            return path
        path.rename(path.with_suffix(f".altered-{os.urandom(4).hex()}.yaml"))
    except FileNotFoundError:
        pass
    except OSError as fault:
        raise StorageError(path.name, fault.strerror or str(fault)) from None
    create(path, data)
    return path
