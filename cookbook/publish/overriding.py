"""A cook's own templates looked over before they are used: names that no form takes, text that can't be read."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import SequenceMatcher
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from cookbook.errors import WARNING, FileError, Place, Problem
from cookbook.publish.rendering import FOLDER, environment, own_templates, problem_of, refuse_outside, source

if TYPE_CHECKING:
    from jinja2 import TemplateSyntaxError


@cache
def taken() -> tuple[str, ...]:
    """The names that a template of one's own can have: those of the program, some below a folder."""
    return tuple(sorted(path.relative_to(FOLDER).as_posix() for path in FOLDER.rglob("*") if path.is_file()))


def template_faults(root: Path) -> Iterator[tuple[Path, Problem]]:
    """What `check` says of the templates of a kitchen: each file and what is wrong with it.

    A part that another of them names, as `{% include "mine.j2" %}` does, may be called anything.
    """
    own = own_templates(root)
    texts: dict[Path, str] = {}
    for path in sorted(one for one in own.rglob("*") if one.is_file() and one.name[0] != "."):
        try:
            refuse_outside(own, path)
            texts[path] = source(path, path.relative_to(root).as_posix())
        except FileError as fault:
            yield from ((path, problem) for problem in fault.problems)
    for path, text in texts.items():
        name, place = path.relative_to(own).as_posix(), Place(path.relative_to(root).as_posix(), 1, 1)
        if name not in taken() and not any(name in other for one, other in texts.items() if one != path):
            said = f"{name} is the name of no template, so nothing takes it"
            mend = f"the names that are taken, nearest first: {', '.join(_nearest(name))}"
            yield path, Problem(WARNING, "unknown-template", said, place, mend)
        elif path.suffix == ".j2" and (broken := _syntax(text)) is not None:
            yield path, problem_of(broken, path, place.file, broken.lineno, [])


def _syntax(text: str) -> TemplateSyntaxError | None:
    """Where a template breaks off; which names it asks for is known only when it is used."""
    from jinja2 import TemplateSyntaxError

    try:
        environment().compile(text)
    except TemplateSyntaxError as fault:
        return fault
    return None


def _nearest(name: str) -> list[str]:
    """The names that are taken, the most alike first: by the whole name, or by its last part."""
    def unlike(other: str) -> float:
        return -max(SequenceMatcher(None, name.casefold(), one.casefold()).ratio()
                    for one in (other, other.rpartition("/")[2]))

    return sorted(taken(), key=unlike)
