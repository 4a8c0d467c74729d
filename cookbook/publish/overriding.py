"""A cook's own templates looked over before they are used: names that no form takes, text that can't be read."""

from __future__ import annotations

from collections.abc import Iterator
from difflib import SequenceMatcher
from functools import cache
from pathlib import Path

from cookbook.errors import ERROR, WARNING, FileError, Place, Problem
from cookbook.publish.rendering import FOLDER, own_templates, refuse_outside, source


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
        elif path.suffix == ".j2" and (problem := _syntax(text, place)):
            yield path, problem


def _syntax(text: str, place: Place) -> Problem | None:
    """Where a template breaks off; which names it asks for is known only when it is used."""
    from jinja2 import TemplateSyntaxError

    from cookbook.publish.rendering import environment

    try:
        environment().parse(text)
    except TemplateSyntaxError as fault:
        line = (text.splitlines() or [""])[min(fault.lineno, len(text.splitlines())) - 1]
        said = f"this template can't be read: {fault.message}"
        mend = "mend it, or remove it: the program's own takes its place"
        return Problem(ERROR, "template", said, place._replace(line=fault.lineno, source=line), mend)
    return None


def _nearest(name: str) -> list[str]:
    """The names that are taken, the most alike first: by the whole name, or by its last part."""
    def unlike(other: str) -> float:
        return -max(SequenceMatcher(None, name.casefold(), one.casefold()).ratio()
                    for one in (other, other.rpartition("/")[2]))

    return sorted(taken(), key=unlike)
