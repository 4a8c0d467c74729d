"""A recipe's whole text, written by hand elsewhere than in an editor: its faults before it is saved, and saving it.

What was seen travels as the hash of its bytes: a file that changed meanwhile is not written over.
"""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from cookbook.errors import ERROR, FileError, Problem, RequestError
from cookbook.files import MAX_BYTES, create, lock, parse, read_bytes, save
from cookbook.kitchen.checking.examining import recipe_faults
from cookbook.kitchen.kitchen import Kitchen
from cookbook.kitchen.log.undoing import sha256
from cookbook.recipe.field import NAME

_LONGEST_NAME = 80


class Text(NamedTuple):
    """A recipe's text, and the hash of the bytes it was read from ('' where there is no file yet)."""

    name: str
    text: str
    sha256: str


def text_of(kitchen: Kitchen, name: str) -> Text:
    """The text of a recipe as it stands, readable as a recipe or not. Raises UnknownName, FileError."""
    path = _path(kitchen, name)
    if not kitchen.has_recipe(name):
        kitchen.recipe(name)
    data = read_bytes(path, kitchen.shown(path))
    try:
        document = parse(data, kitchen.shown(path), path)
    except FileError:
        if len(data) > MAX_BYTES:
            raise
        return Text(name, data.decode("utf-8", "replace"), sha256(data))
    return Text(name, document.text, sha256(data))


def faults_in(kitchen: Kitchen, name: str, text: str) -> list[Problem]:
    """Every fault that the recipe would have with this text, by line; nothing is written."""
    path = _path(kitchen, name)
    try:
        document = parse(text.encode(), kitchen.shown(path), path)
    except FileError as fault:
        return fault.problems
    return sorted(recipe_faults(kitchen, document, name), key=_line)


def rewrite(kitchen: Kitchen, name: str, text: str, seen: str) -> list[Problem]:
    """Make `text` the recipe's, where its bytes still have the hash `seen` ('' makes a new recipe).

    The remarks that are left come back. Raises FileError with every fault where it would not read, Conflict with both
    texts where it is no longer what was seen, RequestError for a name that can't be a file's.
    """
    path = _path(kitchen, name)
    problems = faults_in(kitchen, name, text)
    errors = [problem for problem in problems if problem.severity == ERROR]
    if errors:
        raise FileError(errors)
    with lock(kitchen.root):
        if not seen:
            create(path, text.encode(), name=kitchen.shown(path))
            return problems
        there = path.read_bytes() if path.is_file() else b""
        save(path, _like(there, text), expected_sha256=seen, name=kitchen.shown(path))
    return problems


def _like(there: bytes, text: str) -> bytes:
    """The text with the byte order mark and the line ends that the file has: a form changes both."""
    plain = text.replace("\r\n", "\n")
    ends = b"\r\n" in there and b"\n" not in there.replace(b"\r\n", b"")
    mark = b"\xef\xbb\xbf" if there.startswith(b"\xef\xbb\xbf") else b""
    return mark + (plain.replace("\n", "\r\n") if ends else plain).encode()


def _path(kitchen: Kitchen, name: str) -> Path:
    """The file of a recipe that is there, or may be made."""
    if not kitchen.has_recipe(name) and (not NAME.fullmatch(name) or len(name) > _LONGEST_NAME):
        raise RequestError(
            f"'{name}' can't be a recipe's name", mend="small letters, digits and single hyphens, like walnut-paste"
        )
    return kitchen.root / "recipes" / f"{name}.yaml"


def _line(problem: Problem) -> tuple[int, int]:
    return (problem.place.line, problem.place.column) if problem.place else (0, 0)
