"""What stands around a recipe: links with what must be told of them, its film, pictures, questions and answers."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator, Mapping, Sequence
from os.path import realpath
from pathlib import Path
from typing import TYPE_CHECKING, Any
from urllib.parse import quote

from cookbook.errors import ERROR, FileError, Place, Problem, RequestError
from cookbook.files import MAX_BYTES, plain_bytes
from cookbook.kitchen.descent import listed
from cookbook.publish import wording
from cookbook.publish.content import Answer, Chapter, Film, Picture, Reference
from cookbook.recipe.reading import links_of

if TYPE_CHECKING:
    from cookbook.kitchen import Kitchen
    from cookbook.recipe import Link, Recipe

TOLD = {
    "paid": "Paid for, to be shown here: {what}.",
    "given": "Given free of charge: {what}.",
    "commission": "Commission, as buying by the link earns the cook something: {what}.",
}
"""What a reader is told, gravest first, in plain words (16 CFR 255.5; other countries have their own rule)."""


def place_in_site(folder: str, name: str) -> str:
    """The address of a page below a site's own: what a name means to an address, such as `?` or `%`, is escaped."""
    return f"{folder}/{quote(name, errors='surrogateescape')}.html"


def links(kitchen: Kitchen, recipes: Sequence[Recipe]) -> tuple[Reference, ...]:
    """The links of these recipes and of the kitchen, each once."""
    written = [link for recipe in recipes for link in recipe.links]
    return tuple(dict.fromkeys(_reference(link) for link in (*written, *links_of(kitchen.settings.get("links")))))


def _reference(link: Link) -> Reference:
    what = wording.spoken(link.what)
    told = " ".join(TOLD[term].format(what=what) for term in TOLD if term in link.terms)
    return Reference(what, wording.spoken(link.address), wording.spoken(link.kind or ""), told)


def releases_of(kitchen: Kitchen, name: str) -> list[Mapping[str, Any]]:
    """The releases of a recipe, as `shared/releases.yaml` lists them."""
    return listed(kitchen, "releases.yaml", name)


def film(kitchen: Kitchen, name: str) -> Film | None:
    """The newest film of a recipe; None where none has an address or chapters."""
    for one in reversed(releases_of(kitchen, name)):
        chapters = _chapters(kitchen, one)
        if one.get("address") or chapters:
            out = one.get("out")
            return Film(
                wording.spoken(one.get("address") or ""),
                wording.spoken(one.get("picture") or ""),
                out.isoformat() if out else "",
                one.get("length"),
                chapters,
            )
    return None


def _chapters(kitchen: Kitchen, release: Mapping[str, Any]) -> tuple[Chapter, ...]:
    if release.get("chapters"):
        return tuple(Chapter(one["at"], wording.spoken(one["name"])) for one in release["chapters"])
    if release.get("markers"):
        return tuple(marked(inside(kitchen, "shared", release["markers"]), kitchen))
    return ()


def marked(path: Path, kitchen: Kitchen) -> Iterator[Chapter]:
    """Chapters from a marker list: a CSV file with a time and a name in each line, with or without a heading.

    Raises FileError with the line that can't be read.
    """
    from cookbook.kitchen.shared import stamp_s

    shown = kitchen.shown(path)
    try:
        text = plain_bytes(path, MAX_BYTES).decode("utf-8-sig")
        rows = list(csv.reader(text.splitlines()))
    except (OSError, UnicodeDecodeError, csv.Error) as fault:
        raise FileError(
            [
                Problem(
                    ERROR,
                    "markers",
                    f"the markers can't be read: {(isinstance(fault, OSError) and fault.strerror) or fault}",
                    Place(shown, 1, 1),
                    "a CSV file in UTF-8, such as `0:00,The fire`",
                )
            ]
        ) from None
    for number, row in enumerate(rows, 1):
        cells = [cell.strip() for cell in row if cell.strip()]
        if len(cells) < 2:
            continue
        found = None
        for cell in cells:
            try:
                found = found or (stamp_s(cell.partition(".")[0].removesuffix(";00")), cell)
            except RequestError:
                continue
        if found is None:
            if number == 1:
                continue
            raise FileError(
                [
                    Problem(
                        ERROR,
                        "markers",
                        f"no time in this line: {', '.join(cells)}",
                        Place(shown, number, 1),
                        "write it like `12:05,The pull`",
                    )
                ]
            )
        yield Chapter(found[0], wording.spoken(next(cell for cell in cells if cell != found[1])))


def inside(kitchen: Kitchen, folder: str, name: str) -> Path:
    """A file of the kitchen by a path from one of its folders. Raises RequestError for one that leads out of it."""
    root = kitchen.root.resolve()
    path = Path(realpath(root / folder / name))
    if not path.is_relative_to(root):
        raise RequestError(
            f"'{name}' leads out of the kitchen", mend="keep what is published inside the kitchen", code="outside"
        )
    return path


def pictures(recipe: Recipe) -> tuple[Picture, ...]:
    """The pictures of a recipe by their path from the kitchen's root; what a file is called says what it shows, but
    one of a private formula is called by its title."""
    return tuple(
        Picture(wording.spoken(recipe.title if recipe.private else re.sub("[-_]", " ", Path(one).stem)), one)
        for one in recipe.photos
    )


def answers(kitchen: Kitchen, name: str) -> tuple[Answer, ...]:
    """Questions that the cook wants on the card with their answers, the most asked first; nobody's name."""
    asked = [
        one
        for one in listed(kitchen, "questions.yaml", name)
        if one.get("answer") and one.get("on_card") == "yes"
    ]
    asked.sort(key=lambda one: -(one.get("times") or 0))
    return tuple(
        Answer(wording.spoken(one["asked"]), wording.sentence(wording.both_scales(wording.spoken(one["answer"]))))
        for one in asked
    )
